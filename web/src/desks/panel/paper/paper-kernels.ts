import {
  answersWholeSet,
  type Chance,
  type Checked,
  chanceFrom,
  checkAnswer,
  type PlannedSet,
  planSession,
  type SessionDesign,
  type SessionPlan,
  sameCupsInWindows,
  type Tasting,
  type TastingAnswer,
  type TastingRun,
} from '@pourline/core';

/** Two seeds, one for codes and one for orders: codes must not follow from orders. */
export interface Seeds {
  codes: number;
  orders: number;
}

/** What was typed from paper, kept in this browser until the session is kept. */
export interface Typed {
  /** Codes were drawn: what was printed must stay. */
  started: boolean;
  seeds: Seeds;
  /** Names by seat. */
  names: Record<string, string>;
  /** Answers as typed, by the key of their line. */
  answers: Record<string, string>;
  opened_at: string;
}

/** Draws seeds. */
export const drawSeeds = (): Seeds => {
  const [codes, orders] = crypto.getRandomValues(new Uint32Array(2));
  return { codes: (codes ?? 1) % 2_000_000_000, orders: (orders ?? 2) % 2_000_000_000 };
};

/** The plan of a paper session; the same seeds give the same. Spare seats are not printed. */
export function paperPlan(design: SessionDesign, seeds: Seeds): Checked<SessionPlan> {
  const chance = (seed: number): Chance => chanceFrom(seed);
  return planSession(
    { ...design, spare_seats: 0 },
    { codes: chance(seeds.codes), orders: chance(seeds.orders) },
  );
}

/** One line to be typed: a set, or one cup of it, at one temperature. */
export interface PaperLine {
  key: string;
  seat: number;
  set: PlannedSet;
  code: string | null;
  window_id: string | null;
}

/** Lines of a paper session in the order of its ballots. */
export function paperLines(design: SessionDesign, plan: SessionPlan): PaperLine[] {
  const { test } = design.method;
  const several = sameCupsInWindows(test) && design.windows.length > 0;
  return plan.sets.flatMap((set) => {
    const windows = several ? design.windows.map(({ id }) => id) : [set.window_id];
    const codes = answersWholeSet(test)
      ? [null]
      : set.cups.filter((cup) => !cup.known).map(({ code }) => code);
    return windows.flatMap((window_id) =>
      codes.map((code) => ({
        key: `${set.seat} ${set.set} ${code ?? '-'} ${window_id ?? '-'}`,
        seat: set.seat,
        set,
        code,
        window_id,
      })),
    );
  });
}

const parts = (text: string): string[] => text.split(/[\s,;>+]+/).filter((part) => part !== '');
const figure = (text: string): number => Number(text.replace('−', '-'));

/**
 * Reads one typed line by the method: codes for what is picked or put in order (`104 205=309`), `y` or `n`, figures in the order of the
 * attributes, words parted by commas with the numbers of statements after a slash. Null while it says nothing that can be understood.
 */
export function readLine(design: SessionDesign, text: string): TastingAnswer | null {
  const { method } = design;
  const typed = text.trim();
  const [first] = parts(typed);
  if (first === undefined) return null;
  switch (method.test) {
    case 'triangle':
    case 'duo_trio':
    case 'three_afc':
    case 'paired':
      return /^\d{3}$/.test(first) ? { test: method.test, code: first } : null;
    case 'preference':
      if (/^[-0]$/.test(first)) return { test: 'preference', code: null };
      return /^\d{3}$/.test(first) ? { test: 'preference', code: first } : null;
    case 'tetrad': {
      const group = parts(typed);
      return group.length === 2 ? { test: 'tetrad', group } : null;
    }
    case 'a_not_a':
      return /^[yn]/i.test(first) ? { test: 'a_not_a', same: /^y/i.test(first) } : null;
    case 'ranking':
      return { test: 'ranking', order: parts(typed).map((place) => place.split('=')) };
    case 'intensity': {
      const figures = parts(typed).map(figure);
      if (figures.length !== method.attributes.length || figures.some(Number.isNaN)) return null;
      return {
        test: 'intensity',
        scores: method.attributes.map(({ id }, i) => ({ id, score: figures[i]! })),
      };
    }
    case 'just_about_right': {
      const figures = parts(typed).map(figure);
      const wanted = method.attributes.length + (method.liking ? 1 : 0);
      if (figures.length !== wanted || figures.some(Number.isNaN)) return null;
      const levels = method.attributes.map(({ id }, i) => ({ id, level: figures[i]! }));
      return { test: 'just_about_right', levels, liking: method.liking ? figures.at(-1)! : null };
    }
    case 'check_all': {
      if (/^[-0]$/.test(typed)) return { test: 'check_all', ticked: [] };
      const numbers = parts(typed).map(figure);
      const ids = numbers.flatMap((n) => method.words[n - 1]?.id ?? []);
      return ids.length === numbers.length ? { test: 'check_all', ticked: ids } : null;
    }
    case 'descriptors': {
      const [words = '', options = ''] = typed.split('/');
      const numbers = parts(options).map(figure);
      const statements = method.statements.flatMap(({ id, options: list }, i) => {
        const option = list[(numbers[i] ?? 0) - 1];
        return option === undefined ? [] : [{ id, option }];
      });
      if (statements.length < method.statements.length) return null;
      const list = words.split(',').map((word) => word.trim());
      return { test: 'descriptors', words: list.filter((word) => word !== '' && word !== '-'), statements };
    }
    case 'temporal':
      return null;
  }
}

/** What is wrong with a typed line, as core says it; empty when it can be kept. */
export function problemsOf(design: SessionDesign, plan: SessionPlan, line: PaperLine, answer: TastingAnswer) {
  const sets = plan.sets.filter(({ seat }) => seat === line.seat);
  return checkAnswer(design, sets, {
    answer_id: '00000000-0000-7000-8000-000000000000',
    set: line.set.set,
    code: line.code,
    window_id: line.window_id,
    device_at: new Date(0).toISOString(),
    offset_ms: null,
    temperature_C: null,
    answer,
  });
}

/** A paper session as it is kept in its document; lines that say nothing are left out. */
export function runOfPaper(
  design: SessionDesign,
  plan: SessionPlan,
  typed: Typed,
  closed_at: string,
  makeId: () => string,
): TastingRun {
  const given = paperLines(design, plan).flatMap((line) => {
    const answer = readLine(design, typed.answers[line.key] ?? '');
    return answer && problemsOf(design, plan, line, answer).length === 0 ? [{ line, answer }] : [];
  });
  const seats = [...new Set(given.map(({ line }) => line.seat))];
  return {
    method: design.method,
    samples: design.samples,
    windows: design.windows,
    opened_at: typed.opened_at,
    closed_at,
    tasters: seats.map((seat) => ({
      seat,
      name: typed.names[seat]?.trim() ?? '',
      joined_at: typed.opened_at,
      left_at: null,
    })),
    sets: plan.sets.filter(({ seat }) => seats.includes(seat)),
    answers: given.map(({ line, answer }) => ({
      answer_id: makeId(),
      seat: line.seat,
      set: line.set.set,
      code: line.code,
      window_id: line.window_id,
      at: closed_at,
      device_at: closed_at,
      temperature_C: null,
      counts: true,
      outside: false,
      answer,
    })),
    poured: [],
    measured: [],
    sheet_seen: [],
  };
}

/** A design without what came of it. */
export const designOf = ({ run: _, ...design }: Tasting): SessionDesign => design;
