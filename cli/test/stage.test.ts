import { PLAIN_STAGE } from '@pourline/core';
import { describe, expect, test } from 'vitest';
import { pourline } from './run-pourline.ts';

describe('stage', { timeout: 120_000 }, () => {
  test('proves that three brewers do not fit, and says what comes nearest', async () => {
    const { code, out, err } = await pourline(
      ['stage', 'schedule', '-'],
      JSON.stringify(PLAIN_STAGE.schedule!.example),
    );
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(out).toMatch(/^not possible: Not possible: 3 brewers cannot be poured like this/);
    expect(out).toContain('nearest: 3 brewers fit with 54 s from pour to pour.');
    expect(out).not.toMatch(/NaN|undefined|\[object/);
  });
  test('checks rules as JSON and asks what is not known', async () => {
    const { out, code } = await pourline(
      ['stage', 'check', '-', '--json'],
      JSON.stringify(PLAIN_STAGE.check!.example),
    );
    expect(code).toBe(0);
    const { figures, remarks } = JSON.parse(out);
    expect(figures.verdicts).toContainEqual({ of: 'chilling', verdict: 'ask' });
    expect(remarks.length).toBe(figures.verdicts.length);
  });
  test('prices choices from its own example', async () => {
    const example = await pourline(['stage', 'price', '--example']);
    const { out, code } = await pourline(['stage', 'price', '-', '--json'], example.out);
    expect(code).toBe(0);
    expect(JSON.parse(out).figures.choices[0]).toMatchObject({ name: 'a more precise description' });
  });
  test('says what is wrong with an input and exits with 1', async () => {
    const { code, err } = await pourline(['stage', 'schedule', '-'], '{"brewers": 0}');
    expect(code).toBe(1);
    expect(err).toContain('Brewers is 0; it must be at least 1.');
  });
});
