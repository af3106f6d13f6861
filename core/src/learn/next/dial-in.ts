import type { Finding } from '../../panel/findings.ts';
import { chanceFrom } from '../../panel/random.ts';
import { dOptimal } from '../design/d-optimal.ts';
import { corners } from '../design/factorial.ts';
import { termsOf } from '../design/model.ts';
import { listed } from '../difference/finding.ts';
import { levelsAt } from './candidates.ts';
import { nextFinding as finding } from './sentences.ts';
import type { DialInBrew, DialInPlan, DialInPurpose, DialInQuestion } from './types.ts';

/** Less time than this before practice closes is called tight [s]. */
const TIGHT = 60;

/** Seconds as a clock shows them: 4:05. */
export const minuteWords = (seconds: number): string => {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
};

/**
 * So many minutes and grams with a coffee nobody knows: how many brews fit when each cup is tasted while the next one runs, what each is for,
 * and which cups are known when it starts. The first brew is the middle of every range; a small design around it lets every brew count for
 * every level; then what is known decides, cup by cup (`suggestNext`); the last is the best once more. Coffee for serving is kept back first.
 */
export function planDialIn(question: DialInQuestion): DialInPlan {
  const { minutes, grams, dose_g, purge_g, serve_cups, spare_doses } = question;
  const each = dose_g + purge_g;
  const kept = (serve_cups + spare_doses) * each;
  const byGrams = Math.max(0, Math.floor((grams - kept) / each + 1e-9));
  const byTime = brewsInTime(question);
  const count = Math.min(byGrams, byTime);
  const brews = timed(question, count);
  const plan = {
    brews,
    bound_by: byTime <= byGrams ? ('time' as const) : ('grams' as const),
    grams_used: count * each,
    grams_kept: Math.min(kept, grams),
    ends_s: brews.at(-1)?.taste_until_s ?? 0,
  };
  return { ...plan, findings: say(plan, question, { kept, each, minutes }) };
}

/** Brews after which there is still time to taste the last one. */
function brewsInTime({ minutes, close_min, brew_s, ready_s, cool_s, taste_s }: DialInQuestion): number {
  const room = (minutes - close_min) * 60 - brew_s - cool_s - taste_s;
  // One mouth as well: cups that take longer to taste than to brew queue up.
  return room < 0 ? 0 : 1 + Math.floor(room / Math.max(brew_s + ready_s, taste_s) + 1e-9);
}

function timed(question: DialInQuestion, count: number): DialInBrew[] {
  const { brew_s, ready_s, cool_s, taste_s, factors, seed } = question;
  const purposes = purposesOf(count, factors.length);
  const explored = explorePoints(factors.length, purposes.filter((p) => p === 'explore').length, seed);
  const brews: DialInBrew[] = [];
  let next = 0;
  let tasted = 0;
  purposes.forEach((purpose, i) => {
    const start_s = i * (brew_s + ready_s);
    const end_s = start_s + brew_s;
    // One mouth: a cup waits until the one before it has been tasted.
    const taste_from_s = Math.max(end_s + cool_s, tasted);
    tasted = taste_from_s + taste_s;
    const coded =
      purpose === 'first' ? factors.map(() => 0) : purpose === 'explore' ? explored[next++]! : null;
    brews.push({
      brew: i + 1,
      purpose,
      start_s,
      end_s,
      taste_from_s,
      taste_until_s: tasted,
      levels:
        coded &&
        levelsAt(
          factors,
          coded.map((v) => (v + 1) / 2),
        ),
      known: brews.flatMap((before, k) => (before.taste_until_s <= start_s ? [k] : [])),
    });
  });
  return brews;
}

/** What each of so many brews is for. */
function purposesOf(count: number, factors: number): DialInPurpose[] {
  if (count === 0) return [];
  const confirm = count >= 3 ? 1 : 0;
  const free = count - 1 - confirm;
  // A line in every level needs as many brews as levels; one more lets the whole be judged.
  const explore = Math.max(0, Math.min(free >= 3 ? free - 1 : free, factors + 1));
  return [
    'first',
    ...new Array<DialInPurpose>(explore).fill('explore'),
    ...new Array<DialInPurpose>(free - explore).fill('choose'),
    ...new Array<DialInPurpose>(confirm).fill('confirm'),
  ];
}

/** Corners around the middle that tell lines in all levels best, in an order drawn by chance. */
function explorePoints(k: number, count: number, seed: number): number[][] {
  if (count === 0) return [];
  const cube = corners(k);
  const middle = new Array<number>(k).fill(0);
  const terms = termsOf('main', k);
  const design = count >= k ? dOptimal(cube, { runs: count + 1, terms, seed, kept: [middle] }) : null;
  const points = design
    ? design.points.slice(1).map((row) => [...row])
    : Array.from({ length: count }, (_, i) =>
        i % 2 === 0 ? cube[Math.floor(i / 2)]! : cube.at(-1 - Math.floor(i / 2))!,
      );
  return chanceFrom(seed).shuffle(points);
}

function say(
  plan: Omit<DialInPlan, 'findings'>,
  question: DialInQuestion,
  { kept, each, minutes }: { kept: number; each: number; minutes: number },
): Finding[] {
  const { factors, cool_s, brew_s, taste_s, close_min, grams } = question;
  const round = (v: number) => Number(v.toFixed(1));
  if (kept > grams) return [finding('cannot', 'dial_in_grams_short', { grams, needed: round(kept) })];
  const { brews } = plan;
  if (brews.length === 0)
    return [
      finding('cannot', 'dial_in_none', {
        needed: round((brew_s + cool_s + taste_s) / 60 + close_min),
        grams: round(kept + each),
      }),
    ];
  const said = [
    finding('note', 'dial_in_brews', {
      brews: brews.length,
      minutes,
      bound: plan.bound_by,
      used: round(plan.grams_used),
      kept: round(plan.grams_kept),
      cups: question.serve_cups,
      spare: question.spare_doses,
    }),
    finding('note', 'dial_in_first'),
  ];
  const of = (purpose: DialInPurpose) =>
    brews.filter((brew) => brew.purpose === purpose).map(({ brew }) => brew);
  const range = (list: readonly number[]) => ({
    brews: list.length === 1 ? `brew ${list[0]}` : `brews ${list[0]} to ${list.at(-1)}`,
  });
  const [explore, choose] = [of('explore'), of('choose')];
  if (explore.length > 0)
    said.push(
      finding('note', 'dial_in_explore', {
        ...range(explore),
        factors: listed(factors.map(({ name }) => name)),
      }),
    );
  const late = brews.findLast(({ known, brew }) => known.length < brew - 1 && known.length > 0);
  if (late)
    said.push(
      finding('note', 'dial_in_overlap', {
        cool: minuteWords(cool_s),
        k: late.brew,
        known: late.known.at(-1)! + 1,
      }),
    );
  if (choose.length > 0) said.push(finding('note', 'dial_in_choose', range(choose)));
  if (of('confirm').length > 0)
    said.push(finding('note', 'dial_in_confirm'), finding('note', 'dial_in_stop'));
  said.push(finding('caution', 'dial_in_care', { brews: brews.length, minutes }));
  const slack = (minutes - close_min) * 60 - plan.ends_s;
  if (slack < TIGHT) said.push(finding('caution', 'dial_in_tight', { slack: minuteWords(slack) }));
  return said;
}
