import { defaultParameters } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import type { BrewCase } from '../../core/src/brew/case.ts';
import { compileCase } from '../../core/src/brew/compile.ts';
import { demoBundle } from '../demo-bundle.ts';
import { BackwardDifferences } from './general.ts';
import { byEngine, byGeneral } from './stretches.ts';

/** A demo plan on few cells and bins, ended while it still drips. */
function small(name: string, lift: number): BrewCase {
  const c = compileCase(demoBundle(name), defaultParameters(), 'draft');
  const solutes = c.solutes.slice(0, 2);
  const numerics = { ...c.numerics, cells: 4, bins: 2, tolerance: 1e-3, longestStep: 0.1, firstStep: 1e-3 };
  return { ...c, solutes, lift, bypass: null, numerics };
}

describe('the equations as one right-hand side', () => {
  it.each([
    ['Four pours, cool then hot', 60],
    ['Five pours in the cone', 40],
    ['Three pours and a little water after', 40],
  ])('come to what the engine comes to: %s', { timeout: 60_000 }, (name, lift) => {
    const c = small(name, lift);
    const engine = byEngine(c);
    const general = byGeneral(c, 1e-6);
    expect(engine.beverage_g).toBeGreaterThan(5);
    expect(Math.abs(engine.beverage_g / general.beverage_g - 1)).toBeLessThan(2e-4);
    expect(Math.abs(engine.strength_pct / general.strength_pct - 1)).toBeLessThan(1e-3);
    expect(Math.abs(engine.server_C - general.server_C)).toBeLessThan(0.02);
    expect(Math.abs(engine.bed_C - general.bed_C)).toBeLessThan(0.02);
  });
});

describe('backward differences', () => {
  it('solve the stiff kinetics of Robertson to published values', () => {
    // Hairer and Wanner, Solving Ordinary Differential Equations II, IV.10: y at t = 40 (figures from memory).
    const pattern = [0, 1, 2].map(() => Int32Array.of(0, 1, 2));
    const slope = (_: number, y: Float64Array, out: Float64Array) => {
      const [a, b, c] = [y[0]!, y[1]!, y[2]!];
      out[0] = -0.04 * a + 1e4 * b * c;
      out[2] = 3e7 * b * b;
      out[1] = -out[0]! - out[2]!;
    };
    const y = Float64Array.of(1, 0, 0);
    const solver = new BackwardDifferences({ slope, pattern, scale: Float64Array.of(1, 1e-4, 1) }, 1e-7);
    solver.advance(y, 0, 40);
    expect(y[0]!).toBeCloseTo(0.7158270688, 5);
    expect(y[1]! * 1e5).toBeCloseTo(0.9185534765, 4);
    expect(y[2]!).toBeCloseTo(0.2841637457, 5);
  });
});
