import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PNG } from 'pngjs';
import { afterAll, describe, expect, test } from 'vitest';
import { pourline } from './run-pourline.ts';

const folder = mkdtempSync(join(tmpdir(), 'pourline-grind-'));
afterAll(() => rmSync(folder, { recursive: true }));

const DEMO = new URL('../../examples/demo-campaign.json', import.meta.url).pathname;
const modes = (median_um: number) => ({
  by: 'modes',
  modes: [
    { share: 0.88, median_um, gsd: 1.45 },
    { share: 0.12, median_um: 48, gsd: 1.6 },
  ],
});
const sieves = {
  by: 'sieves',
  load_g: 100,
  sieves: [
    [1180, 0.4],
    [850, 7.5],
    [600, 25.7],
    [425, 30.5],
    [300, 17.5],
    [212, 9.9],
    [150, 4.6],
  ].map(([aperture_um, weighed_g]) => ({ aperture_um, weighed_g })),
  pan: { weighed_g: 3.9 },
};

/** Dark discs on a white sheet, 5 µm a pixel, no two touching: `count` of each diameter [px]. */
function discs(rows: readonly (readonly [px: number, count: number])[]): string {
  const png = new PNG({ width: 900, height: 700 });
  png.data.fill(245);
  const wanted = rows.flatMap(([px, count]) => Array.from({ length: count }, () => px));
  wanted.forEach((px, k) => {
    const [cx, cy] = [40 + (k % 13) * 66, 40 + Math.floor(k / 13) * 66];
    for (let y = -px; y <= px; y++)
      for (let x = -px; x <= px; x++) {
        if (x * x + y * y > (px / 2) ** 2) continue;
        png.data.fill(60, 4 * ((cy + y) * 900 + cx + x), 4 * ((cy + y) * 900 + cx + x) + 3);
      }
  });
  for (let i = 3; i < png.data.length; i += 4) png.data[i] = 255;
  const path = join(folder, 'discs.png');
  writeFileSync(path, PNG.sync.write(png));
  return path;
}

describe('grind', { timeout: 120_000 }, () => {
  test('measure takes sieves as JSON: figures with bands, fits ranked, what to do better', async () => {
    const { code, out, err } = await pourline(
      ['grind', 'measure', '-', '--draws', '50'],
      JSON.stringify(sieves),
    );
    expect(err).toBe('');
    expect(code).toBe(0);
    const { analysis, data } = JSON.parse(out);
    expect(data.sieves).toHaveLength(7);
    // By hand: 35.9 % is finer than 425 µm and 66.4 % than 600 µm; half lies between, along ln d.
    expect(analysis.measured.figures.d50_um).toBeCloseTo(425 * (600 / 425) ** (14.1 / 30.5), 6);
    expect(analysis.measured.bands.d50_um.low).toBeLessThan(analysis.measured.figures.d50_um);
    expect(analysis.fits.map((fit: { name: string }) => fit.name)).toContain('weibull');
    expect(analysis.fitted.curve.size_um).toHaveLength(161);
    expect(out).not.toContain('NaN');
  });
  test('measure takes text with semicolons and commas, and keeps it', async () => {
    const text = 'Diameter mm;Cumulative %\n0,05;8\n0,1;14\n0,4;31\n0,8;72\n1,6;100\n';
    const { code, out } = await pourline(
      ['grind', 'measure', '-', '--draws', '0', '--model', 'log_normal'],
      text,
    );
    expect(code).toBe(0);
    const { data, analysis } = JSON.parse(out);
    expect(data).toMatchObject({ by: 'table', of: 'undersize', file: { text } });
    expect(analysis.fitted.name).toBe('log_normal');
    expect(analysis.measured.figures.fines_pct).toBeCloseTo(14, 6);
  });
  test('measure says what is wrong with a text, line by line, as JSON', async () => {
    const { code, out } = await pourline(['grind', 'measure', '-'], 'size;vol\n10;-4\n20;x\n');
    expect(code).toBe(1);
    expect(JSON.parse(out).problems.map((p: { sentence: string }) => p.sentence)).toEqual([
      'Line 2: -4 under "vol" is negative; a share or a mass cannot be. Correct it, or set it to 0 when it is noise.',
      'Line 3: "x" under "vol" is not a number. Correct it, or take the line out.',
    ]);
  });
  test('measure takes a picture with its scale, and asks for one without', async () => {
    // By volume the 40 px discs carry most: 30·40³ against 60·20³, so D50 is 200 µm.
    const path = discs([
      [20, 60],
      [40, 30],
    ]);
    const { code, out } = await pourline(['grind', 'measure', path, '--pixel-um', '5', '--draws', '50']);
    expect(code).toBe(0);
    const { data, analysis, photo } = JSON.parse(out);
    expect(data.grains.filter((grain: { counted: boolean }) => grain.counted)).toHaveLength(90);
    expect(Math.abs(analysis.measured.figures.d50_um / 200 - 1)).toBeLessThan(0.03);
    expect(Math.abs(photo.d50_um.value / 200 - 1)).toBeLessThan(0.03);
    const without = await pourline(['grind', 'measure', path]);
    expect(without.code).toBe(1);
    expect(without.err).toContain('This picture has no scale');
    const none = await pourline(['grind', 'measure', join(folder, 'none.png')]);
    expect(none.code).toBe(3);
    expect(none.err).toContain('none.png');
  });
  test('mix weighs the parts and, in a brew, tells what the mix does beside each alone', async () => {
    const mix = {
      parts: [
        { name: 'coarse', share: 0.7, distribution: modes(1000), cut: { above_um: 250 } },
        { name: 'fine', share: 0.3, distribution: modes(650) },
      ],
      dose_g: 15,
      cups: 3,
      grinding: 'one_batch',
    };
    const plan = JSON.parse((await pourline(['demo'])).out).documents.find(
      (d: { kind: string }) => d.kind === 'plan',
    );
    const { code, out } = await pourline(
      ['grind', 'mix', '-', '--brew', DEMO, '--plan', plan.name],
      JSON.stringify(mix),
    );
    expect(code).toBe(0);
    const sheet = JSON.parse(out);
    expect(sheet.parts.map((p: { per_cup_g: number }) => p.per_cup_g)).toEqual([10.5, 4.5]);
    expect(sheet.parts[0].beans_g).toBeGreaterThan(31.5);
    expect(sheet.effect.pure).toHaveLength(2);
    expect(sheet.effect.pure[0].permeability_ratio).toBeGreaterThan(1);
  });
  test('curve answers from a grinder of an archive, transfer and jars from orders by hand', async () => {
    const curve = await pourline(['grind', 'curve', DEMO, '--at', '7,8.5', '--d50', '750']);
    expect(curve.code).toBe(0);
    const { at, d50 } = JSON.parse(curve.out);
    expect(at.map((x: { dial: number }) => x.dial)).toEqual([7, 8.5]);
    expect(d50.dial.low).toBeLessThan(d50.dial.mid);
    const brews = {
      by: 'brews',
      wanted: { drawdown_s: 170, yield_pct: 21, brews: 2 },
      brews: [
        { dial: 20, drawdown_s: 210, yield_pct: 22 },
        { dial: 26, drawdown_s: 140, yield_pct: 20.2 },
      ],
    };
    const transfer = await pourline(['grind', 'transfer', '-'], JSON.stringify(brews));
    expect(JSON.parse(transfer.out).dial.mid).toBeGreaterThan(21);
    expect(JSON.parse(transfer.out).dial.mid).toBeLessThan(25);
    const jars = {
      jars: [
        { name: 'A', weighed_g: 16.1 },
        { name: 'B', weighed_g: 17 },
      ],
      brewers_g: [16],
    };
    const checked = JSON.parse((await pourline(['grind', 'jars', '-'], JSON.stringify(jars))).out);
    expect(checked.jars.map((jar: { brewer: number | null }) => jar.brewer)).toEqual([0, null]);
    const empty = await pourline(['grind', 'transfer', '-'], JSON.stringify({ ...brews, wanted: {} }));
    expect(empty.code).toBe(1);
    expect(empty.err).toContain('Nothing can be matched');
  });
  test('sieves lists the openings; a wrong option says what would be right', async () => {
    const { out } = await pourline(['grind', 'sieves']);
    expect(JSON.parse(out)).toContainEqual({
      aperture_um: 425,
      mesh: 40,
      principal: false,
      tolerance_um: 15.5,
      superseded: [420],
    });
    const wrong = await pourline(['grind', 'measure', '-', '--fines', 'ten'], '{}');
    expect(wrong.code).toBe(2);
    expect(wrong.err).toContain('"ten" is not a size in µm from 10 to 1000.');
  });
});
