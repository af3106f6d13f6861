import type { TastingMethod, TastingRun } from '../../documents/index.ts';
import type { Protocol } from '../protocols.ts';
import { type ClosedTasting, type GivenAnswer, inWindow, readRun, sampleOf, windowsOf } from './read-run.ts';

/** A table of a closed session, ready for one of the statistics over typed tables. */
export interface SessionTable {
  /** Name of the window it is about; null: all of them, or there are none. */
  window: string | null;
  /** What was asked about, or which cup; null when there is only one thing. */
  about: string | null;
  /** Name of the statistic in `PLAIN_PANEL`. */
  kind: string;
  input: Readonly<Record<string, unknown>>;
}

type Method<T extends TastingMethod['test']> = Extract<TastingMethod, { test: T }>;
type Of<T extends string> = Extract<GivenAnswer['answer'], { test: T }>;

const names = (run: TastingRun): string[] => {
  const plain = run.samples.map((s) => s.name);
  return plain.map((name, i) => (plain.indexOf(name) === i ? name : `${name} (${i + 1})`));
};

/** Whether an answer of a test of difference is the right one. */
export function isRight({ answer, right, cups }: GivenAnswer): boolean {
  if (answer.test !== 'tetrad')
    return 'code' in answer && answer.code !== null && right.includes(answer.code);
  const samples = answer.group.map((code) => cups.find((cup) => cup.code === code)?.sample);
  return samples.length === 2 && samples[0] !== undefined && samples[0] === samples[1];
}

/** Everything that a closed session can be asked: tables by window and by what was asked about. */
export function tablesOf(tasting: ClosedTasting): SessionTable[] {
  const { run } = tasting;
  const answers = readRun(run);
  const { method } = run;
  if (method.test === 'intensity') return scoreTables(method, run, answers, tasting.alpha);
  const tables = windowsOf(run).flatMap(({ at, window }) =>
    tablesIn(method, run, inWindow(answers, at), tasting).map((table) => ({
      window: window?.name ?? null,
      ...table,
    })),
  );
  if (run.windows.length < 2 || !isDifference(method)) return tables;
  // All windows together answer more, as far as the windows ask the same.
  return [...tables, ...tablesIn(method, run, answers, tasting).map((table) => ({ window: null, ...table }))];
}

const DIFFERENCE = ['triangle', 'duo_trio', 'tetrad', 'three_afc'] as const;
const isDifference = (method: TastingMethod): boolean =>
  DIFFERENCE.some((test) => test === method.test) || method.test === 'paired' || method.test === 'a_not_a';

type Table = Omit<SessionTable, 'window'>;

function tablesIn(
  method: TastingMethod,
  run: TastingRun,
  answers: readonly GivenAnswer[],
  { alpha, wanted_d_prime }: ClosedTasting,
): Table[] {
  if (answers.length === 0) return [];
  switch (method.test) {
    case 'paired':
      return method.stronger_id === null
        ? pairTables(run, answers, alpha)
        : differenceTables('paired', answers, alpha, wanted_d_prime);
    case 'a_not_a':
      return aNotATables(method, run, answers);
    case 'ranking':
      return rankingTables(run, answers, alpha);
    case 'preference':
      return pairTables(run, answers, alpha);
    case 'check_all':
      return tickTables(method, run, answers, alpha);
    case 'just_about_right':
      return rightTables(method, run, answers, alpha);
    case 'descriptors':
      return wordTables(run, answers, alpha);
    case 'temporal':
      return temporalTables(method, run, answers, alpha);
    case 'intensity':
      return [];
    default:
      return differenceTables(method.test, answers, alpha, wanted_d_prime);
  }
}

function differenceTables(
  protocol: Protocol,
  answers: readonly GivenAnswer[],
  alpha: number,
  d_prime: number,
): Table[] {
  const correct = answers.filter(isRight).length;
  const one: Table = {
    about: null,
    kind: 'difference',
    input: { protocol, correct, answers: answers.length, alpha, effect: { d_prime } },
  };
  const tasters = [...new Set(answers.map((a) => a.taster))].map((taster) => {
    const own = answers.filter((a) => a.taster === taster);
    return { correct: own.filter(isRight).length, answers: own.length };
  });
  const repeated = tasters.length > 1 && tasters.some((t) => t.answers > 1);
  return repeated ? [one, { about: null, kind: 'replicated', input: { protocol, tasters } }] : [one];
}

function aNotATables(method: Method<'a_not_a'>, run: TastingRun, answers: readonly GivenAnswer[]): Table[] {
  const known = run.samples.findIndex(({ id }) => id === method.known_id);
  const judged = answers.flatMap((given) => {
    const sample = sampleOf(given) ?? given.cups.find((cup) => !cup.known)?.sample ?? null;
    return given.answer.test === 'a_not_a' && sample !== null ? [{ sample, same: given.answer.same }] : [];
  });
  const of = (isKnown: boolean) => judged.filter(({ sample }) => (sample === known) === isKnown);
  const [a, other] = [of(true), of(false)];
  if (a.length === 0 || other.length === 0) return [];
  const input = {
    hits: a.filter(({ same }) => same).length,
    of_a: a.length,
    false_alarms: other.filter(({ same }) => same).length,
    of_other: other.length,
  };
  return [{ about: null, kind: 'a-not-a', input }];
}

/** Rank of each code in an answer; cups that share a place get the mean of their places. */
function ranksOf(order: readonly (readonly string[])[]): Map<string, number> {
  const ranks = new Map<string, number>();
  let before = 0;
  for (const group of order) {
    for (const code of group) ranks.set(code, before + (group.length + 1) / 2);
    before += group.length;
  }
  return ranks;
}

function rankingTables(run: TastingRun, answers: readonly GivenAnswer[], alpha: number): Table[] {
  const cups = names(run);
  const rows = answers.flatMap(({ answer, cups: seen }) => {
    if (answer.test !== 'ranking') return [];
    const ranks = ranksOf(answer.order);
    const row = cups.map((_, sample) => {
      const own = seen.filter((c) => c.sample === sample).flatMap((c) => ranks.get(c.code) ?? []);
      return own.length > 0 ? own.reduce((a, b) => a + b, 0) / own.length : null;
    });
    return [row];
  });
  const whole = rows.filter((row): row is number[] => row.every((rank) => rank !== null));
  if (whole.length === rows.length && whole.length > 0)
    return [{ about: null, kind: 'ranking', input: { cups, scores: whole, alpha } }];
  // Nobody had all cups: orders are read as pairs.
  const pairs = cups.flatMap((first, i) =>
    cups.slice(i + 1).map((second, k) => {
      const met = rows.flatMap((row) => {
        const [a, b] = [row[i] ?? null, row[i + 1 + k] ?? null];
        return a === null || b === null ? [] : [a - b];
      });
      const count = (sign: number): number => met.filter((d) => Math.sign(d) === sign).length;
      return { first, second, first_wins: count(-1), second_wins: count(1), ties: count(0) };
    }),
  );
  const met = pairs.filter((p) => p.first_wins + p.second_wins + p.ties > 0);
  return met.length > 0 ? [{ about: null, kind: 'pairs', input: { cups, pairs: met, alpha } }] : [];
}

function pairTables(run: TastingRun, answers: readonly GivenAnswer[], alpha: number): Table[] {
  const cups = names(run);
  const counts = new Map<
    string,
    { first: string; second: string; first_wins: number; second_wins: number; ties: number }
  >();
  for (const { cups: seen, answer } of answers) {
    const [one, two] = seen;
    if (!one || !two || one.sample === two.sample || !('code' in answer)) continue;
    const key = `${one.sample} ${two.sample}`;
    const row = counts.get(key) ?? {
      first: cups[one.sample]!,
      second: cups[two.sample]!,
      first_wins: 0,
      second_wins: 0,
      ties: 0,
    };
    counts.set(key, row);
    if (answer.code === one.code) row.first_wins++;
    else if (answer.code === two.code) row.second_wins++;
    else row.ties++;
  }
  const pairs = [...counts.values()];
  if (pairs.length === 0) return [];
  if (cups.length > 2)
    return [{ about: null, kind: 'pairs', input: { cups, pairs, order_effect: bothOrders(pairs), alpha } }];
  const wins = (cup: string): number =>
    pairs.reduce((n, p) => n + (p.first === cup ? p.first_wins : p.second === cup ? p.second_wins : 0), 0);
  const input = {
    first: wins(cups[0]!),
    second: wins(cups[1]!),
    no_difference: pairs.reduce((n, p) => n + p.ties, 0),
    alpha,
  };
  return [{ about: `${cups[0]} – ${cups[1]}`, kind: 'preference', input }];
}

/** Whether pairs were served both ways round, so that an order effect can be told. */
const bothOrders = (pairs: readonly { first: string; second: string }[]): boolean =>
  pairs.some((p) => pairs.some((q) => q.first === p.second && q.second === p.first));

function scoreTables(
  method: Method<'intensity'>,
  run: TastingRun,
  answers: readonly GivenAnswer[],
  alpha: number,
): SessionTable[] {
  const cups = names(run);
  if (cups.length < 2) return [];
  return method.attributes.flatMap(({ id, name }) => {
    const scores = answers.flatMap((given) => {
      const sample = sampleOf(given);
      const found =
        given.answer.test === 'intensity' ? given.answer.scores.find((s) => s.id === id) : undefined;
      if (sample === null || !found) return [];
      const window = given.window === null ? undefined : run.windows[given.window]?.name;
      return [
        {
          taster: given.taster,
          cup: cups[sample]!,
          score: found.score,
          ...(window === undefined || run.windows.length < 2 ? {} : { window }),
        },
      ];
    });
    return scores.length < 4 ? [] : [{ window: null, about: name, kind: 'scores', input: { scores, alpha } }];
  });
}

/** Ballots of tasters who judged every cup; several of one cup are put together. */
function ballots(
  run: TastingRun,
  answers: readonly GivenAnswer[],
  wordsOf: (answer: GivenAnswer['answer']) => string[] | null,
): { taster: string; cup: string; words: string[] }[] {
  const cups = names(run);
  const found = new Map<string, { taster: string; cup: string; words: string[] }>();
  for (const given of answers) {
    const sample = sampleOf(given);
    const words = wordsOf(given.answer);
    if (sample === null || words === null) continue;
    const key = `${given.taster}\n${sample}`;
    const ballot = found.get(key) ?? { taster: given.taster, cup: cups[sample]!, words: [] };
    ballot.words = [...new Set([...ballot.words, ...words])];
    found.set(key, ballot);
  }
  const all = [...found.values()];
  const complete = (taster: string): boolean => all.filter((b) => b.taster === taster).length === cups.length;
  return all.filter((b) => complete(b.taster));
}

const hasWords = (list: readonly { words: readonly string[] }[]): boolean =>
  list.some((b) => b.words.length > 0);

function tickTables(
  method: Method<'check_all'>,
  run: TastingRun,
  answers: readonly GivenAnswer[],
  alpha: number,
): Table[] {
  const word = new Map(method.words.map((w) => [w.id, w.word]));
  const list = ballots(run, answers, (answer) =>
    answer.test === 'check_all' ? answer.ticked.flatMap((id) => word.get(id) ?? []) : null,
  );
  return run.samples.length > 1 && list.length > 1 && hasWords(list)
    ? [{ about: null, kind: 'words', input: { cups: names(run), ballots: list, alpha } }]
    : [];
}

function wordTables(run: TastingRun, answers: readonly GivenAnswer[], alpha: number): Table[] {
  const list = ballots(run, answers, (answer) => (answer.test === 'descriptors' ? [...answer.words] : null));
  return run.samples.length > 1 && list.length > 1 && hasWords(list)
    ? [{ about: null, kind: 'words', input: { cups: names(run), ballots: list, alpha } }]
    : [];
}

const LEVELS = ['too_little', 'too_little', 'right', 'too_much', 'too_much'] as const;

function rightTables(
  method: Method<'just_about_right'>,
  run: TastingRun,
  answers: readonly GivenAnswer[],
  alpha: number,
): Table[] {
  const cups = names(run);
  return cups.flatMap((cup, sample) =>
    method.attributes.flatMap(({ id, name }) => {
      const rows = answers.flatMap((given) => {
        const answer = given.answer as Of<'just_about_right'>;
        if (sampleOf(given) !== sample || answer.liking === null) return [];
        const level = answer.levels.find((l) => l.id === id)?.level;
        return level === undefined ? [] : [{ level: LEVELS[level + 2]!, liking: answer.liking }];
      });
      const about = cups.length > 1 ? `${cup}: ${name}` : name;
      return rows.length === 0
        ? []
        : [{ about, kind: 'right', input: { attribute: name, answers: rows, alpha } }];
    }),
  );
}

function temporalTables(
  method: Method<'temporal'>,
  run: TastingRun,
  answers: readonly GivenAnswer[],
  alpha: number,
): Table[] {
  const word = new Map(method.words.map((w) => [w.id, w.word]));
  const cups = names(run).map((cup, sample) => ({
    cup,
    runs: answers
      .filter((given) => sampleOf(given) === sample && given.answer.test === 'temporal')
      .map((given) => ({
        taster: given.taster,
        ...temporalRun(given.answer as Of<'temporal'>, method, word),
      })),
  }));
  const tasted = cups.filter(({ runs }) => runs.length > 0);
  if (tasted.length === 0) return [];
  return [
    {
      about: null,
      kind: 'temporal',
      input: {
        words: method.words.map((w) => w.word),
        kind: method.mode === 'dominant' ? 'dominance' : 'check_all',
        end_s: method.lasts_s,
        cups: tasted,
        alpha,
      },
    },
  ];
}

function temporalRun(answer: Of<'temporal'>, method: Method<'temporal'>, word: ReadonlyMap<string, string>) {
  if (method.mode === 'dominant')
    return {
      clicks: answer.clicks.flatMap(({ id, at_s }) => (word.has(id) ? [{ word: word.get(id)!, at_s }] : [])),
    };
  const open = new Map<string, number>();
  const ticks: { word: string; from_s: number; to_s: number }[] = [];
  const close = (id: string, to_s: number): void => {
    const from_s = open.get(id);
    if (from_s !== undefined && to_s > from_s) ticks.push({ word: word.get(id)!, from_s, to_s });
    open.delete(id);
  };
  for (const { id, at_s, on } of answer.clicks) {
    if (!word.has(id)) continue;
    if (!on) close(id, at_s);
    else if (!open.has(id)) open.set(id, at_s);
  }
  for (const id of [...open.keys()]) close(id, method.lasts_s);
  return { ticks };
}
