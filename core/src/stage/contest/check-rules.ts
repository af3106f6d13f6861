import type { BrewBundle, Contest, Ruled } from '../../documents/index.ts';
import { rounded, type StageRemark, stageRemark } from '../remark.ts';

/** What a plan does and a brewer intends, as far as rules of such contests ask for it. Null: not known. */
export interface RunFacts {
  uses: readonly Ruled[];
  run_s: number | null;
  setup_s: number | null;
  cleanup_s: number | null;
  cups: number | null;
  individually_brewed: boolean | null;
  cup_mL: number | null;
  strength_pct: number | null;
  power_W: number | null;
  /** What is meant to be touched after set-up. */
  changes_after_setup: readonly Contest['frozen_after_setup'][number][];
}

/** Whether one thing may be done. */
export interface RuleVerdict {
  of: string;
  verdict: 'allowed' | 'not_allowed' | 'ask';
  remark: StageRemark;
}

/** Density of coffee in a cup, for grams read as millilitres [g/mL]; water at 60 °C, with what is dissolved. */
const CUP_DENSITY = 0.985;

/** What a plan says about itself. A predicted cup is given by who has one. */
export function factsOfPlan(
  { plan, setup }: Pick<BrewBundle, 'plan' | 'setup'>,
  cup: { beverage_g?: number; strength_pct?: number } = {},
): RunFacts {
  const uses = new Set<Ruled>();
  if (plan.bypass) uses.add('bypass_water');
  if (plan.chill) uses.add('chilling');
  if (plan.outlet_opens_s !== null) uses.add('immersion');
  if (plan.actions.some(({ what }) => what === 'stir')) uses.add('stirring');
  if (new Set(plan.pours.map(({ water_id }) => water_id)).size > 1) uses.add('two_waters');
  if (plan.serving?.cups_C !== null && plan.serving !== null) uses.add('preheated_cups');
  const cups = plan.serving?.cups ?? null;
  const shared = cup.beverage_g !== undefined && cups !== null ? cup.beverage_g / cups : null;
  const cup_g = plan.serving?.cup_g ?? shared;
  const used = new Set(plan.pours.map(({ kettle_id }) => kettle_id));
  return {
    uses: [...uses],
    run_s: null,
    setup_s: null,
    cleanup_s: null,
    cups,
    individually_brewed: null,
    cup_mL: cup_g === null ? null : cup_g / CUP_DENSITY,
    strength_pct: cup.strength_pct ?? null,
    power_W: setup.kettles.reduce((sum, kettle) => sum + (used.has(kettle.id) ? kettle.power_W : 0), 0),
    changes_after_setup: [],
  };
}

/** Every rule that the facts touch, and every rule that is not known: allowed, not allowed, or to be asked at the briefing. */
export function checkRules(contest: Contest, facts: RunFacts): RuleVerdict[] {
  const { cups, timers } = contest;
  return [
    ...facts.uses.map((thing) => ruled(contest, thing)),
    ...atMost('run_s', facts.run_s, timers.run_s, 's'),
    ...atMost('setup_s', facts.setup_s, timers.setup_s, 's'),
    ...atMost('cleanup_s', facts.cleanup_s, timers.cleanup_s, 's'),
    ...atLeast('cup_mL', facts.cup_mL, cups.min_mL, 'mL'),
    ...atMost('cup_mL', facts.cup_mL, cups.max_mL, 'mL'),
    ...atMost('strength_pct', facts.strength_pct, cups.strength_max_pct, '%'),
    ...atMost('power_W', facts.power_W, contest.power_W, 'W'),
    ...sameCount(facts.cups, cups.count),
    ...brewedAlone(facts.individually_brewed, cups.individually_brewed),
    ...facts.changes_after_setup.map((what) => afterSetup(contest, what)),
    ...(contest.penalty === null ? [ask('penalty', 'ask_penalty')] : []),
  ];
}

const verdict = (of: string, ok: boolean, remark: StageRemark): RuleVerdict => ({
  of,
  verdict: ok ? 'allowed' : 'not_allowed',
  remark,
});
const ask = (of: string, code: string, values: Record<string, string | number> = {}): RuleVerdict => ({
  of,
  verdict: 'ask',
  remark: stageRemark('ask', code, values),
});
const words = (name: string): string => name.replace(/_(s|mL|pct|W)$/, '').replaceAll('_', ' ');

function ruled(contest: Contest, thing: Ruled): RuleVerdict {
  const rule = contest.rules.find(({ of }) => of === thing);
  const values = { thing: words(thing), note: rule?.note ? ` ${rule.note}` : '' };
  if (!rule || rule.ruling === 'unknown') return ask(thing, 'ask_rule', values);
  return rule.ruling === 'allowed'
    ? verdict(thing, true, stageRemark('good', 'rule_allowed', values))
    : verdict(thing, false, stageRemark('impossible', 'rule_forbidden', values));
}

function atMost(of: string, value: number | null, limit: number | null, unit: string): RuleVerdict[] {
  if (value === null) return [];
  const values = { thing: words(of), value: `${rounded(value)} ${unit}` };
  if (limit === null) return [ask(`${of}.max`, 'ask_limit', values)];
  const all = { ...values, limit: `${limit} ${unit}` };
  const ok = value <= limit;
  return [
    verdict(
      `${of}.max`,
      ok,
      stageRemark(ok ? 'good' : 'impossible', ok ? 'within_limit' : 'over_limit', all),
    ),
  ];
}

function atLeast(of: string, value: number | null, limit: number | null, unit: string): RuleVerdict[] {
  if (value === null) return [];
  const values = { thing: words(of), value: `${rounded(value)} ${unit}` };
  if (limit === null) return [ask(`${of}.min`, 'ask_least', values)];
  const all = { ...values, limit: `${limit} ${unit}` };
  const ok = value >= limit;
  return [
    verdict(
      `${of}.min`,
      ok,
      stageRemark(ok ? 'good' : 'impossible', ok ? 'above_least' : 'under_least', all),
    ),
  ];
}

function sameCount(value: number | null, wanted: number | null): RuleVerdict[] {
  if (value === null) return [];
  if (wanted === null) return [ask('cups', 'ask_cups', { value })];
  const ok = value === wanted;
  return [
    verdict(
      'cups',
      ok,
      stageRemark(ok ? 'good' : 'impossible', ok ? 'cups_right' : 'cups_wrong', { value, wanted }),
    ),
  ];
}

function brewedAlone(value: boolean | null, wanted: boolean | null): RuleVerdict[] {
  if (value === null) return [];
  if (wanted === null) return [ask('individually_brewed', 'ask_individual')];
  const ok = value || !wanted;
  return [
    verdict(
      'individually_brewed',
      ok,
      stageRemark(ok ? 'good' : 'impossible', ok ? 'individual_right' : 'individual_wrong'),
    ),
  ];
}

function afterSetup(contest: Contest, what: Contest['frozen_after_setup'][number]): RuleVerdict {
  const frozen = contest.frozen_after_setup.includes(what);
  const values = { thing: words(what) };
  // A list that is empty has not been typed; it does not say that everything may be touched.
  if (contest.frozen_after_setup.length === 0) return ask(`after_setup.${what}`, 'ask_frozen', values);
  return verdict(
    `after_setup.${what}`,
    !frozen,
    stageRemark(frozen ? 'impossible' : 'good', frozen ? 'frozen' : 'not_frozen', values),
  );
}
