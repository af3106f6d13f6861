import type { TastingMethod } from '../../documents/kinds/tasting-method.ts';
import type { Problem } from '../../documents/problem.ts';
import { sameWord } from '../words-tree.ts';
import type { AnswerRequest } from './api.ts';
import { answersWholeSet, sameCupsInWindows } from './plan-session.ts';
import type { PlannedSet, SessionDesign } from './plan-types.ts';
import { listed, sessionProblem } from './sentences.ts';

type Of<T extends TastingMethod['test']> = Extract<TastingMethod, { test: T }>;
type Answer<T extends AnswerRequest['answer']['test']> = Extract<AnswerRequest['answer'], { test: T }>;

/**
 * What is wrong with an answer to one of a seat's own sets. Looks at codes only, never at what is in the cups, so that no refusal can tell.
 * @param sets of this seat
 */
export function checkAnswer(
  design: SessionDesign,
  sets: readonly PlannedSet[],
  request: AnswerRequest,
): Problem[] {
  const set = sets.find((s) => s.set === request.set);
  if (!set) return [sessionProblem(['set'], 'no_such_set', { value: request.set, limit: sets.length })];
  const { test } = design.method;
  if (request.answer.test !== test)
    return [sessionProblem(['answer', 'test'], 'other_test', { value: request.answer.test, limit: test })];
  const codes = set.cups.filter((c) => !c.known).map((c) => c.code);
  return [
    ...windowProblems(design, set, request.window_id),
    ...cupProblems(answersWholeSet(test), codes, request.code),
    ...answerProblems(design.method, codes, request.answer),
  ];
}

function windowProblems(design: SessionDesign, set: PlannedSet, window_id: string | null): Problem[] {
  const several = sameCupsInWindows(design.method.test) && design.windows.length > 0;
  const allowed = several ? design.windows.map((w) => w.id) : [set.window_id];
  if (allowed.includes(window_id)) return [];
  const show = (id: string | null) => (id === null ? 'empty' : `"${id}"`);
  const values = { value: show(window_id), allowed: allowed.map(show).join(' or ') };
  return [sessionProblem(['window_id'], 'window_not_here', values)];
}

function cupProblems(whole: boolean, codes: readonly string[], code: string | null): Problem[] {
  const path = ['code'];
  if (whole) return code === null ? [] : [sessionProblem(path, 'code_for_all', { value: code })];
  if (code === null) return [sessionProblem(path, 'code_missing', { allowed: listed(codes) })];
  return codeProblems(path, codes, [code]);
}

/** Codes that are not among those that stand here, or stand twice in an answer. */
function codeProblems(
  path: readonly (string | number)[],
  codes: readonly string[],
  used: readonly string[],
): Problem[] {
  return used.flatMap((value, i) => {
    if (!codes.includes(value))
      return [sessionProblem(path, 'code_not_here', { value, allowed: listed(codes) })];
    return used.indexOf(value) < i ? [sessionProblem(path, 'code_twice', { value })] : [];
  });
}

function answerProblems(
  method: TastingMethod,
  codes: readonly string[],
  answer: AnswerRequest['answer'],
): Problem[] {
  switch (answer.test) {
    case 'triangle':
    case 'duo_trio':
    case 'three_afc':
    case 'paired':
      return codeProblems(['answer', 'code'], codes, [answer.code]);
    case 'tetrad':
      return codeProblems(['answer', 'group'], codes, answer.group);
    case 'ranking':
      return rankingProblems(method as Of<'ranking'>, codes, answer);
    case 'preference':
      if (answer.code !== null) return codeProblems(['answer', 'code'], codes, [answer.code]);
      return (method as Of<'preference'>).ties ? [] : [sessionProblem(['answer', 'code'], 'choose_one')];
    case 'intensity':
      return scoreProblems(method as Of<'intensity'>, answer);
    case 'check_all':
      return asked(['answer', 'ticked'], (method as Of<'check_all'>).words, answer.ticked, false);
    case 'just_about_right':
      return levelProblems(method as Of<'just_about_right'>, answer);
    case 'descriptors':
      return wordProblems(method as Of<'descriptors'>, answer);
    case 'temporal':
      return clickProblems(method as Of<'temporal'>, answer);
    case 'a_not_a':
      return [];
  }
}

function rankingProblems(
  method: Of<'ranking'>,
  codes: readonly string[],
  { order }: Answer<'ranking'>,
): Problem[] {
  const path = ['answer', 'order'];
  const used = order.flat();
  const missing = codes.filter((code) => !used.includes(code));
  const tied = order.find((place) => place.length > 1);
  return [
    ...codeProblems(path, codes, used),
    ...(missing.length > 0 ? [sessionProblem(path, 'cups_missing', { value: listed(missing) })] : []),
    ...(tied && !method.ties ? [sessionProblem(path, 'no_ties', { value: listed(tied) })] : []),
  ];
}

/** Ids that are not asked, stand twice, or, when all must be there, are missing. */
function asked(
  path: readonly (string | number)[],
  questions: readonly { id: string }[],
  given: readonly string[],
  all: boolean,
): Problem[] {
  const ids = questions.map((q) => q.id);
  const missing = all ? ids.filter((id) => !given.includes(id)) : [];
  return [
    ...given.flatMap((value, i) => {
      if (!ids.includes(value))
        return [sessionProblem(path, 'not_asked', { value, allowed: listed(ids.slice(0, 20)) })];
      return given.indexOf(value) < i ? [sessionProblem(path, 'answered_twice', { value })] : [];
    }),
    ...(missing.length > 0 ? [sessionProblem(path, 'not_answered', { value: listed(missing) })] : []),
  ];
}

function scoreProblems({ attributes, scale }: Of<'intensity'>, { scores }: Answer<'intensity'>): Problem[] {
  const path = ['answer', 'scores'];
  const ids = scores.map((s) => s.id);
  return [
    ...asked(path, attributes, ids, true),
    ...scores.flatMap(({ score }, i) => {
      const steps = (score - scale.min) / scale.step;
      const onStep = Math.abs(steps - Math.round(steps)) < 1e-6;
      if (score >= scale.min && score <= scale.max && onStep) return [];
      return [sessionProblem([...path, i, 'score'], 'off_scale', { value: score, ...scale })];
    }),
  ];
}

function levelProblems(
  { attributes, liking }: Of<'just_about_right'>,
  answer: Answer<'just_about_right'>,
): Problem[] {
  const ids = answer.levels.map((l) => l.id);
  const missing = liking && answer.liking === null;
  return [
    ...asked(['answer', 'levels'], attributes, ids, true),
    ...(missing ? [sessionProblem(['answer', 'liking'], 'liking_missing')] : []),
  ];
}

function wordProblems(method: Of<'descriptors'>, { words, statements }: Answer<'descriptors'>): Problem[] {
  const path = ['answer', 'words'];
  const tree = new Set(method.words.map((w) => sameWord(w.word)));
  const problems = words.flatMap((value, i) => {
    if (words.findIndex((w) => sameWord(w) === sameWord(value)) < i)
      return [sessionProblem([...path, i], 'answered_twice', { value })];
    const known = method.own_words || tree.has(sameWord(value));
    return known ? [] : [sessionProblem([...path, i], 'not_in_tree', { value })];
  });
  if (words.length > method.most)
    problems.push(sessionProblem(path, 'too_many_words', { value: words.length, limit: method.most }));
  const ids = statements.map((s) => s.id);
  problems.push(...asked(['answer', 'statements'], method.statements, ids, false));
  statements.forEach(({ id, option }, i) => {
    const options = method.statements.find((s) => s.id === id)?.options ?? [option];
    if (!options.includes(option))
      problems.push(
        sessionProblem(['answer', 'statements', i, 'option'], 'not_asked', {
          value: option,
          allowed: listed(options),
        }),
      );
  });
  return problems;
}

function clickProblems(method: Of<'temporal'>, { clicks }: Answer<'temporal'>): Problem[] {
  const ids = method.words.map((w) => w.id);
  return clicks.flatMap(({ id, at_s }, i) => {
    const path = ['answer', 'clicks', i];
    if (!ids.includes(id))
      return [sessionProblem([...path, 'id'], 'not_asked', { value: id, allowed: listed(ids.slice(0, 20)) })];
    if (at_s < (clicks[i - 1]?.at_s ?? 0))
      return [sessionProblem([...path, 'at_s'], 'not_rising', { value: at_s })];
    if (at_s > method.lasts_s)
      return [sessionProblem([...path, 'at_s'], 'after_end', { value: at_s, limit: method.lasts_s })];
    return [];
  });
}
