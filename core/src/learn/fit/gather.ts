import {
  type AnyDocument,
  bundlePlan,
  type Coffee,
  type Plan,
  type Problem,
  type Trial,
} from '../../documents/index.ts';
import { fitSentence, type LearnFinding, learnFinding } from './finding.ts';
import { observe } from './observe.ts';
import type { GatherOutcome, TrialCase, TrialSet } from './types.ts';

/** A reason why there is no fit. */
export const fitProblem = (code: string, values: Record<string, string | number> = {}): Problem => ({
  path: [],
  code,
  values,
  sentence: fitSentence(code, values),
});

/** A trial with its coffee and its plan, as far as both are there. */
interface Candidate {
  trial: Trial;
  plan: Plan | null;
  coffeeId: string | null;
}

/**
 * Finds the trials of one coffee among the documents of a campaign, each with all that its plan points to. `coffee` names it by id;
 * null takes the only one that has trials. Problems say why nothing can be learned; findings say what was left out.
 */
export function gatherTrials(documents: readonly AnyDocument[], coffee: string | null): GatherOutcome {
  const byId = new Map(documents.map((d) => [d.id, d]));
  const candidates = documents
    .filter((d): d is Trial => d.kind === 'trial' && !d.archived)
    .sort((a, b) => Date.parse(a.brewed_at) - Date.parse(b.brewed_at))
    .map((trial) => candidateOf(trial, byId));
  const chosen = chooseCoffee(candidates, coffee, byId);
  if (!chosen.ok) return chosen;
  const findings = othersLeftOut(candidates, chosen.value, byId);
  const trials: TrialCase[] = [];
  for (const candidate of candidates) {
    if (candidate.coffeeId !== null && candidate.coffeeId !== chosen.value.id) continue;
    const made = caseOf(candidate, byId);
    findings.push(...made.findings);
    if (made.value) trials.push(made.value);
  }
  if (trials.length === 0) return { ok: false, problems: [nothingLeft(candidates, chosen.value, findings)] };
  return { ok: true, value: { coffee: chosen.value, trials, findings: [...findings, ...agesOf(trials)] } };
}

type ById = ReadonlyMap<string, AnyDocument>;

function candidateOf(trial: Trial, byId: ById): Candidate {
  const found = trial.plan_then ?? byId.get(trial.plan_id);
  const plan = found?.kind === 'plan' ? found : null;
  return { trial, plan, coffeeId: trial.coffee_id ?? plan?.coffee_id ?? null };
}

const nameOf = (byId: ById, id: string): string => byId.get(id)?.name ?? id;

type Chosen = { ok: true; value: Coffee } | { ok: false; problems: Problem[] };

function chooseCoffee(candidates: readonly Candidate[], wanted: string | null, byId: ById): Chosen {
  const refuse = (code: string, values: Record<string, string | number> = {}): Chosen => ({
    ok: false,
    problems: [fitProblem(code, values)],
  });
  const ids = [...new Set(candidates.flatMap(({ coffeeId }) => coffeeId ?? []))];
  const names = (list: readonly string[]): string => list.map((id) => `"${nameOf(byId, id)}"`).join(', ');
  if (wanted === null && ids.length === 0) return refuse('no_trials_at_all');
  if (wanted === null && ids.length > 1)
    return refuse('choose_coffee', { count: ids.length, coffees: names(ids) });
  const coffee = byId.get(wanted ?? ids[0]!);
  if (coffee?.kind !== 'coffee')
    return ids.length > 0
      ? refuse('no_such_coffee', { coffee: wanted ?? ids[0]!, coffees: names(ids) })
      : refuse('no_trials_at_all');
  return ids.includes(coffee.id) ? { ok: true, value: coffee } : refuse('no_trials', { coffee: coffee.name });
}

function othersLeftOut(candidates: readonly Candidate[], coffee: Coffee, byId: ById): LearnFinding[] {
  const others = candidates.filter(({ coffeeId }) => coffeeId !== null && coffeeId !== coffee.id);
  if (others.length === 0) return [];
  const names = [...new Set(others.map(({ coffeeId }) => `"${nameOf(byId, coffeeId!)}"`))];
  return [learnFinding('note', 'other_coffee', { count: others.length, coffees: names.join(', ') })];
}

interface Made {
  value: TrialCase | null;
  findings: LearnFinding[];
}

/** A trial ready for the fit, or why it cannot be used. */
function caseOf({ trial, plan, coffeeId }: Candidate, byId: ById): Made {
  const out = (tone: 'note' | 'caution', code: string, values = {}): Made => ({
    value: null,
    findings: [learnFinding(tone, code, { trial: trial.name, ...values }, trial.id)],
  });
  if (!trial.counted) return out('note', 'not_counted');
  if (!plan) return out('caution', 'plan_missing');
  const brewed: Plan = {
    ...plan,
    coffee_id: coffeeId ?? plan.coffee_id,
    venue_id: trial.venue_id ?? plan.venue_id,
  };
  const bundle = bundlePlan(brewed, (id) => byId.get(id));
  if (!bundle.ok) return out('caution', 'plan_broken', { reason: bundle.problems[0]?.sentence ?? '' });
  const age = ageOf(trial, bundle.value.coffee);
  const value: TrialCase = {
    trial,
    bundle: bundle.value,
    age_d: age.days ?? (age.wrong ? null : plan.coffee_age_d),
  };
  const findings = age.wrong
    ? [learnFinding('caution', 'brewed_before_roast', { trial: trial.name, roasted: age.wrong }, trial.id)]
    : [];
  const seen = observe(value);
  if (seen.observations.values.length > 0) return { value, findings };
  return {
    value: null,
    findings: [
      ...findings,
      ...(seen.findings.length > 0
        ? seen.findings
        : [learnFinding('caution', 'nothing_measured', { trial: trial.name }, trial.id)]),
    ],
  };
}

const DAY_MS = 86_400_000;
/** Noon of a day, in ms, so that a moment anywhere on earth comes to lie within half a day. */
const noon = (date: string): number => Date.parse(`${date}T12:00:00Z`);

/** Days from roast to brew without those in the freezer; `wrong` is the roast date when the brew came before it. */
function ageOf(trial: Trial, coffee: Coffee): { days: number | null; wrong: string | null } {
  const roasted = trial.roasted_on ?? coffee.roasted_on;
  if (roasted === null) return { days: null, wrong: null };
  const brewed = Date.parse(trial.brewed_at);
  const since = (brewed - noon(roasted)) / DAY_MS;
  if (since < -1) return { days: null, wrong: roasted };
  const days = Math.max(0, Math.round(since - (trial.frozen_d ?? frozenDays(coffee, brewed))));
  return { days, wrong: null };
}

/** Days that a coffee lay in the freezer before a moment. */
function frozenDays({ frozen_on, thawed_on }: Coffee, brewed: number): number {
  if (frozen_on === null) return 0;
  const until = Math.min(brewed, thawed_on === null ? brewed : noon(thawed_on));
  return Math.max(0, (until - noon(frozen_on)) / DAY_MS);
}

function agesOf(trials: TrialSet['trials']): LearnFinding[] {
  const unknown = trials.filter(({ age_d }) => age_d === null).length;
  return unknown === 0
    ? []
    : [learnFinding('caution', 'age_unknown', { count: unknown, trials: trials.length })];
}

function nothingLeft(
  candidates: readonly Candidate[],
  coffee: Coffee,
  findings: readonly LearnFinding[],
): Problem {
  const own = candidates.filter(({ coffeeId }) => coffeeId === null || coffeeId === coffee.id).length;
  const reason = findings.find(({ trial_id }) => trial_id !== null)?.sentence ?? '';
  return fitProblem('nothing_to_learn_from', { trials: own, coffee: coffee.name, reason });
}
