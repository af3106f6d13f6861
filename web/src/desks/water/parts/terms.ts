import type { Quantity, SaltName } from '@pourline/core';
import { tMaybe } from '../../../words/index.ts';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A quantity or a salt as a heading, in the language in use. */
export const termName = (of: Quantity | SaltName): string => capital(tMaybe(`term.${of}`) ?? of);
