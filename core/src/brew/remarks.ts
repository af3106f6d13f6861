import type { BrewBundle } from '../documents/index.ts';
import { boilingPoint, celsius } from '../units/index.ts';
import { LEDGER } from './amounts.ts';
import type { BrewCase } from './case.ts';
import { LIQUID_DENSITY } from './liquid.ts';
import type { Evenness, PathShare, Remark } from './result.ts';
import { heldWater } from './state.ts';
import type { Run } from './watch.ts';

/** English sentences of remarks, by code; other languages translate by code and values. */
export const remarkSentences: Readonly<Record<string, string>> = {
  head_overflows:
    'Liquid runs over the rim around {at} s: {spilled} g are lost. Pour slower, pour less at once, or grind coarser.',
  head_near_rim: 'Liquid comes within {room} mm of the rim at {at} s.',
  bed_runs_dry: 'The bed stands without liquid over it from {at} s until the next pour at {next} s.',
  bed_runs_dry_often:
    'Between pours the bed stands without liquid over it {times} times, first from {at} s until {next} s, {total} s in all. Pour more at once, faster or sooner if it is to stay covered.',
  bed_freezes:
    'Part of the wetted bed falls to {low} °C: water freezes there, which this prediction leaves out. Let the grounds warm up, or pour warmer water first.',
  bed_shallow:
    'The bed is only {depth} mm deep, a few grains: water finds gaps, and an even flow as computed here is not to be expected. Take a larger dose or a narrower dripper.',
  nothing_served:
    'Nothing reaches the server: {held} g of water stay in the dripper. Pour more, open the outlet before the lift, or lift later.',
  drip_at_lift: 'At the lift, {at} s, {flow} g/s still drip; {held} g stay in the bed.',
  kettle_too_slow:
    '{kettle}: from {from} °C to {to} °C by {at} s needs {needed} K, but its power gives {possible} K. Use a second kettle or a longer pause.',
  kettle_too_hot:
    '{kettle}: from {from} °C down to {to} °C by {at} s needs a fall of {needed} K; off its base it loses {possible} K. Use a second kettle or add cool water.',
  kettle_too_small:
    '{kettle} holds {capacity} g; this plan pours {needed} g from it. Refill or use a second kettle.',
  kettle_runs_empty:
    '{kettle} is empty at {at} s: it held {fill} g and the plan pours {needed} g from it. Fill in more, refill it, or use a second kettle.',
  kettle_cooled:
    '{kettle} has cooled to {got} °C off its base by {at} s; {asked} °C are asked. Put it back on its base between pours, fill it fuller, or ask for less.',
  kettle_still_heating:
    '{kettle} reaches {got} °C by {at} s with its {power} W; {asked} °C are asked. Use a second kettle, a longer pause or less water in it.',
  kettle_still_hot:
    '{kettle} is still at {got} °C at {at} s; {asked} °C are asked. Use a second kettle or add cool water.',
  chill_spent:
    'The cold body has come to {body} °C and cools the last of its part by {drop} K only. Use a heavier or colder one, or chill less.',
  chill_never: 'Nothing drips before {at} s, so nothing is chilled.',
  chill_nothing: 'Nothing drips, so nothing is chilled.',
  cup_very_hot:
    'Served at {served} °C. Above 65 °C a drink scalds, and drinking it that hot counts as probably carcinogenic (IARC Monograph 116). It passes 65 °C after {wait} min.',
  cup_cool:
    'Served at {served} °C, below the {limit} °C where hot begins. Preheat the cups, serve sooner, cover the server, or pour more into each.',
  cups_short:
    'For {cups} cups of {each} g {needed} g are needed; about {beverage} g arrive. Each gets {share} g.',
  cup_overflows: 'A cup holds {capacity} mL; {share} mL are poured into it.',
  near_boiling: 'At this venue water boils at {boils} °C; {asked} °C is within {margin} K of it.',
  server_too_small: 'The server holds {capacity} mL; about {beverage} mL arrive.',
  bed_not_wetted: '{share} % of the bed stays dry. Use more water in the first pour, or stir.',
  uneven_depth:
    'The top of the bed gives {top} % and the bottom {bottom} %: more agitation or a hotter start evens it.',
  uneven_paths:
    'Half of the bed lets {fast} % of the water through and gives {fast_yield} %; the other half {slow} % and {slow_yield} %. A level bed, a swirl after the bloom or a coarser grind evens it.',
  gas_strong: 'The coffee still holds {gas} mg of gas per g: it will bloom strongly and take water slowly.',
  still_full: '{head} g of liquid still stand over the bed when the prediction ends at {at} s.',
};

/** Head room below which a brewer should know [m]. */
const NEAR_RIM = 5e-3;
/** Share of the water through one half of the bed above which it is worth a word [%]. */
const UNEVEN = 60;
/** Pauses without a head that are told one by one. */
const FEW_GAPS = 3;
/** Depth of a bed that is no more than a few coarse grains [m] (assumed). */
const SHALLOW = 5e-3;
/** Beverage that is as good as none [kg]. */
const NOTHING = 1e-4;
/** Gas at first wetting that makes a strong bloom [kg/kg]. */
const STRONG_GAS = 2.2e-3;

/** What a brewer should know about a run, most pressing first. */
export function remarksOf(bundle: BrewBundle, c: BrewCase, run: Run, evenness: Evenness): Remark[] {
  const remarks: Remark[] = [];
  const add = (
    level: Remark['level'],
    code: string,
    at: number | null,
    values: Record<string, string | number>,
  ) => remarks.push(remark(level, code, at, values));

  headRemarks(c, run, add);
  dryRemarks(c, run, add);
  bedRemarks(run, add);
  if (run.lifted && run.dripAtEnd > 1e-4)
    add('note', 'drip_at_lift', run.endTime, {
      flow: round(run.dripAtEnd * 1e3, 1),
      held: round((run.state.now.water[0]! + heldWater(run.state)) * 1e3, 0),
    });
  if (!run.lifted && run.state.now.water[0]! > 1e-3)
    add('problem', 'still_full', run.endTime, { head: round(run.state.now.water[0]! * 1e3, 0) });
  boilingRemark(bundle, c, add);
  const beverage = run.state.now.ledger[LEDGER.served]!;
  if (beverage - (c.bypass?.mass ?? 0) < NOTHING)
    add('problem', 'nothing_served', null, {
      held: round((run.state.now.water[0]! + heldWater(run.state)) * 1e3, 1),
    });
  if (beverage / LIQUID_DENSITY > c.server.capacity)
    add('problem', 'server_too_small', null, {
      capacity: round(c.server.capacity * 1e6, 0),
      beverage: round((beverage / LIQUID_DENSITY) * 1e6, 0),
    });
  if (run.dryCells > 0)
    add('problem', 'bed_not_wetted', null, { share: round((100 * run.dryCells) / (run.state.nodes - 1), 0) });
  const { layer_yield_pct, paths } = evenness;
  const top = layer_yield_pct[0]!;
  const bottom = layer_yield_pct.at(-1)!;
  if (run.dryCells === 0 && bottom < 0.85 * top)
    add('note', 'uneven_depth', null, { top: round(top, 1), bottom: round(bottom, 1) });
  pathRemark(paths, add);
  if (c.gas.content > STRONG_GAS) add('note', 'gas_strong', null, { gas: round(c.gas.content * 1e3, 1) });
  return sortRemarks(remarks);
}

/** Most pressing first, then by moment, then those that concern no one moment. Sorts in place. */
export function sortRemarks(remarks: Remark[]): Remark[] {
  const order = { problem: 0, caution: 1, note: 2 } as const;
  const moment = (remark: Remark): number => remark.at_s ?? Number.MAX_VALUE;
  return remarks.sort((a, b) => order[a.level] - order[b.level] || moment(a) - moment(b));
}

/** Makes a remark and fills its English sentence. */
export function remark(
  level: Remark['level'],
  code: string,
  at: number | null,
  values: Record<string, string | number>,
): Remark {
  const all = at === null ? values : { ...values, at: round(at, 0) };
  const sentence = remarkSentences[code]!.replaceAll(/\{(\w+)\}/g, (whole, key: string) =>
    key in all ? String(all[key]) : whole,
  );
  return { code, level, at_s: at, values: all, sentence };
}

type Add = (
  level: Remark['level'],
  code: string,
  at: number | null,
  values: Record<string, string | number>,
) => void;

function headRemarks(c: BrewCase, run: Run, add: Add): void {
  const room = c.vessel.height - run.state.bedDepth - run.highestHead.height;
  const spilled = run.state.now.ledger[LEDGER.spilled]!;
  if (spilled > 0)
    add('problem', 'head_overflows', run.highestHead.time, { spilled: round(spilled * 1e3, 1) });
  else if (room < NEAR_RIM)
    add('caution', 'head_near_rim', run.highestHead.time, { room: round(Math.max(0, room) * 1e3, 0) });
}

/** Says when the head is gone well before the next pour; read from the record. */
function dryRemarks(c: BrewCase, run: Run, add: Add): void {
  // A pour shows as a head a little after it starts; a head that comes and goes while water runs is no gap.
  const gaps = run.bareGaps.flatMap(({ from, until }) => {
    const next = c.pours.find((pour) => pour.start >= from - 1e-9);
    return next && until >= next.start - 1e-9 ? [{ from, next: next.start }] : [];
  });
  if (gaps.length > FEW_GAPS)
    add('note', 'bed_runs_dry_often', gaps[0]!.from, {
      next: round(gaps[0]!.next, 0),
      times: gaps.length,
      total: round(
        gaps.reduce((sum, gap) => sum + gap.next - gap.from, 0),
        0,
      ),
    });
  else for (const gap of gaps) add('note', 'bed_runs_dry', gap.from, { next: round(gap.next, 0) });
}

/** Says when a bed is one that the engine's physics does not hold for. */
function bedRemarks(run: Run, add: Add): void {
  if (run.lowest.temperature < -0.05)
    add('caution', 'bed_freezes', run.lowest.time, { low: round(run.lowest.temperature, 1) });
  if (run.state.bedDepth < SHALLOW)
    add('caution', 'bed_shallow', null, { depth: round(run.state.bedDepth * 1e3, 1) });
}

/** Says what two halves gave when clearly more water went through one. */
function pathRemark(paths: readonly PathShare[], add: Add): void {
  const [fast, slow] = paths;
  if (paths.length !== 2 || fast!.water_pct < UNEVEN) return;
  add('note', 'uneven_paths', null, {
    fast: round(fast!.water_pct, 0),
    fast_yield: round(fast!.yield_pct, 1),
    slow: round(slow!.water_pct, 0),
    slow_yield: round(slow!.yield_pct, 1),
  });
}

function boilingRemark(bundle: BrewBundle, c: BrewCase, add: Add): void {
  const { plan } = bundle;
  const boils = celsius(boilingPoint(c.air.pressure));
  const asked = Math.max(...plan.pours.map((pour) => pour.kettle_temperature_C));
  if (asked > boils - 1)
    add('caution', 'near_boiling', null, {
      boils: round(boils, 1),
      asked,
      margin: round(Math.max(0, boils - asked), 1),
    });
}

const round = (x: number, digits: number): number => {
  const scale = 10 ** digits;
  return Math.round(x * scale) / scale;
};
