import type { Bands, BrewBundle, BrewResult, Resolution } from '@pourline/core';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Engine } from './client.ts';
import { makePredictor } from './predictor.ts';

const bundle = (dose_g: number) => ({ plan: { dose_g } }) as BrewBundle;
const doseOf = (b: BrewBundle) => b.plan.dose_g;

/** An engine that takes 10 ms a draft, 30 ms a standard run and 100 ms a spread, and refuses a negative dose. */
function slowEngine() {
  const log: string[] = [];
  const wait = (ms: number) => new Promise((done) => setTimeout(done, ms));
  let stop: ((value: null) => void) | null = null;
  const engine: Engine = {
    async run(b, resolution: Resolution) {
      log.push(`${resolution} ${doseOf(b)}`);
      await wait(resolution === 'draft' ? 10 : 30);
      if (doseOf(b) < 0) throw new Error('refused');
      return { resolution, cup: { water_g: doseOf(b) } } as BrewResult;
    },
    async bands(b, runs, report) {
      log.push(`bands ${doseOf(b)}`);
      const stopped = new Promise<null>((resolve) => {
        stop = resolve;
      });
      report(0.5);
      return Promise.race([stopped, wait(100).then(() => ({ runs }) as Bands)]);
    },
    stopBands() {
      log.push('stop');
      stop?.(null);
    },
  };
  return { engine, log };
}

describe('keeping a prediction up to date', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('goes from draft over standard to the spread when left alone', async () => {
    const { engine, log } = slowEngine();
    const predictor = makePredictor(engine);
    predictor.show(bundle(14), false);
    await vi.advanceTimersByTimeAsync(1_000);
    expect(log).toEqual(['draft 14', 'standard 14', 'bands 14']);
    expect(predictor.get()).toMatchObject({ bands: { runs: 64 }, bandsDone: null, stale: false });
    expect(predictor.get().result?.resolution).toBe('standard');
  });

  it('makes drafts only while things move, never more than one waiting, and shows each as it comes', async () => {
    const { engine, log } = slowEngine();
    const predictor = makePredictor(engine);
    const seen: number[] = [];
    predictor.subscribe(() => seen.push(predictor.get().result?.cup.water_g ?? 0));
    for (let i = 1; i <= 20; i++) {
      predictor.show(bundle(i), true);
      await vi.advanceTimersByTimeAsync(4);
    }
    await vi.advanceTimersByTimeAsync(30);
    expect(log.every((line) => line.startsWith('draft'))).toBe(true);
    expect(log.length).toBeLessThan(12);
    expect(seen[seen.length - 1]).toBe(20);
    expect(new Set(seen).size).toBeGreaterThan(5);
  });

  it('ends a spread at once when something moves', async () => {
    const { engine, log } = slowEngine();
    const predictor = makePredictor(engine);
    predictor.show(bundle(14), false);
    await vi.advanceTimersByTimeAsync(450);
    expect(predictor.get().bandsDone).toBe(0.5);
    predictor.show(bundle(15), true);
    expect(log).toContain('stop');
    expect(predictor.get()).toMatchObject({ bands: null, bandsDone: null });
  });

  it('knows a plan again after undo without computing it', async () => {
    const { engine, log } = slowEngine();
    const predictor = makePredictor(engine);
    for (const dose of [14, 15, 14]) {
      predictor.show(bundle(dose), false);
      await vi.advanceTimersByTimeAsync(1_000);
    }
    expect(log.filter((line) => line === 'standard 14')).toHaveLength(1);
    expect(predictor.get().result?.cup.water_g).toBe(14);
    expect(predictor.get().bands).not.toBeNull();
  });

  it('keeps the last prediction and says so when the plan cannot be computed', async () => {
    const { engine } = slowEngine();
    const predictor = makePredictor(engine);
    predictor.show(bundle(14), false);
    await vi.advanceTimersByTimeAsync(1_000);
    predictor.show(null, false);
    expect(predictor.get()).toMatchObject({ stale: true, result: { cup: { water_g: 14 } } });
    predictor.show(bundle(-1), false);
    await vi.advanceTimersByTimeAsync(1_000);
    expect(predictor.get()).toMatchObject({
      stale: true,
      failure: 'refused',
      result: { cup: { water_g: 14 } },
    });
  });

  it('does not let a late standard run of an older plan cover a newer draft', async () => {
    const { engine } = slowEngine();
    const predictor = makePredictor(engine);
    predictor.show(bundle(14), false);
    await vi.advanceTimersByTimeAsync(25);
    predictor.show(bundle(15), true);
    await vi.advanceTimersByTimeAsync(50);
    expect(predictor.get().result).toMatchObject({ resolution: 'draft', cup: { water_g: 15 } });
  });
});
