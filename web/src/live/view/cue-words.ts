import type { Cue } from '@pourline/core';
import { formatNumber, t } from '../../words/index.ts';

/** What a cue is called: "Pour 2", "Swirl", or the title of what is said. */
export function cueTitle(cue: Cue, cues: readonly Cue[]): string {
  if (cue.what === 'say' || cue.what === 'call')
    return cue.title || firstWords(cue.text) || t(`live.cue.${cue.what}`);
  if (cue.what !== 'pour') return t(`live.cue.${cue.what}`);
  const number = cues.filter(
    (other) => other.what === 'pour' && other.brewer === cue.brewer && other.at_s <= cue.at_s,
  ).length;
  return t('live.cue.pour_n', { number });
}

/** The same with its brewer, where there is more than one. */
export function cueName(cue: Cue, cues: readonly Cue[]): string {
  const title = cueTitle(cue, cues);
  const several = cues.some(({ brewer }) => brewer !== null && brewer !== 1);
  return cue.brewer !== null && several ? t('live.cue.of_brewer', { title, brewer: cue.brewer }) : title;
}

/** Grams of a pour as they stand in large letters. */
export const cueGrams = (water_g: number): string => formatNumber(water_g, water_g % 1 === 0 ? 0 : 1);

/** What is to be done, in one word. */
export const cueWord = (cue: Cue): string => t(`live.cue.${cue.what}`);

/** What stands beside it in small ones: where the scale ends, or what is said. */
export function cueDetail(cue: Cue, cues: readonly Cue[]): string {
  if (cue.scale_g !== null)
    return t('live.scale_to', {
      title: cueTitle(cue, cues),
      grams: formatNumber(cue.scale_g, cue.scale_g % 1 === 0 ? 0 : 1),
    });
  if (cue.what === 'say') return cue.title || firstWords(cue.text);
  return cueTitle(cue, cues);
}

const firstWords = (text: string): string => {
  const words = text.trim().split(/\s+/);
  return words.length > 6 ? `${words.slice(0, 6).join(' ')}…` : words.join(' ');
};

/** Seconds as they are counted down: whole, and as a clock from a minute on. */
export function countdown(seconds: number): string {
  const whole = Math.ceil(seconds - 1e-6);
  if (whole < 60) return String(Math.max(0, whole));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
