import { type Beat, beatsBetween, type Cue, type RunState } from '@pourline/core';

/** Sounds are put in line this long ahead [s], so that a page that is held up or out of sight still sounds in time. */
const AHEAD_S = 15;
/** A sound already in line is moved when the clocks have parted by more than this [s]. */
const MOVE_OVER_S = 0.006;

/** Pitches by brewer [Hz], a third apart; a choice. */
const PITCH = [660, 831, 990, 1_175];
const GO_S = 0.22;
const READY_S = 0.07;

interface InLine {
  /** On the clock of the sound card [s]. */
  at: number;
  stop(): void;
}

/**
 * Plays count-ins on the clock of the sound card. That clock and the page's own run apart by a little, so every look puts the two side by side
 * again.
 */
export class CountInPlayer {
  #context: AudioContext | null = null;
  readonly #inLine = new Map<string, InLine>();

  /** Opens the sound; to be called from a press, or browsers keep it silent. False when there is none. */
  async open(): Promise<boolean> {
    if (typeof AudioContext === 'undefined') return false;
    this.#context ??= new AudioContext({ latencyHint: 'interactive' });
    try {
      await this.#context.resume();
    } catch {
      return false;
    }
    return this.#context.state === 'running';
  }

  get sounding(): boolean {
    return this.#context?.state === 'running';
  }

  /** Puts the sounds of the next seconds in line and takes away those that no longer hold. `pageMs` tells when a moment of the run is. */
  look(cues: readonly Cue[], state: RunState, now_s: number, pageMs: (at_s: number) => number): void {
    const context = this.#context;
    if (context?.state !== 'running') return;
    const wanted = new Map(
      beatsBetween(cues, state, now_s - 0.02, now_s + AHEAD_S).map((beat) => [keyOf(beat), beat]),
    );
    for (const [key, sound] of this.#inLine) {
      if (wanted.has(key)) continue;
      if (sound.at > context.currentTime) sound.stop();
      this.#inLine.delete(key);
    }
    for (const [key, beat] of wanted) {
      const at = cardTime(context, pageMs(beat.at_s));
      const there = this.#inLine.get(key);
      if (there && (Math.abs(there.at - at) < MOVE_OVER_S || there.at <= context.currentTime + 0.02))
        continue;
      there?.stop();
      const brewer = cues.find(({ id }) => id === beat.cue_id)?.brewer ?? 1;
      this.#inLine.set(key, play(context, at, beat, PITCH[(brewer - 1) % PITCH.length]!));
    }
  }

  /** A sound right away, to hear whether it can be heard. */
  try(): void {
    const context = this.#context;
    if (context) play(context, context.currentTime + 0.05, { tone: 'go', at_s: 0, cue_id: '' }, PITCH[0]!);
  }

  silence(): void {
    for (const { stop } of this.#inLine.values()) stop();
    this.#inLine.clear();
  }

  async close(): Promise<void> {
    this.silence();
    await this.#context?.close();
    this.#context = null;
  }
}

const keyOf = ({ cue_id, at_s, tone }: Beat): string => `${cue_id} ${tone} ${at_s}`;

/** A moment of the page [ms] on the clock of the sound card [s], such that the sound is heard then. */
export function cardTime(context: AudioContext, page_ms: number): number {
  const { contextTime = 0, performanceTime = 0 } = context.getOutputTimestamp();
  // Not every device says what is being heard just now; then what is being computed, less the way to the ear.
  const [card, page] =
    contextTime > 0 && performanceTime > 0
      ? [contextTime, performanceTime]
      : [context.currentTime - (context.outputLatency || context.baseLatency || 0), performance.now()];
  return card + (page_ms - page) / 1_000;
}

function play(context: AudioContext, at: number, { tone }: Beat, pitch: number): InLine {
  const starts = Math.max(at, context.currentTime);
  const length = tone === 'go' ? GO_S : READY_S;
  const oscillator = context.createOscillator();
  const gain = context.createGain();
  oscillator.frequency.value = tone === 'go' ? 2 * pitch : pitch;
  gain.gain.setValueAtTime(0, starts);
  gain.gain.linearRampToValueAtTime(tone === 'go' ? 0.5 : 0.3, starts + 0.006);
  gain.gain.setValueAtTime(tone === 'go' ? 0.5 : 0.3, starts + length - 0.03);
  gain.gain.linearRampToValueAtTime(0, starts + length);
  oscillator.connect(gain).connect(context.destination);
  oscillator.start(starts);
  oscillator.stop(starts + length + 0.01);
  return {
    at,
    stop: () => {
      oscillator.stop();
      oscillator.disconnect();
    },
  };
}
