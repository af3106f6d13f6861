import { CACO3 } from './atoms.ts';
import { IONS } from './basics.ts';
import { type Composition, excessCharge } from './composition.ts';
import {
  assumedBase,
  type BaseWater,
  type SaltJar,
  type Target,
  type WantedWater,
  type WaterOrder,
} from './order.ts';
import { QUANTITIES, type Quantity } from './quantities.ts';
import { figure, type WaterRemark, waterRemark } from './remarks.ts';
import { SALTS } from './salts.ts';

/** Highest figure that can be asked for, by quantity: far beyond any brewing water, within what the model holds. */
const LIMIT: Partial<Record<Quantity, number>> = {
  calcium_to_magnesium: 1000,
  chloride_to_sulfate: 1000,
  conductivity: 4000,
};
const LIMIT_MG_L = 2000;

/** Charge that targets may be apart before it is said [meq/L]. */
const CHARGE_SLACK = 0.02;

/** An order put right as far as it can be computed, and everything that had to be put right. */
export interface UsableOrder {
  order: WaterOrder;
  remarks: WaterRemark[];
}

/** Unit with the space before it. */
export const unitWords = (of: Quantity): string => (QUANTITIES[of] ? ` ${QUANTITIES[of]}` : '');

/**
 * Puts an order right: absurd or contradictory targets are brought to the nearest that can be computed, unusable jars are
 * left out, and each such step is said. Never throws; nothing of the order itself is changed.
 */
export function usableOrder(order: WaterOrder): UsableOrder {
  const remarks: WaterRemark[] = [];
  if (order.waters.length === 0) remarks.push(waterRemark('problem', 'no_waters_wanted', '', {}));
  const waters = order.waters.map((water) => usableWater(water, remarks));
  const bases = order.bases.length > 0 ? order.bases : [assumedPure(remarks)];
  for (const base of bases) sayUnbalanced(base, remarks);
  const jars = order.jars.filter((jar) => usableJar(jar, remarks));
  if (jars.length === 0 && order.concentrates.length === 0 && bases.length === 1)
    remarks.push(waterRemark('problem', 'no_salts', '', { water: bases[0]!.name }));
  return { order: { ...order, waters, bases, jars }, remarks };
}

function assumedPure(remarks: WaterRemark[]): BaseWater {
  remarks.push(waterRemark('caution', 'no_base', '', {}));
  return assumedBase();
}

/** The charges of a composition [meq/L at 25 °C, taken as meq/kg]. */
function charges(of: Composition): { positive: number; negative: number } {
  const positive = 1e3 * (of.sodium + of.potassium + 2 * (of.calcium + of.magnesium));
  return { positive, negative: positive - 1e3 * excessCharge(of) };
}

function sayUnbalanced(base: BaseWater, remarks: WaterRemark[]): void {
  const { positive, negative } = charges(base.of);
  const gap = Math.abs(positive - negative);
  if (gap <= CHARGE_SLACK || gap <= 0.05 * (positive + negative)) return;
  const values = { water: base.name, positive: figure(positive), negative: figure(negative) };
  remarks.push(waterRemark('caution', 'base_unbalanced', base.id, values));
}

function usableJar(jar: SaltJar, remarks: WaterRemark[]): boolean {
  const { needsCO2, caustic } = SALTS[jar.form.salt];
  if (needsCO2) remarks.push(waterRemark('note', 'jar_useless', jar.id, { jar: jar.name }));
  else if (caustic) remarks.push(waterRemark('caution', 'jar_caustic', jar.id, { jar: jar.name }));
  return !needsCO2;
}

function usableWater(water: WantedWater, remarks: WaterRemark[]): WantedWater {
  let { batch_g } = water;
  if (!(batch_g >= 1 && batch_g <= 100_000)) {
    remarks.push(waterRemark('problem', 'batch_bad', water.id, { water: water.name, value: batch_g }));
    batch_g = 1000;
  }
  const seen = new Set<Quantity>();
  const targets = water.targets.flatMap((target) => {
    const values = { water: water.name, unit: unitWords(target.of) };
    if (seen.has(target.of)) {
      remarks.push(waterRemark('problem', 'target_twice', water.id, values, { quantity: [target.of] }));
      return [];
    }
    seen.add(target.of);
    const usable = usableTarget(water, target, values, remarks);
    return usable ? [usable] : [];
  });
  contradictions({ ...water, targets }, remarks);
  return { ...water, batch_g, targets };
}

function usableTarget(
  water: WantedWater,
  target: Target,
  values: Record<string, string>,
  remarks: WaterRemark[],
): Target | null {
  const limit = LIMIT[target.of] ?? LIMIT_MG_L;
  const say = (code: string, more: Record<string, string | number>) =>
    remarks.push(waterRemark('problem', code, water.id, { ...values, ...more }, { quantity: [target.of] }));
  const usable = (x: number | null): number | null => {
    if (x === null) return null;
    if (Number.isNaN(x)) {
      say('target_not_a_number', { value: x });
      return null;
    }
    if (x < 0) say('target_negative', { value: figure(x) });
    if (x > limit) say('target_beyond', { value: x === Infinity ? 'infinity' : figure(x, 6), limit });
    return Math.min(limit, Math.max(0, x));
  };
  let low = usable(target.low);
  let high = usable(target.high);
  let aim = usable(target.aim);
  let { weight } = target;
  if (!(weight > 0 && Number.isFinite(weight))) {
    say('weight_bad', { value: weight });
    weight = 1;
  }
  if (low !== null && high !== null && low > high) {
    say('target_range_crossed', { low: figure(low), high: figure(high) });
    low = high = (low + high) / 2;
  }
  if (aim !== null && ((low !== null && aim < low) || (high !== null && aim > high))) {
    say('target_aim_outside', { value: figure(aim), low: figure(low ?? 0), high: figure(high ?? limit) });
    aim = Math.min(high ?? limit, Math.max(low ?? 0, aim));
  }
  if (aim === null && low === null && high === null) {
    if (target.aim === null && target.low === null && target.high === null) say('target_empty', {});
    return null;
  }
  return { ...target, low, high, aim, weight };
}

/** What no water can do, seen from the targets alone: charges that cannot balance, a hardness that is not its parts. */
function contradictions(water: WantedWater, remarks: WaterRemark[]): void {
  const range = (of: Quantity): readonly [number, number] | null => {
    const target = water.targets.find((t) => t.of === of);
    if (!target) return null;
    return [target.aim ?? target.low ?? 0, target.aim ?? target.high ?? Infinity];
  };
  const [ca, mg, gh] = [range('calcium'), range('magnesium'), range('hardness')];
  if (ca && mg && gh) {
    const sum = [0, 1].map(
      (i) => CACO3 * (ca[i]! / IONS.calcium_mg_L.molarMass + mg[i]! / IONS.magnesium_mg_L.molarMass),
    );
    if (sum[0]! > 1.02 * gh[1] + 0.5 || 1.02 * sum[1]! + 0.5 < gh[0]) {
      const values = {
        calcium: figure(ca[0]),
        magnesium: figure(mg[0]),
        sum: figure(sum[0]!),
        asked: figure(gh[1]),
      };
      remarks.push(waterRemark('problem', 'hardness_apart', water.id, { water: water.name, ...values }));
    }
  }
  // Least and most charge that the targets leave, meq/L.
  const meq = (of: Quantity, per: number): readonly [number, number] => {
    const found = range(of);
    return found ? [found[0] * per, found[1] * per] : [0, Infinity];
  };
  const hard: readonly [number, number] = gh ? [(2 * gh[0]) / CACO3, (2 * gh[1]) / CACO3] : [0, Infinity];
  const parts = add(
    meq('calcium', 2 / IONS.calcium_mg_L.molarMass),
    meq('magnesium', 2 / IONS.magnesium_mg_L.molarMass),
  );
  const earths: readonly [number, number] = [Math.max(parts[0], hard[0]), Math.min(parts[1], hard[1])];
  const alkali = add(
    meq('sodium', 1 / IONS.sodium_mg_L.molarMass),
    meq('potassium', 1 / IONS.potassium_mg_L.molarMass),
  );
  const kh = meq('alkalinity', 2 / CACO3);
  const bicarbonate = meq('bicarbonate', 1 / IONS.bicarbonate_mg_L.molarMass);
  const buffer: readonly [number, number] = [
    Math.max(kh[0], bicarbonate[0]),
    Math.min(kh[1], bicarbonate[1]),
  ];
  const strong = add(
    add(meq('chloride', 1 / IONS.chloride_mg_L.molarMass), meq('sulfate', 2 / IONS.sulfate_mg_L.molarMass)),
    meq('nitrate', 1 / IONS.nitrate_mg_L.molarMass),
  );
  const positive = add(earths, alkali);
  const negative = add(buffer, strong);
  // Nitrate and the like that were not asked for can always be there, so only sides that are fully fixed can clash.
  if (positive[0] > 1.02 * negative[1] + CHARGE_SLACK) say(positive[0], negative[1], 'charges_apart_metals');
  else if (negative[0] > 1.02 * positive[1] + CHARGE_SLACK)
    say(positive[1], negative[0], 'charges_apart_anions');

  function say(plus: number, minus: number, code: string): void {
    const values = { water: water.name, positive: figure(plus), negative: figure(minus) };
    remarks.push(waterRemark('problem', code, water.id, values));
  }
}

const add = (a: readonly [number, number], b: readonly [number, number]): readonly [number, number] => [
  a[0] + b[0],
  a[1] + b[1],
];
