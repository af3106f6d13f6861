import type { Talk } from '../../documents/index.ts';
import type { Cue } from '../../documents/kinds/rehearsal.ts';
import { pouringTime } from '../brewers/order.ts';
import type { PlannedRun } from './plan-run.ts';
import { type RunTalk, titleOf } from './run-talk.ts';

/** Everything to be done and said, in the order of its moments, as a run is practised from it and as cards are printed. */
export function cuesOfRun(
  talk: Talk,
  { schedule, order }: Pick<PlannedRun, 'schedule' | 'order'>,
  { placed, spoken }: Pick<RunTalk, 'placed' | 'spoken'>,
): Cue[] {
  const poured = new Map<number, number>();
  const none = { brewer: null, water_g: null, scale_g: null, title: '', text: '' };
  const hands = schedule.actions.map(({ id, what, brewer, start_s, end_s, water_g, pour }): Cue => {
    const scale = (poured.get(brewer) ?? 0) + (water_g ?? 0);
    if (water_g !== null) poured.set(brewer, scale);
    const takes = pour === null ? end_s - start_s : pouringTime(order, order.pours[pour - 1]!);
    return {
      ...none,
      id,
      what,
      brewer,
      at_s: start_s,
      takes_s: takes,
      water_g,
      scale_g: water_g === null ? null : scale,
    };
  });
  const voice = placed.segments.flatMap(({ id, start_s, takes_s }): Cue[] => {
    const segment = talk.segments.find((entry) => entry.id === id);
    if (!segment || start_s === null) return [];
    const text = spoken[id]?.text ?? segment.text;
    return [{ ...none, id, what: 'say', at_s: start_s, takes_s, title: titleOf(segment), text }];
  });
  return [...hands, ...voice].sort((a, b) => a.at_s - b.at_s);
}
