import type { Coffee, Lookup, Plan } from '../../documents/index.ts';
import type { CalibrationScore } from '../calibration.ts';
import type { TastedWords } from '../description.ts';
import { sameWord } from '../words-tree.ts';
import { type ClosedTasting, readRun, sampleOf } from './read-run.ts';

/** A cup of a closed session that a description is made from. */
export interface TastedSource {
  tasting: ClosedTasting;
  /** Sample of the run. */
  sample_id: string;
  /** Days after roasting when it was tasted; null when not known. */
  age_d: number | null;
}

/** What tasters said of a level, a type, a body. */
export interface StatementAnswer {
  name: string;
  taster: string;
  session: string;
  window: string;
  option: string;
}

/** Name of the window of sessions that have none. */
export const NO_WINDOW = 'any';

/** Words that were found in the cups of some sources: from free words and from ticks alike. */
export function wordsTasted(sources: readonly TastedSource[]): TastedWords[] {
  return sources.flatMap(({ tasting, sample_id, age_d }) => {
    const { run } = tasting;
    const listed = run.method.test === 'check_all' ? run.method.words : [];
    const words = new Map(listed.map(({ id, word }) => [id, word]));
    return answersOf(tasting, sample_id).flatMap(({ taster, window, answer }) => {
      const found =
        answer.test === 'descriptors'
          ? answer.words
          : answer.test === 'check_all'
            ? answer.ticked.flatMap((id) => words.get(id) ?? [])
            : null;
      if (found === null) return [];
      return [{ taster, window, words: found, session: tasting.name, ...(age_d === null ? {} : { age_d }) }];
    });
  });
}

/** Answers to statements in the cups of some sources. */
export function statementsTasted(sources: readonly TastedSource[]): StatementAnswer[] {
  return sources.flatMap(({ tasting, sample_id }) => {
    const { method } = tasting.run;
    if (method.test !== 'descriptors') return [];
    const names = new Map(method.statements.map(({ id, name }) => [id, name]));
    return answersOf(tasting, sample_id).flatMap(({ taster, window, answer }) =>
      answer.test !== 'descriptors'
        ? []
        : answer.statements.flatMap(({ id, option }) => {
            const name = names.get(id);
            return name === undefined ? [] : [{ name, taster, session: tasting.name, window, option }];
          }),
    );
  });
}

function answersOf(tasting: ClosedTasting, sample_id: string) {
  const { run } = tasting;
  const sample = run.samples.findIndex(({ id }) => id === sample_id);
  return readRun(run)
    .filter((given) => sampleOf(given) === sample)
    .map(({ taster, window, answer }) => ({
      taster,
      answer,
      window: window === null ? NO_WINDOW : (run.windows[window]?.name ?? NO_WINDOW),
    }));
}

/**
 * Days after roasting when a sample was tasted: from the roast of its plan's coffee to the opening of the session, else the age that the plan
 * names; null when neither is known. Days in a freezer do not count.
 */
export function ageWhenTasted(tasting: ClosedTasting, sample_id: string, lookup: Lookup): number | null {
  const sample = tasting.run.samples.find(({ id }) => id === sample_id);
  const plan = sample?.plan_id ? (lookup(sample.plan_id) as Plan | undefined) : undefined;
  if (plan?.kind !== 'plan') return null;
  const coffee = lookup(plan.coffee_id) as Coffee | undefined;
  const at = Date.parse(tasting.run.opened_at);
  const day = (date: string): number => Date.parse(`${date}T00:00:00Z`) / 86_400_000;
  if (coffee?.kind === 'coffee' && coffee.roasted_on !== null) {
    const frozen =
      coffee.frozen_on === null
        ? 0
        : (coffee.thawed_on === null ? at / 86_400_000 : day(coffee.thawed_on)) - day(coffee.frozen_on);
    const age = Math.floor(at / 86_400_000 - day(coffee.roasted_on) - Math.max(0, frozen));
    if (age >= 0) return age;
  }
  return plan.coffee_age_d ?? null;
}

/** Something on a scale that tasters can be compared on. */
export interface CalibrationSubject {
  name: string;
  scores: CalibrationScore[];
  /** Names of the sessions, in order of time. */
  sessions: string[];
}

/**
 * All that was scored on a scale in closed sessions, by what was asked about: intensities as they are, statements as the place of the answer
 * in its list, from 0. A cup is a sample at a window; sessions count in order of time.
 */
export function scoresOverTime(tastings: readonly ClosedTasting[]): CalibrationSubject[] {
  const sorted = [...tastings].sort((a, b) => Date.parse(a.run.opened_at) - Date.parse(b.run.opened_at));
  const subjects = new Map<string, CalibrationSubject>();
  sorted.forEach((tasting) => {
    for (const { name, ...score } of scoresIn(tasting)) {
      const key = sameWord(name);
      const subject = subjects.get(key) ?? { name, scores: [], sessions: [] };
      subjects.set(key, subject);
      if (subject.sessions.at(-1) !== tasting.name) subject.sessions.push(tasting.name);
      subject.scores.push({ ...score, session: subject.sessions.length });
    }
  });
  return [...subjects.values()];
}

function scoresIn({ run }: ClosedTasting): (Omit<CalibrationScore, 'session'> & { name: string })[] {
  const { method } = run;
  return readRun(run).flatMap((given) => {
    const sample = sampleOf(given);
    if (sample === null) return [];
    const cup = `${run.samples[sample]!.name} ${given.window ?? ''}`.trim();
    const { answer, taster } = given;
    if (answer.test === 'intensity' && method.test === 'intensity')
      return answer.scores.flatMap(({ id, score }) => {
        const name = method.attributes.find((a) => a.id === id)?.name;
        return name === undefined ? [] : [{ name, taster, cup, score }];
      });
    if (answer.test === 'descriptors' && method.test === 'descriptors')
      return answer.statements.flatMap(({ id, option }) => {
        const statement = method.statements.find((s) => s.id === id);
        const score = statement?.options.findIndex((o) => sameWord(o) === sameWord(option)) ?? -1;
        return statement === undefined || score < 0 ? [] : [{ name: statement.name, taster, cup, score }];
      });
    return [];
  });
}
