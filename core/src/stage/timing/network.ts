/**
 * Work to be put in time: tasks of fixed length that share hands, voice, kettles and circuits, and lags between their starts.
 * Times are whole ticks, so that a proof is exact; who makes a network says how long a tick is.
 */
export interface Task {
  id: string;
  /** [ticks] */
  duration: number;
  /** What it holds while it runs, by resource id. */
  needs: Readonly<Record<string, number>>;
  /** Earliest and latest start [ticks]; left out when nothing but the limit bounds it. */
  earliest?: number;
  latest?: number;
}

/** The start of `to` comes at least `min` [ticks] after the start of `from`, and at most `max` after it. */
export interface Lag {
  from: string;
  to: string;
  min: number;
  /** Left out when it may be any time later. */
  max?: number;
}

/** Everything a schedule has to keep. */
export interface Network {
  tasks: readonly Task[];
  lags: readonly Lag[];
  /** How much of each resource there is, by id. */
  resources: Readonly<Record<string, number>>;
  /** Nothing ends later [ticks]. */
  limit: number;
}

/** Start of each task [ticks], by id. */
export type Starts = Readonly<Record<string, number>>;

/** Longest length, lag or limit that a network may hold [ticks]: sums of them stay exact in 32 bits. */
export const MOST_TICKS = 100_000_000;

/** End of a schedule: the latest end of a task [ticks]; 0 when there is none. */
export const endOf = (network: Network, starts: Starts): number =>
  network.tasks.reduce((end, task) => Math.max(end, starts[task.id]! + task.duration), 0);

/**
 * Holds a network to its contract.
 * @throws Error when an id stands twice, is not known, or a figure is not a whole number in range.
 */
export function assertNetwork({ tasks, lags, resources, limit }: Network): void {
  const ids = new Set(tasks.map(({ id }) => id));
  if (ids.size !== tasks.length) throw new Error('assertNetwork: a task id stands twice.');
  const whole = (what: string, value: number | undefined): void => {
    if (value !== undefined && !(Number.isInteger(value) && Math.abs(value) <= MOST_TICKS))
      throw new Error(`assertNetwork: ${what} is ${value}; it must be a whole number up to ${MOST_TICKS}.`);
  };
  whole('the limit', limit);
  for (const task of tasks) {
    whole(`the duration of ${task.id}`, task.duration);
    if (task.duration < 0) throw new Error(`assertNetwork: the duration of ${task.id} is negative.`);
    whole(`the earliest start of ${task.id}`, task.earliest);
    whole(`the latest start of ${task.id}`, task.latest);
    for (const [resource, need] of Object.entries(task.needs)) {
      if (!Object.hasOwn(resources, resource)) throw new Error(`assertNetwork: no resource ${resource}.`);
      whole(`the need of ${task.id}`, need);
    }
  }
  for (const { from, to, min, max } of lags) {
    if (!ids.has(from) || !ids.has(to))
      throw new Error(`assertNetwork: no task for the lag ${from} → ${to}.`);
    whole(`the lag ${from} → ${to}`, min);
    whole(`the lag ${from} → ${to}`, max);
  }
}
