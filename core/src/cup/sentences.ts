/** English sentences of everything that is said about cups and their measurement, by code. */
export const cupSentences: Readonly<Record<string, string>> = {
  // Readings.
  one_reading:
    'One reading alone cannot show whether it was a good one. Read the same sample {more} more times.',
  reading_apart:
    'Reading {row} ({value} %) lies {apart} % from the others, more than readings of one sample should. Wipe the prism, stir the sample and read again; it is left out here.',
  readings_scatter:
    'The readings scatter by ± {sd} %, more than the ± {expected} % of this instrument. Look for bubbles, grounds, or a sample that is still cooling.',
  enough_readings:
    'More readings would change little: how far the instrument itself may be off (± {limit} %) is what remains.',
  more_readings: '{more} more readings would bring the doubt of the mean from ± {now} to ± {then} %.',
  sample_warm:
    'A sample was read at {sample} °C; this instrument is true from {from} to {to} °C. Wait about {wait} min at {room} °C, covered, and read again.',
  sample_unknown: 'The temperature of the sample was not noted. Let it come to that of the room, covered.',
  lost_to_air:
    'The sample lost {lost} % of its mass to the air, which makes it read stronger; {corrected} % is taken instead of {read} %.',
  // Brix.
  brix_default:
    'No samples of this instrument are known, so the published slope is taken; those that were published disagree by ± {spread} %. Two or three samples dried in an oven make it yours.',
  brix_few: 'The calibration rests on {count} samples; the published slopes are still leaned on.',
  brix_beyond: '{brix} °Brix lies outside the {from} to {to} that was calibrated.',
  brix_odd:
    'Sample {row} ({brix} °Brix, {strength} %) lies {apart} times its doubt from the line. Measure it again.',
  brix_slope_odd:
    'The slope {slope} lies far outside what was published for filter coffee ({low} to {high}). Check the pairs: °Brix first, then strength.',
  // Balance.
  mass_missing:
    '{mass} g are unaccounted for, more than weighing explains (± {doubt} g). Something was spilled, or one of the weighings is wrong.',
  mass_too_much: '{mass} g too much came out, more than weighing explains (± {doubt} g). Weigh again.',
  // Preference.
  liking_few:
    '{count} cups with a mark are too few to say what is liked. {more} more, spread over strength and yield, make a first guess.',
  liking_flat:
    'So far the marks do not depend on strength and yield by more than their scatter. {more} more cups would show a preference of half a mark, if there is one.',
  liking_edge: 'The best place lies at the edge of what was tasted. Brew beyond it before believing it.',
  liking_wide:
    'The preferred region is still wide. Cups still needed to narrow it to half a mark: about {more}.',
  liking_settled: 'The preferred region is settled to half a mark by {count} cups.',
  liking_capped: 'Even {more} more cups would hardly settle it: marks scatter by ± {noise}.',
};

/** Something to know about a cup. */
export interface CupRemark {
  level: 'note' | 'caution' | 'problem';
  code: string;
  values: Readonly<Record<string, string | number>>;
  /** The English sentence. */
  sentence: string;
}

/** @throws Error when nobody wrote a sentence for the code. */
export function cupRemark(
  level: CupRemark['level'],
  code: string,
  values: Readonly<Record<string, string | number>> = {},
): CupRemark {
  const template = cupSentences[code];
  if (template === undefined) throw new Error(`cupRemark: there is no sentence for ${code}`);
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
  return { level, code, values, sentence: text.charAt(0).toUpperCase() + text.slice(1) };
}

/** To so many decimals, without trailing zeros. */
export const toDecimals = (x: number, decimals: number): number => {
  const scale = 10 ** decimals;
  return Math.round(x * scale) / scale;
};
