import { readSizeText } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { dayOf, onDay } from './moments.ts';
import { emptyStack } from './new-sizing.ts';
import { openingsLeft, type SieveData, sieveSums, withSieve } from './sieve-kernels.ts';
import { cellsOf, columnNames, twoColumns } from './text-columns.ts';

const stack: SieveData = {
  by: 'sieves',
  load_g: 30,
  sieves: [
    { aperture_um: 1000, weighed_g: 310, tare_g: 300 },
    { aperture_um: 500, weighed_g: 15, tare_g: 0 },
  ],
  pan: { weighed_g: 4, tare_g: 0 },
  step_g: 0.1,
  aperture_doubt_pct: null,
  repeat_pct: 0.5,
  shaken_s: null,
};

describe('a stack of sieves', () => {
  it('adds up to shares and to what is missing', () => {
    const sums = sieveSums(stack);
    expect(sums.net_g).toEqual([10, 15]);
    expect(sums.total_g).toBe(29);
    expect(sums.pct[1]).toBeCloseTo(51.724, 3);
    expect(sums.missing_g).toBe(1);
  });

  it('adds up what can be read of fields that hold anything', () => {
    const typed = {
      ...stack,
      load_g: 'thirty' as unknown as number,
      sieves: [{ aperture_um: 500, weighed_g: 'abc' as unknown as number, tare_g: 0 }],
    };
    const sums = sieveSums(typed);
    expect(sums.total_g).toBe(4);
    expect(sums.missing_g).toBeNull();
    expect(sieveSums({ ...typed, pan: null }).pct).toEqual([0]);
  });

  it('takes a new sieve where its opening belongs, and offers only those it lacks', () => {
    expect(withSieve(stack.sieves, 710).map((row) => row.aperture_um)).toEqual([1000, 710, 500]);
    expect(withSieve(stack.sieves, 2000).map((row) => row.aperture_um)).toEqual([2000, 1000, 500]);
    expect(withSieve(stack.sieves, 90).map((row) => row.aperture_um)).toEqual([1000, 500, 90]);
    expect(openingsLeft(stack.sieves).some((row) => row.aperture_um === 500)).toBe(false);
  });

  it('starts like the last one, with its empty sieves and nothing on them', () => {
    const next = emptyStack({ data: stack } as Parameters<typeof emptyStack>[0]);
    if (next.by !== 'sieves') throw new Error('not a stack');
    expect(next.sieves.map((row) => row.aperture_um)).toEqual([1000, 500]);
    expect(sieveSums(next).total_g).toBe(0);
  });
});

describe('a pasted text', () => {
  const text =
    'Instrument note\nSize (mm);Channel;Volume (%);Undersize (%)\n0,1;1;10,5;10,5\n0,2;2;39,5;50\n0,4;3;50;100\n';

  it('is cut into the cells of its table', () => {
    const cells = cellsOf(text)!;
    expect(columnNames(cells, (n) => `column ${n}`)).toEqual([
      'Size (mm)',
      'Channel',
      'Volume (%)',
      'Undersize (%)',
    ]);
    expect(cells.rows).toHaveLength(3);
    expect(cellsOf('nothing here')).toBeNull();
  });

  it('reads by the columns a person chose, in the unit of its head', () => {
    const chosen = twoColumns(cellsOf(text)!, 0, 3);
    const read = readSizeText(chosen);
    if (!read.ok || read.value.data.by !== 'table') throw new Error('not read');
    expect(read.value.data.of).toBe('undersize');
    expect(read.value.data.rows).toEqual([
      { size_um: 100, value_pct: 10.5 },
      { size_um: 200, value_pct: 50 },
      { size_um: 400, value_pct: 100 },
    ]);
  });
});

describe('days of moments', () => {
  it('change the day and keep the time', () => {
    expect(dayOf('2027-02-20T18:40:00+08:00')).toBe('2027-02-20');
    expect(onDay('2027-02-20T18:40:00+08:00', '2027-03-01')).toBe('2027-03-01T18:40:00+08:00');
    expect(onDay(null, '2027-03-01')).toBe('2027-03-01T12:00:00+00:00');
    expect(onDay('2027-02-20T18:40:00+08:00', null)).toBeNull();
  });
});
