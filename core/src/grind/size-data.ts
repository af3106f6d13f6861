import type { Sizing, SizingData } from '../documents/index.ts';
import { MICROMETRE } from '../units/index.ts';
import { APERTURES, apertureDoubt, isStandardAperture, supersededBy } from './apertures.ts';
import type { Binned } from './binned.ts';
import { binGrains, effectiveGrains, type Grains } from './grains.ts';
import { figureOf, type GrindRemark, grindRemark } from './remarks.ts';
import { readTable } from './table-data.ts';

/** A measurement as the fits see it: mass in classes, and how far each figure may be off. */
export interface SizeData {
  by: SizingData['by'];
  binned: Binned;
  /** Standard uncertainty of every limit, relative, length J. */
  limitDoubt: Float64Array;
  /** How many independent grains the shares are worth: they scatter like counts of that many. */
  effective: number;
  /** Grains one by one, for a photograph. */
  grains: Grains | null;
  /** Standard uncertainty of the scale as a whole, relative: all sizes move together. */
  scaleDoubt: number;
}

/** What was measured, ready to be fitted, and what is wrong with it. `data` is null when nothing can be made of it. */
export interface ReadSizes {
  data: SizeData | null;
  remarks: GrindRemark[];
}

/** Reads the raw data of a measurement that has passed its schema. */
export function readSizes(data: SizingData): ReadSizes {
  if (data.by === 'sieves') return readSieves(data);
  if (data.by === 'table') return readTable(data);
  return readPhoto(data);
}

type Sieves = Extract<SizingData, { by: 'sieves' }>;
type Photo = Extract<SizingData, { by: 'photo' }>;

/** Loss that is worth a caution, and one that spoils the fines, share of the load. */
const LOSS = 0.01;
const GREAT_LOSS = 0.05;
/** Shares from which another sieve is worth it: in one class, in the pan, on the top sieve. */
const HEAVY = { inside: 0.4, pan: 0.1, top: 0.05 };
/** Density of ground grains [kg/m³], for counting them: 530–620 by brew/parameters; the count needs no better. */
const GRAIN_DENSITY = 550;

/** Mass shares from weighings. */
function readSieves(data: Sieves): ReadSizes {
  const remarks: GrindRemark[] = [];
  const rows = [...data.sieves].reverse();
  const kept = rows.map((row) => row.weighed_g - row.tare_g);
  const weighedPan = data.pan === null ? null : data.pan.weighed_g - data.pan.tare_g;
  const onSieves = kept.reduce((sum, x) => sum + x, 0);
  const pan = weighedPan ?? panFromLoad(data, onSieves, remarks);
  const total = onSieves + pan;
  // Less than the scale can tell from nothing is nothing.
  if (!(total >= data.step_g)) return { data: null, remarks: [grindRemark('problem', 'nothing_weighed')] };
  checkLoad(data, total, weighedPan !== null, remarks);
  checkApertures(data, remarks);
  const share = Float64Array.from([pan, ...kept], (g) => g / total);
  const limits = Float64Array.from(rows, (row) => row.aperture_um * MICROMETRE);
  adviseSieves(limits, share, remarks);
  const limitDoubt = limits.map((limit) =>
    data.aperture_doubt_pct === null ? apertureDoubt(limit) / limit : data.aperture_doubt_pct / 100,
  );
  const effective = worthOfSieving(data, limits, share, total);
  const read: SizeData = {
    by: 'sieves',
    binned: { limits, share },
    limitDoubt,
    effective,
    grains: null,
    scaleDoubt: 0,
  };
  return { data: read, remarks };
}

function panFromLoad(data: Sieves, onSieves: number, remarks: GrindRemark[]): number {
  const finest = data.sieves.at(-1)!.aperture_um;
  if (data.load_g === null || data.load_g < onSieves) {
    remarks.push(grindRemark('caution', 'no_pan', { aperture: finest }));
    return 0;
  }
  const pan = data.load_g - onSieves;
  remarks.push(grindRemark('note', 'pan_from_load', { pan: figureOf(pan) }));
  return pan;
}

function checkLoad(data: Sieves, total: number, panWeighed: boolean, remarks: GrindRemark[]): void {
  if (data.load_g === null) return;
  const loss = data.load_g - total;
  // Every reading may be half a step off; twice that for a tare.
  const slack = (data.sieves.length + 2) * data.step_g;
  const values = { load: figureOf(data.load_g, 4), sum: figureOf(total, 4) };
  if (loss < -slack)
    remarks.push(grindRemark('problem', 'more_than_load', { ...values, excess: figureOf(-loss) }));
  const relative = loss / data.load_g;
  if (panWeighed && loss > slack && relative > LOSS)
    remarks.push(
      grindRemark(relative > GREAT_LOSS ? 'problem' : 'caution', 'sieve_loss', {
        ...values,
        loss: figureOf(loss),
        percent: figureOf(100 * relative, 2),
      }),
    );
}

function checkApertures(data: Sieves, remarks: GrindRemark[]): void {
  for (const { aperture_um } of data.sieves) {
    const now = supersededBy(aperture_um);
    if (now !== null)
      remarks.push(grindRemark('note', 'aperture_superseded', { aperture: aperture_um, now }));
    else if (!isStandardAperture(aperture_um))
      remarks.push(grindRemark('note', 'aperture_not_standard', { aperture: aperture_um }));
  }
}

/** Which sieve to add. */
function adviseSieves(limits: Float64Array, share: Float64Array, remarks: GrindRemark[]): void {
  const um = Array.from(limits, (limit) => Math.round(limit / MICROMETRE));
  const percent = (x: number) => figureOf(100 * x, 2);
  const known = APERTURES.map((row) => row.aperture_um);
  const J = limits.length;
  if (J < 5) remarks.push(grindRemark('note', 'few_sieves', { count: J }));
  const finer = known.find((a) => a <= 0.72 * um[0]!);
  if (share[0]! > HEAVY.pan && finer !== undefined)
    remarks.push(
      grindRemark('caution', 'pan_heavy', { percent: percent(share[0]!), aperture: um[0]!, finer }),
    );
  const coarser = known.findLast((a) => a >= 1.18 * um[J - 1]!);
  if (share[J]! > HEAVY.top && coarser !== undefined)
    remarks.push(
      grindRemark('caution', 'top_heavy', { percent: percent(share[J]!), aperture: um[J - 1]!, coarser }),
    );
  for (let j = 1; j < J; j++) {
    const [low, high] = [um[j - 1]!, um[j]!];
    const inside = known.filter((a) => a > 1.08 * low && a < 0.93 * high);
    if (!(share[j]! > HEAVY.inside) || inside.length === 0) continue;
    const middle = Math.sqrt(low * high);
    const between = inside.reduce((a, b) =>
      Math.abs(Math.log(b / middle)) < Math.abs(Math.log(a / middle)) ? b : a,
    );
    remarks.push(grindRemark('caution', 'class_heavy', { percent: percent(share[j]!), low, high, between }));
  }
}

/**
 * Independent grains that a sieving is worth: from the scatter between repeated sievings (a share Q scatters by
 * repeat·√(4Q(1−Q))), the steps of the balance, and the number of grains in the coarse classes.
 */
function worthOfSieving(data: Sieves, limits: Float64Array, share: Float64Array, total_g: number): number {
  const repeat = 4 * (data.repeat_pct / 100) ** 2;
  const reading = (data.step_g / total_g) ** 2 / 6;
  const perGrain = (diameter: number) => (GRAIN_DENSITY * Math.PI * diameter ** 3) / 6 / (total_g * 1e-3);
  let counting = 0;
  share.forEach((w, j) => {
    const size = j === 0 ? limits[0]! / 2 : j === limits.length ? 1.1 * limits[j - 1]! : limits[j]!;
    counting += w * perGrain(size);
  });
  const balance = reading / share.reduce((sum, w) => sum + w * (1 - w), 1e-9);
  return 1 / (Math.max(repeat, 1e-7) + counting + balance * share.length);
}

/** Grains narrower than this many pixels are uncertain (rule of thumb, from memory). */
const CREDIBLE_PX = 10;
/** Share of the volume in one grain, and worth of all grains, that deserve a caution. */
const ONE_GRAIN = 0.05;
const FEW = 100;

function readPhoto(data: Photo): ReadSizes {
  const remarks: GrindRemark[] = [];
  const counted = data.grains.filter((grain) => grain.counted && grain.weight > 0);
  if (counted.length < 2) return { data: null, remarks: [grindRemark('problem', 'no_fit')] };
  const grains: Grains = {
    diameter: Float64Array.from(counted, (grain) => grain.diameter_um * MICROMETRE),
    weight: Float64Array.from(counted, (grain) => grain.weight),
  };
  const volumes = grains.diameter.map((d, i) => grains.weight[i]! * d ** 3);
  const volume = volumes.reduce((sum, v) => sum + v, 0);
  const largest = volumes.reduce((best, v, i) => (v > volumes[best]! ? i : best), 0);
  const effective = effectiveGrains(grains);
  if (volumes[largest]! > ONE_GRAIN * volume)
    remarks.push(
      grindRemark('caution', 'one_grain', {
        diameter: figureOf(counted[largest]!.diameter_um),
        percent: figureOf((100 * volumes[largest]!) / volume, 2),
      }),
    );
  else if (effective < FEW)
    remarks.push(
      grindRemark('caution', 'few_grains', { count: counted.length, effective: Math.round(effective) }),
    );
  if (data.pictures.some(({ scale }) => scale === null)) remarks.push(grindRemark('caution', 'no_scale'));
  sayBlurred(data, counted, volumes, volume, remarks);
  remarks.push(grindRemark('note', 'image_and_sieve'));
  const binned = binGrains(grains);
  return {
    data: {
      by: 'photo',
      binned,
      limitDoubt: new Float64Array(binned.limits.length),
      effective,
      grains,
      scaleDoubt: scaleDoubtOf(data),
    },
    remarks,
  };
}

/** Relative doubt of all sizes together: the mean of the pictures', which are most likely wrong the same way. */
const scaleDoubtOf = ({ pictures }: Photo): number =>
  pictures.reduce((sum, { scale }) => sum + (scale?.doubt_pct ?? 0), 0) / pictures.length / 100;

function sayBlurred(
  { pictures }: Photo,
  counted: Photo['grains'],
  volumes: Float64Array,
  volume: number,
  remarks: GrindRemark[],
): void {
  let count = 0;
  let blurred = 0;
  counted.forEach((grain, i) => {
    const { scale } = pictures[grain.picture]!;
    if (!scale || grain.diameter_um >= CREDIBLE_PX * scale.pixel_um) return;
    count++;
    blurred += volumes[i]!;
  });
  if (count === 0) return;
  const values = { count, pixels: CREDIBLE_PX, percent: figureOf((100 * blurred) / volume, 2) };
  remarks.push(grindRemark(blurred > 0.01 * volume ? 'caution' : 'note', 'small_grains', values));
}

/** Reads the raw data of a whole document. */
export const readSizing = (sizing: Sizing): ReadSizes => readSizes(sizing.data);
