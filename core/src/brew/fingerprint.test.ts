import { describe, expect, it } from 'vitest';
import { simulate } from './simulate.ts';
import { DEMO_BITS } from './testing/demo-bits.ts';
import { demoBundle } from './testing/demo-bundle.ts';
import { resultBits } from './testing/result-bits.ts';

describe('the bits of a result', () => {
  it('tell values apart by the last bit of one number, and take every NaN alike', () => {
    const value = { a: Float64Array.of(1, Number.NaN), b: [2, { c: 3 }] };
    expect(resultBits(value)).toBe(resultBits({ a: [1, -Number.NaN], b: Float64Array.of(2, 3), note: 'x' }));
    expect(resultBits(value)).not.toBe(resultBits({ ...value, b: [2, { c: 3 + 4e-16 }] }));
    expect(resultBits(0)).not.toBe(resultBits(-0));
  });

  it('are those of FNV-1a', () => {
    // Offset basis of no bytes; of eight zero bytes it is the basis times the prime to the eighth (FNV, Noll, from memory).
    expect(resultBits([])).toBe('cbf29ce484222325');
    const prime = 0x100000001b3n;
    const zeros = BigInt.asUintN(64, 0xcbf29ce484222325n * prime ** 8n);
    expect(resultBits(0)).toBe(zeros.toString(16).padStart(16, '0'));
  });

  it('of the demo plan are the same twice', () => {
    const run = () => resultBits(simulate(demoBundle(), { resolution: 'standard' }));
    expect(run()).toBe(run());
  });

  it('of the demo plan are those written down', () => {
    expect(resultBits(simulate(demoBundle(), { resolution: 'standard' }))).toBe(DEMO_BITS);
  });
});
