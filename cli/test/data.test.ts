import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { pourline } from './run-pourline.ts';

let folder: string;
let data: string;
let demo: string;
const on = (...args: string[]) => [...args, '--data', data];
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pourline-cli-'));
  data = join(folder, 'data');
  demo = (await pourline(['demo'])).out;
});
afterAll(() => rmSync(folder, { recursive: true }));

const documentsOf = (text: string) =>
  (JSON.parse(text).documents as { id: string }[]).sort((a, b) => (a.id < b.id ? -1 : 1));

describe('import, export, backup and restore', { timeout: 60_000 }, () => {
  test('need a database, and say where they looked', async () => {
    for (const args of [['export'], ['backup', '--out', join(folder, 'never.sqlite')]]) {
      const { code, err } = await pourline(on(...args));
      expect(code).toBe(3);
      expect(err).toContain(`There is no database at ${join(data, 'pourline.sqlite')}`);
    }
    expect(existsSync(data)).toBe(false);
  });

  test('a bad archive is refused whole, with its problems', async () => {
    const archive = JSON.parse(demo);
    archive.documents.findLast((document: { kind: string }) => document.kind === 'plan').dose_g = 'much';
    const { code, err } = await pourline(on('import', '-'), JSON.stringify(archive));
    expect(code).toBe(1);
    expect(err).toMatch(/dose/i);
    expect(err).toContain('"much"');
  });

  test('an archive goes in and comes out the same', async () => {
    const n = JSON.parse(demo).documents.length;
    const first = await pourline(on('import', '-', '--json'), demo);
    expect(first.code).toBe(0);
    expect(JSON.parse(first.out)).toMatchObject({ outcome: 'imported', saved: n, unchanged: 0 });
    const again = await pourline(on('import', '-', '--json'), demo);
    expect(JSON.parse(again.out)).toMatchObject({ saved: 0, unchanged: n });
    const out = await pourline(on('export'));
    expect(out.code).toBe(0);
    expect(documentsOf(out.out)).toEqual(documentsOf(demo));
  });

  test('--as-new makes a copy beside; then the campaign must be chosen', async () => {
    const copied = JSON.parse((await pourline(on('import', '-', '--as-new', '--json'), demo)).out);
    const vague = await pourline(on('export'));
    expect(vague.code).toBe(2);
    expect(vague.err).toContain('--campaign');
    const chosen = await pourline(on('export', '--campaign', copied.campaign_ids[0]));
    expect(chosen.code).toBe(0);
    expect(documentsOf(chosen.out).map((d) => d.id)).not.toEqual(documentsOf(demo).map((d) => d.id));
    const missing = await pourline(on('export', '--campaign', 'No such one'));
    expect(missing.code).toBe(3);
    expect(missing.err).toContain('no campaign "No such one"');
  });

  test('a backup restores what was there, and keeps aside what came after', async () => {
    const file = join(folder, 'backup.sqlite');
    const made = await pourline(on('backup', '--out', file, '--json'));
    expect(made.code).toBe(0);
    expect(JSON.parse(made.out).revisions).toBeGreaterThan(0);
    const again = await pourline(on('backup', '--out', file));
    expect(again.code).toBe(3);
    expect(again.err).toContain('there already');

    await pourline(on('import', '-', '--as-new'), demo);
    const refused = await pourline(on('restore', file));
    expect(refused.code).toBe(3);
    expect(refused.err).toContain('--replace');
    const restored = await pourline(on('restore', file, '--replace', '--json'));
    expect(restored.code).toBe(0);
    expect(JSON.parse(restored.out).revisions).toBe(JSON.parse(made.out).revisions);
    expect(readdirSync(data).filter((name) => name.includes('.before-'))).toHaveLength(1);
    const clean = join(folder, 'clean');
    expect((await pourline(['restore', file, '--data', clean])).code).toBe(0);
  });

  test('what is not a backup is refused and left alone', async () => {
    const file = join(folder, 'not-a-backup');
    writeFileSync(file, 'only words');
    const { code, err } = await pourline(['restore', file, '--data', join(folder, 'other')]);
    expect(code).toBe(3);
    expect(err).toContain(file);
    expect(readFileSync(file, 'utf8')).toBe('only words');
    expect((await pourline(['restore', join(folder, 'none'), '--data', join(folder, 'other')])).code).toBe(3);
  });

  test('POURLINE_DATA says where the data is', async () => {
    const { code, out } = await pourline(
      ['export', '--campaign', '019b8000-0000-7001-8000-000000000001'],
      '',
      {
        POURLINE_DATA: data,
      },
    );
    expect(code).toBe(0);
    expect(JSON.parse(out).documents.length).toBeGreaterThan(10);
  });
});
