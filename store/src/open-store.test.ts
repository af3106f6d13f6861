import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeCampaign, makeRevision, savedIn, temporaryFolders } from '../test/index.ts';
import { openDatabase } from './database.ts';
import { openDriver } from './driver.ts';
import { archiveText, openStore } from './index.ts';

const folder = temporaryFolders();

describe('the database file', () => {
  it('waits for the disk at every commit and keeps a write-ahead log', async () => {
    const { driver } = await openDatabase(join(await folder(), 'a.sqlite'));
    const pragma = (name: string) => Object.values(driver.rows(`pragma ${name}`)[0] ?? {})[0];
    // synchronous 2 is FULL: sqlite.org/pragma.html#pragma_synchronous
    expect([pragma('journal_mode'), pragma('synchronous'), pragma('foreign_keys')]).toEqual(['wal', 2, 1]);
    await driver.release();
  });

  it('refuses to change or remove what was saved, whoever asks', async () => {
    const { db, driver } = await openDatabase(join(await folder(), 'a.sqlite'));
    await db
      .insertInto('revisions')
      .values({
        revision_id: 'r',
        document_id: 'd',
        campaign_id: 'd',
        kind: 'campaign',
        rev: 1,
        base_revision_id: null,
        author: '',
        device: '',
        at: '',
        received_at: '',
        body: '{}',
      })
      .execute();
    await db
      .insertInto('attachments')
      .values({
        hash: '0'.repeat(64),
        media_type: 'text/csv',
        name: 'a',
        size: 1,
        bytes: Uint8Array.of(1),
        received_at: '',
      })
      .execute();
    for (const statement of [
      "update revisions set body = '[]'",
      'delete from revisions',
      "update attachments set name = 'b'",
      'delete from attachments',
      "insert or replace into revisions select 1, 'r2', 'd2', 'd2', kind, 1, null, '', '', '', '', body from revisions",
    ])
      expect(() => driver.prepare(statement).run([]), statement).toThrow(/append-only/);
    driver.exec(`insert or replace into attachments values ('${'0'.repeat(64)}', '', 'b', 1, x'02', '')`);
    expect(driver.rows('select seq, body from revisions')).toEqual([{ seq: 1, body: '{}' }]);
    expect(driver.rows('select name from attachments')).toEqual([{ name: 'a' }]);
    await driver.release();
  });

  it('keeps everything over closing and opening, under the same history', async () => {
    const file = join(await folder(), 'deep', 'er', 'a.sqlite');
    const store = await openStore({ file });
    const revision = savedIn(await store.appendRevision(makeRevision(makeCampaign())));
    const { history_id } = await store.latest();
    await store.close();
    const again = await openStore({ file });
    expect(await again.latest()).toEqual({ seq: 1, history_id, revisions: [revision] });
    await again.close();
  });

  it('lets two processes write in turns', async () => {
    const file = join(await folder(), 'a.sqlite');
    const one = await openStore({ file });
    const two = await openStore({ file });
    const campaign = makeCampaign();
    const first = savedIn(await one.appendRevision(makeRevision(campaign)));
    const second = await two.appendRevision(makeRevision({ ...campaign, name: 'Two' }, first.revision_id));
    expect(savedIn(second).rev).toBe(2);
    expect((await one.latest()).revisions).toEqual([savedIn(second)]);
    await one.close();
    await two.close();
  });

  it('says in a sentence what cannot be opened, and leaves it as it is', async () => {
    const place = await folder();
    const text = join(place, 'letter.txt');
    await writeFile(text, 'This is a letter, not a database. '.repeat(100));
    await expect(openStore({ file: text })).rejects.toMatchObject({
      code: 'not_a_database',
      message: `The file ${text} is not a database of this program. Choose another file.`,
    });
    expect(await readFile(text, 'utf8')).toMatch(/^This is a letter/);
    await mkdir(join(place, 'folder.sqlite'));
    await expect(openStore({ file: join(place, 'folder.sqlite') })).rejects.toMatchObject({
      code: 'cannot_open',
    });
  });

  it('finds a revision that does not follow the one before it', async () => {
    const file = join(await folder(), 'a.sqlite');
    const store = await openStore({ file });
    const campaign = makeCampaign();
    const one = savedIn(await store.appendRevision(makeRevision(campaign)));
    await store.appendRevision(makeRevision({ ...campaign, name: 'Two' }, one.revision_id));
    expect(await store.integrityCheck()).toEqual([]);
    const driver = openDriver(file, 0);
    driver.exec(
      "drop trigger revisions_no_update; update revisions set base_revision_id = 'x' where rev = 2",
    );
    await driver.release();
    expect(await store.integrityCheck()).toEqual([
      `revision 2 of ${campaign.id} does not follow the one before`,
    ]);
    await store.close();
  });

  it('refuses a database of a newer program', async () => {
    const file = join(await folder(), 'a.sqlite');
    await (await openStore({ file })).close();
    const driver = openDriver(file, 0);
    driver.exec("insert into kysely_migration values ('9999-later', '2040-01-01')");
    await driver.release();
    await expect(openStore({ file })).rejects.toMatchObject({ code: 'newer_database' });
  });
});

describe('the text of an archive', () => {
  it('is the archive itself, readable, with the campaign first', async () => {
    const store = await openStore({ file: join(await folder(), 'a.sqlite') });
    const campaign = makeCampaign();
    await store.appendRevision(makeRevision(campaign));
    const archive = await store.exportCampaign(campaign.id);
    if (!archive) throw new Error('expected an archive');
    const text = [...archiveText(archive)].join('');
    expect(JSON.parse(text)).toEqual(archive);
    expect(text).toContain('\n      "kind": "campaign",\n');
    await store.close();
  });
});
