import type { HandAction } from '@pourline/core';
import { t } from '../../../words/index.ts';

/** What the hands do, in words: "pour 2", "swirl", "serve". */
export const actionWord = ({ what, pour }: Pick<HandAction, 'what' | 'pour'>): string =>
  pour === null ? t(`stage.what.${what}`) : t('stage.pour_number', { number: pour });
