import { describe, expect, it } from 'vitest';
import { LEAST_ARCMIN, sampleRun } from '../testing/run.ts';
import { layoutLive } from './layout.ts';
import { rehearsalOfRun } from './rehearsal-of-run.ts';
import { rulerMarks, stripWindow } from './strip-window.ts';

const glass = (width_px: number, height_px: number, px_per_mm: number, lanes: number) =>
  layoutLive({ width_px, height_px, px_per_mm, lanes, distance_m: 2 });

describe('the layout of the live view', () => {
  it.each([
    ['a desktop', 1440, 900, 96 / 25.4],
    ['a tablet', 834, 1112, 132 / 25.4],
    ['a phone', 390, 844, 153 / 25.4],
    ['a phone on its side', 844, 390, 153 / 25.4],
  ] as const)('can be read from two metres on %s, with targets for wet fingers', (_, w, h, px) => {
    for (const lanes of [1, 2, 3, 4]) {
      const layout = glass(w, h, px, lanes);
      expect(layout.arcmin, `${lanes} lanes`).toBeGreaterThanOrEqual(LEAST_ARCMIN - 0.5);
      expect(layout.target_px / px).toBeGreaterThanOrEqual(15);
      expect(layout.too_small).toBe(false);
    }
    expect(glass(w, h, px, 4).shown).toBe(w > h && h < 500 ? 3 : 4);
  });

  it('shows fewer lanes rather than letters nobody can read, and says when the glass is too small', () => {
    const many = glass(390, 844, 153 / 25.4, 13);
    expect(many.shown).toBeLessThan(6);
    expect(many.arcmin).toBeGreaterThanOrEqual(LEAST_ARCMIN - 0.5);
    expect(
      layoutLive({ width_px: 320, height_px: 480, px_per_mm: 6, lanes: 3, distance_m: 4 }).too_small,
    ).toBe(true);
  });
});

describe('the window of the strip', () => {
  it('lets now move to its place, then the strip, then now again', () => {
    expect(stripWindow(0, 600, 400)).toEqual({ from_s: 0, to_s: 80, now: 0 });
    expect(stripWindow(20, 600, 400).from_s).toBe(0);
    const middle = stripWindow(300, 600, 400);
    expect(middle.now).toBeCloseTo(0.28, 9);
    expect(stripWindow(600, 600, 400)).toEqual({ from_s: 520, to_s: 600, now: 1 });
    expect(stripWindow(40, 100, 1400)).toEqual({ from_s: 0, to_s: 100, now: 0.4 });
  });

  it('has marks that do not run into each other', () => {
    const window = stripWindow(0, 600, 400);
    expect(rulerMarks(window, 400)).toEqual([0, 15, 30, 45, 60, 75]);
  });
});

describe('the document of a run', () => {
  it('is the same however often it is made, and holds every event', () => {
    const { stored, events } = sampleRun();
    const once = rehearsalOfRun(stored, events, []);
    if (!once.ok) throw new Error(once.problems.map(({ sentence }) => sentence).join('\n'));
    expect(rehearsalOfRun(stored, [...events].reverse(), [])).toEqual(once);
    expect(once.value.events).toHaveLength(events.length);
    expect(once.value).toMatchObject({ id: stored.run_id, name: stored.name, sound: null });
  });
});
