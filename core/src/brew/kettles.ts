import { type BrewBundle, type Pour, pourDuration, pourEnd, venuePressure } from '../documents/index.ts';
import { boilingPoint, celsius, GRAM, kelvin } from '../units/index.ts';
import { type KettleBody, type KettleStretch, kettleCourse, massIn, temperatureIn } from './kettle-course.ts';
import type { KettleCourse, KettlePour } from './result.ts';

/** Share of the mains power that reaches the water (common practice: a jug kettle, 85–90 %). */
export const KETTLE_EFFICIENCY = 0.88;
/** Most seconds between two points of a drawn course, and most points in the length of one. */
const DRAWN_STEP = 5;
const DRAWN_POINTS = 400;

type Kettle = BrewBundle['setup']['kettles'][number];

/**
 * The course of every kettle that a pour is taken from: its temperature and mass, and what leaves its spout. A kettle that
 * the plan lists under `kettles` is `followed`: its pours are as hot as this says. Any other is computed full, at the
 * temperature of its first pour, and back on its base between pours, to say whether what is asked can be done.
 * Exact: each stretch has a closed form. The stream is taken to leave at the temperature of the water inside.
 */
export function kettleCourses(bundle: BrewBundle): KettleCourse[] {
  const { plan, setup, venue } = bundle;
  const courses: KettleCourse[] = [];
  const end = Math.max(...plan.pours.map(pourEnd));
  for (const kettle of setup.kettles) {
    const pours = plan.pours
      .filter((pour) => pour.kettle_id === kettle.id)
      .sort((a, b) => a.start_s - b.start_s);
    const first = pours[0];
    if (!first) continue;
    const use = plan.kettles.find((entry) => entry.kettle_id === kettle.id);
    const body: KettleBody = {
      body: kettle.body_equivalent_g * GRAM,
      power: kettle.power_W * KETTLE_EFFICIENCY,
      loss: kettle.loss_W_K,
      air: kelvin(venue.air_C),
      boils: boilingPoint(venuePressure(venue)),
    };
    const fill = (use?.fill_g ?? kettle.capacity_g) * GRAM;
    const start = { mass: fill, temperature: kelvin(use?.start_C ?? first.kettle_temperature_C) };
    const draws = pours.map((pour) => ({
      start: pour.start_s,
      end: pourEnd(pour),
      flow: (pour.water_g * GRAM) / pourDuration(pour),
      asked: kelvin(pour.kettle_temperature_C),
    }));
    const stretches = kettleCourse(body, start, draws, use?.between ?? 'on_base', end);
    courses.push({
      kettle_id: kettle.id,
      name: kettle.name,
      followed: use !== undefined,
      between: use?.between ?? 'on_base',
      fill_g: fill / GRAM,
      needed_g: pours.reduce((sum, pour) => sum + pour.water_g, 0),
      boils_C: celsius(body.boils),
      empty_s: emptyAt(stretches),
      pours: pours.map((pour) => atPour(body, stretches, pour)),
      ...drawn(body, stretches),
    });
  }
  return courses;
}

function atPour(body: KettleBody, stretches: readonly KettleStretch[], pour: Pour): KettlePour {
  const stretch = stretches.find((s) => s.flow > 0 && s.from >= pour.start_s - 1e-9)!;
  return {
    pour_id: pour.id,
    asked_C: pour.kettle_temperature_C,
    start_C: celsius(stretch.temperature),
    end_C: celsius(temperatureIn(body, stretch, stretch.to)),
    left_g: massIn(stretch, stretch.to) / GRAM,
  };
}

/** Crumbs of rounding in a mass that was meant to be used up [kg]. */
const CRUMB = 1e-9;

/** Moment at which a pour finds no water left; null when it all suffices. */
function emptyAt(stretches: readonly KettleStretch[]): number | null {
  for (const s of stretches) if (s.flow * (s.to - s.from) > s.mass + CRUMB) return s.from + s.mass / s.flow;
  return null;
}

/** The course as a polyline through every event. */
function drawn(
  body: KettleBody,
  stretches: readonly KettleStretch[],
): Pick<KettleCourse, 'time_s' | 'temperature_C' | 'water_g'> {
  const end = stretches.at(-1)?.to ?? 0;
  const step = Math.max(DRAWN_STEP, end / DRAWN_POINTS);
  const time: number[] = [];
  const temperature: number[] = [];
  const water: number[] = [];
  const put = (s: KettleStretch, t: number): void => {
    time.push(t);
    temperature.push(celsius(temperatureIn(body, s, t)));
    water.push(massIn(s, t) / GRAM);
  };
  for (const s of stretches) {
    const parts = Math.ceil((s.to - s.from) / step);
    for (let i = 0; i < parts; i++) put(s, s.from + ((s.to - s.from) * i) / parts);
  }
  const last = stretches.at(-1);
  if (last) put(last, last.to);
  return {
    time_s: Float64Array.from(time),
    temperature_C: Float64Array.from(temperature),
    water_g: Float64Array.from(water),
  };
}

/** Kettle temperature [°C] at the start and end of each pour whose kettle is followed, by pour. */
export function followedPours(bundle: BrewBundle): ReadonlyMap<string, KettlePour> {
  const found = new Map<string, KettlePour>();
  if (bundle.plan.kettles.length === 0) return found;
  for (const course of kettleCourses(bundle))
    if (course.followed) for (const pour of course.pours) found.set(pour.pour_id, pour);
  return found;
}

/** Change that passes without a word [K]. */
const QUIET = 1;

export interface KettleFinding {
  level: 'problem' | 'caution';
  code: string;
  at_s: number;
  values: Record<string, string | number>;
}

/**
 * What a brewer should know about the kettles: empty, too cool, still too hot, and what to do about it. Of several pours from
 * one kettle that miss in the same way, the worst is named.
 */
export function kettleFindings(bundle: BrewBundle, courses: readonly KettleCourse[]): KettleFinding[] {
  return courses.flatMap((course) => {
    const kettle = bundle.setup.kettles.find(({ id }) => id === course.kettle_id)!;
    const worst = new Map<string, { finding: KettleFinding; miss: number }>();
    course.pours.forEach(({ start_C, asked_C }, i) => {
      const finding = temperatureFinding(bundle, course, kettle, i);
      const miss = Math.abs(start_C - asked_C);
      if (finding && !(miss <= (worst.get(finding.code)?.miss ?? 0)))
        worst.set(finding.code, { finding, miss });
    });
    return [...emptyFinding(bundle, course), ...[...worst.values()].map(({ finding }) => finding)];
  });
}

const startOf = (bundle: BrewBundle, id: string): number =>
  bundle.plan.pours.find((pour) => pour.id === id)!.start_s;

function emptyFinding(bundle: BrewBundle, course: KettleCourse): KettleFinding[] {
  const { name, fill_g, needed_g, empty_s } = course;
  if (empty_s === null) return [];
  const needed = Math.round(needed_g);
  if (course.followed)
    return [
      {
        level: 'problem',
        code: 'kettle_runs_empty',
        at_s: empty_s,
        values: { kettle: name, fill: Math.round(fill_g), needed },
      },
    ];
  const at_s = startOf(bundle, course.pours[0]!.pour_id);
  return [
    { level: 'caution', code: 'kettle_too_small', at_s, values: { kettle: name, capacity: fill_g, needed } },
  ];
}

function temperatureFinding(
  bundle: BrewBundle,
  course: KettleCourse,
  kettle: Kettle,
  i: number,
): KettleFinding | null {
  const pour = course.pours[i]!;
  const miss = pour.start_C - pour.asked_C;
  if (Math.abs(miss) <= QUIET) return null;
  const before = course.pours[i - 1];
  const at_s = startOf(bundle, pour.pour_id);
  const common = { level: 'caution' as const, at_s };
  const asked = { kettle: course.name, asked: pour.asked_C, got: tenth(pour.start_C) };
  if (course.followed) {
    if (miss > 0) return { ...common, code: 'kettle_still_hot', values: asked };
    if (course.between === 'off_base') return { ...common, code: 'kettle_cooled', values: asked };
    return { ...common, code: 'kettle_still_heating', values: { ...asked, power: kettle.power_W } };
  }
  if (!before) return null;
  const change = pour.asked_C - before.end_C;
  const values = {
    kettle: course.name,
    from: Math.round(before.end_C),
    to: pour.asked_C,
    needed: Math.round(Math.abs(change)),
    possible: Math.round(Math.abs(pour.start_C - before.end_C)),
  };
  return { ...common, code: miss < 0 ? 'kettle_too_slow' : 'kettle_too_hot', values };
}

const tenth = (x: number): number => Math.round(10 * x) / 10;
