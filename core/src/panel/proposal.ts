import { shareInterval } from './d-prime.ts';
import {
  candidateWords,
  type ExpectedPoints,
  expectedPoints,
  type TastedWords,
  type WordCandidate,
  type WordPoints,
  weighWord,
} from './description.ts';
import { normalCdf } from './distributions.ts';
import { type Finding, finding, percent, rounded } from './findings.ts';
import { sameWord, type WordTree } from './words-tree.ts';

/** What to do with a said word. */
export interface WordProposal {
  said: WordCandidate;
  action: 'keep' | 'widen' | 'narrow' | 'drop';
  /** The word to say instead; null when it is dropped. */
  instead: WordCandidate | null;
  /** All that was compared: the word, wider ones, narrower ones that were found. */
  options: WordCandidate[];
}

/** A statement with one right answer: level of acidity, its type, body, balance. */
export interface Statement {
  name: string;
  said: string;
  /** What can be said, in order when `points` depend on steps. */
  options: readonly string[];
  /** What each taster says, and how far this taster is known to lie above the others, in steps. */
  answers: readonly { taster: string; answer: string; offset?: number }[];
  points: { exact: number; one_step: number; further: number };
}

/** A statement weighed. */
export interface StatementProposal {
  name: string;
  tasters: number;
  options: { option: string; agree: number; points: ExpectedPoints }[];
  said: string;
  best: string;
  /** Whether offsets of tasters were taken off before counting. */
  adjusted: boolean;
}

/** What is said now and what could be said, in points. */
export interface DescriptionValue {
  expected: number;
  doubt: number;
  /** Standard deviation of the mean of so many judges. */
  panel_spread: number;
}

/** Everything about a description. */
export interface DescriptionProposal {
  words: WordProposal[];
  statements: StatementProposal[];
  now: DescriptionValue;
  proposed: DescriptionValue;
  /** Chance that the proposed version is worth more, as far as these tasters tell. */
  better: number;
  findings: Finding[];
}

/**
 * Proposes to keep, widen, narrow or drop a said word: whichever is expected to bring most points among the word, its wider words, narrower
 * ones that tasters found, and silence at 0. Among equals the word itself stays.
 */
export function proposeWord(
  word: string,
  window: string,
  tasted: readonly TastedWords[],
  tree: WordTree,
  points: WordPoints,
): WordProposal {
  const said = weighWord(word, window, tasted, tree, points);
  const wider = tree.wider(word).map((w) => weighWord(w, window, tasted, tree, points));
  const narrower = candidateWords(window, tasted, tree, points).filter((c) =>
    tree.wider(c.word).some((w) => sameWord(w) === sameWord(word)),
  );
  const options = [said, ...wider, ...narrower];
  const best = options.reduce((a, b) => (b.points.expected > a.points.expected + 1e-9 ? b : a));
  if (best.points.expected < 0) return { said, action: 'drop', instead: null, options };
  const action = best === said ? 'keep' : wider.includes(best) ? 'widen' : 'narrow';
  return { said, action, instead: best, options };
}

/** Weighs a statement: expected points of every option, known offsets of tasters taken off first. */
export function proposeStatement({ name, said, options, answers, points }: Statement): StatementProposal {
  const place = (option: string) => options.findIndex((o) => sameWord(o) === sameWord(option));
  const places = answers
    .map(({ answer, offset = 0 }) => ({ at: place(answer), offset }))
    .filter(({ at }) => at >= 0)
    // Half a step counts toward the answer given.
    .map(({ at, offset }) => Math.min(options.length - 1, Math.max(0, towards(at, offset))));
  const weighed = options.map((option, i) => {
    const distance = (at: number) => Math.abs(at - i);
    const count = (holds: (d: number) => boolean) => places.filter((at) => holds(distance(at))).length;
    const exact = count((d) => d === 0);
    return {
      option,
      agree: exact,
      points: expectedPoints([
        { count: exact, points: points.exact },
        { count: count((d) => d === 1), points: points.one_step },
        { count: count((d) => d > 1), points: points.further },
      ]),
    };
  });
  const own = weighed.find(({ option }) => sameWord(option) === sameWord(said));
  const best = weighed.reduce(
    (a, b) => (b.points.expected > a.points.expected + 1e-9 ? b : a),
    own ?? weighed[0]!,
  );
  return {
    name,
    tasters: places.length,
    options: weighed,
    said,
    best: best.option,
    adjusted: answers.some(({ offset = 0 }) => Math.abs(offset) > 0.5),
  };
}

/** An answer with an offset taken off, to the nearest step; exactly half a step changes nothing. */
const towards = (at: number, offset: number): number => {
  const moved = at - offset;
  return Math.abs(moved - at) <= 0.5 ? at : Math.round(moved);
};

/**
 * Weighs a whole description and proposes a better one, with points, doubt and spread for `judges` judges. Words and statements are taken as
 * independent of each other, which understates the spread when one impression colours all.
 */
export function proposeDescription(input: {
  said: readonly { window: string; word: string }[];
  statements: readonly Statement[];
  tasted: readonly TastedWords[];
  tree: WordTree;
  points: WordPoints;
  judges: number;
  /** Days after roasting on the day it is served; null when not known. */
  venue_age_d: number | null;
}): DescriptionProposal {
  const { said, tasted, tree, points, judges } = input;
  const words = said.map(({ window, word }) => proposeWord(word, window, tasted, tree, points));
  const statements = input.statements.map(proposeStatement);
  const ofStatement = (s: StatementProposal, option: string): ExpectedPoints | undefined =>
    s.options.find((o) => sameWord(o.option) === sameWord(option))?.points;
  const nothing: ExpectedPoints = { expected: 0, doubt: 0, spread: 0 };
  const nowParts = [
    ...words.map((w) => w.said.points),
    ...statements.map((s) => ofStatement(s, s.said) ?? nothing),
  ];
  const newParts = [
    ...words.map((w) => w.instead?.points ?? nothing),
    ...statements.map((s) => ofStatement(s, s.best) ?? nothing),
  ];
  const now = descriptionValue(nowParts, judges);
  const proposed = descriptionValue(newParts, judges);
  const better = chanceBetter(nowParts, newParts);
  const findings = [
    ...words.map(sayWord),
    ...statements.flatMap(sayStatement),
    ...sayValue(now, proposed, better, Math.max(0, ...words.map((w) => w.said.tasters)), judges),
    ...sayLimits(input),
    ...input.statements.flatMap(sayOffsets),
  ];
  return { words, statements, now, proposed, better, findings };
}

function descriptionValue(parts: readonly ExpectedPoints[], judges: number): DescriptionValue {
  return {
    expected: parts.reduce((t, p) => t + p.expected, 0),
    doubt: Math.sqrt(parts.reduce((t, p) => t + p.doubt ** 2, 0)),
    panel_spread: Math.sqrt(parts.reduce((t, p) => t + p.spread ** 2, 0) / judges),
  };
}

/** Chance that the changed parts are worth more, by their means and doubts (normal, parts independent). */
function chanceBetter(now: readonly ExpectedPoints[], proposed: readonly ExpectedPoints[]): number {
  const changed = now.map((a, i) => [a, proposed[i]!] as const).filter(([a, b]) => a !== b);
  if (changed.length === 0) return 0.5;
  const gain = changed.reduce((t, [a, b]) => t + b.expected - a.expected, 0);
  const doubt = Math.sqrt(changed.reduce((t, [a, b]) => t + a.doubt ** 2 + b.doubt ** 2, 0));
  return doubt > 0 ? normalCdf(gain / doubt) : 1;
}

function sayWord({ said, action, instead }: WordProposal): Finding {
  const values = { window: said.window, word: said.word, found: said.found, tasters: said.tasters };
  if (action === 'drop') return finding('caution', 'word_drop', values);
  if (action === 'keep') return finding('note', 'word_keep', values);
  const more = {
    ...values,
    to: instead!.word,
    gain: rounded(instead!.points.expected - said.points.expected),
  };
  return action === 'widen'
    ? finding('note', 'word_widen', { ...more, found_wide: instead!.found })
    : finding('note', 'word_narrow', { ...more, found_narrow: instead!.found });
}

function sayStatement({ name, said, best, options, tasters }: StatementProposal): Finding[] {
  const of = (option: string) => options.find((o) => sameWord(o.option) === sameWord(option));
  const [a, b] = [of(said), of(best)!];
  const values = { name, said, tasters, agree: a?.agree ?? 0 };
  const gain = rounded(b.points.expected - (a?.points.expected ?? 0));
  const main =
    a === b
      ? finding('note', 'statement_keep', values)
      : finding('note', 'statement_change', { ...values, to: best, agree_to: b.agree, gain });
  const next = options.filter((o) => o !== b).sort((x, y) => y.points.expected - x.points.expected)[0];
  if (!next) return [main];
  const gap = b.points.expected - next.points.expected;
  // Closer than what so few tasters leave open.
  if (gap >= Math.hypot(b.points.doubt, next.points.doubt)) return [main];
  return [
    main,
    finding('caution', 'statement_close', { name, to: best, other: next.option, gap: rounded(gap), tasters }),
  ];
}

function sayValue(
  now: DescriptionValue,
  proposed: DescriptionValue,
  better: number,
  tasters: number,
  judges: number,
): Finding[] {
  const values = (version: string, of: DescriptionValue) => ({
    version,
    points: rounded(of.expected),
    doubt: rounded(of.doubt),
    tasters,
    judges,
    spread: rounded(of.panel_spread),
  });
  const gain = rounded(proposed.expected - now.expected);
  return [
    finding('note', 'description_points', values('as said now', now)),
    ...(gain > 0
      ? [
          finding('note', 'description_points', values('as proposed', proposed)),
          finding('note', 'description_gain', { gain, chance: percent(better) }),
        ]
      : []),
  ];
}

/** Tasters below which every share is too open to be read closely; our choice. */
const FEW = 12;

function sayLimits(input: { tasted: readonly TastedWords[]; venue_age_d: number | null }): Finding[] {
  const findings: Finding[] = [];
  const tasters = new Set(input.tasted.map((t) => t.taster)).size;
  if (tasters > 0 && tasters < FEW)
    findings.push(finding('caution', 'few_tasters', { tasters, ...exampleShare(tasters) }));
  const ages = [...new Set(input.tasted.flatMap((t) => t.age_d ?? []))].sort((a, b) => a - b);
  if (input.venue_age_d !== null && ages.every((age) => Math.abs(age - input.venue_age_d!) > 2))
    findings.push(
      finding('caution', 'venue_age', {
        tasted: ages.length > 0 ? ages.join(', ') : 'unknown',
        venue: input.venue_age_d,
      }),
    );
  return findings;
}

/** What all but one taster finding a word can mean for the share of all people. */
function exampleShare(tasters: number): { found: number; low: number; high: number } {
  const found = Math.max(1, tasters - 1);
  const interval = shareInterval(found, tasters, 0.9, 'exact');
  return { found, low: percent(interval.low), high: percent(interval.high) };
}

function sayOffsets({ name, answers }: Statement): Finding[] {
  return answers
    .filter(({ offset = 0 }) => Math.abs(offset) >= 0.25)
    .map(({ taster, offset = 0 }) =>
      finding('note', 'offset_of', {
        taster,
        name,
        offset: rounded(Math.abs(offset)),
        side: offset > 0 ? 'above' : 'below',
      }),
    );
}
