import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lookAtTrace } from './look.ts';
import { readTrace, traceReader } from './read.ts';
import type { ColumnUse, Recording, TraceMapping } from './types.ts';

const read = (text: string): Recording => readTrace(text, lookAtTrace(text).mapping);
const codes = ({ remarks }: { remarks: readonly { code: string }[] }) => remarks.map(({ code }) => code);
const lines = (make: (i: number) => string, count = 40) =>
  Array.from({ length: count }, (_, i) => make(i)).join('\n');
const comma = (x: number, decimals = 1) => x.toFixed(decimals).replace('.', ',');

/** Every file below says this: ten rows a second, half a gram each. */
function expectPlain(recording: Recording): void {
  expect(recording.time_s).toHaveLength(40);
  expect(recording.time_s[10]).toBeCloseTo(1, 9);
  const mass = recording.channels.find(({ use }) => use === 'poured');
  expect(mass?.value[39]).toBeCloseTo(19.5, 4);
}

describe('the same recording, written by different hands', () => {
  it.each([
    ['commas and points', `time_s,mass_g\n${lines((i) => `${(i / 10).toFixed(1)},${(i / 2).toFixed(1)}`)}`],
    ['semicolons and commas', `Time (s);Weight (g)\n${lines((i) => `${comma(i / 10)};${comma(i / 2)}`)}`],
    ['tabs, thousandths of a second', `t [ms]\tm [g]\n${lines((i) => `${i * 100}\t${i / 2}`)}`],
    ['thousandths that nobody named', lines((i) => `${i * 100}\t${i / 2}`)],
    ['spaces', lines((i) => `   ${(i / 10).toFixed(1)}     ${(i / 2).toFixed(1)}`)],
    ['minutes and seconds', `t;w\n${lines((i) => `00:0${Math.floor(i / 10)}.${i % 10};${i / 2} g`)}`],
    [
      'date and time',
      `when,weight\n${lines((i) => `2027-03-05T09:12:0${Math.floor(i / 10)}.${i % 10},${i / 2}`)}`,
    ],
    [
      'over midnight',
      `clock,weight\n${lines((i) => `${i < 20 ? '23:59:5' : '00:00:0'}${Math.floor((i < 20 ? i + 80 : i - 20) / 10)}.${i % 10},${i / 2}`)}`,
    ],
    ['kilograms', `time_s;mass_kg\n${lines((i) => `${i / 10};${(i / 2000).toFixed(5)}`)}`],
    ['ounces', `time_s;mass (oz)\n${lines((i) => `${i / 10};${(i / 2 / 28.349523125).toFixed(7)}`)}`],
    ['tenths of a gram', `time_s;mass (g/10)\n${lines((i) => `${i / 10};${i * 5}`)}`],
    ['tenths of a milligram', `time_s;mass (mg/10)\n${lines((i) => `${i / 10};${i * 5000}`)}`],
    ['units below the heading', `time;mass\ns;g\n${lines((i) => `${i / 10};${i / 2}`)}`],
    ['notes before the table', `Run 7\nby N\n\ntime_s,mass_g\n${lines((i) => `${i / 10},${i / 2}`)}`],
    [
      'Windows line ends and a mark',
      `\uFEFFtime_s,mass_g\r\n${lines((i) => `${i / 10},${i / 2}`).replaceAll('\n', '\r\n')}\r\n`,
    ],
    ['old line ends', `time_s,mass_g\r${lines((i) => `${i / 10},${i / 2}`).replaceAll('\n', '\r')}`],
    ['quotes', `"time_s","mass_g"\n${lines((i) => `"${i / 10}","${i / 2}"`)}`],
    ['last row first', `time_s,mass_g\n${lines((i) => `${(39 - i) / 10},${(39 - i) / 2}`)}`],
    ['seconds from 1970', `time,mass_g\n${lines((i) => `${1_804_000_000 + i / 10},${i / 2}`)}`],
    [
      'a column nobody needs',
      `no,time_s,battery,mass_g,flow_g_s\n${lines((i) => `${i},${i / 10},87,${i / 2},5`)}`,
    ],
  ])('%s', (_, text) => expectPlain(read(text)));
  it('without times, rows are a tenth of a second apart, and it says so', () => {
    const text = `mass_g\n${lines((i) => `${i / 2}`)}`;
    expectPlain(read(text));
    expect(codes(lookAtTrace(text))).toContain('no_time_column');
  });
});

describe('what the columns are', () => {
  const uses = (text: string): ColumnUse[] => lookAtTrace(text).columns.map(({ use }) => use);
  it('is read from headings', () => {
    expect(
      uses(`Time,Poured,Server,Bed temp °C\n${lines((i) => `${i},${i * 3},${i * 2},${70 + (i % 3)}`)}`),
    ).toEqual(['time', 'poured', 'beverage', 'temperature']);
  });
  it('is seen from figures when nothing is said, and said as a guess', () => {
    const text = lines(
      (i) =>
        `${(i / 5).toFixed(1)};${(90 - i / 50).toFixed(2)};${(i * 0.7).toFixed(1)};${(i * 1.4).toFixed(1)}`,
    );
    expect(uses(text)).toEqual(['time', 'temperature', 'beverage', 'poured']);
    expect(codes(lookAtTrace(text))).toContain('use_guessed');
  });
  it('Fahrenheit and places are told', () => {
    const text = `t_s,kettle temp (F),slurry (F)\n${lines((i) => `${i},${200 - i / 10},${180 + i / 10}`)}`;
    const recording = read(text);
    expect(recording.channels.map(({ place }) => place)).toEqual(['kettle', 'head']);
    expect(recording.channels[0]!.value[0]).toBeCloseTo(((200 - 32) * 5) / 9, 9);
  });
  it('a unit that makes no brew is pointed out', () => {
    const text = `time_s,mass_kg\n${lines((i) => `${i / 10},${i * 5}`)}`;
    expect(codes(lookAtTrace(text))).toContain('unit_unlikely');
  });
});

describe('a recording with something wrong', () => {
  it.each([
    ['', 'empty_file'],
    ['   \n\n', 'empty_file'],
    ['not a table at all\njust words', 'no_figures'],
    [`\u0000\u0001\u0002\u0003PK\u0000\u0000${'\u0001'.repeat(50)}`, 'not_text'],
    [`time,mass\n${lines((i) => `${i},5,${i * 2},3`)}`, 'comma_twice'],
  ])('%j gives a sentence, not a crash', (text, code) => {
    expect(codes(lookAtTrace(text))).toContain(code);
    expect(() => read(text)).not.toThrow();
  });
  it('words among the figures are told with their line and left out', () => {
    const text = `time_s,mass_g\n${lines((i) => (i === 7 ? 'battery low' : `${i / 10},${i === 9 ? 'NaN' : i / 2}`))}`;
    const recording = read(text);
    expect(recording.time_s).toHaveLength(39);
    expect(recording.remarks.map(({ sentence }) => sentence)).toEqual([
      '1 of 40 lines were not understood and are left out, the first at line 9: "battery low".',
      'In column "mass_g", 1 cells hold no figure and are taken as gaps, the first at line 11: "NaN".',
    ]);
  });
  it('times that repeat are joined, and one that slips is left out', () => {
    const text = `time_s,mass_g,temp_C\n${lines((i) => `${(i / 10).toFixed(1)},${i / 2},\n${(i / 10).toFixed(1)},,${60 + i / 10}`)}\n3.85,7,60`;
    const recording = read(text);
    expect(recording.time_s).toHaveLength(40);
    expect(recording.channels.map(({ value }) => [value[3], value.some(Number.isNaN)])).toEqual([
      [1.5, false],
      [60.3, false],
    ]);
    expect(codes(recording)).toEqual(expect.arrayContaining(['times_doubled', 'out_of_order']));
  });
  it('a gap is named with its moment', () => {
    const recording = read(`time_s,mass_g\n${lines((i) => `${i < 20 ? i / 10 : 12 + i / 10},${i / 2}`)}`);
    expect(recording.remarks).toMatchObject([{ code: 'gap', at_s: 1.9, values: { length: 12.1 } }]);
  });
  it('of several recordings the longest is taken', () => {
    const text = `time_s,mass_g\n${lines((i) => `${(i % 30) / 10},${i / 2}`, 100)}`;
    const recording = read(text);
    expect(recording.time_s).toHaveLength(30);
    expect(codes(recording)).toContain('several_recordings');
  });
  it('a column that does not rise is refused as time', () => {
    const text = `a,b\n${lines((i) => `${i / 10},${Math.round(50 + 40 * Math.sin(i))}`)}`;
    const { mapping } = lookAtTrace(text);
    const wrong: TraceMapping = {
      ...mapping,
      columns: [
        { column: 1, head: 'b', use: 'time', unit: 's', place: null },
        { column: 0, head: 'a', use: 'poured', unit: 'g', place: null },
      ],
    };
    expect(codes(readTrace(text, wrong))).toContain('times_do_not_rise');
  });
  it('a time that stands still is refused', () => {
    const text = `time_s,mass_g\n${lines((i) => `5,${i / 2}`)}`;
    expect(codes(readTrace(text, lookAtTrace(text).mapping))).toContain('time_stands_still');
  });
});

describe('reading piece by piece', () => {
  it('gives the same wherever the text is cut', () => {
    const text = `time_s;mass_g\r\n${lines((i) => `${comma(i / 10)};${comma(i / 2)}`).replaceAll('\n', '\r\n')}`;
    const { mapping } = lookAtTrace(text);
    const whole = readTrace(text, mapping);
    for (const size of [1, 2, 3, 7, 64]) {
      const reader = traceReader(mapping);
      for (let at = 0; at < text.length; at += size) reader.feed(text.slice(at, at + size));
      expect(reader.finish()).toEqual(whole);
    }
  });
  it('takes many rows', () => {
    const rows = Array.from(
      { length: 20_000 },
      (_, i) => `${(i / 1000).toFixed(3)},${(i / 2000).toFixed(2)}`,
    );
    const recording = read(`time_s,mass_g\n${rows.join('\n')}`);
    expect(recording.rows).toBe(20_000);
    expect(recording.time_s.at(-1)).toBe(19.999);
    expect(recording.remarks).toEqual([]);
  });
});

it('never throws, whatever comes', () => {
  const cell = fc.oneof(
    fc.double({ noNaN: true }).map(String),
    fc.constantFrom(
      '',
      'NaN',
      '-',
      '1e999',
      '12:61:99',
      '2027-02-30T25:00',
      '"',
      '1,5',
      '﻿',
      '\u0000',
      'g',
      '1 g',
    ),
    fc.string({ maxLength: 8 }),
  );
  const text = fc
    .tuple(
      fc.constantFrom(',', ';', '\t', ' ', '|'),
      fc.array(fc.array(cell, { maxLength: 5 }), { maxLength: 30 }),
    )
    .map(([by, rows]) => rows.map((row) => row.join(by)).join('\n'));
  fc.assert(
    fc.property(text, (given) => {
      const look = lookAtTrace(given);
      const recording = readTrace(given, look.mapping);
      for (const { sentence } of [...look.remarks, ...recording.remarks]) {
        expect(sentence).toMatch(/^\S.*\.$/su);
        expect(sentence).not.toMatch(/undefined|\{\w+\}/);
      }
      for (let i = 1; i < recording.time_s.length; i++)
        expect(recording.time_s[i]!).toBeGreaterThan(recording.time_s[i - 1]!);
    }),
    { seed: 20261125, numRuns: 100 },
  );
});
