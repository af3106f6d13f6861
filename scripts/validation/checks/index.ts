import type { Check, Gap } from '../check.ts';
import { BREWING_CHECKS } from './brewing.ts';
import { COLUMN_CHECKS, COLUMN_GAPS } from './columns.ts';
import { EXACT_CHECKS } from './exact.ts';
import { IMMERSION_CHECKS } from './immersion.ts';
import { PART_CHECKS } from './parts.ts';

/** Number of a check's id, for the order of the report: C1, C2 … then the modes. */
const rank = (id: string): number => (id.startsWith('C') ? 0 : 1_000) + Number.parseInt(id.slice(1), 10);

/** Every check that has a number, in the order of the report. */
export const CHECKS: readonly Check[] = [
  ...EXACT_CHECKS,
  ...COLUMN_CHECKS,
  ...IMMERSION_CHECKS,
  ...BREWING_CHECKS,
  ...PART_CHECKS,
].sort((a, b) => rank(a.id) - rank(b.id));

/** Checks whose data could not be had. */
export const GAPS: readonly Gap[] = [...COLUMN_GAPS];
