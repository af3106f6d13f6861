import type { BrewResult } from '../../brew/result.ts';
import { simulate } from '../../brew/simulate.ts';
import { pourEnd, type Trial } from '../../documents/index.ts';
import { type HeatingPlan, planHeating } from '../brewers/heating.ts';
import type { BrewerOrder } from '../brewers/order.ts';
import { type BrewerSchedule, scheduleBrewers } from '../brewers/schedule.ts';
import { checkRules, factsOfPlan, type RuleVerdict } from '../contest/check-rules.ts';
import { type StageRemark, stageRemark } from '../remark.ts';
import type { BoundValue } from '../talk/bound-values.ts';
import { type CupPlan, cupPlan } from './cups.ts';
import { checkStageJars, retentionOf, type StageJars } from './jars.ts';
import { brewerOrderOf, heatingOrderOf, limitOf, type RunDocuments } from './run-order.ts';
import { brewMark, valuesOfRun } from './run-values.ts';
import { type Reached, reachOrder } from './table.ts';

/** What is asked: a run and everything that may stand behind its numbers. */
export interface RunQuestion extends RunDocuments {
  trials: readonly Trial[];
}

/** A run worked out: who pours what when, out of which kettle, how hot the cups are, and what may be said. */
export interface PlannedRun {
  limit_s: number;
  order: BrewerOrder;
  schedule: BrewerSchedule;
  heating: HeatingPlan;
  cups: CupPlan | null;
  values: BoundValue[];
  verdicts: RuleVerdict[];
  jars: StageJars;
  reach: Reached[];
  /** Mark of the brew that all this is of. */
  brew_mark: string;
  remarks: StageRemark[];
}

/** Drain time when neither the talk nor a prediction says it [s] (common practice: about a minute). */
const USUAL_DRAIN_S = 60;

/** Works a run out. Takes about as long as the search of its schedule: up to seconds where nothing fits. */
export function planRun({ trials, ...documents }: RunQuestion): PlannedRun {
  const { talk, bundle, contest } = documents;
  const remarks: StageRemark[] = [];
  const result = predict(documents, remarks);
  const drain = drainOf(documents, result);
  const order = brewerOrderOf(documents, drain);
  const schedule = scheduleBrewers(order);
  const limit_s = limitOf(talk, contest);
  const cups = result ? cupPlan(bundle, result, order, schedule, limit_s) : null;
  return {
    limit_s,
    order,
    schedule,
    heating: planHeating(heatingOrderOf(documents)),
    cups,
    values: valuesOfRun(talk, bundle.plan, trials, result, cups),
    verdicts: contest ? checkRules(contest, factsOfRun(documents, schedule, result)) : [],
    jars: checkStageJars(talk, bundle.plan.dose_g, retentionOf(bundle)),
    reach: reachOrder(talk.table.things, schedule.actions),
    brew_mark: brewMark(bundle.plan),
    remarks,
  };
}

function predict({ bundle }: RunDocuments, remarks: StageRemark[]): BrewResult | null {
  try {
    return simulate(bundle);
  } catch (reason) {
    remarks.push(
      stageRemark('watch', 'no_prediction', {
        why: reason instanceof Error ? reason.message : String(reason),
      }),
    );
    return null;
  }
}

/** From the end of the last pour until the brewer has drained or is lifted [s]. */
function drainOf({ bundle: { plan } }: RunDocuments, result: BrewResult | null): number {
  const poured = Math.max(...plan.pours.map(pourEnd));
  const end = plan.lift_s ?? result?.cup.end_s ?? poured + USUAL_DRAIN_S;
  return Math.max(0, Math.round((end - poured) * 10) / 10);
}

/** What rules can be held against: the plan's own facts, the talk's, and the length of the schedule. */
function factsOfRun(documents: RunDocuments, schedule: BrewerSchedule, result: BrewResult | null) {
  const { talk, bundle } = documents;
  const known = factsOfPlan(bundle, result?.cup ?? {});
  const { facts, brewing } = talk;
  const each = bundle.plan.serving?.cups ?? 1;
  const alone = facts.individually_brewed ?? each === 1;
  return {
    ...known,
    uses: [...new Set([...known.uses, ...facts.uses])],
    run_s: schedule.ends_s,
    setup_s: facts.setup_s,
    cleanup_s: facts.cleanup_s,
    cups: brewing.brewers * each,
    individually_brewed: alone,
    changes_after_setup: facts.changes_after_setup,
  };
}
