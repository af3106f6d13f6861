import { i18n } from '@lingui/core';
import { compileMessage } from '@lingui/message-utils/compileMessage';
import type { Problem } from '@pourline/core';
import { fieldName } from '@pourline/core';
import { useSyncExternalStore } from 'react';
import { type Catalogue, en, type Key } from './en.ts';

export type { Catalogue, Key } from './en.ts';
export * from './numbers.ts';

export type Values = Readonly<Record<string, string | number>>;

/** Languages on offer. A catalogue loads when it is first chosen; English comes with the app. */
export const LOCALES = { en: async (): Promise<Catalogue> => en } as const;
export type Locale = keyof typeof LOCALES;

const listeners = new Set<() => void>();
const plain = /[{}'#]/;

function load(locale: Locale, catalogue: Catalogue): void {
  const compiled = Object.fromEntries(
    Object.entries(catalogue).map(([key, text]) => [key, plain.test(text) ? compileMessage(text) : [text]]),
  );
  i18n.loadAndActivate({ locale, messages: compiled });
  if (typeof document !== 'undefined') document.documentElement.lang = locale;
}

load('en', en);

/** Switches the language of everything on screen. */
export async function speak(locale: Locale): Promise<void> {
  load(locale, await LOCALES[locale]());
  for (const tell of listeners) tell();
}

export const currentLocale = (): Locale => i18n.locale as Locale;

/** Re-renders the caller when the language changes; the root uses it, so that nothing below has to. */
export function useLocale(): Locale {
  return useSyncExternalStore((tell) => {
    listeners.add(tell);
    return () => listeners.delete(tell);
  }, currentLocale);
}

/** The words for a key, in the language in use, with `values` filled in. */
export function t(key: Key, values?: Values): string {
  return i18n._(key, values);
}

const known = (key: string): key is Key => Object.hasOwn(en, key);

/** {@link t} for a key that is put together from data; undefined when the catalogue has no such key. */
export function tMaybe(key: string, values?: Values): string | undefined {
  return known(key) ? t(key, values) : undefined;
}

/** What a document's field is called: the catalogue's word, or the field's own name in plain letters. */
export function fieldLabel(path: readonly (string | number)[]): string {
  const last = path.findLast((step) => typeof step === 'string') ?? '';
  const plain = fieldName([last]);
  return tMaybe(`field.${last}`) ?? plain.charAt(0).toUpperCase() + plain.slice(1);
}

/** The whole path in the catalogue's words: `Pours, row 2: Water`. */
export function pathLabel(path: readonly (string | number)[]): string {
  if (path.length === 0) return t('field.document');
  let text = '';
  for (const [i, step] of path.entries()) {
    if (typeof step === 'number') text += t('field.row', { row: step + 1 });
    else text += (i === 0 ? '' : ': ') + fieldLabel([step]);
  }
  return text;
}

/** A problem as a sentence in the language in use; a code that no catalogue knows keeps core's own sentence. */
export function problemSentence(problem: Problem): string {
  return (
    tMaybe(`problem.${problem.code}`, { ...problem.values, field: pathLabel(problem.path) }) ??
    problem.sentence
  );
}

interface SaidInWords {
  code: string;
  values: Values;
  sentence: string;
  terms?: Readonly<Record<string, readonly string[]>>;
}

/** A remark of the engine or of the water room, translated by code, values and terms, or its own English sentence. */
export function remarkSentence({ code, values, sentence, terms = {} }: SaidInWords): string {
  const words = Object.entries(terms).map(([name, list]) => [
    name,
    listed(list.map((term) => tMaybe(`term.${term}`) ?? term)),
  ]);
  const text = tMaybe(`remark.${code}`, { ...values, ...Object.fromEntries(words) });
  return text === undefined ? sentence : text.charAt(0).toUpperCase() + text.slice(1);
}

/** `calcium, magnesium and sodium`. */
export const listed = (words: readonly string[]): string =>
  new Intl.ListFormat(i18n.locale, { type: 'conjunction' }).format(words);
