import type { Talk, TalkPiece } from '../../documents/index.ts';
import { pouringTime } from '../brewers/order.ts';
import type { HandAction } from '../brewers/schedule.ts';
import { rounded, type StageRemark, stageRemark } from '../remark.ts';
import { type BoundValue, type SpokenText, speakText } from '../talk/bound-values.ts';
import { type PlacedTalk, placeTalk } from '../talk/place-talk.ts';
import { DRAFT_RATE, rateFrom, type SpeakingRate } from '../talk/speech.ts';
import { type TalkOrder, talkOrder } from '../talk/talk-order.ts';
import type { PlannedRun } from './plan-run.ts';
import type { TimedRun } from './timed-runs.ts';

/** A talk on the clock of its run, with what stands behind its numbers. */
export interface RunTalk {
  order: TalkOrder;
  placed: PlacedTalk;
  /** By segment id. */
  spoken: Readonly<Record<string, SpokenText>>;
  card: SpokenText;
  rate: SpeakingRate;
  /** The rate is the speaker's own: typed, or found in runs. */
  own_rate: 'typed' | 'found' | 'draft';
  remarks: StageRemark[];
}

type Plan = Pick<PlannedRun, 'schedule' | 'order' | 'values' | 'limit_s'>;

/** Own speaking rate from segments that were timed; null when none was. */
export function foundRate(
  segments: readonly TalkPiece[],
  values: readonly BoundValue[],
  runs: readonly TimedRun[],
): SpeakingRate | null {
  const spoken = segments.flatMap(({ id, text, pause_s }) =>
    runs.flatMap(({ segments: took }) => {
      const took_s = (took[id] ?? 0) - pause_s;
      return took_s > 0 && text !== '' ? [{ text: speakText(text, values).text, took_s }] : [];
    }),
  );
  return rateFrom(spoken);
}

/** Places the talk between what the hands do. Quick enough for every key that is typed. */
export function talkOfRun(talk: Talk, plan: Plan, runs: readonly TimedRun[]): RunTalk {
  const found = talk.rate === null ? foundRate(talk.segments, plan.values, runs) : null;
  const rate = talk.rate ?? found ?? DRAFT_RATE;
  const spoken = Object.fromEntries(
    talk.segments.map(({ id, text }) => [id, speakText(text, plan.values)] as const),
  );
  const lost: string[] = [];
  const order = talkOrder.parse({
    segments: talk.segments.map((segment) => {
      const at = pinnedAt(segment, plan.schedule.actions);
      if (segment.pin && at === null) lost.push(titleOf(segment));
      return {
        id: segment.id,
        text: spoken[segment.id]!.text.slice(0, 20_000),
        takes_s: segment.takes_s,
        pause_s: segment.pause_s,
        at_s: at,
        give_s: segment.give_s,
        may_be_cut: segment.may_be_cut,
        points: segment.points,
      };
    }),
    rate,
    silent: silences(talk, plan),
    limit_s: Math.min(7_200, plan.limit_s),
  });
  const placed = placeTalk(order);
  const named = nameSegments(placed.ends_s === null ? withoutPins(order, placed) : placed, talk);
  const card = speakText(talk.judges_card, plan.values);
  return {
    order,
    placed: named,
    spoken,
    card,
    rate,
    own_rate: talk.rate ? 'typed' : found ? 'found' : 'draft',
    remarks: [
      ...named.remarks,
      ...(placed.ends_s === null ? pinToRelease(order, talk) : []),
      ...lost.map((title) => stageRemark('watch', 'pin_lost', { title })),
      ...talk.segments.flatMap((segment) => truths(titleOf(segment), spoken[segment.id]!)),
      ...truths('…', card),
    ],
  };
}

const unpinned = (order: TalkOrder, which: (id: string) => boolean): TalkOrder => ({
  ...order,
  segments: order.segments.map((segment) => (which(segment.id) ? { ...segment, at_s: null } : segment)),
});

/** Pins contradict each other: every segment where it would stand if all of them floated, so that there is something to see. */
function withoutPins(order: TalkOrder, placed: PlacedTalk): PlacedTalk {
  const { segments } = placeTalk(unpinned(order, () => true));
  return { ...placed, segments };
}

/** Pins that are tried one by one; more would keep whoever types waiting. */
const PINS_TRIED = 12;

/** The one pin without which all the others can be kept, if there is one. */
function pinToRelease(order: TalkOrder, { segments }: Talk): StageRemark[] {
  const pinned = order.segments.filter(({ at_s }) => at_s !== null).slice(0, PINS_TRIED);
  const found = pinned.find(({ id }) => placeTalk(unpinned(order, (other) => other === id)).ends_s !== null);
  const segment = segments.find(({ id }) => id === found?.id);
  return segment ? [stageRemark('nearest', 'pin_release', { title: titleOf(segment) })] : [];
}

/** What a segment is called: its title, or how it begins. */
export const titleOf = ({ title, text, id }: Pick<TalkPiece, 'title' | 'text' | 'id'>): string => {
  if (title !== '') return title;
  const start = text.trim().slice(0, 32);
  return start === '' ? id : text.trim().length > 32 ? `${start}…` : start;
};

/** Sentences speak of segments by their titles, not by their ids. */
function nameSegments(placed: PlacedTalk, talk: Talk): PlacedTalk {
  const titles = new Map(talk.segments.map((segment) => [segment.id, titleOf(segment)]));
  return {
    ...placed,
    remarks: placed.remarks.map((remark) =>
      remark.code === 'cuts_needed'
        ? stageRemark(remark.tone, remark.code, {
            ...remark.values,
            what: (placed.needed_cuts ?? []).map((id) => titles.get(id) ?? id).join(', '),
          })
        : remark,
    ),
  };
}

/** Moment of a pin [s]; null for none, or for one to something that is not in the schedule. */
export function pinnedAt({ pin }: TalkPiece, actions: readonly HandAction[]): number | null {
  if (!pin) return null;
  if (pin.by === 'time') return pin.at_s;
  const action = actions.find(
    ({ brewer, what, pour }) =>
      brewer === pin.brewer && what === pin.what && (pin.what !== 'pour' || pour === pin.pour),
  );
  return action ? Math.min(7_200, Math.max(0, action.start_s + pin.after_s)) : null;
}

/** When nobody should speak: while water runs, where that is asked, and in the zones of the talk. */
export function silences({ silence }: Talk, { schedule, order }: Pick<Plan, 'schedule' | 'order'>) {
  const pours =
    silence.pours === 'none'
      ? []
      : schedule.actions.filter(
          ({ what, pour }) => what === 'pour' && (silence.pours === 'all' || pour === 1),
        );
  return [
    ...pours.map(({ id, start_s, pour }) => ({
      label: id,
      from_s: start_s,
      to_s: start_s + pouringTime(order, order.pours[pour! - 1]!),
    })),
    ...silence.zones.map(({ label, from_s, to_s }) => ({ label, from_s, to_s })),
  ].filter(({ to_s }) => to_s <= 7_200);
}

function truths(title: string, { values, loose }: SpokenText): StageRemark[] {
  const remarks = values.flatMap(({ truth, shown, now, from, name }): StageRemark[] => {
    const values = { title, said: shown, name, now: now === null ? '' : rounded(now, 2), from: from ?? '' };
    if (truth === 'false') return [stageRemark('impossible', 'number_false', values)];
    if (truth === 'out_of_date') return [stageRemark('watch', 'number_old', values)];
    return truth === 'unknown' ? [stageRemark('watch', 'number_unknown', values)] : [];
  });
  return loose.length === 0
    ? remarks
    : [...remarks, stageRemark('note', 'number_loose', { title, numbers: loose.join(', ') })];
}
