/** How often verdicts are right, over many campaigns in play. */
import { describe, expect, it } from 'vitest';
import { demoBundle } from '../../brew/testing/demo-bundle.ts';
import { diceFrom } from '../chance.ts';
import { blamePours } from './blame.ts';
import { compareBrews } from './compare.ts';
import { pourSensitivities } from './pour-sensitivities.ts';
import type { ComparedBrew, DifferenceQuestion, DifferenceVerdict } from './types.ts';

const CAMPAIGNS = 600;
const SETS = 200;

/** Shares of verdicts over campaigns of `each` brews of both plans in `sittings` sittings, the scatter being 1. */
function verdicts(
  { each, sittings, shift, seed }: { each: number; sittings: number; shift: number; seed: number },
  more: Partial<DifferenceQuestion>,
): Record<DifferenceVerdict, number> {
  const { normal } = diceFrom(seed);
  const found: Record<DifferenceVerdict, number> = { same: 0, maybe: 0, clear: 0, not_shown: 0, cannot: 0 };
  for (let k = 0; k < CAMPAIGNS; k++) {
    const levels = Array.from({ length: sittings }, () => 2 * normal());
    const brews = levels.flatMap((level, s) =>
      (['a', 'b'] as const).flatMap((plan) =>
        Array.from(
          { length: each },
          (): ComparedBrew => ({
            plan,
            value: level + normal() + (plan === 'b' ? shift : 0),
            doubt: 0,
            session: `${s}`,
            age_d: null,
          }),
        ),
      ),
    );
    const { verdict } = compareBrews({
      brews,
      names: ['a', 'b'],
      figure: { name: 'yield', unit: '%', decimals: 2 },
      alpha: 0.05,
      history: null,
      limit: null,
      drift: null,
      panel: null,
      dose_g: null,
      seed: k,
      ...more,
    });
    found[verdict] += 1 / CAMPAIGNS;
  }
  return found;
}

describe.runIf(process.env.POURLINE_SLOW === '1')('verdicts on brews', { timeout: 300_000 }, () => {
  // Three standard errors of a share of 5 % over so many campaigns.
  const most = 0.05 + 3 * Math.sqrt((0.05 * 0.95) / CAMPAIGNS);
  it('two equal plans are called clearly different at most 5 times in 100', () => {
    for (const [each, sittings] of [
      [4, 1],
      [3, 2],
      [6, 1],
    ] as const)
      expect(verdicts({ each, sittings, shift: 0, seed: each }, {}).clear).toBeLessThan(most);
  });
  it('the same with a trusted scatter that is true', () => {
    const found = verdicts({ each: 3, sittings: 1, shift: 0, seed: 5 }, { history: { sd: 1, brews: 40 } });
    console.log(`equal plans, scatter trusted: ${JSON.stringify(found)}`);
    expect(found.clear).toBeLessThan(most);
  });
  it('three and three brews alone are never clear, whatever the difference', () => {
    expect(verdicts({ each: 3, sittings: 1, shift: 6, seed: 6 }, {}).clear).toBe(0);
  });
  it('a difference of three scatters is found clear by five and five brews more than 9 times in 10', () => {
    expect(verdicts({ each: 5, sittings: 1, shift: 3, seed: 7 }, {}).clear).toBeGreaterThan(0.9);
  });
  it('plans that lie just the limit apart are called the same at most 5 times in 100', () => {
    expect(verdicts({ each: 8, sittings: 1, shift: 1.5, seed: 8 }, { limit: 1.5 }).same).toBeLessThan(most);
    expect(verdicts({ each: 8, sittings: 1, shift: 0, seed: 9 }, { limit: 2.5 }).same).toBeGreaterThan(0.9);
  });
});

describe.runIf(process.env.POURLINE_SLOW === '1')('which pour', { timeout: 300_000 }, () => {
  it('is right as often as it says: over 200 sets of three cups, within 10 points of 100', () => {
    const sensitivities = pourSensitivities(demoBundle())!;
    const { planned, base, effect } = sensitivities;
    const { normal } = diceFrom(21);
    const doubt = { water_g: 0.5, start_s: 0.5, duration_s: 0.5 };
    const bins = new Map<number, { said: number; was: number; count: number }>();
    for (let k = 0; k < SETS; k++) {
      const keys = ['strength_pct', 'beverage_g'] as const;
      const unexplained = { strength_pct: 0.01, beverage_g: 0.8 };
      const figure_doubt = { strength_pct: 0.004, beverage_g: 0.2 };
      /** What each pour and the rest did to each figure of each cup, in truth. */
      const cups = [0, 1, 2].map((c) => {
        const done = planned.map((plan, p) => {
          const slip = { water_g: 3 * normal(), start_s: 1.5 * normal(), duration_s: normal() };
          const trust = {
            water_g: 1 + 0.3 * normal(),
            start_s: 1 + 0.3 * normal(),
            duration_s: 1 + 0.3 * normal(),
          };
          const did = keys.map((key) =>
            (['water_g', 'start_s', 'duration_s'] as const).reduce(
              (t, s) => t + effect[p]![s][key] * slip[s] * trust[s],
              0,
            ),
          );
          const seen = {
            water_g: plan.water_g + slip.water_g + doubt.water_g * normal(),
            start_s: plan.start_s + slip.start_s + doubt.start_s * normal(),
            duration_s: plan.duration_s + slip.duration_s + doubt.duration_s * normal(),
          };
          return { did, seen };
        });
        const rest = keys.map((key) => unexplained[key] * normal());
        const figures = Object.fromEntries(
          keys.map((key, f) => [
            key,
            base[key] + rest[f]! + done.reduce((t, { did }) => t + did[f]!, 0) + figure_doubt[key] * normal(),
          ]),
        );
        return { c, done, rest, figures };
      });
      const found = blamePours({
        sensitivities,
        cups: cups.map(({ c, done, figures }) => ({
          name: `${c}`,
          pours: done.map(({ seen }) => seen),
          figures,
        })),
        pour_doubt: doubt,
        figure_doubt,
        unexplained,
        seed: k,
      }).cups[0]!;
      const mean = (of: (cup: (typeof cups)[number]) => number) =>
        found.against.reduce((t, c) => t + of(cups[c]!), 0) / found.against.length;
      const weight = keys.map((key) => 1 / (figure_doubt[key] ** 2 + unexplained[key] ** 2));
      const score = (of: (cup: (typeof cups)[number], f: number) => number) =>
        keys.reduce(
          (t, key, f) =>
            t + weight[f]! * found.away[key]! * (of(cups[found.cup]!, f) - mean((cup) => of(cup, f))),
          0,
        );
      const scores = [
        ...planned.map((_, p) => score((cup, f) => cup.done[p]!.did[f]!)),
        score((cup, f) => cup.rest[f]!),
      ];
      const truth = scores.indexOf(Math.max(...scores));
      const first = found.pours[0]!;
      const bin = bins.get(Math.floor(first.chance * 4)) ?? { said: 0, was: 0, count: 0 };
      bin.said += first.chance;
      bin.was += Number(first.pour === truth);
      bin.count++;
      bins.set(Math.floor(first.chance * 4), bin);
    }
    const rows = [...bins.values()].filter(({ count }) => count > 0);
    const [said, was] = [
      rows.reduce((t, b) => t + b.said, 0) / SETS,
      rows.reduce((t, b) => t + b.was, 0) / SETS,
    ];
    console.log(
      [...bins.entries()]
        .sort(([a], [b]) => a - b)
        .map(
          ([, b]) =>
            `${b.count} sets: said ${(b.said / b.count).toFixed(2)}, was ${(b.was / b.count).toFixed(2)}`,
        )
        .join('\n'),
    );
    expect(Math.abs(said - was)).toBeLessThan(0.1);
  });
});
