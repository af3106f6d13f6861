import { lengthTicks, TICKS, ticks } from '../brewers/compile.ts';
import { clock, rounded, type StageRemark, stageRemark } from '../remark.ts';
import type { Lag, Network } from '../timing/network.ts';
import { search } from '../timing/search.ts';
import { speakingTime, spokenCount } from './speech.ts';
import type { TalkOrder, TalkSegment } from './talk-order.ts';

/** One segment with its place. */
export interface PlacedSegment {
  id: string;
  words: number;
  characters: number;
  takes_s: number;
  /** Null when the talk cannot be placed. */
  start_s: number | null;
  end_s: number | null;
}

/** Something that could be left out. */
export interface Cut {
  id: string;
  saves_s: number;
  points: number;
}

/** A talk on the clock. */
export interface PlacedTalk {
  /** `no`: proven not to fit; `open`: neither. */
  fits: 'yes' | 'no' | 'open';
  segments: PlacedSegment[];
  speaking_s: number;
  /** End of the last word; of the talk without limit when it does not fit. Null when pins and silences contradict. */
  ends_s: number | null;
  /** What is left until the limit; negative: over by so much. */
  reserve_s: number | null;
  /** What may be cut, cheapest points per second first. */
  cuts: Cut[];
  /** The cuts, in that order, after which it fits; null when even all of them do not do it. Empty when it fits. */
  needed_cuts: string[] | null;
  remarks: StageRemark[];
}

const LONG = 8 * 7_200;

/** Time a segment takes with its pause [s]. */
export const segmentTime = (order: TalkOrder, segment: TalkSegment): number =>
  (segment.takes_s ?? speakingTime(segment.text, order.rate)) + segment.pause_s;

/**
 * Places every segment as early as silences, pins and the order of the talk allow; one voice says one thing at a time. When it does not fit, the cuts
 * that make it fit, cheapest first.
 */
export function placeTalk(order: TalkOrder): PlacedTalk {
  const kept = order.segments;
  const found = search(
    talkNetwork(order, kept, order.limit_s),
    { what: 'end' },
    { effort: 4_000, step: TICKS / 10 },
  );
  const free =
    found.starts ??
    search(talkNetwork(order, kept, LONG), { what: 'end' }, { effort: 4_000, step: TICKS / 10 }).starts;
  const segments = kept.map((segment): PlacedSegment => {
    const takes_s = segmentTime(order, segment);
    const start = free?.[segment.id];
    const start_s = start === undefined ? null : start / TICKS;
    return {
      id: segment.id,
      ...spokenCount(segment.text),
      takes_s,
      start_s,
      end_s: start_s === null ? null : start_s + takes_s,
    };
  });
  const ends_s =
    segments.length === 0 ? order.from_s : free ? Math.max(...segments.map(({ end_s }) => end_s!)) : null;
  const cuts = cutList(order);
  const talk: PlacedTalk = {
    fits: found.starts ? 'yes' : found.answer === 'none' ? 'no' : 'open',
    segments,
    speaking_s: segments.reduce((sum, { takes_s }) => sum + takes_s, 0),
    ends_s,
    reserve_s: ends_s === null ? null : order.limit_s - ends_s,
    cuts,
    needed_cuts: found.starts ? [] : neededCuts(order, cuts),
    remarks: [],
  };
  return { ...talk, remarks: talkRemarks(order, talk) };
}

function talkNetwork(order: TalkOrder, segments: readonly TalkSegment[], limit_s: number): Network {
  const silences = order.silent.filter(({ from_s, to_s }) => to_s > from_s);
  const lags: Lag[] = segments.slice(1).map((segment, i) => ({
    from: segments[i]!.id,
    to: segment.id,
    min: lengthTicks(segmentTime(order, segments[i]!)),
  }));
  return {
    tasks: [
      ...segments.map((segment) => ({
        id: segment.id,
        duration: lengthTicks(segmentTime(order, segment)),
        needs: { voice: 1 },
        earliest: ticks(segment.at_s === null ? order.from_s : Math.max(0, segment.at_s - segment.give_s)),
        ...(segment.at_s !== null && { latest: ticks(segment.at_s + segment.give_s) }),
      })),
      ...mergedSilences(silences)
        .filter(([, to]) => to <= limit_s)
        .map(([from, to], i) => ({
          id: `silence ${i} `,
          duration: ticks(to) - ticks(from),
          needs: { voice: 1 },
          earliest: ticks(from),
          latest: ticks(from),
        })),
    ],
    lags,
    resources: { voice: 1 },
    limit: ticks(limit_s),
  };
}

/** Silences that touch or overlap as one: the voice is only once silent. */
function mergedSilences(silences: readonly { from_s: number; to_s: number }[]): [from: number, to: number][] {
  const merged: [number, number][] = [];
  for (const { from_s, to_s } of [...silences].sort((a, b) => a.from_s - b.from_s)) {
    const last = merged.at(-1);
    if (last && from_s <= last[1]) last[1] = Math.max(last[1], to_s);
    else merged.push([from_s, to_s]);
  }
  return merged;
}

/** What may be cut, the fewest points for a second saved first. */
export function cutList(order: TalkOrder): Cut[] {
  return order.segments
    .filter(({ may_be_cut }) => may_be_cut)
    .map((segment) => ({ id: segment.id, saves_s: segmentTime(order, segment), points: segment.points }))
    .filter(({ saves_s }) => saves_s > 0)
    .sort((a, b) => a.points / a.saves_s - b.points / b.saves_s || b.saves_s - a.saves_s);
}

function neededCuts(order: TalkOrder, cuts: readonly Cut[]): string[] | null {
  const cut: string[] = [];
  for (const { id } of cuts) {
    cut.push(id);
    const rest = order.segments.filter((segment) => !cut.includes(segment.id));
    if (search(talkNetwork(order, rest, order.limit_s), { what: 'any' }, { effort: 4_000 }).starts)
      return cut;
  }
  return null;
}

function talkRemarks(order: TalkOrder, talk: PlacedTalk): StageRemark[] {
  const remarks: StageRemark[] = [];
  if (order.segments.length === 0)
    return [stageRemark('note', 'talk_empty', { limit: clock(order.limit_s) })];
  if (talk.fits === 'yes')
    remarks.push(
      stageRemark('good', 'talk_fits', { ends: clock(talk.ends_s!), reserve: rounded(talk.reserve_s!) }),
    );
  else if (talk.ends_s === null) remarks.push(stageRemark('impossible', 'talk_pins'));
  else
    remarks.push(
      stageRemark('impossible', 'talk_too_long', {
        ends: clock(talk.ends_s),
        limit: clock(order.limit_s),
        over: rounded(Math.max(0, -talk.reserve_s!)),
      }),
    );
  if (talk.fits === 'yes') return remarks;
  if (talk.needed_cuts === null)
    remarks.push(stageRemark('nearest', 'cuts_not_enough', { seconds: rounded(sumOf(talk.cuts, null)) }));
  else
    remarks.push(
      stageRemark('nearest', 'cuts_needed', {
        what: talk.needed_cuts.join(', '),
        seconds: rounded(sumOf(talk.cuts, talk.needed_cuts)),
      }),
    );
  return remarks;
}

const sumOf = (cuts: readonly Cut[], ids: readonly string[] | null): number =>
  cuts.reduce((sum, { id, saves_s }) => sum + (ids === null || ids.includes(id) ? saves_s : 0), 0);
