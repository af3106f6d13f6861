import type { Contest, Talk } from '../../documents/index.ts';
import { clock, rounded, stageRemark } from '../remark.ts';
import { cuesOfRun } from '../run/cues.ts';
import type { PlannedRun } from '../run/plan-run.ts';
import { wholeRun } from '../run/run-network.ts';
import { type RunTalk, titleOf } from '../run/run-talk.ts';
import type { Expendable } from './live-run.ts';
import type { PreparedRun } from './run-of-plan.ts';

/** A run of brew and talk as it was worked out, ready to be followed; or why it cannot be. */
export function runOfTalk(
  talk: Talk,
  planned: PlannedRun,
  spoken: RunTalk,
  contest: Contest | null,
): PreparedRun {
  const { limit_s, schedule } = planned;
  if (limit_s <= 0)
    return { run: null, remarks: [stageRemark('impossible', 'live_no_time', { limit: clock(limit_s) })] };
  const whole = schedule.possible === 'yes' ? wholeRun(talk, planned, spoken) : null;
  if (!whole) return { run: null, remarks: schedule.remarks };
  const cues = cuesOfRun(talk, planned, spoken);
  if (cues.length === 0) return { run: null, remarks: [stageRemark('impossible', 'live_nothing')] };
  const ends_s = Math.max(...cues.map(({ at_s, takes_s }) => at_s + takes_s));
  const said = { ends: clock(rounded(ends_s)), limit: clock(limit_s) };
  return {
    run: {
      title: talk.name,
      cues,
      brewers: talk.brewing.brewers,
      limit_s,
      network: whole.network,
      starts: whole.starts,
      ticks_per_s: whole.ticks_per_s,
      penalty: contest?.penalty ?? null,
      expendable: expendableOf(talk, new Set(cues.map(({ id }) => id))),
    },
    remarks: [
      ends_s > limit_s
        ? stageRemark('watch', 'live_over', { ...said, over: rounded(ends_s - limit_s) })
        : stageRemark('good', 'live_fits', { ...said, spare: rounded(limit_s - ends_s) }),
    ],
  };
}

/** Segments that may be cut, each under a name of its own: two may have one title. */
function expendableOf(talk: Talk, placed: ReadonlySet<string>): Expendable[] {
  const names = new Set<string>();
  return talk.segments
    .filter(({ id, may_be_cut }) => may_be_cut && placed.has(id))
    .map((segment) => {
      const title = titleOf(segment);
      const name = names.has(title) ? `${title} (${segment.id})` : title;
      names.add(name);
      return { name, cue_ids: [segment.id], points: segment.points };
    });
}
