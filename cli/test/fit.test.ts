import { beforeAll, describe, expect, test } from 'vitest';
import { pourline } from './run-pourline.ts';

type Body = Record<string, unknown>;
const COFFEE = 'Velumbra washed';
let demo: string;
/** The demo with no more than two trials, both of one plan. */
let small: string;

beforeAll(async () => {
  demo = (await pourline(['demo'])).out;
  const archive = JSON.parse(demo) as { documents: Body[] };
  const plan = archive.documents.find(({ name }) => name === 'Four pours, cool then hot')!;
  const kept = archive.documents
    .filter(({ kind, plan_id }) => kind === 'trial' && plan_id === plan.id)
    .slice(0, 2);
  archive.documents = archive.documents.filter((d) => d.kind !== 'trial' || kept.includes(d));
  small = JSON.stringify(archive);
}, 60_000);

describe('fit', { timeout: 120_000 }, () => {
  test('tells what two trials teach, with progress beside it', async () => {
    const { code, out, err } = await pourline(['fit', '-'], small);
    expect(code).toBe(0);
    expect(err).toMatch(/^Brewing: 10 %$/m);
    expect(out).toContain(`${COFFEE}, calibrated on 2 trials`);
    expect(out).toMatch(/^extractable +% +27\.\d* +32\.\d*/m);
    expect(out).toMatch(/^noise of strength +%/m);
    expect(out).toContain('independent draws');
    expect(out).not.toMatch(/NaN|undefined|\{/);
  });

  test('gives the whole fit as JSON, and says what is wrong with one that is none', async () => {
    const { code, out } = await pourline(['fit', '-', '--coffee', COFFEE, '--json', '--seed', '5'], small);
    expect(code).toBe(0);
    const fit = JSON.parse(out);
    expect(fit.trials).toBe(2);
    expect(fit.seed).toBe(5);
    expect(fit.posterior.draws[0]).toHaveLength(fit.parameters.length);
    const bad = await pourline(
      ['simulate', '-', '--plan', 'Four pours, cool then hot', '--learned', '/dev/null'],
      demo,
    );
    expect(bad.code).not.toBe(0);
    expect(bad.err).toContain('is not JSON');
  });

  test('asks which coffee, and says when there is nothing to learn from', async () => {
    const which = await pourline(['fit', '-'], demo);
    expect(which.code).toBe(1);
    expect(which.err).toContain('There are trials of 2 coffees.');
    const archive = JSON.parse(demo) as { documents: Body[] };
    archive.documents = archive.documents.filter(({ kind }) => kind !== 'trial');
    const none = await pourline(['fit', '-'], JSON.stringify(archive));
    expect(none.code).toBe(1);
    expect(none.err).toContain('There is no trial to learn from.');
    const seed = await pourline(['fit', '-', '--seed', 'x'], demo);
    expect(seed.code).toBe(2);
  });
});
