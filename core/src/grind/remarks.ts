/** English sentences of everything the grind room has to say, by code. Other languages translate by code and values. */
export const grindSentences: Readonly<Record<string, string>> = {
  // Sieves.
  more_than_load:
    'Sieves and pan hold {sum} g together, {excess} g more than the {load} g that were put on. A sieve held grains from before, or a tare is wrong: brush out, weigh the empty sieves and repeat. Shares are taken of the sum.',
  sieve_loss:
    '{loss} g of {load} g ({percent} %) is missing. It is dust in the air, in the mesh or on the hands, mostly fines: brush the sieves from below and repeat when fines matter.',
  nothing_weighed: 'Nothing was found on the sieves or in the pan. Weigh them again.',
  pan_from_load:
    'The pan was not weighed; {pan} g, the rest of the load, is taken to have passed the finest sieve.',
  no_pan:
    'Neither pan nor load was weighed, so what passed {aperture} µm is unknown: all shares are of what stayed on the sieves.',
  class_heavy:
    '{percent} % lies between {low} and {high} µm. One more sieve between them would show how; {between} µm is one.',
  pan_heavy:
    '{percent} % passed the finest sieve, {aperture} µm; how fine it is cannot be seen. Add a finer sieve, such as {finer} µm.',
  top_heavy:
    '{percent} % stayed on the coarsest sieve, {aperture} µm; how coarse it is cannot be seen. Add a coarser one, such as {coarser} µm.',
  few_sieves:
    'With {count} sieves, models of more than {count} parameters cannot be fitted and no fit can be tested. Five or more sieves tell fines from the rest.',
  aperture_superseded:
    '{aperture} µm stands in older tables; a sieve of that mesh made to the present standard has {now} µm. Look at its plate.',
  aperture_not_standard: '{aperture} µm is not an opening of ISO 3310-1 or ASTM E11. Look at its plate.',
  // Tables.
  table_sum:
    'The shares add up to {sum} instead of 100. They are taken as relative; check that no row is missing.',
  undersize_falls:
    'At {size} µm the cumulative share is {value} %, less than {before} % one row finer; it can only rise. Check this row, or say that the table is {other}.',
  open_below: '{percent} % is finer than the smallest size, {size} µm, and how fine is not in the table.',
  open_above: '{percent} % is coarser than the largest size, {size} µm, and how coarse is not in the table.',
  weighted_by_number:
    'The table counts grains. By volume each counts d³: {share} % of the volume hangs on the {count} coarsest classes, which hold {number} % of the grains. Expect wide bands.',
  weighted_by_area:
    'The table counts area. By volume each class counts d times more: the {count} coarsest classes, {number} % of the area, carry {share} % of the volume.',
  columns_taken: 'Column "{size}" is read as sizes and "{value}" as {of}.',
  lines_left_out: 'Lines without figures were left out ({count}); they are kept with the file.',
  rows_turned: 'The rows ran from coarse to fine; they were turned round.',
  empty_sizes: 'Rows of size 0 with nothing in them were left out ({count}).',
  unit_converted: 'Sizes were given in {unit} and are taken as µm now.',
  // Photographs.
  no_scale: 'There is no scale with these grains; their diameters are taken as given.',
  one_grain:
    'One grain, {diameter} µm, carries {percent} % of the volume. Photograph more grains before trusting anything above the median.',
  few_grains:
    'By volume these {count} grains are worth {effective}: D90 hangs on few. Spread more grains, or add pictures.',
  small_grains:
    '{count} grains are under {pixels} px wide ({percent} % of the volume); their size is uncertain. Go closer for the fines.',
  image_and_sieve:
    'A photograph sees grains lying flat: its sizes are larger than those of sieves for plates and splinters.',
  // Fits.
  no_fit: 'There are too few classes to fit anything; what was measured stands as it is.',
  model_too_rich:
    'There are too few classes for {model}; {taken} is taken. Add sieves, or choose a simpler model.',
  model_not_settled: 'The fit of {model} did not settle; its parameters are one choice among many alike.',
  poor_fit:
    'The best model misses the measured curve by up to {miss} % at {size} µm. Trust the measured curve there.',
  models_alike:
    '{first} and {second} describe these data about as well ({weight} % against {other} %). What they say beyond the measured sizes differs.',
  fines_guessed:
    'The mode of fines lies below the finest size measured ({size} µm): its median is a guess, and with it D[3,2] and surface.',
  surface_unbounded:
    'A Weibull exponent of {shape} (1 or less) gives dust an endless surface; D[3,2] and surface are left out.',
  // Mixes.
  part_all_cut: '{part}: the sieves leave nothing of it. Move their limits.',
  part_rounds_away:
    '{part}: {mass} g is less than half a step of {step} g, so none is given. Use a finer scale, or make one batch for all cups.',
  share_off:
    '{part}: steps of {step} g bring its share to {share} % instead of {asked} %. A finer scale or one batch for all cups does it.',
  retention_high:
    '{part}: {retention} g stays in the grinder each time, {percent} % of what is ground. Purge with a little of the same coffee first.',
  sieved_out: '{part}: of {ground} g ground, {kept} g are kept and {thrown} g sieved out.',
  ideal_sieve:
    'Sieves are taken to cut cleanly. By hand, a tenth of the near-size grains stays on the wrong side.',
  // Jars.
  jar_outside:
    '{jar} delivers {delivered} g, {difference} g off the {target} g wanted (allowed {tolerance}).',
  jars_short: '{count} jars are within tolerance and {needed} are needed. Weigh {missing} more.',
  jar_empty: '{jar}: its net mass is {net} g. Weigh the empty jar again.',
  // Grinder.
  few_measurements:
    'The curve rests on {count} measurements. Its slope is mostly an assumption; measure two settings far apart first.',
  curve_not_rising:
    'Between {from} and {to} on the dial the measurements say finer where it should be coarser, by more than their spread. Check the dial, the zero point and the samples.',
  beyond_measured: '{dial} lies outside the measured {low} to {high}; the curve is drawn out there.',
  target_off_curve: 'No setting between {low} and {high} gives this; the nearest is {dial}.',
  one_zero_unknown:
    'For {count} of the measurements no zero point is known; their dial is taken as it stands. After cleaning, note where the burrs touch.',
  shape_differs:
    'At the best setting the spread of sizes still differs: span {span} against {target}. Burrs make it; a mix of two settings may come nearer.',
  no_drawdown:
    'This brew does not draw down within {limit} s at the finest setting tried; the target cannot be placed.',
  // Transfer.
  answers_disagree:
    'Drawdown asks for {drawdown} and yield for {yield}, further apart than their spread: these burrs do not make the same coffee. Choose which of the two matters.',
  transfer_far:
    'The setting lies outside what was brewed ({low} to {high}): brew once at about {dial} before trusting it.',
  transfer_wide: 'The width of ± {width} comes mostly from {cause}. One more brew at {dial} narrows it most.',
  slope_assumed:
    'The brews lie too near each other to show how fast drawdown changes with the dial; the usual slope is leaned on.',
};

/** Words that sentences are filled with, by code; a face in another language has its own. */
export const grindTerms = {
  log_normal: 'one log-normal mode',
  weibull: 'Weibull’s curve',
  two_modes: 'two modes',
  three_modes: 'three modes',
  undersize: 'undersize',
  oversize: 'oversize',
  class: 'the share in each class',
  the_slope: 'the slope of the dial',
  the_brews: 'the scatter from brew to brew',
} as const;
export type GrindTerm = keyof typeof grindTerms;

/** Something to know about a measurement, a mix or a grinder. */
export interface GrindRemark {
  /** `problem`: the figures are not to be trusted as they stand; `caution`; `note`. */
  level: 'problem' | 'caution' | 'note';
  code: string;
  /** What the sentence is filled with: figures, names people gave, and the English of every term. */
  values: Readonly<Record<string, string | number>>;
  /** Those of the values that are words, by code. Absent when none is. */
  terms?: Readonly<Record<string, GrindTerm>>;
  /** The English sentence. */
  sentence: string;
}

/**
 * Makes a remark and fills its sentence. Words go into `terms`, everything else into `values`.
 * @throws Error when nobody wrote a sentence for the code.
 */
export function grindRemark(
  level: GrindRemark['level'],
  code: string,
  given: Readonly<Record<string, string | number>> = {},
  terms: Readonly<Record<string, GrindTerm>> = {},
): GrindRemark {
  const template = grindSentences[code];
  if (template === undefined) throw new Error(`grindRemark: there is no sentence for ${code}`);
  const words = Object.entries(terms).map(([name, term]) => [name, grindTerms[term]]);
  const values: Record<string, string | number> = { ...given, ...Object.fromEntries(words) };
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
  return {
    level,
    code,
    values,
    ...(words.length > 0 ? { terms } : {}),
    sentence: text.charAt(0).toUpperCase() + text.slice(1),
  };
}

/** A figure as people read it: to so many significant digits, without exponent or trailing zeros. */
export function figureOf(x: number, digits = 3): string {
  if (!Number.isFinite(x)) return '–';
  const rounded = Number(x.toPrecision(digits));
  if (Math.abs(rounded) >= 1e6) return rounded.toFixed(0);
  return Math.abs(rounded) < 1e-6 ? '0' : String(rounded);
}
