/** What the clocks of a device show at one moment. */
export interface ClockSample {
  /** Since the page was opened [ms]; nobody can set it, but it may stand still while the device sleeps. */
  mono_ms: number;
  /** The clock of the day [ms since 1970]; it runs on while nobody looks, but it can be set. */
  wall_ms: number;
}

/**
 * Clock of a run within one opening of the page: time is counted by the clock that cannot be set; the other one is only watched, and carries
 * the run over from one opening to the next.
 */
export interface RunClock {
  /** The unsettable clock at zero of the run [ms]; may lie before the page was opened, and then is negative. */
  zero_mono_ms: number;
  last: ClockSample;
}

/** Two clocks that part by less than this between two looks [ms] drift or are rounded; nobody has set one. */
export const JUMP_MS = 250;

/** Time of the run [ms]. */
export const runMs = (clock: RunClock, mono_ms: number): number => mono_ms - clock.zero_mono_ms;

/** A clock whose zero lies `after_ms` from now. */
export const startClock = (now: ClockSample, after_ms = 0): RunClock => ({
  zero_mono_ms: now.mono_ms + after_ms,
  last: now,
});

/** What is kept so that a run can be taken up again: the clock of the day at zero of the run, and when that was last looked at. */
export interface ClockAnchor {
  zero_wall_ms: number;
  seen_wall_ms: number;
}

export const anchorOf = (clock: RunClock, now: ClockSample): ClockAnchor => ({
  zero_wall_ms: now.wall_ms - runMs(clock, now.mono_ms),
  seen_wall_ms: now.wall_ms,
});

/**
 * The clock after the page was opened again. When the clock of the day now stands before the moment it was last looked at, it was set meanwhile,
 * and how long the page was away is not known: the run goes on from where it was.
 */
export function resumeClock(
  anchor: ClockAnchor,
  now: ClockSample,
): { clock: RunClock; away_ms: number; set_back: boolean } {
  const away = now.wall_ms - anchor.seen_wall_ms;
  const set_back = away < -JUMP_MS;
  const run = (set_back ? anchor.seen_wall_ms : now.wall_ms) - anchor.zero_wall_ms;
  return {
    clock: { zero_mono_ms: now.mono_ms - run, last: now },
    away_ms: set_back ? 0 : Math.max(0, away),
    set_back,
  };
}

/** How a jump between the two clocks is taken. */
export interface ClockJump {
  /** By how much the clock of the day went ahead of the other [ms]. */
  shift_ms: number;
  /** `slept`: the time counts; `set`: it does not. */
  taken_as: 'slept' | 'set';
}

/**
 * Looks at both clocks again. When they have parted, either the device slept and one of them stood still, or the other was set. Time cannot go
 * back by sleeping, and a device whose screen was kept awake and in view does not sleep; anything else is taken for sleep, because a clock
 * that is ahead is the safer mistake on a stage. The person is told and may say otherwise.
 */
export function lookAtClock(
  clock: RunClock,
  now: ClockSample,
  kept_awake: boolean,
): { clock: RunClock; jump: ClockJump | null } {
  const shift = now.wall_ms - clock.last.wall_ms - (now.mono_ms - clock.last.mono_ms);
  if (Math.abs(shift) < JUMP_MS) {
    // Looking on from the first sample lets slow drift add up until it would count as a jump; each look starts anew.
    return { clock: { ...clock, last: now }, jump: null };
  }
  const taken_as = shift < 0 || kept_awake ? 'set' : 'slept';
  const jump: ClockJump = { shift_ms: shift, taken_as };
  return { clock: countJump({ ...clock, last: now }, jump, 'once'), jump };
}

/** Counts a jump as it was taken, or the other way round once the person has said so. */
export function countJump(clock: RunClock, jump: ClockJump, how: 'once' | 'corrected'): RunClock {
  const by = how === 'once' ? (jump.taken_as === 'slept' ? 1 : 0) : jump.taken_as === 'slept' ? 1 : -1;
  return { ...clock, zero_mono_ms: clock.zero_mono_ms - by * jump.shift_ms };
}
