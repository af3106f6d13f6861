import type { BrewBundle } from '../documents/index.ts';
import { classMean } from '../grind/index.ts';
import { alkalinity, compositeWater, hardness } from '../water/index.ts';
import { LEDGER } from './amounts.ts';
import { releasedOf } from './balance.ts';
import type { BrewCase } from './case.ts';
import type { Closure, Cup, Evenness, PathShare, PourShare } from './result.ts';
import { soluteInGrains } from './solute-step.ts';
import { heldWater, serverTemperature } from './state.ts';
import { LAYERS, type Run } from './watch.ts';

/** The cup's figures from a finished run. */
export function cupOf(bundle: BrewBundle, c: BrewCase, run: Run): Cup {
  const s = run.state;
  const { ledger, served, water } = s.now;
  const solids = sum(served);
  const beverage = ledger[LEDGER.served]! + solids;
  let left = 0;
  for (let q = 0; q < s.solutes; q++) left += c.solutes[q]!.extractable - soluteInGrains(s, q);
  const poured = bundle.plan.pours.reduce((total, pour) => total + pour.water_g, 0);
  const composite = compositeWater([
    ...bundle.plan.pours.map((pour) => ({ ions: bundle.waters[pour.water_id]!, mass: pour.water_g })),
    ...(bundle.plan.bypass
      ? [{ ions: bundle.waters[bundle.plan.bypass.water_id]!, mass: bundle.plan.bypass.water_g }]
      : []),
  ]);
  return {
    water_g: poured + (bundle.plan.bypass?.water_g ?? 0),
    beverage_g: beverage * 1e3,
    strength_pct: beverage > 0 ? (solids / beverage) * 100 : 0,
    yield_pct: (solids / c.dose) * 100,
    total_yield_pct: (left / c.dose) * 100,
    held_g: (water[0]! + heldWater(s)) * 1e3,
    evaporated_g: ledger[LEDGER.evaporated]! * 1e3,
    spilled_g: ledger[LEDGER.spilled]! * 1e3,
    ratio: poured / bundle.plan.dose_g,
    drawdown_s: run.headGone,
    end_s: run.lifted ? run.endTime : run.dripOver,
    lifted: run.lifted,
    peak_bed_C: finite(run.peak.temperature),
    peak_bed_at_s: run.peak.time,
    lowest_bed_C: finite(run.lowest.temperature),
    lowest_bed_at_s: run.lowest.time,
    lowest_bed_depth: (run.lowest.layer + 0.5) / LAYERS,
    server_C: serverTemperature(c, s),
    solutes: c.solutes.map((solute, q) => ({
      key: solute.key,
      beverage_mg: served[q]! * 1e6,
      extracted_pct: solute.extractable > 0 ? (served[q]! / solute.extractable) * 100 : 0,
    })),
    hardness_mg_L_CaCO3: hardness(composite),
    alkalinity_mg_L_CaCO3: alkalinity(composite),
  };
}

/** What each pour brought to the cup, in the order of the plan. */
export function pourSharesOf(bundle: BrewBundle, c: BrewCase, run: Run): PourShare[] {
  const { tagServed, tagSolids } = run.state.now;
  const solids = sum(tagSolids);
  return bundle.plan.pours.map((pour) => {
    const k = c.pours.findIndex((p) => p.id === pour.id);
    return {
      pour_id: pour.id,
      water_g: pour.water_g,
      water_in_cup_g: tagServed[k]! * 1e3,
      solids_g: tagSolids[k]! * 1e3,
      solids_pct: solids > 0 ? (tagSolids[k]! / solids) * 100 : 0,
      bed_after_C: run.bedAfterPour[k]!,
      contact_C: c.pours[k]!.temperature - 273.15,
    };
  });
}

/** How evenly the bed gave, by depth and by size. */
export function evennessOf(c: BrewCase, run: Run): Evenness {
  const s = run.state;
  const perCell = c.dose / s.cells;
  const layer_yield_pct = new Float64Array(s.cells);
  const released = releasedOf(c, s);
  released.cell.forEach((mass, k) => {
    layer_yield_pct[k % s.cells]! += (mass / perCell) * 100;
  });
  const low = Math.min(...layer_yield_pct);
  const high = Math.max(...layer_yield_pct);
  const sizes = c.sizes.map((table, j) => {
    const { share, diameter } = classMean(table);
    const part = s.classPart.subarray(j * s.pools, (j + 1) * s.pools);
    const given = part.reduce((total, x, e) => total + x * released.pool[e]!, 0);
    return {
      diameter_um: diameter * 1e6,
      mass_share: share,
      yield_pct: (given / (c.dose * share)) * 100,
    };
  });
  const mean = sizes.reduce((total, size) => total + size.mass_share * size.yield_pct, 0);
  const variance = sizes.reduce((total, size) => total + size.mass_share * (size.yield_pct - mean) ** 2, 0);
  return {
    layer_yield_pct,
    top_to_bottom: high > 0 ? Math.max(0, low) / high : 1,
    sizes,
    size_variation: mean > 0 ? Math.sqrt(variance) / mean : 0,
    paths: pathSharesOf(c, run, released.cell),
  };
}

/** What dripped out of each path and what its grounds gave. */
function pathSharesOf(c: BrewCase, run: Run, released: Float64Array): PathShare[] {
  const { cells } = run.state;
  const { dripped } = run.pathFlows;
  const all = sum(dripped);
  return c.bed.paths.map(({ share }, p) => ({
    grounds_pct: share * 100,
    water_g: dripped[p]! * 1e3,
    water_pct: all > 0 ? (dripped[p]! / all) * 100 : 0,
    yield_pct: (sum(released.subarray(p * cells, (p + 1) * cells)) / (c.dose * share)) * 100,
  }));
}

/** Closures with the solutes named. */
export const closureOf = (c: BrewCase, run: Run): Closure => ({
  water: run.closure.water,
  enthalpy: run.closure.enthalpy,
  solutes: c.solutes.map((solute, q) => ({ key: solute.key, relative: run.closure.solutes[q]! })),
});

const sum = (values: Float64Array): number => values.reduce((total, x) => total + x, 0);
const finite = (x: number): number => (Number.isFinite(x) ? x : Number.NaN);
