import {
  type Bands,
  type BedVisits,
  type BrewBundle,
  type BrewResult,
  type Problem,
  pourEnd,
} from '@pourline/core';
import { aroundLines } from './around.ts';
import { columnTimes, drawAxis, drawBars, drawLane, valueAt } from './plot.ts';
import { fixed, table } from './table.ts';

/** Where the picture ends: a little after the drip, on a whole five seconds [s]. */
function endOfPicture({ cup, trace }: BrewResult): number {
  const last = trace.time_s.at(-1) ?? 1;
  return Math.max(1, Math.min(last, Math.ceil((cup.end_s + 5) / 5) * 5));
}

/** The strip in plain characters: hands, head, bed temperatures, drip and strength over one time axis. */
export function brewStrip({ plan }: BrewBundle, result: BrewResult, columns = 72): string[] {
  const { trace, cup } = result;
  const end = endOfPicture(result);
  const times = columnTimes(end, columns);
  const at = (values: Float64Array) => times.map((t) => valueAt(trace.time_s, values, t));
  const bars = [
    ...plan.pours.map((p) => ({ from: p.start_s, to: pourEnd(p), label: `${p.water_g}g` })),
    ...(cup.lifted ? [{ from: cup.end_s, to: cup.end_s, label: '^' }] : []),
  ];
  const acts = plan.actions.map((a) => ({ from: a.start_s, to: a.start_s + a.duration_s, label: a.what }));
  return [
    drawBars('hands', bars, end, columns),
    ...(acts.length > 0 ? [drawBars('', acts, end, columns)] : []),
    ...drawLane({
      name: 'head',
      unit: 'mm',
      rows: 4,
      filled: true,
      from: 0,
      series: [{ mark: ':', values: at(trace.head_mm) }],
    }),
    ...drawLane({
      name: 'bed',
      unit: '°C',
      rows: 9,
      series: [
        { mark: 't', values: at(trace.bed_top_C) },
        { mark: 'b', values: at(trace.bed_bottom_C) },
        { mark: 'm', values: at(trace.bed_middle_C) },
      ],
    }),
    ...drawLane({
      name: 'drip',
      unit: 'g/s',
      rows: 4,
      filled: true,
      from: 0,
      series: [{ mark: ':', values: at(trace.drip_g_s) }],
    }),
    ...drawLane({
      name: 'strength',
      unit: '%',
      rows: 6,
      from: 0,
      series: [
        { mark: 'd', values: at(trace.drip_strength_pct) },
        { mark: 'c', values: at(trace.strength_pct) },
      ],
    }),
    ...drawAxis(end, columns),
    `t top, m middle, b bottom of the bed; d what drips just now, c the cup so far${cup.lifted ? '; ^ the lift' : ''}`,
  ];
}

function cupTable({ cup, error }: BrewResult, bands: Bands | null): string[] {
  const rows: string[][] = [['cup', 'value', 'unit', ...(bands ? ['5 %', '95 %'] : [])]];
  const add = (
    name: string,
    value: number | null,
    decimals: number,
    unit: string,
    band?: { low: number; high: number },
  ) =>
    rows.push([
      name,
      fixed(value, decimals),
      unit,
      ...(bands && band ? [fixed(band.low, decimals), fixed(band.high, decimals)] : []),
    ]);
  add('beverage', cup.beverage_g, 1, 'g', bands?.beverage_g);
  add('strength', cup.strength_pct, 2, '%', bands?.strength_pct);
  add('yield', cup.yield_pct, 1, '%', bands?.yield_pct);
  add('water over dose', cup.ratio, 1, '');
  add('drawdown', cup.drawdown_s, 0, 's', bands?.drawdown_s);
  add(cup.lifted ? 'lifted' : 'drip over', cup.end_s, 0, 's');
  add('hottest bed', cup.peak_bed_C, 1, '°C', bands?.peak_bed_C);
  add('coldest wet bed', cup.lowest_bed_C, 1, '°C');
  add('server', cup.server_C, 1, '°C', bands?.server_C);
  add('held in the bed', cup.held_g, 1, 'g');
  const lines = table(rows);
  if (error)
    lines.push(
      `Numerical error about ${fixed(error.beverage_g, 3)} g, ${fixed(error.strength_pct, 4)} % strength, ${fixed(error.yield_pct, 3)} % yield, ${fixed(error.temperature_K, 2)} K.`,
    );
  return lines;
}

function pourTable({ plan, waters }: BrewBundle, result: BrewResult): string[] {
  const rows = [
    ['pour', 'start s', 'water g', 'kettle °C', 'contact °C', 'bed after °C', 'of the solids %', 'water'],
  ];
  plan.pours.forEach((p, i) => {
    const share = result.pours.find((s) => s.pour_id === p.id);
    rows.push([
      String(i + 1),
      fixed(p.start_s, 0),
      fixed(p.water_g, 1),
      fixed(p.kettle_temperature_C, 1),
      fixed(share?.contact_C, 1),
      fixed(share?.bed_after_C, 1),
      fixed(share?.solids_pct, 1),
      waters[p.water_id]?.name ?? '',
    ]);
  });
  return table(rows);
}

/** What goes with a prediction when it was asked for. */
export interface Extras {
  bands: Bands | null;
  /** Where and when the bed was near `near_C`. */
  near: BedVisits | null;
  near_C: number;
  cautions: readonly Problem[];
}

function nearLines({ near, near_C }: Extras): string[] {
  if (!near) return [];
  const layers = (from: number, to: number) => `${fixed(from * 100, 0)}–${fixed(to * 100, 0)} % of its depth`;
  const lines = near.visits.map(
    (v) => `  ${fixed(v.from_s, 1)}–${fixed(v.to_s, 1)} s at ${layers(v.depth_from, v.depth_to)}`,
  );
  if (lines.length > 0) return ['', `Bed near ${near_C} °C`, ...lines];
  if (!near.nearest) return ['', `Bed near ${near_C} °C: nowhere, it was never wetted.`];
  const { temperature_C, at_s, depth } = near.nearest;
  return [
    '',
    `Bed near ${near_C} °C: nowhere. The closest was ${fixed(temperature_C, 1)} °C at ${fixed(at_s, 0)} s, ${fixed(depth * 100, 0)} % down.`,
  ];
}

/** A brew as a person reads it: what goes in, the strip, the cup, the pours, remarks, and how far to trust it. */
export function brewText(bundle: BrewBundle, result: BrewResult, extras: Extras): string {
  const { bands, cautions } = extras;
  const { plan, coffee, setup, venue } = bundle;
  const trust =
    result.calibrated_trials > 0
      ? `calibrated on ${result.calibrated_trials} trials of this coffee`
      : 'defaults only, not yet calibrated on trials of this coffee';
  const remarks = result.remarks.map(
    (r) =>
      `- ${r.at_s === null ? '' : `${fixed(r.at_s, 0)} s: `}${r.sentence}${r.level === 'note' ? '' : ` (${r.level})`}`,
  );
  const worst = Math.max(
    result.closure.water,
    result.closure.enthalpy,
    ...result.closure.solutes.map((s) => s.relative),
  );
  return [
    plan.name,
    `${coffee.name}, ${plan.dose_g} g; ${setup.name}; ${venue.name}`,
    '',
    ...brewStrip(bundle, result),
    '',
    ...cupTable(result, bands),
    '',
    ...pourTable(bundle, result),
    ...aroundLines(bundle, result),
    ...nearLines(extras),
    ...(remarks.length + cautions.length > 0
      ? ['', 'Remarks', ...remarks, ...cautions.map((p) => `- ${p.sentence} (caution)`)]
      : []),
    '',
    `Prediction: ${trust}. ${result.resolution} resolution, ${result.stats.steps} steps; balances closed to ${worst.toExponential(1)}.`,
    ...(bands ? [`Bands: ${bands.runs} runs over the plausible ranges of the parameters.`] : []),
    '',
  ].join('\n');
}
