import type { BrewBundle, BrewResult, CupCourse } from '@pourline/core';
import { fixed, table } from './table.ts';

/** Kettles whose course the pours follow, pour by pour. */
function kettleLines({ plan }: BrewBundle, { kettles }: BrewResult): string[] {
  const followed = kettles.filter((kettle) => kettle.followed);
  if (followed.length === 0) return [];
  const rows = [['kettle', 'pour', 'asked °C', 'leaves at °C', 'ends at °C', 'left g']];
  for (const kettle of followed)
    for (const pour of kettle.pours)
      rows.push([
        kettle.name,
        String(plan.pours.findIndex(({ id }) => id === pour.pour_id) + 1),
        fixed(pour.asked_C, 1),
        fixed(pour.start_C, 1),
        fixed(pour.end_C, 1),
        fixed(pour.left_g, 0),
      ]);
  const how = followed.map(
    ({ name, fill_g, between }) =>
      `${name}: ${fixed(fill_g, 0)} g at the start, ${between === 'on_base' ? 'back on its base' : 'off its base'} between pours.`,
  );
  return ['', ...table(rows), ...how];
}

function chillLines({ chill }: BrewResult): string[] {
  if (!chill) return [];
  return [
    '',
    `Chilled: the first ${fixed(chill.drip_g, 0)} g (${fixed(chill.strength_pct, 2)} %, until ${fixed(chill.until_s, 0)} s) from ${fixed(chill.before_C, 1)} to ${fixed(chill.after_C, 1)} °C; the body ends at ${fixed(chill.body_C, 0)} °C and the server ${fixed(chill.server_K, 1)} K cooler.`,
  ];
}

/** Minutes from serving to a moment; a dash when it lies beyond the course. */
const minutes = (cup: CupCourse, at_s: number | null): string =>
  fixed(at_s === null ? null : (at_s - cup.served_s) / 60, 1);

function servingLines({ serving }: BrewResult): string[] {
  if (!serving) return [];
  const rows = [
    ['guest’s cup', 'g', 'served s', 'at °C', 'hot min', 'cold after min', 'strength %', 'then %'],
  ];
  serving.cups.forEach((cup, i) => {
    rows.push([
      String(i + 1),
      fixed(cup.beverage_g, 1),
      fixed(cup.served_s, 0),
      fixed(cup.served_C, 1),
      minutes(cup, cup.hot_until_s),
      minutes(cup, cup.warm_until_s),
      fixed(cup.served_strength_pct, 2),
      fixed(cup.strength_pct.at(-1), 2),
    ]);
  });
  return [
    '',
    ...table(rows),
    `Hot above ${fixed(serving.hot_above_C, 0)} °C, cold below ${fixed(serving.cold_below_C, 0)} °C; minutes from serving. Heat lost: ${fixed(serving.lost.evaporation_pct, 0)} % by evaporation, ${fixed(serving.lost.surface_pct, 0)} % from the surface, ${fixed(serving.lost.wall_pct, 0)} % through the cup.`,
  ];
}

/** What surrounds the brew: kettles before it, a cold body under its drip, cups after it. */
export const aroundLines = (bundle: BrewBundle, result: BrewResult): string[] => [
  ...kettleLines(bundle, result),
  ...chillLines(result),
  ...servingLines(result),
];
