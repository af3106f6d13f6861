import type { BrewBundle, Serving } from '../documents/index.ts';
import { kelvin, liquidDensity } from '../units/index.ts';
import { remark } from './remarks.ts';
import type { Cup, CupCourse, Remark, ServingCourse } from './result.ts';

/** Above this a drink is very hot (IARC Monograph 116, published 2018: probably carcinogenic; from memory) [°C]. */
const VERY_HOT = 65;

/** What a brewer should know about the cups: too little, too much, too hot, too cool. */
export function servingRemarks(
  plan: Serving,
  setup: BrewBundle['setup'],
  cup: Cup,
  serving: ServingCourse,
): Remark[] {
  const remarks: Remark[] = [];
  const { cups } = serving;
  const share = Math.max(...cups.map((entry) => entry.beverage_g));
  if (plan.cup_g !== null && plan.cup_g * plan.cups > cup.beverage_g * 1.005)
    remarks.push(
      remark('problem', 'cups_short', null, {
        cups: plan.cups,
        each: plan.cup_g,
        needed: Math.round(plan.cup_g * plan.cups),
        beverage: Math.round(cup.beverage_g),
        share: Math.round(share),
      }),
    );
  const volume = share / (liquidDensity(kelvin(serving.server_C)) / 1e3);
  if (setup.cup && volume > setup.cup.capacity_mL)
    remarks.push(
      remark('problem', 'cup_overflows', null, {
        capacity: setup.cup.capacity_mL,
        share: Math.round(volume),
      }),
    );
  const hottest = cups.reduce((a, b) => (b.served_C > a.served_C ? b : a));
  const coolest = cups.reduce((a, b) => (b.served_C < a.served_C ? b : a));
  if (hottest.served_C > VERY_HOT)
    remarks.push(
      remark('caution', 'cup_very_hot', null, {
        served: tenth(hottest.served_C),
        wait: waitUntil(hottest, VERY_HOT),
      }),
    );
  if (coolest.served_C < plan.hot_above_C)
    remarks.push(
      remark('caution', 'cup_cool', null, { served: tenth(coolest.served_C), limit: plan.hot_above_C }),
    );
  return remarks;
}

/** Minutes from serving until a cup has cooled to a temperature; until its course ends when it never does. */
function waitUntil({ time_s, temperature_C, served_s }: CupCourse, limit_C: number): number {
  const i = temperature_C.findIndex((T, k) => time_s[k]! > served_s && T <= limit_C);
  if (i < 0) return tenth((time_s.at(-1)! - served_s) / 60);
  const above = temperature_C[i - 1]! - limit_C;
  const share = above / (above + limit_C - temperature_C[i]!);
  const at = time_s[i - 1]! + share * (time_s[i]! - time_s[i - 1]!);
  return tenth((at - served_s) / 60);
}

const tenth = (x: number): number => Math.round(10 * x) / 10;
