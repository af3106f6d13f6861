import type { OvertimePenalty } from '../../documents/index.ts';
import type { Cue } from '../../documents/kinds/rehearsal.ts';
import type { Network, Starts } from '../timing/network.ts';

/** Something that may be left out when late, by the cues it is made of. */
export interface Expendable {
  name: string;
  cue_ids: readonly string[];
  points: number;
}

/** All that a run needs to be followed, with nothing left to look up: it is kept whole, so that later changes of a plan leave it alone. */
export interface LiveRun {
  title: string;
  /** In the order of their moments. */
  cues: readonly Cue[];
  brewers: number;
  limit_s: number;
  /** Waits, hands and voice, one task for each cue, in ticks; what a new way on has to keep. */
  network: Network;
  /** As planned, of every task; also of those that are no cue, such as draining [ticks]. */
  starts: Starts;
  ticks_per_s: number;
  penalty: OvertimePenalty | null;
  expendable: readonly Expendable[];
}

/** Cues by their moment; those of one moment keep their order. */
export const inOrder = (cues: readonly Cue[]): Cue[] => [...cues].sort((a, b) => a.at_s - b.at_s);
