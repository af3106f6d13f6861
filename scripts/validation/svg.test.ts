import { describe, expect, it } from 'vitest';
import { drawPlot, type Plot, ticksOf } from './svg.ts';
import { fitTwoTimes } from './two-times.ts';

const plot: Plot = {
  title: 'A < B',
  description: 'Two rows.',
  x: { label: 'time [s]', from: 0, to: 10 },
  y: { label: 'a & b', from: 0.01, to: 1, log: true },
  series: [
    {
      name: 'one',
      style: 'line',
      colour: 0,
      points: [
        [0, 1],
        [5, 0.1],
        [10, 0.01],
      ],
    },
    {
      name: 'two',
      style: 'dots',
      colour: 1,
      points: [
        [2, 0.5],
        [3, 5],
        [4, Number.NaN],
      ],
    },
  ],
};

describe('plots', () => {
  const svg = drawPlot(plot);
  it('keep words readable by machines, and escape them', () => {
    expect(svg).toContain('<title id="t">A &lt; B</title>');
    expect(svg).toContain('a &amp; b');
    expect(svg).toContain('prefers-color-scheme: dark');
  });
  it('draw what lies inside the axes and nothing else', () => {
    expect(svg.match(/<circle/g)).toHaveLength(2); // one dot, one sample in the legend
    expect(svg).toContain('M68 64L384 206L700 348');
    expect(svg).not.toContain('NaN');
  });
  it('mark axes with round numbers', () => {
    expect(ticksOf({ label: '', from: 0, to: 84 })).toEqual([0, 20, 40, 60, 80]);
    expect(ticksOf({ label: '', from: 0, to: 1.1 })).toEqual([0, 0.2, 0.4, 0.6, 0.8, 1]);
    expect(ticksOf({ label: '', from: 1e-3, to: 1, log: true }).map((x) => Math.log10(x))).toEqual([
      -3, -2, -1, 0,
    ]);
  });
});

describe('two times', () => {
  it('are found again in a rise made of them', () => {
    const time = Array.from({ length: 300 }, (_, i) => i);
    const rise = time.map((t) => 1 - 0.3 * Math.exp(-t / 1.5) - 0.7 * Math.exp(-t / 42));
    const found = fitTwoTimes(time, rise);
    expect(found.fast).toBeCloseTo(1.5, 1);
    expect(found.slow).toBeCloseTo(42, 0);
    expect(found.share).toBeCloseTo(0.3, 2);
  });
});
