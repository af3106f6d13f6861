import {
  anchorOf,
  type ClockJump,
  countJump,
  lookAtClock,
  type RunClock,
  type RunEvent,
  type RunState,
  resumeClock,
  runMs,
  runState,
  startClock,
} from '@pourline/core';
import type { StoredRun } from '../store/db.ts';
import type { RunLog } from '../store/run-log.ts';
import { openedMs, readClocks } from './clock-source.ts';

type Fields = 'n' | 'at_s' | 'wall_ms' | 'mono_ms' | 'opened_ms';
/** An event before it has its number and its moment. */
export type BareEvent = RunEvent extends infer E ? (E extends RunEvent ? Omit<E, Fields> : never) : never;

/** What a screen needs of a run. A new object with every change. */
export interface RunView {
  state: RunState;
  events: readonly RunEvent[];
  /** Cues whose tap is on its way to disk. */
  writing: ReadonlySet<string>;
  /** What could not be written, in the browser's words; it is tried again until it is. */
  trouble: string | null;
  /** How long the page was away when it was opened in mid-run [s]; null when it was not. */
  resumed: { away_s: number; set_back: boolean } | null;
  /** A jump of the clock that the person has not looked at yet. */
  jump: ClockJump | null;
}

/** Two touches closer than this [ms] are one wet finger. */
const SAME_TOUCH_MS = 300;
const ANCHOR_EVERY_MS = 1_000;
const TRY_AGAIN_MS = 400;

/**
 * One run as it is lived: events go to disk first and count afterwards. Times come from the moment of the touch, not from when it was
 * dealt with.
 */
export class LiveRunner {
  readonly stored: StoredRun;
  readonly #log: RunLog;
  readonly #listeners = new Set<() => void>();
  #events: RunEvent[];
  #clock: RunClock | null = null;
  #queue: Promise<void> = Promise.resolve();
  #nextN: number;
  #lastTouch_ms = Number.NEGATIVE_INFINITY;
  #anchored_ms = Number.NEGATIVE_INFINITY;
  #view: RunView;
  #closed = false;
  /** The screen is kept awake and in view: such a device does not sleep. */
  keptAwake = false;
  /** Done when the last piece of a recording is kept. */
  recorded: Promise<void> = Promise.resolve();

  private constructor(log: RunLog, stored: StoredRun, events: RunEvent[]) {
    this.#log = log;
    this.stored = stored;
    this.#events = events;
    const state = runState(stored.run.cues, events);
    this.#nextN = state.next_n;
    this.#view = {
      state,
      events,
      writing: new Set(),
      trouble: null,
      resumed: null,
      jump: null,
    };
  }

  /** Reads a run from disk; one that is under way goes on from where it was. Null when there is no such run. */
  static async open(log: RunLog, run_id: string): Promise<LiveRunner | null> {
    const stored = await log.run(run_id);
    if (!stored) return null;
    const [events, anchor] = [await log.events(run_id), await log.anchor(run_id)];
    const runner = new LiveRunner(log, stored, events);
    if (runner.#view.state.phase === 'waiting' || !anchor) return runner;
    const { clock, away_ms, set_back } = resumeClock(anchor, readClocks());
    runner.#clock = clock;
    if (runner.#view.state.phase === 'running') {
      const away_s = away_ms / 1_000;
      runner.#publish({ resumed: { away_s, set_back } });
      void runner.#write({ what: 'opened', away_s }, performance.now());
    }
    return runner;
  }

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  view = (): RunView => this.#view;

  /** Moment of the run [s], at a moment of the page or now; zero before it has begun. */
  nowS(mono_ms = performance.now()): number {
    return this.#clock ? runMs(this.#clock, mono_ms) / 1_000 : 0;
  }

  /** When a moment of the run is, on the clock of the page [ms]. */
  pageMs(at_s: number): number {
    return this.#clock ? this.#clock.zero_mono_ms + 1_000 * at_s : Number.POSITIVE_INFINITY;
  }

  // ——— what a person does ———

  start(mono_ms: number): Promise<void> {
    if (this.#view.state.phase !== 'waiting' || this.#clock) return Promise.resolve();
    const { count_in_s, mode } = this.stored.settings;
    const clocks = readClocks();
    const since = clocks.mono_ms - mono_ms;
    this.#clock = startClock({ mono_ms, wall_ms: clocks.wall_ms - since }, 1_000 * count_in_s);
    const started = this.#write({ what: 'start', count_in_s }, mono_ms);
    return mode === 'tap' ? started : this.#write({ what: 'mode', mode }, mono_ms);
  }

  /** Takes a lap, unless it is the same wet touch once more. */
  tap(cue_id: string, mono_ms: number): Promise<void> {
    const { state, writing } = this.#view;
    if (state.phase !== 'running' || mono_ms - this.#lastTouch_ms < SAME_TOUCH_MS) return Promise.resolve();
    this.#lastTouch_ms = mono_ms;
    if (state.laps.has(cue_id) || writing.has(cue_id)) return Promise.resolve();
    this.#publish({ writing: new Set([...writing, cue_id]) });
    return this.#write({ what: 'lap', cue_id }, mono_ms);
  }

  /** Takes back the last thing that can be. */
  undo(mono_ms: number): Promise<void> {
    const { undoable } = this.#view.state;
    if (!undoable || this.#view.writing.size > 0 || mono_ms - this.#lastTouch_ms < SAME_TOUCH_MS)
      return Promise.resolve();
    this.#lastTouch_ms = mono_ms;
    return this.#write({ what: 'undo', undoes: undoable.n }, mono_ms);
  }

  skip = (cue_id: string, mono_ms: number): Promise<void> => this.#write({ what: 'skip', cue_id }, mono_ms);
  mark = (mono_ms: number): Promise<void> => this.#write({ what: 'mark' }, mono_ms);
  choose = (choice: BareEvent & { what: 'choice' }, mono_ms: number): Promise<void> =>
    this.#write(choice, mono_ms);
  setMode = (mode: 'tap' | 'cues', mono_ms: number): Promise<void> =>
    this.#write({ what: 'mode', mode }, mono_ms);

  end(how: 'finished' | 'stopped', mono_ms: number): Promise<void> {
    if (this.#view.state.phase !== 'running') return Promise.resolve();
    return this.#write({ what: 'end', how }, mono_ms);
  }

  /** Says how a jump of the clock is to be taken after all; null lets it stand. */
  settleJump(taken_as: ClockJump['taken_as'] | null): Promise<void> {
    const { jump } = this.#view;
    this.#publish({ jump: null });
    if (!jump || taken_as === null || taken_as === jump.taken_as || !this.#clock) return Promise.resolve();
    this.#clock = countJump(this.#clock, { ...jump, taken_as }, 'corrected');
    return this.#write({ what: 'clock', shift_s: jump.shift_ms / 1_000, taken_as }, performance.now());
  }

  // ——— what goes on by itself ———

  /** Watches the clocks and keeps the anchor; to be called many times a second. */
  tick(): void {
    if (!this.#clock || this.#closed) return;
    const now = readClocks();
    const { clock, jump } = lookAtClock(this.#clock, now, this.keptAwake);
    this.#clock = clock;
    if (jump && this.#view.state.phase === 'running') {
      this.#publish({ jump });
      const { taken_as } = jump;
      void this.#write({ what: 'clock', shift_s: jump.shift_ms / 1_000, taken_as }, now.mono_ms);
    }
    if (this.#view.state.phase !== 'running' || now.mono_ms - this.#anchored_ms < ANCHOR_EVERY_MS) return;
    this.#anchored_ms = now.mono_ms;
    void this.#log.keepAnchor({ run_id: this.stored.run_id, ...anchorOf(clock, now) }).catch(() => {});
  }

  close(): void {
    this.#closed = true;
    this.#listeners.clear();
  }

  /** Puts an event in line for the disk; it counts once it is there. */
  #write(bare: BareEvent, mono_ms: number): Promise<void> {
    const clock = this.#clock;
    const clocks = readClocks();
    const event = {
      ...bare,
      n: this.#nextN++,
      at_s: Math.max(-600, Math.round(this.nowS(mono_ms) * 1_000) / 1_000),
      wall_ms: Math.round(clocks.wall_ms - (clocks.mono_ms - mono_ms)),
      mono_ms: Math.max(0, Math.round(mono_ms * 10) / 10),
      opened_ms: Math.round(openedMs()),
    } as RunEvent;
    const anchor = clock ? { run_id: this.stored.run_id, ...anchorOf(clock, clocks) } : null;
    this.#queue = this.#queue.then(() => this.#untilWritten(event, anchor));
    return this.#queue;
  }

  async #untilWritten(event: RunEvent, anchor: Parameters<RunLog['append']>[2]): Promise<void> {
    for (;;) {
      try {
        await this.#log.append(this.stored.run_id, event, anchor);
        break;
      } catch (reason) {
        if (this.#closed) return;
        this.#publish({ trouble: reason instanceof Error ? reason.message : String(reason) });
        // A number that is taken was written by this very attempt, or by another page; the next free one is right for both.
        const kept = await this.#log.events(this.stored.run_id).catch(() => null);
        if (kept?.some((one) => one.n === event.n && one.mono_ms === event.mono_ms)) break;
        if (kept) event = { ...event, n: Math.max(event.n, runState([], kept).next_n) };
        this.#nextN = Math.max(this.#nextN, event.n + 1);
        await new Promise((again) => setTimeout(again, TRY_AGAIN_MS));
      }
    }
    this.#events = [...this.#events, event];
    const writing = new Set(this.#view.writing);
    if (event.what === 'lap') writing.delete(event.cue_id);
    this.#publish({
      events: this.#events,
      state: runState(this.stored.run.cues, this.#events),
      writing,
      trouble: null,
    });
  }

  #publish(change: Partial<RunView>): void {
    this.#view = { ...this.#view, ...change };
    for (const tell of this.#listeners) tell();
  }
}
