import { planSession, type Tasting } from '@pourline/core';
import { everyDesign, makeTasting } from '@pourline/core/testing/sessions';
import { expect } from 'vitest';
import { type Hall, type HallOptions, repeatable } from './tasting.ts';
import { playSession, type Witness, withoutChance } from './whole-session.ts';

/** Names that stand nowhere by accident. */
const SAMPLES = [
  {
    id: 'sample-quartz',
    name: 'Quartz terrace lot',
    plan_id: '0190a5d2-7c3e-7b10-8f00-00000000aaaa',
    trial_id: '0190a5d2-7c3e-7b10-8f00-00000000bbbb',
    dose_g: 14,
    may_carry: [],
  },
  {
    id: 'sample-ember',
    name: 'Ember valley lot',
    plan_id: '0190a5d2-7c3e-7b10-8f00-00000000cccc',
    dose_g: 19,
  },
];

/** One tasting of every kind, its samples known by names that can be looked for. */
export function blindCases(): [test: string, Tasting][] {
  const [a, b] = ['sample-quartz', 'sample-ember'];
  const rename = { a, b } as Readonly<Record<string, string | undefined>>;
  return everyDesign().map(([test, { method }]) => {
    const named = Object.fromEntries(
      Object.entries(method).map(([key, value]) => [key, rename[String(value)] ?? value]),
    );
    const single = ['intensity', 'check_all', 'just_about_right', 'descriptors', 'temporal'].includes(
      method.test,
    );
    return [
      test,
      makeTasting({
        method: named,
        samples: SAMPLES,
        name: 'Terrace against valley, third go',
        notes: 'Valley should be sweeter.',
        seats: 2,
        spare_seats: 1,
        repeats: single ? 1 : 2,
        hidden_repeats: single ? [b] : [],
      }),
    ];
  });
}

const CODES = 5;

/** The same tasting with one sample in place of the other, also where the method names one. */
function swap(tasting: Tasting): Tasting {
  const other = (id: string) => tasting.samples.find((s) => s.id !== id)?.id ?? id;
  const method = Object.fromEntries(
    Object.entries(tasting.method).map(([key, value]) => [
      key,
      (key === 'stronger_id' || key === 'known_id') && typeof value === 'string' ? other(value) : value,
    ]),
  );
  return makeTasting({ ...tasting, method, samples: [...tasting.samples].reverse() });
}

/** What stands before the first seat. */
function firstSeat(tasting: Tasting, orders: number): string {
  const made = planSession(tasting, repeatable(CODES, orders));
  if (!made.ok) throw new Error(made.problems.map((p) => p.sentence).join(' '));
  return JSON.stringify(made.value.sets.filter((s) => s.seat === 1).map((s) => s.cups));
}

/** A seed of orders with which the first seat gets other contents. */
function otherOrders(tasting: Tasting): number {
  let seed = 2;
  while (firstSeat(tasting, seed) === firstSeat(tasting, 1)) seed++;
  return seed;
}

/**
 * Plays a session three times with the same codes, clock and deeds: as it is, with other contents in the cups, and with the samples swapped.
 * What the taster got must hold nothing secret and be the same, byte for byte.
 */
export async function expectBlind(
  hall: (options?: HallOptions) => Promise<Hall>,
  tasting: Tasting,
  curious: boolean,
): Promise<Witness> {
  const swapped = swap(tasting);
  const plain = await playSession(await hall({ codes: CODES, orders: 1 }), tasting, curious);
  const runs = [
    await playSession(await hall({ codes: CODES, orders: otherOrders(tasting) }), tasting, curious),
    await playSession(await hall({ codes: CODES, orders: 1 }), swapped, curious),
  ];
  for (const text of [...plain.exchanges, plain.stream])
    for (const secret of plain.secrets) expect(text, `a taster was told "${secret}"`).not.toContain(secret);
  for (const run of runs) {
    expect(run.exchanges.length).toBe(plain.exchanges.length);
    for (const [i, text] of run.exchanges.entries())
      expect(withoutChance(text)).toBe(withoutChance(plain.exchanges[i]!));
    expect(run.stream).toBe(plain.stream);
  }
  // The comparison would be empty if nothing had been swapped: once all is told, the runs differ.
  expect(JSON.stringify(runs[0]!.told?.samples)).not.toBe(JSON.stringify(plain.told?.samples));
  expect(JSON.stringify(runs[1]!.told?.samples)).not.toBe(JSON.stringify(plain.told?.samples));
  return plain;
}
