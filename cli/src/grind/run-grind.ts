import {
  type AnyDocument,
  APERTURES,
  analyseSizes,
  apertureTolerance,
  bundlePlan,
  checkArchive,
  checkJars,
  curveAt,
  type DialPoint,
  dialPointOf,
  dialPointOfDistribution,
  distributionOfTable,
  type Grinder,
  grinderCurve,
  type ModelName,
  mixEffect,
  type Plan,
  PRINCIPAL_APERTURES,
  readPlainCurve,
  readPlainGrindMix,
  readPlainJars,
  readPlainTransfer,
  type SettingAnswer,
  type Sizing,
  settingFor,
  settingForDrawdown,
  supersededBy,
  tableOf,
  transferByBrews,
  transferBySizes,
  workOutGrindMix,
} from '@pourline/core';
import { bundleFrom, pick, readArchive } from '../archive.ts';
import { EXIT, Stop } from '../exit.ts';
import { readJson, stopWithProblems, toJson } from '../io.ts';
import { readSizingFile, type ScaleOptions } from './read-sizing.ts';

const write = (value: unknown): void => {
  process.stdout.write(toJson(value));
};

export interface MeasureOptions extends ScaleOptions {
  sizing?: string;
  model?: ModelName | 'best';
  fines?: number;
  draws: number;
  seed?: number;
}

/** Measurement in, all that follows from it out. The raw data come back too, so that they can be kept. */
export async function runMeasure(file: string, options: MeasureOptions): Promise<void> {
  const { data, sizing, notes, photo } = await readSizingFile(file, options.sizing, options);
  const model = options.model ?? sizing?.model ?? 'best';
  const fines_limit_um = options.fines ?? sizing?.fines_limit_um ?? 100;
  const { analysis, remarks } = analyseSizes(data, {
    model,
    fines_limit_um,
    draws: options.draws,
    ...(options.seed === undefined ? {} : { seed: options.seed }),
  });
  const all = [...notes, ...remarks];
  write({ data, analysis, ...(photo ? { photo } : {}), remarks: all });
  if (!analysis) throw new Stop(EXIT.problems, ...remarks.map((remark) => remark.sentence));
}

/** A mix written by hand in, masses and sizes out; with a brew, what it does to flow and release. */
export function runMix(file: string, { brew, plan }: { brew?: string; plan?: string }): void {
  const order = readPlainGrindMix(readJson(file));
  if (!order.ok) stopWithProblems(order.problems, true);
  const sheet = workOutGrindMix(order.value);
  if (!sheet)
    throw new Stop(
      EXIT.problems,
      'Nothing is left of any part: move the limits of the sieves, or give a share above 0.',
    );
  if (brew === undefined) {
    write(sheet);
    return;
  }
  const bundle = bundleFrom(readArchive(brew, true), plan);
  if (!bundle.ok) stopWithProblems(bundle.problems, true);
  const parts = sheet.parts
    .filter((part) => part.share > 0)
    .map(({ name, share, table }) => ({ name, share, distribution: distributionOfTable(table) }));
  write({ ...sheet, effect: mixEffect(bundle.value, 'the mix', parts, { resolution: 'standard' }) });
}

export interface CurveOptions {
  grinder?: string;
  plan?: string;
  at?: readonly number[];
  d50?: number;
  like?: string;
  drawdown?: number;
  known?: readonly number[];
  touch?: number;
  beans?: number;
  burrs?: number;
}

/** Measured settings in; sizes at settings and settings for sizes or a drawdown out. */
export async function runCurve(file: string, options: CurveOptions): Promise<void> {
  const input = readJson(file);
  const isArchive = typeof input === 'object' && input !== null && 'format' in input;
  const documents = isArchive ? documentsOf(input) : null;
  const points = documents ? pointsFrom(documents, options.grinder) : plainPoints(input);
  const curve = grinderCurve(points);
  const asked = {
    touch_dial: options.touch ?? null,
    beans_C: options.beans ?? null,
    burrs_kg: options.burrs ?? null,
  };
  const settings: Record<string, SettingAnswer> = {};
  if (options.d50 !== undefined) settings.d50 = settingFor(curve, { by: 'd50', d50_um: options.d50 }, asked);
  if (options.like !== undefined) {
    const { data } = await readSizingFile(options.like, undefined, {});
    const { analysis } = analyseSizes(data, { draws: 0 });
    const sizes = analysis?.fitted?.distribution ?? analysis?.measured.distribution;
    if (!sizes) throw new Stop(EXIT.problems, `Nothing can be made of ${options.like}.`);
    settings.like = settingFor(curve, { by: 'table', table: tableOf(sizes) }, asked);
  }
  write({
    points: points.map(({ logSizes: _, ...point }) => point),
    at: (options.at ?? points.map((point) => point.dial)).map((dial) => curveAt(curve, { ...asked, dial })),
    ...settings,
    ...(options.drawdown === undefined ? {} : { drawdown: drawdownOf(documents, curve, options, asked) }),
    remarks: curve.remarks,
  });
}

function documentsOf(input: unknown): readonly AnyDocument[] {
  const archive = checkArchive(input);
  if (!archive.ok) stopWithProblems(archive.problems, true);
  return archive.value.documents;
}

function plainPoints(input: unknown): DialPoint[] {
  const read = readPlainCurve(input);
  return read.ok ? read.value : stopWithProblems(read.problems, true);
}

/** Points of a grinder: its measurements, and where there are none its settings whose mark is a number. */
function pointsFrom(documents: readonly AnyDocument[], wanted: string | undefined): DialPoint[] {
  const grinders = documents.filter((d): d is Grinder => d.kind === 'grinder' && !d.archived);
  const grinder = pick('grinder', grinders, wanted);
  const measured = documents
    .filter((d): d is Sizing => d.kind === 'sizing' && !d.archived && d.grinder_id === grinder.id)
    .flatMap((sizing) => {
      const { analysis } = analyseSizes(sizing.data, { model: sizing.model, draws: 100 });
      return (analysis && dialPointOf(sizing, analysis, grinder)) ?? [];
    });
  if (measured.length > 0) return measured;
  const written = grinder.settings.flatMap(({ mark, distribution }) =>
    /^[-+]?\d+(\.\d+)?$/.test(mark.trim()) ? [dialPointOfDistribution(mark, Number(mark), distribution)] : [],
  );
  if (written.length === 0)
    throw new Stop(
      EXIT.notFound,
      `${grinder.name} has neither measurements with a dial reading nor a setting whose mark is a number.`,
    );
  return written;
}

function drawdownOf(
  documents: readonly AnyDocument[] | null,
  curve: ReturnType<typeof grinderCurve>,
  { plan, drawdown, known }: CurveOptions,
  asked: object,
): unknown {
  if (!documents) throw new Stop(EXIT.usage, '--drawdown needs an archive with a plan, not points alone.');
  const plans = documents.filter((d): d is Plan => d.kind === 'plan' && !d.archived);
  const bundle = bundlePlan(pick('plan', plans, plan), (id) => documents.find((d) => d.id === id));
  if (!bundle.ok) stopWithProblems(bundle.problems, true);
  return settingForDrawdown({
    bundle: bundle.value,
    curve,
    drawdown_s: drawdown!,
    known: known ? [{ dial: known[0]!, drawdown_s: known[1]! }] : [],
    options: asked,
  });
}

/** From one grinder to another, by brews or by sizes. */
export function runTransfer(file: string): void {
  const read = readPlainTransfer(readJson(file));
  if (!read.ok) stopWithProblems(read.problems, true);
  const { value } = read;
  if (value.by === 'sizes') {
    write(transferBySizes(grinderCurve(value.from), value.dial, grinderCurve(value.to)));
    return;
  }
  const answer = transferByBrews(value.order);
  if (!answer)
    throw new Stop(
      EXIT.problems,
      'Nothing can be matched: give drawdown_s or yield_pct both of what is wanted and of at least one brew.',
    );
  write(answer);
}

/** Jars weighed against doses. */
export function runJars(file: string): void {
  const read = readPlainJars(readJson(file));
  if (!read.ok) stopWithProblems(read.problems, true);
  write(checkJars(read.value));
}

/** The sieve openings of the standards. */
export function runSieves(): void {
  write(
    APERTURES.map((row) => ({
      ...row,
      principal: PRINCIPAL_APERTURES.includes(row.aperture_um),
      tolerance_um: Number((apertureTolerance(row.aperture_um * 1e-6) * 1e6).toPrecision(3)),
      superseded: SUPERSEDED.filter((old) => supersededBy(old) === row.aperture_um),
    })),
  );
}

const SUPERSEDED = [841, 707, 595, 420, 354, 297, 210, 177, 149, 105, 88, 74];
