import { describe, expect, it } from 'vitest';
import { figureText, parseFigure, stepFigure } from './number-text.ts';

describe('parseFigure', () => {
  it.each([
    ['14', 14],
    [' 14.5 ', 14.5],
    ['14,5', 14.5],
    ['.5', 0.5],
    ['14.', 14],
    ['-3', -3],
    ['\u22123', -3],
    ['1e9', 1e9],
    ['1 600', 1600],
    ['', null],
    ['  ', null],
  ])('reads %j', (text, value) => {
    expect(parseFigure(text)).toBe(value);
  });

  it.each(['2l', '1.2.3', '--', '1,000', '1,000.5', 'e5', '-', '1e999'])(
    'keeps %j as it was typed',
    (text) => {
      expect(parseFigure(text)).toBe(text);
    },
  );

  it('reads the other decimal sign where that is the custom', () => {
    expect(parseFigure('14,5', ',')).toBe(14.5);
    expect(parseFigure('1.000', ',')).toBe('1.000');
  });
});

describe('figureText', () => {
  it.each([
    [14, '14'],
    [0.1 + 0.2, '0.3'],
    [2e10, '2e10'],
    ['2l', '2l'],
    [null, ''],
    [Number.NaN, ''],
  ])('writes %j', (value, text) => {
    expect(figureText(value)).toBe(text);
  });
});

describe('stepFigure', () => {
  it.each([
    [14, 1, 1, 15],
    [14.3, 1, 1, 15],
    [14.3, 1, -1, 14],
    [0.2, 0.1, 1, 0.3],
    [0.3, 0.1, -1, 0.2],
    [null, 0.5, -1, -0.5],
    ['2l', 5, 1, 5],
  ] as const)('from %j by %j in direction %j gives %j', (value, step, direction, result) => {
    expect(stepFigure(value, step, direction)).toBe(result);
  });
});
