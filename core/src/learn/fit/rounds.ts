import { type Axes, axesOf, plainAxes } from './axes.ts';
import { askEngine, type Group, type Prepared, type Runs, roughGroups } from './engine.ts';
import { COMMON_COORDINATES, coordinatesOf, type Layout, naturalsAt } from './layout.ts';
import type { ObservedFigure } from './observe.ts';
import { REACH, type Surrogate } from './target.ts';

/** Everything a round needs. */
export interface Campaign {
  layout: Layout;
  trials: readonly Prepared[];
  groups: readonly Group[];
  runs: Runs;
}

/** Work that can be put down after every engine run. */
export type Steps<T> = Generator<void, T, void>;

/** Coordinates of one trial at a point in standard units. */
export function coordinatesAt(
  { layout, trials }: Campaign,
  z: ArrayLike<number>,
  trial: number,
): Float64Array {
  const { place } = trials[trial]!;
  const natural = naturalsAt(layout, z, new Float64Array(layout.unknowns.length));
  return coordinatesOf(
    layout,
    natural,
    z,
    place,
    new Float64Array(COMMON_COORDINATES + place.grinders.length),
  );
}

/**
 * Asks the engine around a point: at the point for every trial, and along the axes for every group.
 * @param covariance of the unknowns, which turns the axes and asks on both sides of the point; null for a first look: one side
 * only, along each coordinate by itself
 */
export function* lookAround(
  campaign: Campaign,
  z: ArrayLike<number>,
  covariance: ArrayLike<number> | null,
): Steps<Surrogate[]> {
  const { layout, trials, runs } = campaign;
  const groups = covariance ? campaign.groups : roughGroups(trials, campaign.groups);
  const found: Surrogate[] = new Array(trials.length);
  for (const { members } of groups) {
    const leader = members[0]!;
    const { place } = trials[leader]!;
    const axes = covariance ? axesOf(layout, z, place, covariance) : plainAxes(layout, place);
    const centre = coordinatesAt(campaign, z, leader);
    const ask = (at: Float64Array) => askEngine(runs, trials, members, 'draft', at);
    const middle = ask(centre);
    yield;
    const up: Float64Array[] = [];
    const down: (Float64Array | null)[] = [];
    for (let a = 0; a < centre.length; a++) {
      up.push(ask(stepped(centre, axes, a, 1)));
      yield;
      down.push(covariance ? ask(stepped(centre, axes, a, -1)) : null);
      if (covariance) yield;
    }
    let from = 0;
    for (const member of members) {
      const figures = trials[member]!.observations.values.length;
      const at = coordinatesAt(campaign, z, member);
      const base =
        member === leader
          ? middle.slice(from, from + figures)
          : askEngine(runs, trials, [member], 'draft', at);
      found[member] = {
        centre: at,
        inverse: axes.inverse,
        base,
        ...slopesFrom(from, figures, middle, up, down),
      };
      from += figures;
      yield;
    }
  }
  return found;
}

function stepped(centre: Float64Array, { axes }: Axes, axis: number, sign: number): Float64Array {
  const d = centre.length;
  return centre.map((x, b) => x + sign * axes[b * d + axis]!);
}

/** Slopes and bends of some figures from the engine's answers at the centre and at one step along each axis. */
function slopesFrom(
  from: number,
  figures: number,
  middle: Float64Array,
  up: readonly Float64Array[],
  down: readonly (Float64Array | null)[],
): { slope: Float64Array; bend: Float64Array } {
  const d = up.length;
  const slope = new Float64Array(figures * d);
  const bend = new Float64Array(figures * d);
  for (let i = 0; i < figures; i++)
    for (let a = 0; a < d; a++) {
      const here = middle[from + i]!;
      const above = up[a]![from + i]! - here;
      const below = down[a] ? down[a]![from + i]! - here : Number.NaN;
      // A figure that does not exist on one side has the slope of the other.
      if (Number.isFinite(above) && Number.isFinite(below)) {
        slope[i * d + a] = (above - below) / 2;
        bend[i * d + a] = above + below;
      } else slope[i * d + a] = Number.isFinite(above) ? above : Number.isFinite(below) ? -below : 0;
    }
  return { slope, bend };
}

/** The same slopes about a new point: only the level is asked for, one run a trial. */
export function* moveTo(
  campaign: Campaign,
  z: ArrayLike<number>,
  surrogates: readonly Surrogate[],
): Steps<Surrogate[]> {
  const moved: Surrogate[] = [];
  for (let t = 0; t < surrogates.length; t++) {
    const centre = coordinatesAt(campaign, z, t);
    const base = askEngine(campaign.runs, campaign.trials, [t], 'draft', centre);
    moved.push({ ...surrogates[t]!, ...carried(surrogates[t]!, centre), centre, base });
    yield;
  }
  return moved;
}

/** The slopes of the parabolas at a new centre. */
function carried(s: Surrogate, centre: Float64Array): Pick<Surrogate, 'slope'> {
  const d = centre.length;
  const slope = s.slope.slice();
  for (let a = 0; a < d; a++) {
    let u = 0;
    for (let b = 0; b < d; b++) u += s.inverse[a * d + b]! * (centre[b]! - s.centre[b]!);
    const within = Math.max(-REACH, Math.min(REACH, u));
    for (let i = 0; i < s.base.length; i++)
      slope[i * d + a] = slope[i * d + a]! + s.bend[i * d + a]! * within;
  }
  return { slope };
}

/** Most kinds of brew that are computed finely. */
const MOST_FINE = 12;

/**
 * What a finer grid would add: brews are computed once as finely as results are shown, and the difference to the draft is added. Of
 * many kinds of brew some are, spread over all, and the others take their mean difference, figure by figure of a kind.
 */
export function* refined(
  campaign: Campaign,
  z: ArrayLike<number>,
  surrogates: readonly Surrogate[],
): Steps<Surrogate[]> {
  const { groups, trials, runs } = campaign;
  // Few trials are all computed finely; of many, one of a kind.
  const kinds = trials.length <= MOST_FINE ? trials.map((_, t) => ({ members: [t] })) : groups;
  const every = Math.ceil(kinds.length / MOST_FINE);
  const added: (Float64Array | null)[] = trials.map(() => null);
  const sums = new Map<string, { sum: number; count: number }>();
  for (const { members } of kinds.filter((_, i) => i % every === 0)) {
    const at = coordinatesAt(campaign, z, members[0]!);
    const fine = askEngine(runs, trials, members, 'standard', at);
    const draft = askEngine(runs, trials, members, 'draft', at);
    yield;
    let from = 0;
    for (const member of members) {
      const { values, figures } = trials[member]!.observations;
      const more = values.map((_, i) => fine[from + i]! - draft[from + i]!);
      added[member] = more;
      figures.forEach((figure, i) => {
        if (!Number.isFinite(more[i]!)) return;
        const known = sums.get(kindOf(figure)) ?? { sum: 0, count: 0 };
        sums.set(kindOf(figure), { sum: known.sum + more[i]!, count: known.count + 1 });
      });
      from += values.length;
    }
  }
  const mean = (figure: ObservedFigure): number => {
    const known = sums.get(kindOf(figure));
    return known && figure.kind === 'level' ? known.sum / known.count : 0;
  };
  return surrogates.map((s, t) => {
    const { figures } = trials[t]!.observations;
    const base = s.base.map((y, i) => {
      const more = added[t]?.[i] ?? mean(figures[i]!);
      return Number.isFinite(more) ? y + more : y;
    });
    return { ...s, base };
  });
}

const kindOf = ({ channel, where, kind }: ObservedFigure): string => `${channel} ${where ?? ''} ${kind}`;
