import { tQuantile } from '../../panel/distributions.ts';
import { DRAFT_RATE, rateFrom, type SpeakingRate, speakingTime } from '../talk/speech.ts';
import type { RunTimes } from './run-times.ts';

/** A person's own speaking rate from what they said in their runs. */
export interface OwnPace {
  rate: SpeakingRate;
  /** Runs that something was said in. */
  runs: number;
  /** Sentences that could be timed. */
  pieces: number;
  /** The 90 % interval of the next run's rate, as a factor on `rate`; null with a single run. */
  low: number | null;
  high: number | null;
}

/** One sentence as it was spoken. */
export interface SpokenTime {
  id: string;
  text: string;
  took_s: number;
}

/** A silence longer than this after a sentence [s] says more about hands than about how it was spoken; a choice. */
const MOST_SILENCE_S = 5;

/**
 * Speaking time of one sentence [s]: from its beginning to the next tap of the voice or of the end, less the silence that the plan keeps between
 * the two. Only sentences that the next one follows closely are counted: over a longer silence it cannot be told how long was spoken.
 */
export function spokenTimes({ cues, ended_s, planned_end_s }: RunTimes): SpokenTime[] {
  const said = cues.filter(({ cue, skipped }) => cue.what === 'say' && !skipped);
  return said.flatMap(({ cue, began_s, planned_s }, i) => {
    if (began_s === null || cue.text.trim() === '') return [];
    const next = said[i + 1];
    const until = next ? next.began_s : ended_s;
    if (until === null) return [];
    const silence = Math.max(0, (next ? next.planned_s : planned_end_s) - planned_s - cue.takes_s);
    if (silence > MOST_SILENCE_S) return [];
    const took_s = until - began_s - silence;
    // Half or twice the length of a draft is no pace any more: something else happened there.
    const draft = speakingTime(cue.text, DRAFT_RATE);
    return took_s > 0.4 * draft && took_s < 2.5 * draft ? [{ id: cue.id, text: cue.text, took_s }] : [];
  });
}

/** Own rate over runs, with the spread from run to run; null when no sentence was timed. */
export function ownPace(runs: readonly RunTimes[]): OwnPace | null {
  const each = runs.map(spokenTimes).filter((pieces) => pieces.length > 0);
  const rate = rateFrom(each.flat());
  if (!rate) return null;
  const factors = each.map((pieces) => Math.log(rateFrom(pieces)!.words_per_min / rate.words_per_min));
  const n = factors.length;
  const base = { rate, runs: n, pieces: each.flat().length };
  if (n < 2) return { ...base, low: null, high: null };
  const mean = factors.reduce((a, b) => a + b, 0) / n;
  const sd = Math.sqrt(factors.reduce((sum, f) => sum + (f - mean) ** 2, 0) / (n - 1));
  const reach = tQuantile(0.95, n - 1) * sd * Math.sqrt(1 + 1 / n);
  return { ...base, low: Math.exp(mean - reach), high: Math.exp(mean + reach) };
}
