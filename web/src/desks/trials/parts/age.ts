import type { Coffee, Trial } from '@pourline/core';

const DAY_ms = 86_400_000;

/** Age of the coffee of a trial [d]: from roast to brew, days in the freezer not counted; null when the roast date is not known. */
export function ageOf(
  trial: Pick<Trial, 'brewed_at' | 'roasted_on' | 'frozen_d'>,
  coffee: Coffee | null,
): { age_d: number; frozen_d: number } | null {
  const roasted = trial.roasted_on ?? coffee?.roasted_on ?? null;
  const brewed = Date.parse(trial.brewed_at);
  if (roasted === null || Number.isNaN(brewed)) return null;
  const frozen_d = trial.frozen_d ?? frozenBefore(brewed, coffee);
  const whole = Math.max(0, (brewed - Date.parse(roasted)) / DAY_ms);
  return { age_d: Math.max(0, whole - frozen_d), frozen_d };
}

function frozenBefore(brewed: number, coffee: Coffee | null): number {
  if (!coffee?.frozen_on) return 0;
  const until = coffee.thawed_on ? Math.min(Date.parse(coffee.thawed_on), brewed) : brewed;
  return Math.max(0, (until - Date.parse(coffee.frozen_on)) / DAY_ms);
}
