import { beforeAll, describe, expect, test } from 'vitest';
import { pourline } from './run-pourline.ts';

const PLAN = 'Four pours, cool then hot';
type Body = Record<string, unknown>;
let demo: string;
beforeAll(async () => {
  demo = (await pourline(['demo'])).out;
});

const change = (edit: (plan: Body, documents: Body[]) => void): string => {
  const archive = JSON.parse(demo) as { documents: Body[] };
  edit(archive.documents.find((d) => d.name === PLAN)!, archive.documents);
  return JSON.stringify(archive);
};

describe('simulate', { timeout: 60_000 }, () => {
  test('draws the strip, the cup and the pours', async () => {
    const { code, out, err } = await pourline(['simulate', '-', '--plan', PLAN], demo);
    expect(err).toBe('');
    expect(code).toBe(0);
    for (const lane of ['hands', 'head', 'bed', 'drip', 'strength'])
      expect(out).toMatch(new RegExp(`^${lane} .*\\|`, 'm'));
    expect(out.match(/50g/g)).toHaveLength(4);
    expect(out).toMatch(/^beverage +\d+\.\d +g$/m);
    expect(out).toMatch(/^4 +90 +50\.0 +95\.0 .*Water 90$/m);
    expect(out).toContain('defaults only');
    for (const line of out.split('\n').filter((l) => l.includes('|')))
      expect(line.length).toBeLessThanOrEqual(96);
  });

  test('follows the kettles, chills the first part and serves the cups that a plan speaks of', async () => {
    const [cone, three] = await Promise.all(
      ['Five pours in the cone', 'Three pours and a little water after'].map((name) =>
        pourline(['simulate', '-', '--plan', name, '--resolution', 'draft'], demo),
      ),
    );
    expect(cone!.out).toMatch(/^Kettle A +5 +92\.0 +8\d\.\d +8\d\.\d +5\d\d$/m);
    expect(cone!.out).toContain('Kettle A: 750 g at the start, off its base between pours.');
    expect(cone!.out).toMatch(/^2 +\d+\.\d +\d+ +6\d\.\d +\d+\.\d +\d+\.\d +\d\.\d\d +\d\.\d\d$/m);
    expect(cone!.out).toContain('Hot above 60 °C, cold below 40 °C');
    expect(three!.out).toMatch(/^Chilled: the first 40 g \(\d\.\d\d %, until \d+ s\)/m);
  });

  test('gives the whole result as JSON: lists of one length, no strange values', async () => {
    const { code, out } = await pourline(['simulate', '-', '--plan', PLAN, '--json', '--near', '60'], demo);
    expect(code).toBe(0);
    const result = JSON.parse(out);
    const n = result.trace.time_s.length;
    expect(n).toBeGreaterThan(100);
    for (const name of ['beverage_g', 'bed_top_C', 'strength_pct', 'drip_g_s'])
      expect(result.trace[name]).toHaveLength(n);
    expect(result.trace.bed_C).toHaveLength(n * result.trace.cells);
    expect(result.cup.beverage_g).toBeGreaterThan(100);
    expect(result.pours).toHaveLength(4);
    for (const extra of ['bands', 'matters', 'explains']) expect(result[extra]).toBeNull();
    expect(result.near.visits.length).toBeGreaterThan(0);
    expect(result.closure.water).toBeLessThan(1e-10);
  });

  test('says the same thing twice, bit for bit', async () => {
    const args = ['simulate', '-', '--plan', PLAN, '--json', '--resolution', 'draft'];
    const [one, two] = await Promise.all([pourline(args, demo), pourline(args, demo)]);
    expect(two.out).toBe(one.out);
  });

  test('adds bands that hold their own middle', async () => {
    const { out } = await pourline(['simulate', '-', '--plan', PLAN, '--json', '--bands', '6'], demo);
    const { bands } = JSON.parse(out);
    expect(bands.runs).toBe(6);
    expect(bands.beverage_g.low).toBeLessThanOrEqual(bands.beverage_g.mid);
    expect(bands.beverage_g.mid).toBeLessThanOrEqual(bands.beverage_g.high);
  });

  test('ranks what matters', async () => {
    const { out, err } = await pourline(
      ['simulate', '-', '--plan', PLAN, '--resolution', 'draft', '--matters', '1'],
      demo,
    );
    expect(err).toBe('');
    expect(out).toMatch(/^1 g more coffee +\+0\.\d\d /m);
    expect(out).toMatch(/^not known exactly +plausible/m);
  });

  test('finds a plan by id, too', async () => {
    const { id } = JSON.parse(demo).documents.find((d: Body) => d.name === 'Five pours in the cone');
    const { code, out } = await pourline(['simulate', '-', '--plan', id, '--resolution', 'draft'], demo);
    expect(code).toBe(0);
    expect(out).toMatch(/^Five pours in the cone/);
  });

  test.each([
    [['--resolution', 'perfect'], 'draft, standard, reference'],
    [['--bands', '1'], 'whole number from 2 to 10000'],
    [['--bands', 'many'], 'whole number from 2 to 10000'],
    [['--near', 'hot'], 'not a temperature'],
    [['--matters', '0'], 'whole number from 1 to 1000'],
    [['--explains', 'all'], 'whole number from 2 to 65536'],
    [[], 'choose one with --plan'],
  ])('%j is a wrong command line: code 2', async (options, sentence) => {
    const { code, err } = await pourline(['simulate', '-', ...options], demo);
    expect(code).toBe(2);
    expect(err).toContain(sentence);
  });

  test('lists the plans when the one asked for is not there: code 3', async () => {
    const { code, err } = await pourline(['simulate', '-', '--plan', 'Six pours'], demo);
    expect(code).toBe(3);
    expect(err).toContain('no plan "Six pours"');
    expect(err).toContain(PLAN);
  });

  test('a dose of 0 is refused at its field: code 1', async () => {
    const bad = change((plan) => {
      plan.dose_g = 0;
    });
    const { code, err } = await pourline(['simulate', '-', '--plan', PLAN], bad);
    expect(code).toBe(1);
    expect(err).toMatch(/dose/i);
  });

  test('a kettle hotter than water boils at the venue is refused, with the limit', async () => {
    const bad = change((plan, documents) => {
      plan.venue_id = documents.find((d) => d.kind === 'venue' && String(d.name).includes('1 600 m'))!.id;
    });
    const { code, out } = await pourline(['simulate', '-', '--plan', PLAN, '--json'], bad);
    expect(code).toBe(1);
    const { problems } = JSON.parse(out);
    expect(problems).toHaveLength(3);
    expect(problems[0].path).toEqual(['pours', 1, 'kettle_temperature_C']);
    expect(problems[0].sentence).toContain('94.');
    const check = await pourline(['check', '-'], bad);
    expect(check.code).toBe(1);
    expect(check.err).toContain('94.');
  });
});
