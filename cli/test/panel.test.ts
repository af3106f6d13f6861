import { PLAIN_PANEL } from '@pourline/core';
import { describe, expect, test } from 'vitest';
import { pourline } from './run-pourline.ts';

describe('panel', { timeout: 120_000 }, () => {
  test('says before pouring that too few cups prove nothing, and exits with 0', async () => {
    const { code, out, err } = await pourline(
      ['panel', 'plan', '-'],
      JSON.stringify({ protocol: 'triangle', answers: 2 }),
    );
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(out).toMatch(/^cannot: Not with these cups: even if all 2 answers were right/);
    expect(out).toContain('at least 3 answers');
  });
  test('a difference in sentences, and everything as JSON', async () => {
    const input = JSON.stringify({ protocol: 'triangle', correct: 4, answers: 4 });
    const text = await pourline(['panel', 'difference', '-'], input);
    expect(text.out).toContain('by guessing that happens 1 time in 81 (p 0.012)');
    expect(text.out).toMatch(/different, not better/);
    expect(text.out).not.toMatch(/NaN|undefined|\[object/);
    const json = await pourline(['panel', 'difference', '-', '--json'], input);
    const { figures, findings } = JSON.parse(json.out);
    expect(figures.p).toBeCloseTo(1 / 81, 12);
    // Every answer right: d′ has no end.
    expect(figures.d_prime.value).toBeNull();
    expect(findings[0]).toMatchObject({ firmness: 'clear', code: 'difference_clear' });
  });
  test('an unbalanced Latin square is refused by name', async () => {
    const orders = ['ABCD', 'BADC', 'CDAB', 'DCBA'].map((row) => [...row]);
    const { out } = await pourline(['panel', 'balance', '-'], JSON.stringify({ orders }));
    expect(out).toMatch(/^caution: Not balanced: B comes right after A 2 times/);
  });
  test('an example goes in and an answer comes out', async () => {
    const example = await pourline(['panel', 'description', '--example']);
    const { code, out } = await pourline(['panel', 'description', '-'], example.out);
    expect(code).toBe(0);
    expect(out).toContain('Hot: widen "bergamot" (2 of 5) to "citrus" (5 of 5)');
    expect(out).toContain('taste again at that age');
  });
  test('bad input is said in sentences with place, value and what would do', async () => {
    const many = await pourline(
      ['panel', 'difference', '-'],
      JSON.stringify({ protocol: 'triangle', correct: 9, answers: 5 }),
    );
    expect(many.code).toBe(1);
    expect(many.err).toBe('Correct is 9; it cannot be more than the 5 answers there are.\n');
    const wrong = await pourline(
      ['panel', 'pairs', '-', '--json'],
      JSON.stringify({
        cups: ['A', 'B'],
        pairs: [{ first: 'A', second: 'C', first_wins: 1, second_wins: 2 }],
      }),
    );
    expect(wrong.code).toBe(1);
    expect(JSON.parse(wrong.out).problems[0]).toMatchObject({
      path: ['pairs', 0, 'second'],
      code: 'unknown_name',
      sentence: 'Pairs, row 1: second is "C"; it must be one of: A, B.',
    });
    const unknown = await pourline(['panel', 'triangel', '-']);
    expect(unknown.code).toBe(2);
  });
  test('every statistic is a command', async () => {
    const { out } = await pourline(['panel', '--help']);
    for (const kind of Object.keys(PLAIN_PANEL)) expect(out).toMatch(new RegExp(`^  ${kind} `, 'm'));
  });
});
