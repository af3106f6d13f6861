import { type Finding, percent, writtenP } from '../../panel/findings.ts';
import { shownTo } from './finding.ts';
import { leastP } from './label-permutations.ts';
import { powerOfMeans, shiftForPower } from './power-of-means.ts';
import { costWords } from './say-difference.ts';
import { differenceFinding as finding } from './sentences.ts';
import type { Detectable, DetectableQuestion } from './types.ts';

/** Counts up to which the fewest brews are looked for. */
const MOST_EACH = 60;

/** What so many brews of two plans could show, and how many it takes: asked before any is made. */
export function detectableDifference(question: DetectableQuestion): Detectable {
  const { counts, history, alpha, power, wanted, dose_g } = question;
  const least = leastP([{ a: counts[0], b: counts[1] }]);
  const scale = history.sd * Math.sqrt(1 / counts[0] + 1 / counts[1]);
  const known = history.brews === null ? null : Math.max(1, history.brews - 1);
  const own = counts[0] + counts[1] - 2;
  const reachable = own > 0 && least <= alpha;
  const result = {
    with_history: shiftForPower(power, known, alpha) * scale,
    alone: reachable ? shiftForPower(power, own, alpha) * scale : null,
    least_p: least,
    chance:
      wanted === null
        ? null
        : {
            with_history: powerOfMeans(wanted / scale, known, alpha),
            alone: reachable ? powerOfMeans(wanted / scale, own, alpha) : null,
          },
    needed:
      wanted === null
        ? null
        : { with_history: fewest(question, wanted, false), alone: fewest(question, wanted, true) },
    grams: dose_g === null ? null : (counts[0] + counts[1]) * dose_g,
  };
  return { ...result, findings: say(result, question, own) };
}

/** Fewest brews of each that find the wanted difference; by these brews alone, or with the trusted scatter. */
function fewest(
  { history, alpha, power }: DetectableQuestion,
  wanted: number,
  alone: boolean,
): number | null {
  for (let each = 1; each <= MOST_EACH; each++) {
    const scale = history.sd * Math.sqrt(2 / each);
    const df = alone ? 2 * each - 2 : history.brews === null ? null : Math.max(1, history.brews - 1);
    if (alone && (each < 2 || leastP([{ a: each, b: each }]) > alpha)) continue;
    if (powerOfMeans(wanted / scale, df, alpha) >= power) return each;
  }
  return null;
}

/** Fewest brews of each after which an exact test can reach a level. */
export function fewestForExact(alpha: number): number {
  let each = 1;
  while (leastP([{ a: each, b: each }]) > alpha && each < MOST_EACH) each++;
  return each;
}

function say(of: Omit<Detectable, 'findings'>, question: DetectableQuestion, own: number): Finding[] {
  const { counts, history, alpha, power, wanted, figure, dose_g } = question;
  const show = (v: number) => shownTo(v, figure.decimals);
  const values = {
    count_a: counts[0],
    count_b: counts[1],
    unit: figure.unit,
    power: percent(power),
    sd: show(history.sd),
    alpha,
    most: MOST_EACH,
    least: writtenP(of.least_p),
  };
  const said = [
    finding('note', 'can_show', { ...values, size: show(of.with_history), cost: costWords(of.grams) }),
  ];
  if (own <= 0) said.push(finding('cannot', 'can_show_nothing_alone', values));
  else if (of.alone === null)
    said.push(finding('cannot', 'exact_cannot', { ...values, fewest: fewestForExact(alpha) }));
  else said.push(finding('note', 'can_show_alone', { ...values, size: show(of.alone) }));
  if (wanted === null || !of.chance || !of.needed) return said;
  said.push(
    finding('note', 'wanted_chance', {
      ...values,
      wanted: show(wanted),
      chance: percent(of.chance.with_history),
    }),
  );
  const needed = of.needed.with_history;
  if (needed === null) said.push(finding('cannot', 'wanted_needs_too_many', values));
  else if (of.chance.with_history < power)
    said.push(
      finding('note', 'wanted_needs', {
        ...values,
        needed,
        cost: costWords(dose_g === null ? null : 2 * needed * dose_g),
      }),
    );
  return said;
}
