import { diceFrom } from '../../trace/testing/synthetic.ts';
import type { LikedCup } from '../liking-process.ts';

/** Marks about a hill with its top at 1.4 % and 20.5 %, invented. */
export function marks(count: number, height: number, noise: number, seed: number): LikedCup[] {
  const dice = diceFrom(seed);
  return Array.from({ length: count }, () => {
    const strength_pct = dice.between(1.15, 1.65);
    const yield_pct = dice.between(17.5, 23.5);
    const far = ((strength_pct - 1.4) / 0.16) ** 2 + ((yield_pct - 20.5) / 2) ** 2;
    const liking = 8 - height * (1 - Math.exp(-far / 2)) + noise * dice.normal();
    return { strength_pct, yield_pct, liking: Math.max(0, Math.min(10, liking)), by: 'N' };
  });
}
