import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { TasterSheet } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { taster } from '../words/en/taster.ts';
import { answeredKeys, asksOf, keyOf, shuffledFor, standingOf, whatNow } from './asks.ts';
import { clock, say } from './words.ts';

const sheet = (part: Partial<TasterSheet>): TasterSheet => ({
  session_id: 's',
  state: 'tasting',
  version: 1,
  now: 0,
  seat: 1,
  name: 'Ines',
  left: false,
  title: '',
  instructions: '',
  task: { test: 'triangle' },
  windows: [],
  flights: [{ flight: 1, poured_at: 0, windows: [] }],
  sets: [],
  answers: [],
  rinse_s: 30,
  sip_mL: 15,
  care: [],
  told: null,
  ...part,
});
const set = (n: number, codes: string[], flight = 1, window_id: string | null = null) => ({
  set: n,
  flight,
  window_id,
  codes,
  known_code: null,
  rest: null,
});
const WINDOWS = [
  { id: 'hot', name: 'Hot', from_C: 60, to_C: 50 },
  { id: 'cold', name: 'Cold', from_C: 30, to_C: 20 },
];
const FLIGHT = {
  flight: 1,
  poured_at: 0,
  windows: [
    { window_id: 'hot', opens_at: 100, closes_at: 200 },
    { window_id: 'cold', opens_at: 500, closes_at: null },
  ],
};

describe('what a taster does next', () => {
  it('sets are asked whole, or cup by cup and window by window: hot cups before any cold one', () => {
    expect(asksOf(sheet({ sets: [set(1, ['104', '205', '309'])] })).map((a) => a.key)).toEqual(['1 - -']);
    const words = sheet({
      task: { test: 'check_all', words: [] },
      windows: WINDOWS,
      flights: [FLIGHT],
      sets: [set(1, ['104', '205'])],
    });
    expect(asksOf(words).map((a) => a.key)).toEqual(['1 104 hot', '1 205 hot', '1 104 cold', '1 205 cold']);
  });

  it('waits for pouring, then for the window, tastes while it is open, and offers what was missed', () => {
    const words = sheet({
      task: { test: 'check_all', words: [] },
      windows: WINDOWS,
      flights: [FLIGHT],
      sets: [set(1, ['104'])],
    });
    const asks = asksOf(words);
    const none = new Set<string>();
    expect(
      whatNow(asksOf({ ...words, flights: [{ ...FLIGHT, poured_at: null, windows: [] }] }), none, 0),
    ).toMatchObject({
      do: 'wait',
      until: null,
    });
    expect(whatNow(asks, none, 50)).toMatchObject({ do: 'wait', until: 100 });
    expect(whatNow(asks, none, 150)).toMatchObject({ do: 'taste', ask: { code: '104', window_id: 'hot' } });
    // The hot window went by: the cold one is waited for, the hot one is offered at the end.
    expect(whatNow(asks, none, 250)).toMatchObject({ do: 'wait', until: 500 });
    const cold = new Set([keyOf(1, '104', 'cold')]);
    expect(whatNow(asks, cold, 600)).toMatchObject({ do: 'missed', asks: [{ window_id: 'hot' }] });
    expect(whatNow(asks, new Set([...cold, keyOf(1, '104', 'hot')]), 600)).toEqual({ do: 'done' });
  });

  it('a cup that never is at a temperature counts as passed; answers that wait to be sent count as answered', () => {
    const never = { ...FLIGHT, windows: [{ window_id: 'hot', opens_at: null, closes_at: null }] };
    const [ask] = asksOf(
      sheet({
        task: { test: 'check_all', words: [] },
        windows: [WINDOWS[0]!],
        flights: [never],
        sets: [set(1, ['104'])],
      }),
    );
    expect(standingOf(ask!, new Set(), 10)).toBe('late');
    expect(standingOf(ask!, answeredKeys([], [{ set: 1, code: '104', window_id: 'hot' }]), 10)).toBe(
      'answered',
    );
  });

  it('words stand in an order of their own for each seat, the same every time, none lost', () => {
    const list = ['a', 'b', 'c', 'd', 'e', 'f'];
    expect(shuffledFor(list, 3)).toEqual(shuffledFor(list, 3));
    expect([...shuffledFor(list, 3)].sort()).toEqual(list);
    const firsts = new Set(Array.from({ length: 30 }, (_, seat) => shuffledFor(list, seat)[0]));
    expect(firsts.size).toBeGreaterThan(3);
  });
});

describe('the words of the page', () => {
  it('fill in values and say a clock', () => {
    expect(say('top.seat', { seat: 4 })).toBe('Seat 4');
    expect([clock(0), clock(61_000), clock(1)]).toEqual(['0:00', '1:01', '0:01']);
  });

  it('are all asked for, and all that is asked for is there', () => {
    const folder = fileURLToPath(new URL('.', import.meta.url));
    const code = readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter((path) => /\.tsx?$/.test(path) && !path.endsWith('.test.ts'))
      .map((path) => readFileSync(`${folder}${path}`, 'utf8'))
      .join('\n');
    const beginnings = [...code.matchAll(/say\(\s*`([^$`]+)\$\{/g)].map((m) => m[1]!);
    const unused = Object.keys(taster).filter(
      (key) => !code.includes(`'${key}'`) && !beginnings.some((b) => key.startsWith(b)),
    );
    expect(unused).toEqual([]);
  });
});
