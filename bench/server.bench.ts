import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { startServer } from '@pourline/server';
import { openStore } from '@pourline/store';
import { machine, measure, timingOf } from './measure.ts';
import { printTable } from './table.ts';

const ms = (value: number): string => value.toFixed(3);
const demo = new URL('../examples/demo-campaign.json', import.meta.url).pathname;

/** A new coffee in a campaign: a first revision that nothing clashes with. */
function newRevision(campaign: string) {
  const id = randomUUID();
  return {
    revision_id: randomUUID(),
    base_revision_id: null,
    author: 'bench',
    device: 'bench',
    at: '2026-11-21T08:00:00+00:00',
    body: { kind: 'coffee', version: 1, id, campaign_id: campaign, name: 'Bench' },
  };
}

/** Timings of reads and durable writes, through HTTP and straight to the store, on loopback with one client. */
export async function bench(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'pourline-bench-'));
  try {
    const file = join(folder, 'bench.sqlite');
    const opened = performance.now();
    const running = await startServer({ file, port: 0, demo });
    const start_ms = performance.now() - opened;
    const { revisions } = await running.store.latest();
    const campaign = revisions[0]!.campaign_id;
    const read = async (path: string) => {
      const answer = await fetch(new URL(path, running.url));
      if (answer.status !== 200) throw new Error(`${path} answered ${answer.status}`);
      await answer.arrayBuffer();
    };
    const write = async () => {
      const revision = newRevision(campaign);
      const answer = await fetch(new URL('api/revisions', running.url), {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify(revision),
      });
      if (!answer.ok) throw new Error(`a write answered ${answer.status}: ${await answer.text()}`);
      await answer.arrayBuffer();
    };
    const rows: [string, Awaited<ReturnType<typeof measure>>][] = [
      ['start, demo taken in', timingOf([start_ms])],
      ['HTTP: about', await measure(() => read('api/about'), { runs: 300 })],
      ['HTTP: all documents', await measure(() => read('api/documents'), { runs: 200 })],
      ['HTTP: durable write', await measure(write, { runs: 200 })],
    ];
    await running.close();
    const store = await openStore({ file });
    rows.push(
      ['store: one document', await measure(() => store.document(campaign), { runs: 300 })],
      [
        'store: durable write',
        await measure(() => store.appendRevision(newRevision(campaign)), { runs: 200 }),
      ],
    );
    await store.close();
    console.log(`\nServer and store — ${machine()}`);
    printTable(
      'One client, loopback, every write on disk before its answer',
      ['work', 'runs', 'median ms', 'p90 ms', 'fastest ms'],
      rows.map(([name, t]) => [name, String(t.runs), ms(t.median_ms), ms(t.p90_ms), ms(t.fastest_ms)]),
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}
