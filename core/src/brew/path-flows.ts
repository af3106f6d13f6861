import { LEDGER } from './amounts.ts';
import type { State } from './state.ts';

/**
 * How much water has dripped out of each path. What reached the server in a step is exact; it is shared among the paths,
 * and the wall that lets water past the bed, by their mean rates at the two ends of the step.
 */
export class PathFlows {
  /** [kg], by path. */
  readonly dripped: Float64Array;
  /** Rates at the end of the last step [kg/s], by path, then of the wall. */
  readonly #before: Float64Array;
  readonly #now: Float64Array;

  constructor(paths: number) {
    this.dripped = new Float64Array(paths);
    this.#before = new Float64Array(paths + 1);
    this.#now = new Float64Array(paths + 1);
  }

  /** Books a step that has just been done. */
  add(s: State): void {
    const { paths } = s;
    const before = this.#before;
    const now = this.#now;
    const arrived = s.now.ledger[LEDGER.served]! - s.begin.ledger[LEDGER.served]!;
    let passing = s.aside[0]!;
    for (let p = 0; p < paths; p++) passing += s.drips[p]!;
    const perMass = passing > 0 ? s.drip.flow / passing : 0;
    let all = 0;
    for (let p = 0; p <= paths; p++) {
      now[p] = perMass * (p < paths ? s.drips[p]! : s.aside[0]!);
      all += before[p]! + now[p]!;
    }
    for (let p = 0; p < paths; p++) if (all > 0) this.dripped[p]! += (arrived * (before[p]! + now[p]!)) / all;
    before.set(now);
  }
}
