import { spawn } from 'node:child_process';
import { copyFile, open, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { makeCampaign, makeRevision, savedIn, temporaryFolders } from '../test/index.ts';
import { openStore, restore } from './index.ts';

const folder = temporaryFolders();
const writer = fileURLToPath(new URL('../test/writer.ts', import.meta.url));

/** A store with `n` states of one campaign. */
async function filled(file: string, n: number) {
  const store = await openStore({ file });
  const campaign = makeCampaign();
  let base: string | null = null;
  for (let i = 1; i <= n; i++)
    base = savedIn(
      await store.appendRevision(makeRevision({ ...campaign, notes: `state ${i}` }, base)),
    ).revision_id;
  return { store, campaign };
}

describe('backup', () => {
  it('copies everything to a file that opens as a database', async () => {
    const place = await folder();
    const { store, campaign } = await filled(join(place, 'a.sqlite'), 3);
    await store.putAttachment(Uint8Array.of(1, 2, 3), { media_type: 'text/csv', name: 'x.csv' });
    const done = await store.backup(join(place, 'copies', 'b.sqlite'));
    expect(done).toMatchObject({ file: join(place, 'copies', 'b.sqlite'), revisions: 3 });
    expect(done.bytes).toBe((await stat(done.file)).size);
    expect(await readdir(join(place, 'copies'))).toEqual(['b.sqlite']);
    const copy = await openStore({ file: done.file });
    expect(await copy.history(campaign.id)).toEqual(await store.history(campaign.id));
    expect(await copy.latest()).toEqual(await store.latest());
    await copy.close();
    await store.close();
  });

  it('never writes over a file', async () => {
    const place = await folder();
    const { store } = await filled(join(place, 'a.sqlite'), 1);
    await writeFile(join(place, 'b.sqlite'), 'something dear');
    await expect(store.backup(join(place, 'b.sqlite'))).rejects.toMatchObject({ code: 'file_exists' });
    expect(await readFile(join(place, 'b.sqlite'), 'utf8')).toBe('something dear');
    await store.close();
  });

  it('is whole although another process keeps writing: everything acknowledged before, no gap', async () => {
    const place = await folder();
    const file = join(place, 'a.sqlite');
    const store = await openStore({ file });
    const other = spawn(process.execPath, ['--import', 'tsx', writer, file], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    let acknowledged = 0;
    let waiting: (() => void) | undefined;
    other.stdout.on('data', (text: Buffer) => {
      acknowledged = Number(text.toString().trim().split('\n').at(-1));
      waiting?.();
    });
    const next = () =>
      new Promise<void>((resolve) => {
        waiting = resolve;
      });
    try {
      for (let n = 1; n <= 4; n++) {
        await next();
        const before = acknowledged;
        const { file: copyFile, revisions } = await store.backup(join(place, `b${n}.sqlite`));
        expect(revisions).toBeGreaterThanOrEqual(before);
        const copy = await openStore({ file: copyFile });
        expect(await copy.integrityCheck()).toEqual([]);
        const id = (await copy.latest()).revisions[0]?.document_id ?? '';
        const revs = (await copy.history(id)).map((revision) => revision.rev);
        expect(revs).toEqual(Array.from({ length: revisions }, (_, i) => i + 1));
        await copy.close();
      }
      await next();
      expect(other.exitCode).toBeNull();
    } finally {
      other.kill('SIGKILL');
      await store.close();
    }
  });
});

describe('restore', () => {
  it('puts a backup where there was nothing', async () => {
    const place = await folder();
    const { store, campaign } = await filled(join(place, 'a.sqlite'), 2);
    const before = await store.latest();
    await store.backup(join(place, 'b.sqlite'));
    await store.close();
    const result = await restore({ from: join(place, 'b.sqlite'), to: join(place, 'new', 'c.sqlite') });
    expect(result).toMatchObject({ file: join(place, 'new', 'c.sqlite'), kept_aside: null, revisions: 2 });
    const restored = await openStore({ file: result.file });
    const after = await restored.latest();
    expect(after.revisions).toEqual(before.revisions);
    expect(after.history_id).not.toBe(before.history_id);
    const next = makeRevision({ ...campaign, name: 'Going on' }, before.revisions[0]?.revision_id ?? null);
    expect(savedIn(await restored.appendRevision(next)).rev).toBe(3);
    await restored.close();
  });

  it('refuses to replace a database unless told to, and then keeps it aside, whole', async () => {
    const place = await folder();
    const old = await filled(join(place, 'a.sqlite'), 1);
    await old.store.backup(join(place, 'b.sqlite'));
    const base = (await old.store.document(old.campaign.id))?.revision_id ?? null;
    const newer = savedIn(
      await old.store.appendRevision(makeRevision({ ...old.campaign, name: 'Newer' }, base)),
    );
    await old.store.close();
    const to = join(place, 'a.sqlite');
    const from = join(place, 'b.sqlite');
    await expect(restore({ from, to })).rejects.toMatchObject({ code: 'file_exists' });
    const now = () => new Date('2031-04-05T06:07:08.000Z');
    const result = await restore({ from, to, replace: true, now });
    expect(result.kept_aside).toBe(`${to}.before-2031-04-05T06-07-08.000Z`);
    const restored = await openStore({ file: to });
    expect((await restored.latest()).revisions.map((r) => r.rev)).toEqual([1]);
    await restored.close();
    const aside = await openStore({ file: result.kept_aside ?? '' });
    expect(await aside.document(old.campaign.id)).toEqual(newer);
    await aside.close();
    const again = await restore({ from, to, replace: true, now });
    expect(again.kept_aside).toBe(`${to}.before-2031-04-05T06-07-08.000Z-2`);
  });

  it('refuses while a server has the database open', async () => {
    const place = await folder();
    const { store } = await filled(join(place, 'a.sqlite'), 1);
    await store.backup(join(place, 'b.sqlite'));
    const attempt = restore({ from: join(place, 'b.sqlite'), to: join(place, 'a.sqlite'), replace: true });
    await expect(attempt).rejects.toMatchObject({ code: 'in_use' });
    expect(await store.countCampaigns()).toBe(1);
    await store.close();
  });

  it('refuses a backup that is missing, foreign or damaged before it touches anything', async () => {
    const place = await folder();
    const { store } = await filled(join(place, 'a.sqlite'), 400);
    await store.backup(join(place, 'b.sqlite'));
    await store.close();
    const to = join(place, 'a.sqlite');
    const bad = join(place, 'bad.sqlite');
    const attempt = () => restore({ from: bad, to, replace: true });
    await expect(attempt()).rejects.toMatchObject({ code: 'file_missing' });
    await writeFile(bad, 'not a database at all, only words '.repeat(200));
    await expect(attempt()).rejects.toMatchObject({ code: 'not_a_database' });
    await copyFile(join(place, 'b.sqlite'), bad);
    const handle = await open(bad, 'r+');
    const { size } = await handle.stat();
    await handle.write(Buffer.alloc(16_384, 0x5a), 0, 16_384, Math.floor(size / 2));
    await handle.close();
    await expect(attempt()).rejects.toMatchObject({ code: 'damaged' });
    await expect(restore({ from: to, to, replace: true })).rejects.toMatchObject({ code: 'file_exists' });
    expect((await readdir(place)).filter((name) => /before|part/.test(name))).toEqual([]);
    const untouched = await openStore({ file: to });
    expect(await untouched.lastSeq()).toBe(400);
    await untouched.close();
  });

  it('replaces a damaged database and keeps its remains', async () => {
    const place = await folder();
    const { store } = await filled(join(place, 'a.sqlite'), 2);
    await store.backup(join(place, 'b.sqlite'));
    await store.close();
    await writeFile(join(place, 'c.sqlite'), 'ruins of a database '.repeat(500));
    await writeFile(join(place, 'c.sqlite-wal'), 'and of its log');
    const result = await restore({
      from: join(place, 'b.sqlite'),
      to: join(place, 'c.sqlite'),
      replace: true,
    });
    expect(await readFile(result.kept_aside ?? '', 'utf8')).toMatch(/^ruins/);
    expect(await readFile(`${result.kept_aside}-wal`, 'utf8')).toBe('and of its log');
    const restored = await openStore({ file: result.file });
    expect(await restored.lastSeq()).toBe(2);
    await restored.close();
  });
});
