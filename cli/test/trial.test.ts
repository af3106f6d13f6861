import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { pourline } from './run-pourline.ts';

const folder = mkdtempSync(join(tmpdir(), 'pourline-trial-'));
afterAll(() => rmSync(folder, { recursive: true }));

const DEMO = new URL('../../examples/demo-campaign.json', import.meta.url).pathname;
/** The recording of the first of three cups brewed at once, as the demo keeps it. */
function recording(): string {
  const { attachments } = JSON.parse(readFileSync(DEMO, 'utf8')) as { attachments: { base64: string }[] };
  const file = join(folder, 'scale.csv');
  writeFileSync(file, Buffer.from(attachments[0]!.base64, 'base64'));
  return file;
}

describe('trial', { timeout: 120_000 }, () => {
  test('trace finds the four pours of a demo recording and sets them against the plan', async () => {
    const { code, out, err } = await pourline([
      'trial',
      'trace',
      recording(),
      '--campaign',
      DEMO,
      '--plan',
      'Four pours, cool then hot',
    ]);
    expect(err).toBe('');
    expect(code).toBe(0);
    const found = JSON.parse(out);
    expect(found.mapping.columns.map((c: { use: string }) => c.use)).toEqual([
      'time',
      'poured',
      'beverage',
      'temperature',
    ]);
    expect(found.pours).toHaveLength(4);
    for (const { water_g } of found.pours) expect(Math.abs(water_g - 50)).toBeLessThan(4);
    expect(found.trial.poured.map((p: { pour_id: string }) => p.pour_id)).toEqual(['p1', 'p2', 'p3', 'p4']);
    expect(found.as_poured.plan.pours).toHaveLength(4);
    expect(found.missing).toEqual([]);
  });

  test('trace --look gives a mapping that --mapping takes back', async () => {
    const look = await pourline(['trial', 'trace', recording(), '--look']);
    const { mapping } = JSON.parse(look.out);
    mapping.columns[2].use = 'skip';
    const file = join(folder, 'mapping.json');
    writeFileSync(file, JSON.stringify(mapping));
    const { out } = await pourline(['trial', 'trace', recording(), '--mapping', file]);
    const found = JSON.parse(out);
    expect(found.recording.channels.map((c: { use: string }) => c.use)).toEqual(['poured', 'temperature']);
    expect(found.drawdown).toBeNull();
  });

  test('trace of what is no recording says so: code 1', async () => {
    const { code, err, out } = await pourline(['trial', 'trace', '-'], 'no figures here\nat all');
    expect(code).toBe(1);
    expect(err).toContain('No line of this file holds figures');
    expect(JSON.parse(out).remarks[0].code).toBe('no_figures');
  });

  test('balance closes a brew written by hand', async () => {
    const brew = { dose_g: 15, water_g: 250, beverage_g: 217, strength_readings: [{ strength_pct: 1.42 }] };
    const { code, out } = await pourline(['trial', 'balance', '-'], JSON.stringify(brew));
    expect(code).toBe(0);
    const found = JSON.parse(out);
    // 1.42 % × 217 g / 15 g.
    expect(found.yield_pct.value).toBeCloseTo(20.543, 3);
    expect(found.yield_pct.uncertainty).toBeGreaterThan(0.1);
    expect(found.yield_pct.causes[0].cause).toBe('strength');
    expect(found.held_per_dose.value).toBeGreaterThan(1.5);
  });

  test('balance names a bad field', async () => {
    const { code, out } = await pourline(['trial', 'balance', '-'], '{ "dose_g": -1, "brix": 2 }');
    expect(code).toBe(1);
    const sentences = JSON.parse(out).problems.map((p: { sentence: string }) => p.sentence);
    expect(sentences).toContain('Dose is -1 g; it must be more than 0 g.');
    expect(sentences.join(' ')).toContain('"brix"');
  });

  test('liking gathers the marks of the demo', async () => {
    const { code, out } = await pourline(['trial', 'liking', DEMO]);
    expect(code).toBe(0);
    const found = JSON.parse(out);
    expect(found.marks.length).toBeGreaterThan(12);
    expect(found.best.strength_pct).toBeGreaterThan(1);
    expect(found.remarks.length).toBeGreaterThan(0);
  });

  test('lines reads what a balance printed, and says when nothing fits', async () => {
    const caught = 'ST,GS,+  12.3  g\r\nUS,GS,+  12.9  g\r\n';
    const good = await pourline(
      ['trial', 'lines', '-', '--pattern', '{stable:ST}{moving:US},{skip},{number} {unit}'],
      caught,
    );
    expect(JSON.parse(good.out)).toMatchObject({
      read: 2,
      missed: 0,
      readings: [
        { value: 12.3, of: 'mass', stable: true },
        { value: 12.9, of: 'mass', stable: false },
      ],
    });
    const bad = await pourline(['trial', 'lines', '-', '--pattern', 'X{number}'], caught);
    expect(bad.code).toBe(1);
    expect(bad.err).toContain('No line fits the pattern');
  });
});
