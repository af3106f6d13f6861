import { performance } from 'node:perf_hooks';
import { type Timing, timingOf } from '../measure.ts';

/** Wall and processor times of one piece of work; the second stays true while others use the machine. */
export interface Times {
  wall: Timing;
  cpu: Timing;
}

/** Processor time of this process so far, all its threads [ms]. */
export function cpuNow(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e3;
}

/** Runs `work` until it has been warmed up, then `runs` times at most and for `most_ms` at most, three times at least. */
export function timesOf(work: () => unknown, { runs = 40, most_ms = 1_500 } = {}): Times {
  const wall: number[] = [];
  const cpu: number[] = [];
  let began = performance.now();
  for (let i = 0; i < runs && (i < 1 || performance.now() - began < most_ms / 3); i++) work();
  began = performance.now();
  while (wall.length < 3 || (wall.length < runs && performance.now() - began < most_ms)) {
    const cpuStart = cpuNow();
    const start = performance.now();
    work();
    wall.push(performance.now() - start);
    cpu.push(cpuNow() - cpuStart);
  }
  return { wall: timingOf(wall), cpu: timingOf(cpu) };
}

/** Milliseconds with as many digits as mean something. */
export const ms = (value: number): string => value.toFixed(value < 10 ? 2 : value < 100 ? 1 : 0);
