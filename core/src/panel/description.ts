import { shareInterval } from './d-prime.ts';
import { sameWord, type WordTree } from './words-tree.ts';

/** Words that one taster found in one cup at one window of temperature. */
export interface TastedWords {
  taster: string;
  /** Window, for example "hot", "warm", "cold". */
  window: string;
  words: readonly string[];
  /** Session, for stability; and days after roasting. */
  session?: string;
  age_d?: number;
}

/** What a judge gives for a said word: when it is found, when only something near is, and when nothing is. */
export interface OutcomePoints {
  found: number;
  near: number;
  missed: number;
}

/** How wide a word is: with nothing under it, with words under and above it, or at the top of the tree. */
export type Breadth = 'precise' | 'group' | 'broad';

/** Points by breadth: the wider a word, the less it earns. Typed by the person, or taken from a contest's rules. */
export type WordPoints = Readonly<Record<Breadth, OutcomePoints>>;

/** How wide a word is in a tree; a word that is not in it counts as precise. */
export function breadthOf(word: string, tree: WordTree): Breadth {
  if (tree.narrower(word).length === 0) return 'precise';
  return tree.wider(word).length > 0 ? 'group' : 'broad';
}

/** A figure with what is open about it. */
export interface ExpectedPoints {
  expected: number;
  /** Standard deviation of the expectation itself: what so few tasters leave open. */
  doubt: number;
  /** Standard deviation of one judge's points around it. */
  spread: number;
}

/** A word that could be said, with its support. */
export interface WordCandidate {
  window: string;
  word: string;
  /** Steps from the top of the tree, 0 for the widest; null for a word that is not in the tree. */
  depth: number | null;
  breadth: Breadth;
  tasters: number;
  /** Tasters who found it or something narrower; who found only something near. */
  found: number;
  near: number;
  share: number;
  /** 90 % interval of the share, exact. */
  share_low: number;
  share_high: number;
  /** Lowest and highest share over sessions; null with fewer than two. */
  over_sessions: { low: number; high: number } | null;
  /** Support by days after roasting, youngest first; ballots without an age are left out. */
  by_age: { age_d: number; found: number; tasters: number }[];
  points: ExpectedPoints;
}

/**
 * Expected points from counts of outcomes: Dirichlet posterior with a prior that counts as one taster, shared by all outcomes (Perks 1947,
 * from memory); its mean, the standard deviation of that mean, and the spread of one judge.
 */
export function expectedPoints(outcomes: readonly { count: number; points: number }[]): ExpectedPoints {
  const weights = outcomes.map(({ count }) => count + 1 / outcomes.length);
  const total = weights.reduce((a, b) => a + b, 0);
  const expected = outcomes.reduce((t, { points }, i) => t + (weights[i]! / total) * points, 0);
  const second = outcomes.reduce((t, { points }, i) => t + (weights[i]! / total) * points * points, 0);
  const variance = Math.max(0, second - expected * expected);
  return { expected, doubt: Math.sqrt(variance / (total + 1)), spread: Math.sqrt(variance) };
}

/** Tasters' ballots of one window, one per taster: words of several sips put together. */
function byTaster(tasted: readonly TastedWords[], window: string): string[][] {
  const found = new Map<string, string[]>();
  for (const { taster, window: at, words } of tasted)
    if (at === window) found.set(taster, [...(found.get(taster) ?? []), ...words]);
  return [...found.values()];
}

/** Best relation of a said word to what a taster found. */
function outcomeOf(said: string, words: readonly string[], tree: WordTree): 'found' | 'near' | 'missed' {
  const relations = words.map((w) => tree.relation(said, w));
  if (relations.includes('found')) return 'found';
  return relations.includes('near') ? 'near' : 'missed';
}

/** Support and expected points of one word at one window. */
export function weighWord(
  word: string,
  window: string,
  tasted: readonly TastedWords[],
  tree: WordTree,
  points: WordPoints,
): WordCandidate {
  const ballots = byTaster(tasted, window);
  const outcomes = ballots.map((words) => outcomeOf(word, words, tree));
  const count = (of: string) => outcomes.filter((o) => o === of).length;
  const [found, near, missed] = [count('found'), count('near'), count('missed')];
  const breadth = breadthOf(word, tree);
  const worth = points[breadth];
  const interval = shareInterval(found, ballots.length, 0.9, 'exact');
  const known = tree.words.some((w) => sameWord(w.word) === sameWord(word));
  return {
    window,
    word,
    depth: known ? tree.wider(word).length : null,
    breadth,
    tasters: ballots.length,
    found,
    near,
    share: ballots.length > 0 ? found / ballots.length : 0,
    share_low: ballots.length > 0 ? interval.low : 0,
    share_high: ballots.length > 0 ? interval.high : 1,
    over_sessions: sharesOverSessions(word, window, tasted, tree),
    by_age: supportByAge(word, window, tasted, tree),
    points: expectedPoints([
      { count: found, points: worth.found },
      // Nothing is near a word at the top of the tree.
      ...(tree.wider(word).length > 0 ? [{ count: near, points: worth.near }] : []),
      { count: missed, points: worth.missed },
    ]),
  };
}

function sharesOverSessions(
  word: string,
  window: string,
  tasted: readonly TastedWords[],
  tree: WordTree,
): { low: number; high: number } | null {
  const here = tasted.filter((t) => t.window === window && t.session !== undefined);
  const sessions = [...new Set(here.map((t) => t.session))];
  if (sessions.length < 2) return null;
  const shares = sessions.map((session) => {
    const ballots = byTaster(
      here.filter((t) => t.session === session),
      window,
    );
    return ballots.filter((words) => outcomeOf(word, words, tree) === 'found').length / ballots.length;
  });
  return { low: Math.min(...shares), high: Math.max(...shares) };
}

function supportByAge(
  word: string,
  window: string,
  tasted: readonly TastedWords[],
  tree: WordTree,
): { age_d: number; found: number; tasters: number }[] {
  const here = tasted.filter((t) => t.window === window);
  const ages = [...new Set(here.flatMap((t) => t.age_d ?? []))].sort((a, b) => a - b);
  return ages.map((age_d) => {
    const ballots = byTaster(
      here.filter((t) => t.age_d === age_d),
      window,
    );
    const found = ballots.filter((words) => outcomeOf(word, words, tree) === 'found').length;
    return { age_d, found, tasters: ballots.length };
  });
}

/**
 * Every word that anyone found at a window, and every wider word above it, weighed: most points to be expected first, then more
 * support.
 */
export function candidateWords(
  window: string,
  tasted: readonly TastedWords[],
  tree: WordTree,
  points: WordPoints,
): WordCandidate[] {
  const words = new Map<string, string>();
  for (const ballot of byTaster(tasted, window))
    for (const word of ballot) for (const w of [word, ...tree.wider(word)]) words.set(sameWord(w), w.trim());
  return [...words.values()]
    .map((word) => weighWord(word, window, tasted, tree, points))
    .sort((a, b) => b.points.expected - a.points.expected || b.share - a.share);
}

/**
 * How alike tasters' words are at a window, from 0 to 1: words shared by two tasters (wider words included) over all words of both, mean over
 * all pairs. null with fewer than two tasters.
 */
export function agreement(window: string, tasted: readonly TastedWords[], tree: WordTree): number | null {
  const sets = byTaster(tasted, window).map(
    (words) => new Set(words.flatMap((w) => [w, ...tree.wider(w)]).map(sameWord)),
  );
  const pairs = sets.flatMap((a, i) =>
    sets.slice(i + 1).map((b) => {
      const shared = [...a].filter((w) => b.has(w)).length;
      const all = a.size + b.size - shared;
      return all === 0 ? 1 : shared / all;
    }),
  );
  return pairs.length === 0 ? null : pairs.reduce((x, y) => x + y, 0) / pairs.length;
}

/** Said against tasted, taster by taster. */
export interface SaidAgainstTasted {
  window: string;
  word: string;
  tasters: { taster: string; outcome: 'found' | 'near' | 'missed'; tasted: string[] }[];
}

/** For every said word what each taster found instead. */
export function saidAgainstTasted(
  said: readonly { window: string; word: string }[],
  tasted: readonly TastedWords[],
  tree: WordTree,
): SaidAgainstTasted[] {
  return said.map(({ window, word }) => {
    const here = tasted.filter((t) => t.window === window);
    const names = [...new Set(here.map((t) => t.taster))];
    return {
      window,
      word,
      tasters: names.map((taster) => {
        const words = here.filter((t) => t.taster === taster).flatMap((t) => t.words);
        return { taster, outcome: outcomeOf(word, words, tree), tasted: words };
      }),
    };
  });
}
