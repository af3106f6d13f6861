/** How fast somebody speaks, from their own rehearsals; the figures here are only a start for a first draft. */
export interface SpeakingRate {
  words_per_min: number;
  /** For scripts without spaces between words: one character is one syllable. */
  characters_per_min: number;
}

/** A start for a first draft: 140 words a minute (common practice: 130–150), 200 characters a minute (formal Mandarin speech, common practice). */
export const DRAFT_RATE: SpeakingRate = { words_per_min: 140, characters_per_min: 200 };

const CHARACTER = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}]/gu;
const WORD = /[\p{L}\p{N}]+(?:[.,'’-][\p{L}\p{N}]+)*/gu;

/** Words and characters to be spoken in a text; a number counts as a word. */
export function spokenCount(text: string): { words: number; characters: number } {
  const characters = text.match(CHARACTER)?.length ?? 0;
  return { characters, words: text.replaceAll(CHARACTER, ' ').match(WORD)?.length ?? 0 };
}

/** Time to speak a text [s]. */
export function speakingTime(text: string, rate: SpeakingRate): number {
  const { words, characters } = spokenCount(text);
  return 60 * (words / rate.words_per_min + characters / rate.characters_per_min);
}

/**
 * A person's own rate from texts they have spoken and how long that took. With both scripts in it, each rate is scaled alike from the draft; null when
 * nothing was spoken.
 */
export function rateFrom(spoken: readonly { text: string; took_s: number }[]): SpeakingRate | null {
  const drafted = spoken.reduce((sum, { text }) => sum + speakingTime(text, DRAFT_RATE), 0);
  const took = spoken.reduce((sum, { took_s }) => sum + took_s, 0);
  if (!(drafted > 0 && took > 0)) return null;
  const factor = drafted / took;
  return {
    words_per_min: DRAFT_RATE.words_per_min * factor,
    characters_per_min: DRAFT_RATE.characters_per_min * factor,
  };
}
