import { chiSquaredAbove } from '../../panel/distributions.ts';
import { type Finding, MAYBE } from '../../panel/findings.ts';
import { listed, shownTo } from './finding.ts';
import { differenceFinding as finding } from './sentences.ts';
import type { BlamedCup, BlamedPour, BlameQuestion, PourFigure, PourSlip } from './types.ts';

/** A cause is named from this chance on, and called likely from the higher one; our choice. */
const PERHAPS = 0.35;
const LIKELY = 0.7;

const SLIP_WORDS: Readonly<Record<PourSlip, { unit: string; more: string; less: string; least: number }>> = {
  water_g: { unit: 'g', more: 'more water', less: 'less water', least: 0.3 },
  start_s: { unit: 's', more: 'later', less: 'earlier', least: 0.3 },
  duration_s: { unit: 's', more: 'longer', less: 'shorter', least: 0.3 },
};
const FIGURE_WORDS: Readonly<Record<PourFigure, { name: string; unit: string; decimals: number }>> = {
  strength_pct: { name: 'strength', unit: '%', decimals: 2 },
  yield_pct: { name: 'yield', unit: '%', decimals: 2 },
  beverage_g: { name: 'beverage', unit: 'g', decimals: 1 },
  drawdown_s: { name: 'drawdown', unit: 's', decimals: 1 },
  server_C: { name: 'temperature', unit: '°C', decimals: 1 },
};

/** What is to be said of each cup: which pour, how likely, and what it did. */
export function sayBlame(
  cups: readonly BlamedCup[],
  question: BlameQuestion,
  figures: readonly PourFigure[],
): Finding[] {
  return cups.flatMap((cup) => [...sayCup(cup, question, figures), ...sayMissing(cup, question)]);
}

function sayCup(cup: BlamedCup, { figure_doubt }: BlameQuestion, figures: readonly PourFigure[]): Finding[] {
  const doubts = figures.filter((key) => (figure_doubt[key] ?? 0) > 0);
  const squares = doubts.reduce((t, key) => t + ((cup.away[key] ?? 0) / figure_doubt[key]!) ** 2, 0);
  if (doubts.length > 0 && chiSquaredAbove(squares, doubts.length) > MAYBE)
    return [finding('not_shown', 'pour_even', { cup: cup.name })];
  const first = cup.pours[0];
  const values = { cup: cup.name, chance: Math.round(cup.elsewhere * 100) };
  if (!first || first.chance < PERHAPS) return [finding('not_shown', 'pour_none', values)];
  const more = {
    ...values,
    pour: first.pour + 1,
    chance: Math.round(first.chance * 100),
    slips: slipWords(first),
    moved: movedWords(first, figures),
  };
  return first.chance >= LIKELY
    ? [finding('clear', 'pour_blamed', more)]
    : [finding('maybe', 'pour_perhaps', more)];
}

function sayMissing(cup: BlamedCup, { cups }: BlameQuestion): Finding[] {
  const pours = cups[cup.cup]!.pours;
  const missing = cup.pours.filter(({ pour }) => !pours[pour]).length;
  if (missing === 0) return [];
  return [finding('note', 'pours_missing', { cup: cup.name, count: missing, all: cup.pours.length })];
}

/** "4.2 g more water and 3.0 s later", without what is too small to matter. */
function slipWords({ slips }: BlamedPour): string {
  const said = Object.entries(slips).flatMap(([slip, by]) => {
    const words = SLIP_WORDS[slip as PourSlip];
    if (Math.abs(by) < words.least) return [];
    return [`${shownTo(Math.abs(by), 1)} ${words.unit} ${by > 0 ? words.more : words.less}`];
  });
  return said.length > 0 ? listed(said) : 'nothing that was measured';
}

/** "strength 0.03 % lower and beverage 4.1 g higher", the figures that were seen. */
function movedWords({ moved }: BlamedPour, figures: readonly PourFigure[]): string {
  return listed(
    figures.map((key) => {
      const { name, unit, decimals } = FIGURE_WORDS[key];
      const by = moved[key] ?? 0;
      return `${name} ${shownTo(Math.abs(by), decimals)} ${unit} ${by >= 0 ? 'higher' : 'lower'}`;
    }),
  );
}
