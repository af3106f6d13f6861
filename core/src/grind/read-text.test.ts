import { describe, expect, it } from 'vitest';
import { readSizeText } from './read-text.ts';

function data(text: string) {
  const read = readSizeText(text, 'a.csv');
  if (!read.ok) throw new Error(read.problems.map((p) => p.sentence).join(' '));
  return read.value.data;
}
const table = (text: string) => {
  const found = data(text);
  if (found.by !== 'table') throw new Error(found.by);
  return found;
};
const pairs = (text: string) => table(text).rows.map((row) => [row.size_um, row.value_pct]);
const problems = (text: string) => {
  const read = readSizeText(text);
  return read.ok ? [] : read.problems.map((p) => p.sentence);
};
const plain = [
  [10.5, 1.25],
  [100, 38.75],
  [1000.5, 60],
];

describe('the same table, written by different hands', () => {
  it.each([
    ['commas and points', 'Size (µm),Volume (%)\n10.5,1.25\n100,38.75\n1000.5,60\n'],
    ['semicolons and commas', 'Size (µm);Volume (%)\n10,5;1,25\n100;38,75\n1000,5;60\n'],
    ['tabs and points', 'Size um\tVolume %\n10.5\t1.25\n100\t38.75\n1000.5\t60'],
    ['tabs and commas, thousands with points', 'Size um\tVolume %\n10,5\t1,25\n100\t38,75\n1.000,5\t60'],
    ['thousands with commas', 'Size um;Volume %\n10.5;1.25\n100;38.75\n1,000.5;60'],
    ['units in the cells', 'Size;Volume\n10.5 µm;1.25 %\n100 µm;38.75 %\n1000.5 µm;60 %'],
    [
      'Windows line ends and a mark at the start',
      '\uFEFFSize um;Volume %\r\n10,5;1,25\r\n100;38,75\r\n1000,5;60\r\n',
    ],
    ['falling sizes', 'Size um;Volume %\n1000.5;60\n100;38.75\n10.5;1.25'],
    [
      'lines before and after',
      'Run 7;\nOperator;N\n\nSize um;Volume %\n10.5;1.25\n100;38.75\n1000.5;60\nTotal;100',
    ],
    ['millimetres', 'Diameter mm;Volume %\n0.0105;1.25\n0.1;38.75\n1.0005;60'],
    ['nanometres', 'Diameter nm;Volume %\n10500;1.25\n100000;38.75\n1000500;60'],
    ['no head', '10.5;1.25\n100;38.75\n1000.5;60'],
    ['quotes', '"Size um","Volume %"\n"10.5","1.25"\n"100","38.75"\n"1000.5","60"'],
    ['an empty row of size 0', 'Size um;Volume %\n0;0\n10.5;1.25\n100;38.75\n1000.5;60'],
  ])('%s', (_, text) => {
    expect(pairs(text)).toEqual(plain);
    expect(table(text).of).toBe('class');
  });
  it('keeps the text as it came', () => {
    const text = 'x;y\n10;40\n20;60';
    expect(table(text).file).toEqual({ name: 'a.csv', text, attachment: null });
  });
});

describe('what the columns mean', () => {
  it.each([
    ['Size,Undersize %\n10,5\n20,60\n30,100', 'undersize', 'upper'],
    ['Size,Cumulative %\n10,5\n20,60\n30,100', 'undersize', 'upper'],
    ['Size,% passing\n10,5\n20,60\n30,100', 'undersize', 'upper'],
    ['Size,Oversize %\n10,95\n20,40\n30,0', 'oversize', 'upper'],
    ['10,5\n20,60\n30,100', 'undersize', 'upper'],
    ['10,95\n20,40\n30,0', 'oversize', 'upper'],
    ['Size,Vol %,Undersize %\n10,5,5\n20,55,60\n30,40,100', 'undersize', 'upper'],
    ['Mean size,Vol %\n10,5\n20,55\n30,40', 'class', 'middle'],
    ['From um,To um,Vol %\n5,10,5\n10,20,55\n20,30,40', 'class', 'upper'],
    ['Sieve um,Retained %\n10,5\n20,55\n30,40', 'class', 'lower'],
  ])('%j', (text, of, sizes) => {
    expect(table(text)).toMatchObject({ of, sizes });
  });
  it('a column that counts grains or area is told apart from volume', () => {
    expect(table('Size,Number %\n10,80\n20,20').weighting).toBe('number');
    expect(table('Size,Area %\n10,80\n20,20').weighting).toBe('area');
    expect(table('Size,Volume %\n10,80\n20,20').weighting).toBe('volume');
  });
  it('a column in grams makes it a stack of sieves', () => {
    expect(data('Sieve µm,Mass g,Empty g\n500,305.2,300\n1000,302,300\npan,250.5,250')).toMatchObject({
      by: 'sieves',
      sieves: [
        { aperture_um: 1000, weighed_g: 302, tare_g: 300 },
        { aperture_um: 500, weighed_g: 305.2, tare_g: 300 },
      ],
      pan: { weighed_g: 250.5, tare_g: 250 },
    });
  });
});

describe('what cannot be read', () => {
  it.each([
    [
      '',
      'No table was found in this text: it needs lines with a size and a share, separated by commas, semicolons or tabs.',
    ],
    [
      'not a table',
      'No table was found in this text: it needs lines with a size and a share, separated by commas, semicolons or tabs.',
    ],
    ['1\n2\n3', 'The lines of this text hold one number each; a table needs a size and a share beside it.'],
    [
      'Size,Volume\n10,5,1,25\n100,0,38,75',
      'In this text commas stand both between columns and inside numbers ("10,5,1,25"). Save it with semicolons between columns, or with points as decimals.',
    ],
    [
      'Size;Vol\n10;abc\n20;50',
      'Line 2: "abc" under "Vol" is not a number. Correct it, or take the line out.',
    ],
    [
      'Size;Vol\n10;50\n20;-2\n30;52',
      'Line 3: -2 under "Vol" is negative; a share or a mass cannot be. Correct it, or set it to 0 when it is noise.',
    ],
    ['Size;Vol\n10;50\n10;50', 'Line 3: the size 10 µm stands there twice. Take one of the lines out.'],
    [
      'Size;Vol\n0;5\n10;95',
      'Line 2: the size is 0; it must be more than 0. Correct it, or take the line out.',
    ],
  ])('%j', (text, sentence) => {
    expect(problems(text)).toContain(sentence);
  });
  it('says everything that is wrong, not the first alone', () => {
    expect(problems('Size;Vol\n10;abc\n20;-1\n30;5\n30;5')).toHaveLength(3);
  });
  it('never throws, whatever comes', () => {
    for (const text of ['\u0000', '"', '""""\n;;;', ';;;;\n1;1\n', '1e999;2\n3;4', '﻿\n\n', '1;2'.repeat(500)])
      expect(() => readSizeText(text)).not.toThrow();
  });
});
