import { type KettleBody, kettleCourse, temperatureIn } from '../../brew/kettle-course.ts';
import { KETTLE_EFFICIENCY } from '../../brew/kettles.ts';
import { celsius, GRAM, kelvin } from '../../units/index.ts';
import type { BrewerOrder } from './order.ts';

/** A pour that is placed in time. */
export interface PlacedPour {
  id: string;
  start_s: number;
  /** Without moving. */
  pours_s: number;
  water_g: number;
  /** What is asked of the kettle; null: what its base holds. */
  asked_C: number | null;
  /** Number of the kettle that it must come from; null: any. */
  kettle: number | null;
}

/** What leaves the spout at one pour. */
export interface SpoutPour {
  id: string;
  kettle: string;
  asked_C: number;
  start_C: number;
  end_C: number;
  /** Left in the kettle after it; negative: the kettle runs dry by so much. */
  left_g: number;
}

/** The water of a run, kettle by kettle. */
export interface KettleWater {
  needed_g: number;
  usable_g: number;
  /** Water that has to be topped up or stand in another kettle [g]; 0 when there is enough. */
  missing_g: number;
  pours: SpoutPour[];
}

/**
 * Which kettle each pour takes, the one it names or in order the fullest that is free, and how hot it then is (closed forms of the kettle's course). A kettle
 * that runs dry keeps its last temperature; how much is missing is said.
 */
export function kettleWater(order: BrewerOrder, placed: readonly PlacedPour[]): KettleWater {
  const pours = [...placed].sort((a, b) => a.start_s - b.start_s);
  const names = order.kettles.map(({ name }) => name);
  const stand = order.kettles.map((kettle, i) => ({
    kettle,
    name: names.filter((name) => name === kettle.name).length > 1 ? `${kettle.name} ${i + 1}` : kettle.name,
    left: kettle.fill_g,
    free: 0,
    takes: [] as PlacedPour[],
  }));
  for (const pour of pours) {
    const own = pour.kettle === null ? undefined : stand[pour.kettle - 1];
    const free = stand.filter((k) => k.free <= pour.start_s + 1e-6);
    const taken = (own ? [own] : free.length > 0 ? free : stand).reduce((a, b) => (b.left > a.left ? b : a));
    taken.takes.push(pour);
    taken.left -= pour.water_g;
    taken.free = pour.start_s + pour.pours_s;
  }
  const needed_g = pours.reduce((sum, { water_g }) => sum + water_g, 0);
  const usable_g = order.kettles.reduce((sum, k) => sum + Math.max(0, k.fill_g - k.keep_g), 0);
  const found = new Map(stand.flatMap((k) => spoutOf(order, k).map((p) => [p.id, p] as const)));
  return {
    needed_g,
    usable_g,
    missing_g: Math.max(0, needed_g - usable_g),
    pours: pours.map(({ id }) => found.get(id)!),
  };
}

function spoutOf(
  order: BrewerOrder,
  {
    kettle,
    name,
    takes,
  }: { kettle: BrewerOrder['kettles'][number]; name: string; takes: readonly PlacedPour[] },
): SpoutPour[] {
  const body: KettleBody = {
    body: kettle.body_equivalent_g * GRAM,
    power: kettle.power_W * KETTLE_EFFICIENCY,
    loss: kettle.loss_W_K,
    air: kelvin(order.air_C),
    boils: kelvin(order.boils_C),
  };
  const draws = takes.map((pour) => ({
    start: pour.start_s,
    end: pour.start_s + pour.pours_s,
    flow: (pour.water_g * GRAM) / pour.pours_s,
    asked: kelvin(kettle.set_C ?? pour.asked_C ?? kettle.start_C),
  }));
  const end = draws.at(-1)?.end ?? 0;
  const start = { mass: kettle.fill_g * GRAM, temperature: kelvin(kettle.start_C) };
  const course = kettleCourse(body, start, draws, kettle.between, end).filter((s) => s.flow > 0);
  let left = kettle.fill_g;
  return takes.map((pour, i) => {
    left -= pour.water_g;
    const stretch = course[i]!;
    return {
      id: pour.id,
      kettle: name,
      asked_C: pour.asked_C ?? kettle.set_C ?? kettle.start_C,
      start_C: celsius(stretch.temperature),
      end_C: celsius(temperatureIn(body, stretch, stretch.to)),
      left_g: left,
    };
  });
}
