import { spawn } from 'node:child_process';
import { Agent, request } from 'node:http';
import { makeCampaign, makeRevision } from '@pourline/store/testing';

const file = `/tmp/sq/bench-${process.pid}.db`;
const t0 = performance.now();
const child = spawn(process.execPath, ['/tmp/sq/victim.mjs', file], { stdio: ['ignore', 'pipe', 'inherit'] });
const line = await new Promise<Buffer>((r) => child.stdout.once('data', r));
const cold = performance.now() - t0;
const { port } = JSON.parse(line.toString());
const agent = new Agent({ keepAlive: true, maxSockets: 1 });
const call = (method: string, path: string, body?: string) =>
  new Promise<number>((resolve, reject) => {
    const r = request(
      {
        host: '127.0.0.1',
        port,
        path,
        method,
        agent,
        headers: body
          ? { 'content-type': 'application/json', 'content-length': Buffer.byteLength(body) }
          : {},
      },
      (res) => {
        res.resume();
        res.on('end', () => resolve(res.statusCode!));
      },
    );
    r.on('error', reject);
    r.end(body);
  });
const q = (a: number[], p: number) => a.sort((x, y) => x - y)[Math.floor(a.length * p)]!.toFixed(3);
const c = makeCampaign();
for (const [name, n, f] of [
  [
    'write',
    1500,
    async () => {
      const s = await call('POST', '/api/revisions', JSON.stringify(makeRevision(makeCampaign())));
      if (s !== 201) throw new Error(String(s));
    },
  ],
  [
    'seed',
    1,
    async () => {
      await call('POST', '/api/revisions', JSON.stringify(makeRevision(c)));
    },
  ],
  [
    'read one',
    3000,
    async () => {
      await call('GET', `/api/documents/${c.id}/revisions`);
    },
  ],
  [
    'health',
    3000,
    async () => {
      await call('GET', `/api/health`);
    },
  ],
  [
    'about',
    3000,
    async () => {
      await call('GET', `/api/about`);
    },
  ],
] as const) {
  const a: number[] = [];
  for (let i = 0; i < n; i++) {
    const t = performance.now();
    await f();
    a.push(performance.now() - t);
  }
  console.log(name, 'p50', q(a, 0.5), 'p10', q(a, 0.1), 'p99', q(a, 0.99));
}
console.log('cold start ms', cold.toFixed(0));
const rss = (await import('node:fs')).readFileSync(`/proc/${child.pid}/status`, 'utf8').match(/VmRSS:.*/)![0];
console.log(rss);
child.kill('SIGTERM');
agent.destroy();
