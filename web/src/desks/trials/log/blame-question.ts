import type { BlameQuestion, Plan, PouredCup, PourFigure, Trial } from '@pourline/core';
import type { TrialRow } from '../list/rows.ts';

/** Standard uncertainties of a pour as recorded or noted: common practice. */
const POUR_DOUBT = { water_g: 0.5, start_s: 0.5, duration_s: 0.7 };
const FIGURE_DOUBT = { strength_pct: 0.012, yield_pct: 0.2, beverage_g: 0.1, drawdown_s: 1.5 };
/** How cups poured alike scatter all the same; assumed. */
const UNEXPLAINED = { strength_pct: 0.02, yield_pct: 0.3, beverage_g: 1, drawdown_s: 4 };
const FIGURES = ['strength_pct', 'yield_pct', 'beverage_g', 'drawdown_s'] as const satisfies PourFigure[];

/** What core is asked about the pours behind cups that differ; null unless the pours of two cups at least were recorded. */
export function blameQuestion(
  cups: readonly Trial[],
  rows: readonly TrialRow[],
  plan: Plan | null,
): Omit<BlameQuestion, 'sensitivities'> | null {
  if (!plan || cups.filter(({ poured }) => poured.length > 0).length < 2) return null;
  const order = [...plan.pours].sort((a, b) => a.start_s - b.start_s);
  const measured = cups.map((cup): PouredCup => {
    const row = rows.find(({ id }) => id === cup.id);
    const figures = FIGURES.flatMap((key) => {
      const value = row?.[key] ?? null;
      return value === null ? [] : [[key, value] as const];
    });
    return {
      name: cup.event?.cup ?? cup.name,
      pours: order.map(({ id }) => {
        const pour = cup.poured.find(({ pour_id }) => pour_id === id);
        return pour
          ? { water_g: pour.water_g, start_s: pour.start_s, duration_s: pour.end_s - pour.start_s }
          : null;
      }),
      figures: Object.fromEntries(figures),
    };
  });
  return {
    cups: measured,
    pour_doubt: POUR_DOUBT,
    figure_doubt: FIGURE_DOUBT,
    unexplained: UNEXPLAINED,
    seed: 1,
  };
}
