import { PLAIN_DESIGN, PLAIN_DIFFERENCE, PLAIN_NEXT } from '@pourline/core';
import { describe, expect, test } from 'vitest';
import { pourline } from './run-pourline.ts';

describe('differences, designed sets and the next brew', { timeout: 180_000 }, () => {
  test('was it the grind? The worked scenario, in sentences', async () => {
    const { code, out, err } = await pourline(
      ['difference', 'brews', '-'],
      JSON.stringify(PLAIN_DIFFERENCE.brews.example),
    );
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(out).toMatch(/^Maybe: yield of 19 marks came out 0\.60 % higher than of 20 marks/);
    expect(out).toContain('(p 0.091; scatter from brew to brew 0.33 %)');
    expect(out).toContain('it just passes: two standard errors are 0.57 %');
    expect(out).toContain('caution: The coffee was 2 days older for 19 marks');
    expect(out).toContain('2 + 2, in the order 20 marks, 19 marks, 19 marks, 20 marks (66 g of coffee)');
    expect(out).not.toMatch(/NaN|undefined|\[object/);
  });
  test('which pour, by a plan of an archive', async () => {
    const example = structuredClone(PLAIN_DIFFERENCE.pours.example) as unknown as {
      sensitivities?: unknown;
      cups: { pours: unknown[] }[];
    };
    delete example.sensitivities;
    // The plan has four pours; the last was not measured.
    for (const cup of example.cups) cup.pours.push(null);
    const { code, out, err } = await pourline(
      [
        'difference',
        'pours',
        '-',
        '--archive',
        'examples/demo-campaign.json',
        '--plan',
        'Four pours, cool then hot',
      ],
      JSON.stringify(example),
    );
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(out).toMatch(/^Middle: pour 2 is the likeliest cause/);
    expect(out).toContain('1 of 4 pours were not measured');
  });
  test('a sheet of brews and its cost from its own example, as JSON', async () => {
    const { code, out } = await pourline(
      ['design', 'make', '-', '--json'],
      JSON.stringify(PLAIN_DESIGN.make.example),
    );
    expect(code).toBe(0);
    const { figures } = JSON.parse(out);
    expect(figures.runs.length).toBe(15);
    expect(figures.grams).toBeCloseTo(15 * 16.5, 9);
    expect(figures.blocks).toBe(2);
  });
  test('bad input is said in sentences with place, value and what would do', async () => {
    const input = structuredClone(PLAIN_NEXT.brew.example) as unknown as { tried: { levels: number[] }[] };
    input.tried[1]!.levels = [17];
    const { code, err } = await pourline(['next', 'brew', '-'], JSON.stringify(input));
    expect(code).toBe(1);
    expect(err).toBe('Tried, row 2: levels has 1 entries; it needs 2, one for each factor.\n');
  });
});
