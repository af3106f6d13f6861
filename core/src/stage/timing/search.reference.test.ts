import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkSchedule } from './check-schedule.ts';
import { endOf, type Network } from './network.ts';
import { search } from './search.ts';

interface Instance {
  name: string;
  optimum: number;
  capacities: number[];
  durations: number[];
  needs: number[][];
  successors: number[][];
}

// Source: reference/project-schedules/README.md (PSPLIB J30; optima as published with it).
const { instances } = JSON.parse(
  readFileSync(new URL('../../../../reference/project-schedules/j30.json', import.meta.url), 'utf8'),
) as { instances: Instance[] };

function networkOf({ capacities, durations, needs, successors }: Instance): Network {
  return {
    tasks: durations.map((duration, i) => ({
      id: `${i + 1}`,
      duration,
      needs: Object.fromEntries(capacities.map((_, r) => [`r${r}`, needs[r]![i]!])),
    })),
    lags: successors.flatMap((list, i) =>
      list.map((next) => ({ from: `${i + 1}`, to: `${next}`, min: durations[i]! })),
    ),
    resources: Object.fromEntries(capacities.map((capacity, r) => [`r${r}`, capacity])),
    limit: durations.reduce((sum, d) => sum + d, 0),
  };
}

describe('published project schedules of 30 tasks', () => {
  const listed = instances.filter(({ name }) => name !== 'j3013_8');
  it.each(listed.map((instance) => [instance.name, instance] as const))('proves %s', (_, instance) => {
    const network = networkOf(instance);
    const before = performance.now();
    const found = search(network, { what: 'end' });
    const took = performance.now() - before;
    if (process.env.POURLINE_TIMED)
      console.log(instance.name, found.value, found.deadEnds, `${took.toFixed(0)} ms`);
    expect(found.answer).toBe('best');
    expect(found.value).toBe(instance.optimum);
    expect(checkSchedule(network, found.starts!)).toEqual([]);
    expect(endOf(network, found.starts!)).toBe(instance.optimum);
    if (process.env.POURLINE_TIMED) expect(took).toBeLessThan(5_000);
  });

  it('brackets j3013_8, one of the hardest of its set, which it does not prove', () => {
    const instance = instances.find(({ name }) => name === 'j3013_8')!;
    const network = networkOf(instance);
    const found = search(network, { what: 'end' }, { effort: 200 });
    expect(found.answer).toBe('some');
    expect(checkSchedule(network, found.starts!)).toEqual([]);
    expect(found.value!).toBeGreaterThanOrEqual(instance.optimum);
    expect(found.bound!).toBeLessThanOrEqual(instance.optimum);
  });
});
