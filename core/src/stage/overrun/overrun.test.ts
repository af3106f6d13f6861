import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../../panel/random.ts';
import { normal } from './chance-values.ts';
import { chanceOver, drift, forecastFrom, PRIOR_TIMES, slips } from './history.ts';
import { imagineRuns } from './simulate-run.ts';

describe('rehearsals', () => {
  it('say nothing of the spread when there is only one, and make nothing up', () => {
    expect(chanceOver([590], 600)).toBeNull();
    expect(forecastFrom([{ id: 'a', times_s: [30] }])).toBeNull();
    expect(drift([590, 585])).toBeNull();
  });

  it('give back the pace and the scatter that made them', () => {
    const chance = chanceFrom(9);
    const means = [40, 60, 90, 30, 75, 50];
    const paces = Array.from({ length: 60 }, () => 0.04 * normal(chance));
    const history = means.map((mean, i) => ({
      id: `s${i}`,
      times_s: paces.map((pace) => mean * Math.exp(pace + 0.06 * normal(chance))),
    }));
    const forecast = forecastFrom(history)!;
    expect(forecast.paceSd).toBeGreaterThan(0.028);
    expect(forecast.paceSd).toBeLessThan(0.052);
    expect(forecast.pooledCv).toBeCloseTo(Math.hypot(0.04, 0.06), 2);
  });

  it('draw the spread of a segment timed once to what all have in common', () => {
    const forecast = forecastFrom([
      { id: 'often', times_s: [50, 55, 45, 52, 48] },
      { id: 'once', times_s: [100, null, null, null, null] },
    ])!;
    const once = forecast.segments.find(({ id }) => id === 'once')!;
    expect(once.sd).toBeNull();
    expect(once.shrunkSd).toBeCloseTo(100 * forecast.pooledCv, 9);
    expect(once.df).toBe(PRIOR_TIMES);
  });

  it('show learning as a drift and where a run falls behind', () => {
    expect(drift([610, 604, 601, 596, 590])!.perRun).toBeCloseTo(-4.8, 6);
    expect(drift([610, 604, 601, 596, 590])!.p).toBeLessThan(0.01);
    const found = slips(
      [
        { id: 'greeting', times_s: [20, 20] },
        { id: 'first pour', times_s: [48, 52] },
        { id: 'story', times_s: [61, 63] },
      ],
      { greeting: 20, 'first pour': 45, story: 60 },
    );
    expect(found).toMatchObject({ begins: 'first pour', worst: 'first pour' });
    expect(found.rows.at(-1)!.late_s).toBeCloseTo(7, 9);
  });
});

describe('imagineRuns', () => {
  const network = {
    tasks: Array.from({ length: 6 }, (_, i) => ({ id: `s${i}`, duration: 95_000, needs: { voice: 1 } })),
    lags: [],
    resources: { voice: 1 },
    limit: 700_000,
  };
  const starts = Object.fromEntries(network.tasks.map(({ id }, i) => [id, i * 95_000]));
  const play = (followsPace: boolean, paceSd: number) =>
    imagineRuns(
      network,
      starts,
      Object.fromEntries(network.tasks.map(({ id }) => [id, { ownSd: 0.05, followsPace }])),
      {
        draws: 4_000,
        seed: 2,
        paceSd,
        limit: 600_000,
        penalty: {
          grace_s: 0,
          points: 1,
          every_s: 1,
          counts: 'begun',
          cap_points: 30,
          hard_stop_s: 60,
        },
        ticksPerSecond: 1_000,
      },
    );

  it('sees more runs over the limit when segments share a pace', () => {
    const apart = play(false, 0);
    const together = play(true, 0.05);
    expect(together.chanceOver).toBeGreaterThan(apart.chanceOver + 3 * together.chanceOverSe);
    expect(together.expectedPoints!).toBeGreaterThan(apart.expectedPoints!);
    expect(together.ends.low).toBeLessThan(together.ends.middle);
  });

  it('gives the same for the same seed and the plan itself without any variation', () => {
    expect(play(true, 0.05)).toEqual(play(true, 0.05));
    const still = imagineRuns(
      network,
      starts,
      {},
      {
        draws: 3,
        seed: 1,
        paceSd: 0,
        limit: 600_000,
        penalty: null,
        ticksPerSecond: 1_000,
      },
    );
    expect(still).toMatchObject({
      chanceOver: 0,
      expectedPoints: null,
      ends: { low: 570_000, high: 570_000 },
    });
  });
});
