import { z } from 'zod';
import { admission, brewCaffeine, caffeineLedger, sipCaffeine } from '../caffeine.ts';
import { finding } from '../findings.ts';
import { inputProblem, twice, unknownNames, unless } from '../input-problems.ts';
import { PROTOCOLS } from '../protocols.ts';
import { sayRankingPlan } from '../say-results.ts';
import { sayPlan } from '../say-tests.ts';
import { checkBalance } from '../serving-order.ts';
import { CODE_COUNT, pauses, planCups, planDifference, pourSheet, type SetOfCups } from '../serving-plan.ts';
import { blockedSamples, sipCaution, spitNote } from '../taster-care.ts';
import { alpha, hours, name, type PlainKind, plainKind, protocol, seed, some } from './kind.ts';

const planOf = (sets: SetOfCups[], samples: readonly string[], tasters: readonly string[]) => ({
  samples,
  sets: sets.map((s) => ({
    taster: tasters[s.taster]!,
    repeat: s.repeat,
    codes: s.cups.map((c) => c.code),
    samples: s.cups.map((c) => samples[c.sample]!),
    answer: s.answer === null ? null : s.cups[s.answer]!.code,
  })),
  pour_sheet: pourSheet(sets).map((line) => ({
    sample: samples[line.sample]!,
    cups: line.cups.map((c) => ({ ...c, taster: tasters[c.taster]! })),
  })),
  pauses: pauses(Math.max(...sets.map((s) => s.cups.length))),
});

const range = z.strictObject({ low: z.number().min(0).max(2000), high: z.number().min(0).max(2000) });

const care = z.strictObject({
  name,
  age: z.int().min(0).max(130).nullable().default(null),
  pregnant_or_lactating: z.boolean().default(false),
  flags: z.array(name).max(20).default([]),
  allergens: z.array(name).max(20).default([]),
});

/** Serving and care. */
export const PLAIN_SERVING = {
  serve: plainKind(
    'serving plan: balanced orders, random codes, pour sheet; with "protocol" for a test of difference, else all cups to everyone',
    z.strictObject({
      samples: z.array(name).min(2).max(24),
      tasters: z.array(name).min(1).max(100),
      protocol: protocol.nullable().default(null),
      repeats: some.default(1),
      hidden_repeats: z.array(name).max(12).default([]),
      alpha,
      seed,
    }),
    {
      samples: ['Monday', 'Tuesday'],
      tasters: ['Ines', 'Joris', 'Kei', 'Lena'],
      protocol: 'triangle',
      repeats: 3,
      seed: 7,
    },
    (of) => {
      const wrong = [
        ...twice(['samples'], of.samples),
        ...twice(['tasters'], of.tasters),
        ...unknownNames(
          of.hidden_repeats.map((n, i) => [['hidden_repeats', i], n] as const),
          of.samples,
        ),
        ...(of.protocol !== null && of.samples.length !== 2
          ? [inputProblem(['samples'], 'two_samples', { value: of.samples.length })]
          : []),
      ];
      if (wrong.length > 0) return { ok: false, problems: wrong };
      const answers = of.tasters.length * of.repeats;
      const sets =
        of.protocol === null
          ? planCups({
              samples: of.samples.length,
              tasters: of.tasters.length,
              hidden_repeats: of.hidden_repeats.map((n) => of.samples.indexOf(n)),
              seed: of.seed,
            })
          : planDifference(of.protocol, of.tasters.length, of.repeats, of.seed);
      if (sets === null) {
        const each =
          of.protocol === null
            ? of.samples.length + of.hidden_repeats.length
            : PROTOCOLS[of.protocol].served * of.repeats;
        const problem = inputProblem(['tasters'], 'too_few_codes', {
          value: of.tasters.length * each,
          limit: CODE_COUNT,
        });
        return { ok: false, problems: [problem] };
      }
      const plan = of.protocol && ({ aim: 'difference', protocol: of.protocol, alpha: of.alpha } as const);
      return {
        ok: true,
        value: {
          figures: {
            ...planOf(sets, of.samples, of.tasters),
            balance:
              of.protocol === null
                ? checkBalance(
                    sets.map((s) => orderIn(s, of.samples.length)),
                    1,
                  )
                : null,
          },
          findings: plan
            ? sayPlan(plan, answers, { d_prime: 1.5 })
            : [sayRankingPlan(of.tasters.length, of.samples.length, of.alpha)],
        },
      };
    },
  ),
  balance: plainKind(
    'is a set of serving orders balanced for place and neighbours?',
    z.strictObject({
      orders: z.array(z.array(name).min(2).max(40)).min(1).max(500),
      allowed: z.int().min(0).max(5).default(0),
    }),
    {
      orders: [
        ['A', 'B', 'D', 'C'],
        ['B', 'C', 'A', 'D'],
        ['C', 'D', 'B', 'A'],
        ['D', 'A', 'C', 'B'],
      ],
    },
    (of) => {
      const cups = [...new Set(of.orders.flat())];
      const found = checkBalance(
        of.orders.map((row) => row.map((c) => cups.indexOf(c))),
        of.allowed,
      );
      const wrongRows = of.orders[0]!.length === cups.length;
      const balanced = found.balanced && wrongRows;
      const worst = found.faults[0];
      const code = balanced ? 'orders_balanced' : worst ? worst.code : 'not_each_once';
      const values =
        worst?.code === 'neighbours_uneven'
          ? {
              before: cups[worst.before]!,
              after: cups[worst.after]!,
              times: worst.times,
              fewest: worst.fewest,
            }
          : worst?.code === 'places_uneven'
            ? { cup: cups[worst.cup]!, place: worst.place + 1, times: worst.times, fewest: worst.fewest }
            : { row: (worst?.code === 'not_each_once' ? worst.row : 0) + 1 };
      return {
        ok: true,
        value: {
          figures: { cups, ...found, balanced },
          findings: [finding(balanced ? 'clear' : 'caution', code, values)],
        },
      };
    },
  ),
  caffeine: plainKind(
    "a taster's caffeine before the next cup: limits, what is left, cautions; never medical advice",
    z.strictObject({
      taster: care,
      intakes: z
        .array(z.strictObject({ at_h: hours, mg: range }))
        .max(500)
        .default([]),
      now_h: hours,
      next: z.strictObject({
        sample: name.default('the next cup'),
        dose_g: z.number().min(0).max(200),
        beans_mg_g: range.default({ low: 10, high: 12 }),
        brew_mL: z.number().min(1).max(5000),
        sipped_mL: z.number().min(0).max(2000),
        spits: z.boolean().default(false),
        kept_when_spat: z.number().min(0).max(1).default(1),
        celsius: z.number().min(-5).max(101).nullable().default(null),
        may_carry: z.array(name).max(20).default([]),
      }),
    }),
    {
      taster: { name: 'Ines', age: 34 },
      intakes: [{ at_h: 9, mg: { low: 60, high: 80 } }],
      now_h: 10.5,
      next: { dose_g: 15, brew_mL: 225, sipped_mL: 20, celsius: 58 },
    },
    ({ taster, intakes, now_h, next }) =>
      unless(
        next.sipped_mL > next.brew_mL
          ? [
              inputProblem(['next', 'sipped_mL'], 'more_than_brew', {
                value: next.sipped_mL,
                limit: next.brew_mL,
              }),
            ]
          : [],
        () => {
          const kept = next.spits ? next.kept_when_spat : 1;
          const cup = sipCaffeine(
            brewCaffeine(next.dose_g, next.beans_mg_g),
            next.brew_mL,
            next.sipped_mL,
            kept,
          );
          const ledger = caffeineLedger(taster, intakes, now_h, cup);
          const hot = next.celsius === null ? null : sipCaution(next.celsius);
          const blocked = blockedSamples(taster, [{ name: next.sample, may_carry: next.may_carry }]);
          const { findings, may_taste, ...figures } = ledger;
          return {
            figures: {
              ...figures,
              next_cup: cup,
              may_taste: may_taste && blocked.length === 0 && hot?.firmness !== 'cannot',
              admitted: !admission(taster).some((f) => f.firmness === 'cannot'),
            },
            findings: [
              ...findings,
              ...(next.spits ? [spitNote(kept)] : []),
              ...(hot ? [hot] : []),
              ...blocked.map((b) => b.finding),
            ],
          };
        },
      ),
  ),
} satisfies Record<string, PlainKind>;

/** Order of a set with hidden repeats left out after their first cup, for counting. */
const orderIn = ({ cups }: SetOfCups, samples: number): number[] => {
  const seen = new Set<number>();
  const order = cups.map((c) => c.sample).filter((s) => !seen.has(s) && seen.add(s) !== null);
  return order.slice(0, samples);
};
