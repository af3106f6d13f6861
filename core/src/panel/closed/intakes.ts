import { brewCaffeine, type Intake, sipCaffeine } from '../caffeine.ts';
import { type ClosedTasting, namesBySeat } from './read-run.ts';

/** A taster's caffeine from closed sessions. */
export interface TasterIntakes {
  taster: string;
  /** At hours since 1970, in order of time. */
  intakes: (Intake & { session: string; cups: number })[];
}

const HOUR_MS = 3_600_000;

/**
 * What each taster took up in closed sessions [mg]: for every cup that was answered about, one sip at each answer. Everything counts as
 * swallowed; a cup that was tasted and not answered about does not count.
 */
export function intakesOf(tastings: readonly ClosedTasting[]): TasterIntakes[] {
  const tasters = new Map<string, TasterIntakes>();
  for (const { name, run, sip_mL } of tastings) {
    const names = namesBySeat(run);
    const samples = new Map(run.samples.map((sample) => [sample.id, sample]));
    const sets = new Map(run.sets.map((set) => [`${set.seat} ${set.set}`, set]));
    for (const { seat, set, code, at } of run.answers) {
      const taster = names.get(seat);
      if (taster === undefined) continue;
      const own = tasters.get(taster) ?? { taster, intakes: [] };
      tasters.set(taster, own);
      const cups = (sets.get(`${seat} ${set}`)?.cups ?? []).filter(
        (cup) => code === null || cup.code === code,
      );
      const mg = { low: 0, high: 0 };
      for (const cup of cups) {
        const sample = samples.get(cup.sample_id);
        if (!sample) continue;
        const sip = sipCaffeine(
          brewCaffeine(sample.dose_g, {
            low: sample.caffeine_low_mg_g,
            high: sample.caffeine_high_mg_g,
          }),
          sample.brew_mL,
          Math.min(sip_mL, sample.brew_mL),
        );
        mg.low += sip.low;
        mg.high += sip.high;
      }
      own.intakes.push({ at_h: Date.parse(at) / HOUR_MS, mg, session: name, cups: cups.length });
    }
  }
  for (const own of tasters.values()) own.intakes.sort((a, b) => a.at_h - b.at_h);
  return [...tasters.values()].sort((a, b) => a.taster.localeCompare(b.taster));
}
