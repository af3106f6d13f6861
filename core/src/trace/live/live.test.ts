import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileLinePattern, type LinePattern, matchLine } from './line-pattern.ts';
import { feedLines, flushLines, startLines } from './line-reader.ts';
import { proposeLinePattern } from './propose-pattern.ts';

function pattern(text: string): LinePattern {
  const compiled = compileLinePattern(text);
  if (!compiled.ok) throw new Error(compiled.problems.map((p) => p.sentence).join('\n'));
  return compiled.value;
}

describe('a line by its pattern', () => {
  it.each([
    ['', '   12.3 g', 12.3, 'g', null],
    ['', 'ST,GS,+  123.4  g', 123.4, 'g', true],
    ['', 'US,NT,-0012.3 g', -12.3, 'g', false],
    ['', 'S D     -0.5 g', -0.5, 'g', false],
    ['', '93,4 °C', 93.4, '°C', null],
    ['{number} {unit}', '-   7.05kg', -7.05, 'kg', null],
    ['W:{number}{unit};', 'w:12.5g;', 12.5, 'g', null],
    ['{skip}T={number}', 'M=12.3;T=91.5', 91.5, '', null],
    ['{stable:ST}{moving:US},{skip},{number} {unit}', 'US,GS,+ 99.9 g', 99.9, 'g', false],
    ['{stable:ST}{moving:US},{skip},{number} {unit}', 'ST,GS,+ 99.9 g', 99.9, 'g', true],
    ['{time} {number}', '12.40 180.2', 180.2, '', null],
    ['{number}{stable:*|!}', '5.0!', 5, '', true],
  ])('%j reads %j', (text, line, value, unit, stable) => {
    expect(matchLine(pattern(text), line)).toMatchObject({ value, unit, stable });
  });
  it.each([
    ['{number} g', '12.3 kg'],
    ['W{number}', 'X12'],
    ['{number}', 'no figure'],
    ['', ''],
  ])('%j does not read %j', (text, line) => {
    expect(matchLine(pattern(text), line)).toBeNull();
  });
  it.each([
    ['{number', 'In the pattern, "{number" opens a brace and never closes it. Add the closing brace.'],
    [
      '{weight}',
      'The pattern holds "{weight}", which means nothing here; in braces there may be: number, unit, time, skip, stable:… and moving:….',
    ],
    ['{unit}', 'The pattern has 0 readings; it needs the word number, in braces, exactly once.'],
    ['{number}{number}', 'The pattern has 2 readings; it needs the word number, in braces, exactly once.'],
    ['x'.repeat(300), 'Pattern is too long; it may hold at most 200 characters.'],
  ])('%j is refused with a sentence', (text, sentence) => {
    const compiled = compileLinePattern(text);
    expect(compiled.ok || compiled.problems[0]!.sentence).toBe(sentence);
  });
  it('takes no longer for a line that was made to be hard', () => {
    const hard = pattern('{skip}a{skip}a{skip}a{skip}a{skip}a{number}');
    const before = performance.now();
    expect(matchLine(hard, 'a'.repeat(100_000))).toBeNull();
    expect(performance.now() - before).toBeLessThan(5_000);
  });
});

describe('a stream', () => {
  const values = (pieces: readonly (string | Uint8Array)[], unit = 'g') => {
    let state = startLines(pattern(''), unit);
    const readings = pieces.flatMap((piece, i) => {
      const fed = feedLines(state, piece, i);
      state = fed.state;
      return fed.readings;
    });
    return { readings, state };
  };
  it('gives the same readings wherever it is cut', () => {
    const text = 'ST,+ 10.0 g\r\nUS,+ 10.5 g\r\nST,- 0.2 g\r\n';
    const whole = values([text]).readings.map(({ value, stable }) => [value, stable]);
    expect(whole).toEqual([
      [10, true],
      [10.5, false],
      [-0.2, true],
    ]);
    for (const size of [1, 2, 5, 9])
      expect(
        values(text.match(new RegExp(`[\\s\\S]{1,${size}}`, 'g'))!).readings.map(({ value, stable }) => [
          value,
          stable,
        ]),
      ).toEqual(whole);
  });
  it('comes in our units, and as printed when the unit is unknown', () => {
    expect(values(['1.5 kg\n200\n20 pcs\n']).readings).toMatchObject([
      { value: 1500, of: 'mass' },
      { value: 200, of: 'mass' },
      { value: 20, of: 'other' },
    ]);
    expect(values(['200 F\n']).readings[0]).toMatchObject({ of: 'temperature' });
    expect(values(['200 F\n']).readings[0]!.value).toBeCloseTo(93.333, 3);
  });
  it('holds back a line that has only begun, until it ends or is asked for', () => {
    const { readings, state } = values(['12.3 g\n45.']);
    expect(readings).toHaveLength(1);
    expect(feedLines(state, '6 g\n', 9).readings).toMatchObject([{ value: 45.6, at_s: 9 }]);
    expect(flushLines(state, 9).readings).toMatchObject([{ value: 45 }]);
  });
  it('reads degrees in Latin-1 and in UTF-8, framed lines, and counts noise', () => {
    const bytes = (...list: (number | string)[]) =>
      Uint8Array.from(
        list.flatMap((x) => (typeof x === 'number' ? [x] : [...x].map((s) => s.charCodeAt(0)))),
      );
    expect(values([bytes('91.5 ', 0xb0, 'C\n', '91.6 ', 0xc2, 0xb0, 'C\n')]).readings).toMatchObject([
      { value: 91.5, of: 'temperature' },
      { value: 91.6, of: 'temperature' },
    ]);
    expect(values([bytes(2, '  12.3 g', 3)]).readings).toMatchObject([{ value: 12.3 }]);
    const noise = values([bytes(0x80, 0xff, 0x91, '7', 0xfe, 0x9a, '\n', '1.0 g\n')]);
    expect(noise.readings).toMatchObject([{ value: 1 }]);
    expect(noise.state).toMatchObject({ read: 1, missed: 1 });
  });
  it('throws a line away that never ends, and goes on after it', () => {
    const { readings, state } = values(['x'.repeat(5_000), 'x'.repeat(5_000), 'end\n3.0 g\n']);
    expect(readings).toMatchObject([{ value: 3 }]);
    expect(state).toMatchObject({ missed: 1, begun: '' });
  });
  it('never throws, whatever comes', () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 60 }), { maxLength: 10 }), (pieces) => {
        const { readings } = values(pieces);
        for (const { value } of readings) expect(Number.isFinite(value)).toBe(true);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });
});

describe('a pattern proposed from lines', () => {
  it.each([
    [['12.3 g', '12.4 g'], ''],
    [['1 0.0 g', '2 0.0 g', '3 12.1 g', '4 19.0 g', '5 19.0 g'], null],
    [['CH1 91.2 C', 'CH1 91.4 C', 'CH1 91.7 C'], null],
  ])('%j', (lines, expected) => {
    const proposed = proposeLinePattern(lines);
    if (expected !== null) expect(proposed).toBe(expected);
    const last = lines.at(-1)!;
    expect(matchLine(pattern(proposed), last)?.value).toBe(Number(/[\d.]+(?= [gC])/.exec(last)![0]));
  });
});
