import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anchorOf, countJump, lookAtClock, resumeClock, runMs, startClock } from './run-clock.ts';

const WALL = 1_804_158_300_000;

describe('the clock of a run', () => {
  it('counts by the clock that cannot be set, whatever happens to the other', () => {
    let clock = startClock({ mono_ms: 4_000, wall_ms: WALL }, 3_000);
    expect(runMs(clock, 4_000)).toBe(-3_000);
    // Set back by an hour in mid-run.
    const set = lookAtClock(clock, { mono_ms: 10_000, wall_ms: WALL + 6_000 - 3_600_000 }, false);
    expect(set.jump).toEqual({ shift_ms: -3_600_000, taken_as: 'set' });
    clock = set.clock;
    expect(runMs(clock, 10_000)).toBe(3_000);
    const quiet = lookAtClock(clock, { mono_ms: 12_000, wall_ms: WALL + 8_000 - 3_600_000 }, false);
    expect(quiet.jump).toBeNull();
    expect(runMs(quiet.clock, 12_000)).toBe(5_000);
  });

  it('counts the time a device slept, and a person may say that it did not', () => {
    const clock = startClock({ mono_ms: 1_000, wall_ms: WALL });
    const slept = lookAtClock(clock, { mono_ms: 2_000, wall_ms: WALL + 61_000 }, false);
    expect(slept.jump).toEqual({ shift_ms: 60_000, taken_as: 'slept' });
    expect(runMs(slept.clock, 2_000)).toBe(61_000);
    expect(runMs(countJump(slept.clock, { shift_ms: 60_000, taken_as: 'set' }, 'corrected'), 2_000)).toBe(
      1_000,
    );
    const awake = lookAtClock(clock, { mono_ms: 2_000, wall_ms: WALL + 61_000 }, true);
    expect(awake.jump!.taken_as).toBe('set');
    expect(runMs(awake.clock, 2_000)).toBe(1_000);
    expect(runMs(countJump(awake.clock, { shift_ms: 60_000, taken_as: 'slept' }, 'corrected'), 2_000)).toBe(
      61_000,
    );
  });

  it('goes on over reloads without adding up errors, also when the clock of the day was set in between', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            stays: fc.integer({ min: 5, max: 60_000 }),
            away: fc.integer({ min: 20, max: 5_000 }),
          }),
          {
            minLength: 1,
            maxLength: 30,
          },
        ),
        fc.integer({ min: -7_200_000, max: 7_200_000 }),
        (pages, set_by) => {
          let truth = 0;
          let offset = 0;
          let clock = startClock({ mono_ms: 500.25, wall_ms: Math.floor(WALL) });
          let opened = truth - 500.25;
          pages.forEach(({ stays, away }, i) => {
            truth += stays;
            const mono_ms = truth - opened;
            clock = lookAtClock(clock, { mono_ms, wall_ms: Math.floor(WALL + truth + offset) }, true).clock;
            if (i === 0) {
              offset += set_by;
              clock = lookAtClock(clock, { mono_ms, wall_ms: Math.floor(WALL + truth + offset) }, true).clock;
            }
            const anchor = anchorOf(clock, { mono_ms, wall_ms: Math.floor(WALL + truth + offset) });
            truth += away;
            opened = truth - 80.5;
            const again = resumeClock(anchor, { mono_ms: 80.5, wall_ms: Math.floor(WALL + truth + offset) });
            expect(again.set_back).toBe(false);
            expect(Math.abs(again.away_ms - away)).toBeLessThanOrEqual(1);
            clock = again.clock;
          });
          // The clock of the day is read in whole milliseconds; that is all that is lost.
          expect(Math.abs(runMs(clock, 80.5) - truth)).toBeLessThanOrEqual(pages.length);
        },
      ),
      { seed: 11, numRuns: 60 },
    );
  });

  it('stands still over a reload when the clock of the day was set back meanwhile', () => {
    const clock = startClock({ mono_ms: 0, wall_ms: WALL });
    const anchor = anchorOf(clock, { mono_ms: 90_000, wall_ms: WALL + 90_000 });
    const again = resumeClock(anchor, { mono_ms: 50, wall_ms: WALL - 10_000 });
    expect(again).toMatchObject({ set_back: true, away_ms: 0 });
    expect(runMs(again.clock, 50)).toBe(90_000);
  });
});
