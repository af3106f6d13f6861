import type { Coffee, Trial } from '../documents/index.ts';

/** How old a coffee was when it was brewed. */
export interface CoffeeAge {
  /** Whole days and parts from roasting to the brew; null when the roast date is not known. */
  since_roast_d: number | null;
  /** Of these, days in the freezer. */
  frozen_d: number;
  /** Days that count as ageing: since roasting, without those in the freezer; null as above. */
  age_d: number | null;
  /** Where the dates come from. */
  from: 'trial' | 'coffee' | 'unknown';
}

const DAY_MS = 86_400_000;

/** A calendar date as a moment; noon, so that no time zone moves it by a day. */
const noon = (date: string): number => Date.parse(`${date}T12:00:00Z`);

/**
 * Age of the coffee of a trial [d]. What the trial says goes before what the coffee's document says. In the freezer a coffee hardly
 * ages (common practice: frozen on day six, it behaves as on day six months later), so these days are not counted. A coffee without a
 * thawing date is taken to lie in the freezer until the brew.
 */
export function coffeeAge(
  trial: Pick<Trial, 'brewed_at' | 'roasted_on' | 'frozen_d'>,
  coffee: Pick<Coffee, 'roasted_on' | 'frozen_on' | 'thawed_on'> | undefined,
): CoffeeAge {
  const brewed = Date.parse(trial.brewed_at);
  const roasted = trial.roasted_on ?? coffee?.roasted_on ?? null;
  const frozen = trial.frozen_d ?? (trial.roasted_on === null ? frozenDays(coffee, brewed) : 0);
  if (roasted === null || Number.isNaN(brewed))
    return { since_roast_d: null, frozen_d: frozen, age_d: null, from: 'unknown' };
  const since = Math.max(0, (brewed - noon(roasted)) / DAY_MS);
  const kept = Math.min(frozen, since);
  return {
    since_roast_d: since,
    frozen_d: kept,
    age_d: since - kept,
    from: trial.roasted_on === null ? 'coffee' : 'trial',
  };
}

function frozenDays(coffee: Pick<Coffee, 'frozen_on' | 'thawed_on'> | undefined, brewed: number): number {
  if (!coffee?.frozen_on) return 0;
  const from = noon(coffee.frozen_on);
  const to = coffee.thawed_on === null ? brewed : Math.min(brewed, noon(coffee.thawed_on));
  return Math.max(0, (to - from) / DAY_MS);
}
