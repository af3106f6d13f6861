import { type Pour, pourDuration, pourEnd } from '@pourline/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addPour,
  endPourAt,
  type Hands,
  moveAction,
  moveLift,
  movePour,
  movePourAndLater,
  removePour,
  roomFor,
  setPourGrams,
} from './pour-edit.ts';

const pour = (
  id: string,
  start_s: number,
  water_g = 50,
  rate: Pour['rate'] = { by: 'duration', duration_s: 10 },
): Pour => ({
  id,
  start_s,
  water_g,
  rate,
  water_id: '0190a000-0000-7000-8000-000000000001',
  kettle_id: null,
  kettle_temperature_C: 93,
  height_cm: 10,
});

const four = (): Hands => ({
  pours: [pour('a', 0), pour('b', 30), pour('c', 60), pour('d', 90)],
  actions: [{ id: 's', what: 'swirl', start_s: 45, duration_s: 3 }],
  lift_s: 150,
  outlet_opens_s: null,
});

/** What the schema of a plan would refuse, with the crumb of rounding that it allows. */
function lies(hands: Hands): string | null {
  const order = [...hands.pours].sort((a, b) => a.start_s - b.start_s);
  for (let i = 0; i < order.length; i++) {
    const p = order[i]!;
    const before = order[i - 1];
    if (p.start_s < 0) return `${p.id} starts before zero`;
    if (before && p.start_s < pourEnd(before) - 1e-9) return `${p.id} overlaps ${before.id}`;
    if (hands.lift_s !== null && pourEnd(p) > hands.lift_s + 1e-9) return `${p.id} outlasts the lift`;
  }
  return null;
}

describe('moving a pour', () => {
  it('starts it where asked when there is room, and keeps grams and length', () => {
    const moved = movePour(four(), 1, 35);
    expect(moved.pours[1]).toEqual({ ...four().pours[1], start_s: 35 });
  });

  it('stops at the end of the pour before and at the start of the one after', () => {
    expect(movePour(four(), 1, 2).pours[1]!.start_s).toBe(10);
    expect(movePour(four(), 1, 99).pours[1]!.start_s).toBe(50);
  });

  it('stops the last pour at the lift and the first at zero', () => {
    expect(movePour(four(), 3, 400).pours[3]!.start_s).toBe(140);
    expect(movePour(four(), 0, -9).pours[0]!.start_s).toBe(0);
  });

  it('leaves a pour where it is when neighbours leave no room at all', () => {
    const tight: Hands = { ...four(), pours: [pour('a', 0), pour('b', 10), pour('c', 20)] };
    expect(movePour(tight, 1, 14).pours[1]!.start_s).toBe(10);
  });

  it('carries later pours, actions and the lift along when asked, and nothing earlier', () => {
    const moved = movePourAndLater(four(), 1, 37);
    expect(moved.pours.map((p) => p.start_s)).toEqual([0, 37, 67, 97]);
    expect(moved.actions[0]!.start_s).toBe(52);
    expect(moved.lift_s).toBe(157);
  });

  it('stops the whole train at the pour before', () => {
    expect(movePourAndLater(four(), 1, -5).pours.map((p) => p.start_s)).toEqual([0, 10, 40, 70]);
  });
});

describe('shaping a pour', () => {
  it('changes the duration of a pour written by duration, grams kept', () => {
    const longer = endPourAt(four(), 1, 48).pours[1]!;
    expect(longer.rate).toEqual({ by: 'duration', duration_s: 18 });
    expect(longer.water_g).toBe(50);
  });

  it('changes the flow of a pour written by flow, grams kept', () => {
    const hands: Hands = { ...four(), pours: [pour('a', 0, 60, { by: 'flow', flow_g_s: 6 }), pour('b', 30)] };
    expect(endPourAt(hands, 0, 20).pours[0]!.rate).toEqual({ by: 'flow', flow_g_s: 3 });
  });

  it('never ends a pour past the next one or the lift, nor faster than a stream can be', () => {
    expect(pourEnd(endPourAt(four(), 1, 95).pours[1]!)).toBe(60);
    expect(pourEnd(endPourAt(four(), 3, 500).pours[3]!)).toBe(150);
    // 50 g at 60 g/s, up to the next millisecond.
    expect(pourDuration(endPourAt(four(), 1, 0).pours[1]!)).toBe(0.834);
  });

  it('gives a pour by duration more grams in the same time', () => {
    const heavier = setPourGrams(four(), 2, 80).pours[2]!;
    expect([heavier.water_g, pourDuration(heavier)]).toEqual([80, 10]);
  });

  it('stops grams at the flow a stream can have, and at the room of a pour by flow', () => {
    expect(setPourGrams(four(), 2, 5_000).pours[2]!.water_g).toBe(600);
    const byFlow: Hands = {
      ...four(),
      pours: [pour('a', 0, 60, { by: 'flow', flow_g_s: 6 }), pour('b', 30)],
    };
    expect(setPourGrams(byFlow, 0, 500).pours[0]!.water_g).toBe(180);
    expect(setPourGrams(byFlow, 0, -4).pours[0]!.water_g).toBe(0.5);
  });
});

describe('adding and taking away', () => {
  it('adds a pour like the one before it, in order of time', () => {
    const added = addPour(four(), 75, 'new');
    expect(added?.index).toBe(3);
    expect(added?.hands.pours[3]).toMatchObject({ id: 'new', start_s: 75, water_g: 50 });
  });

  it('shortens the new pour to the gap at the same flow', () => {
    const added = addPour(four(), 85, 'new')!.hands.pours[3]!;
    expect(pourEnd(added)).toBeLessThanOrEqual(90);
    expect(added.water_g / pourDuration(added)).toBeCloseTo(5, 6);
  });

  it('adds nothing inside another pour or where a second does not fit', () => {
    expect(addPour(four(), 33, 'new')).toBeNull();
    expect(addPour(four(), 89.5, 'new')).toBeNull();
  });

  it('takes a pour away but keeps the last one', () => {
    expect(removePour(four(), 1).pours.map((p) => p.id)).toEqual(['a', 'c', 'd']);
    const one: Hands = { ...four(), pours: [pour('a', 0)] };
    expect(removePour(one, 0)).toBe(one);
  });

  it('keeps the lift behind the last pour and actions inside the plan', () => {
    expect(moveLift(four(), 20).lift_s).toBe(100);
    expect(moveAction(four(), 0, -3).actions[0]!.start_s).toBe(0);
  });
});

describe('any sequence of edits', () => {
  const edit = fc.record({
    kind: fc.constantFrom('move', 'ripple', 'end', 'grams', 'add', 'remove', 'lift'),
    index: fc.nat({ max: 7 }),
    to: fc.double({ min: -20, max: 220, noNaN: true }),
  });

  it('never makes pours overlap, start before zero or outlast the lift', () => {
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 25 }), fc.boolean(), (edits, byFlow) => {
        let hands = four();
        if (byFlow)
          hands = {
            ...hands,
            pours: hands.pours.map((p) => ({ ...p, rate: { by: 'flow', flow_g_s: 4.7 } })),
          };
        for (const [step, { kind, index, to }] of edits.entries()) {
          const i = index % hands.pours.length;
          if (kind === 'move') hands = movePour(hands, i, to);
          else if (kind === 'ripple') hands = movePourAndLater(hands, i, to);
          else if (kind === 'end') hands = endPourAt(hands, i, to);
          else if (kind === 'grams') hands = setPourGrams(hands, i, to);
          else if (kind === 'add') hands = addPour(hands, to, `n${step}`)?.hands ?? hands;
          else if (kind === 'remove') hands = removePour(hands, i);
          else hands = moveLift(hands, to);
          expect(lies(hands)).toBeNull();
        }
      }),
      { numRuns: 4000 },
    );
  });

  it('gives each pour the room between its neighbours', () => {
    expect(roomFor(four(), 1)).toEqual({ from_s: 10, to_s: 60 });
    expect(roomFor(four(), 3)).toEqual({ from_s: 70, to_s: 150 });
  });
});
