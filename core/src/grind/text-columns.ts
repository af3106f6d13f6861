import type { Weighting } from './weighting.ts';

/** Which column is what. −1 where there is none. */
export interface Role {
  size: number;
  value: number;
  of: 'class' | 'undersize' | 'oversize';
  sizes: 'upper' | 'lower' | 'middle';
  weighting: Weighting;
  /** Masses in grams, which make it a stack of sieves. */
  mass: number;
  tare: number;
}

/** Words that head a column, in lower case. */
const SIZE = /size|diam|apertur|opening|sieve|mesh|micron|[µμ]m|(^|[^a-z])(um|mm|nm)([^a-z]|$)|^[xd](\W|$)/;
const UNDER = /under|pass|finer|smaller|less|below|<|cumul|cum\b|cum\.|^q[03](\W|$)/;
const OVER = /over|coarser|larger|greater|above|>|cum\w* retained|retained cum/;
const CLASS =
  /vol|share|freq|diff|density|in class|in band|channel|retained|number|count|area|surface|%|percent|mass|weight/;
const GRAMS = /(^|[^a-z])(g|gr|gram|grams)([^a-z]|$)/;
const TARE = /tare|empty/;
const NUMBER = /number|count|particles/;
const AREA = /area|surface/;

/**
 * Finds what the columns of a table of sizes hold: from the words above them, and where these say nothing, from the figures. A
 * cumulative column is taken before one by class: it does not depend on how wide the classes are.
 * @param figures Rows of numbers, null where a cell holds none.
 */
export function columnsOf(head: readonly string[], figures: readonly (readonly (number | null)[])[]): Role {
  const names = head.map((name) => name.toLowerCase());
  const width = Math.max(...figures.map((row) => row.length));
  const columns = Array.from({ length: width }, (_, k) => k).filter(
    (k) => figures.filter((row) => typeof row[k] === 'number').length >= 2 || SIZE.test(names[k] ?? ''),
  );
  const named = (words: RegExp, but: readonly number[] = []) =>
    columns.find((k) => !but.includes(k) && words.test(names[k] ?? '')) ?? -1;
  const sizes = columns.filter((k) => SIZE.test(names[k] ?? '') && !/%|percent/.test(names[k] ?? ''));
  const size = sizes[0] ?? columns[0] ?? 0;
  const mass =
    columns.find((k) => k !== size && GRAMS.test(names[k] ?? '') && !TARE.test(names[k] ?? '')) ?? -1;
  const over = named(OVER, sizes);
  const under = columns.find((k) => !sizes.includes(k) && k !== over && UNDER.test(names[k] ?? '')) ?? -1;
  const classed = named(CLASS, [...sizes, over, under]);
  const value = [under, over, classed, columns.find((k) => !sizes.includes(k) && k !== size)].find(
    (k) => k !== undefined && k >= 0,
  );
  const chosen = value ?? (size === 0 ? 1 : 0);
  const of =
    chosen === under && under >= 0
      ? 'undersize'
      : chosen === over
        ? 'oversize'
        : chosen === classed
          ? 'class'
          : guessed(figures, size, chosen);
  const ends = of === 'class' ? endsOf(names, sizes, size, chosen) : { size, sizes: 'upper' as const };
  return {
    ...ends,
    value: chosen,
    of,
    weighting: weightingOf(names, chosen),
    mass,
    tare: named(TARE),
  };
}

/** Which end of its class a size is: two columns of sizes are both ends. */
function endsOf(
  names: readonly string[],
  sizes: readonly number[],
  size: number,
  value: number,
): { size: number; sizes: Role['sizes'] } {
  if (sizes.length >= 2) {
    const upper = sizes.find((k) => /up|high|to\b|max/.test(names[k] ?? '')) ?? sizes[1]!;
    return { size: upper, sizes: 'upper' };
  }
  // What a sieve retains is coarser than its opening.
  if (/retained/.test(names[value] ?? '')) return { size, sizes: 'lower' };
  const name = names[size] ?? '';
  if (/mid|mean|cent|average/.test(name)) return { size, sizes: 'middle' };
  if (/low|from|min/.test(name)) return { size, sizes: 'lower' };
  return { size, sizes: /up|high|to\b|max/.test(name) ? 'upper' : 'middle' };
}

function weightingOf(names: readonly string[], value: number): Weighting {
  const name = names[value] ?? '';
  if (NUMBER.test(name)) return 'number';
  return AREA.test(name) ? 'area' : 'volume';
}

/** Without words: what only rises to about 100 is undersize, what only falls from there oversize, the rest shares of classes. */
function guessed(figures: readonly (readonly (number | null)[])[], size: number, value: number): Role['of'] {
  const rows = figures
    .flatMap((row) => {
      const [d, v] = [row[size], row[value]];
      return typeof d === 'number' && typeof v === 'number' ? [{ d, v }] : [];
    })
    .sort((a, b) => a.d - b.d);
  const [first, last] = [rows[0]?.v ?? 0, rows.at(-1)?.v ?? 0];
  const top = Math.max(first, last);
  const full = top > 1.5 ? 90 : 0.9;
  if (top < full) return 'class';
  const steps = rows.slice(1).map((row, i) => row.v - rows[i]!.v);
  if (steps.every((step) => step >= 0)) return 'undersize';
  return steps.every((step) => step <= 0) ? 'oversize' : 'class';
}
