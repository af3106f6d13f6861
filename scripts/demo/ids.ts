/**
 * Fixed identifiers of the demo documents, shaped as UUID version 7, so that the demo is the same on every machine
 * and can be taken away and brought back.
 */
const made = (group: number, n: number): string =>
  `019b8000-0000-7${String(group).padStart(3, '0')}-8000-${String(n).padStart(12, '0')}`;

export const CAMPAIGN = made(1, 1);
export const COFFEE = { washed: made(2, 1), anaerobic: made(2, 2) };
export const WATER = { soft75: made(3, 1), firm90: made(3, 2), purified: made(3, 3), tap: made(3, 4) };
export const SALT = {
  calciumChloride: made(9, 1),
  magnesiumChloride: made(9, 2),
  magnesiumSulfate: made(9, 3),
  potassiumBicarbonate: made(9, 4),
  sodiumBicarbonate: made(9, 5),
  sodiumChloride: made(9, 6),
};
export const CONCENTRATE = { calcium: made(10, 1), magnesium: made(10, 2) };
export const MIX = made(11, 1);
export const BATCH = made(12, 1);
export const CONTEST = made(15, 1);
export const TALK = made(16, 1);
export const BUDGET = made(17, 1);
export const TASTING = {
  calibration: made(18, 1),
  words: made(18, 2),
  triangle: made(18, 3),
  profile: made(18, 4),
  next: made(18, 5),
};
export const WORDS = made(19, 1);
export const DESCRIPTION = made(20, 1);
/** Identifier of the n-th answer of a demo tasting. */
export const answerId = (tasting: number, n: number): string => made(500 + tasting, n);
export const GRINDER = made(4, 1);
export const BLEND = made(14, 1);
export const SIZING = { six: made(13, 1), eight: made(13, 2), ten: made(13, 3), nineTable: made(13, 4) };
export const SETUP = { flat: made(5, 1), cone: made(5, 2), immersion: made(5, 3) };
export const VENUE = { training: made(6, 1), hall: made(6, 2) };
export const PLAN = {
  fourPours: made(7, 1),
  fourPoursAtTheHall: made(7, 2),
  fivePoursCone: made(7, 3),
  immersion: made(7, 4),
  threePours: made(7, 5),
};
export const INSTRUMENT = {
  balance: made(23, 1),
  refractometer: made(23, 2),
  oldRefractometer: made(23, 3),
  thermometer: made(23, 4),
};
/** The three cups that were brewed at once. */
export const EVENT = made(24, 1);
/** Identifier of the n-th trial, from 1. */
export const trialId = (n: number): string => made(8, n);
/** Identifier of the n-th rehearsal, from 1. */
export const rehearsalId = (n: number): string => made(22, n);
