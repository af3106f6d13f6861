import type { Problem } from '../../documents/problem.ts';
import { brewCaffeine, CAFFEINE_LIMITS, caffeineLedger, type Milligrams, sipCaffeine } from '../caffeine.ts';
import type { Finding } from '../findings.ts';
import type { CareAnswers, OwnAnswer } from './api.ts';
import type { SessionDesign, SessionPlan } from './plan-types.ts';
import { sessionProblem } from './sentences.ts';

/** Foods of which rules ask that they be named: the fourteen of EU Regulation 1169/2011, annex II (from memory). */
export const ALLERGENS = [
  'milk',
  'nuts',
  'peanuts',
  'soya',
  'gluten',
  'sesame',
  'eggs',
  'sulphites',
  'celery',
  'mustard',
  'lupin',
  'fish',
  'crustaceans',
  'molluscs',
] as const;

/** Hours of a session in which its sips count as one occasion; the ledger has no clock of its own. */
const NOW_H = 24;

/**
 * Why a person may not taste in a session: too young, or something in it may carry what the person keeps away from. Names the food, never the
 * sample, and refuses the whole session: leaving a cup out would tell which it is.
 */
export function admissionProblems(design: SessionDesign, care: CareAnswers): Problem[] {
  if (!care.adult) return [sessionProblem(['care', 'adult'], 'minor')];
  const plain = (food: string) => food.trim().toLowerCase();
  const avoided = new Set(care.allergens.map(plain));
  const carried = new Set(
    design.samples.flatMap((s) => s.may_carry.map(plain)).filter((f) => avoided.has(f)),
  );
  if (carried.size === 0) return [];
  const value = [...carried].sort().join(', ');
  return [sessionProblem(['care', 'allergens'], 'allergen_here', { value })];
}

/** Caffeine of one sip [mg]: of the strongest sample for every cup, so that the figure tells nothing. */
export function sipOf(design: SessionDesign): Milligrams {
  const sips = design.samples.map((s) => {
    const beans = { low: s.caffeine_low_mg_g, high: s.caffeine_high_mg_g };
    return sipCaffeine(brewCaffeine(s.dose_g, beans), s.brew_mL, Math.min(design.sip_mL, s.brew_mL));
  });
  return {
    low: Math.max(...sips.map((s) => s.low)),
    high: Math.max(...sips.map((s) => s.high)),
  };
}

/**
 * Cautions for one taster: caffeine so far and left, and what else was told on joining. Every cup that was answered counts as a sip in each
 * window, swallowed even when it was spat: nobody has measured what is kept.
 */
export function cautionsFor(
  design: SessionDesign,
  plan: SessionPlan,
  seat: number,
  name: string,
  care: CareAnswers,
  answers: readonly OwnAnswer[],
): Finding[] {
  const sip = sipOf(design);
  const cupsOf = new Map(plan.sets.filter((s) => s.seat === seat).map((s) => [s.set, s.cups.length]));
  const sips = answers
    .filter((a) => a.counts)
    .reduce((sum, a) => sum + (a.code === null ? (cupsOf.get(a.set) ?? 1) : 1), 0);
  const intakes = [
    // Taken earlier today: counts for the day, no longer for this occasion.
    { at_h: NOW_H - CAFFEINE_LIMITS.occasion_h, mg: { low: care.taken_today_mg, high: care.taken_today_mg } },
    { at_h: NOW_H, mg: { low: sips * sip.low, high: sips * sip.high } },
  ];
  const { adult, ...told } = care;
  const taster = { ...told, name, age: adult ? CAFFEINE_LIMITS.adult_age : null };
  return caffeineLedger(taster, intakes, NOW_H, sip).findings;
}
