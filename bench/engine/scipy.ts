import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { BrewCase } from '../../core/src/brew/case.ts';
import type { Solved } from './compare.ts';
import { timesOf } from './cpu.ts';
import { couplings, scales } from './layout.ts';
import { Equations } from './rhs.ts';
import { outcomeOf, stretchesOf } from './stretches.ts';

const SCRIPT = fileURLToPath(new URL('./scipy-solve.py', import.meta.url));
const LONGEST_MS = 40_000;

/** Version of SciPy on this machine; null when there is none. */
export function scipyVersion(): string | null {
  const run = spawnSync('python3', ['-c', 'import scipy; print(scipy.__version__)'], { encoding: 'utf8' });
  return run.status === 0 ? run.stdout.trim() : null;
}

/** Answers each `t, y` that the solver asks for; what comes with t = ∞ is the end. */
function serve(child: ChildProcess, e: Equations, stops: readonly number[]): Promise<Float64Array> {
  const { size } = e.layout;
  const message = new Float64Array(size + 1);
  const bytes = new Uint8Array(message.buffer);
  const out = new Float64Array(size);
  let filled = 0;
  let stretch = 0;
  const middle = () => ((stops[stretch - 1] ?? 0) + (stops[stretch] ?? 0)) / 2;
  e.moment = middle();
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', (code) => reject(new Error(`SciPy's side ended with ${code}`)));
    child.stdout?.on('data', (chunk: Buffer) => {
      for (let at = 0; at < chunk.length; ) {
        const part = chunk.subarray(at, at + bytes.length - filled);
        bytes.set(part, filled);
        filled += part.length;
        at += part.length;
        if (filled < bytes.length) continue;
        filled = 0;
        const t = message[0]!;
        if (t === Number.POSITIVE_INFINITY) resolve(message.slice(1));
        else if (Number.isNaN(t)) {
          stretch++;
          e.moment = middle();
        } else {
          e.slope(t, message.subarray(1), out);
          child.stdin?.write(Buffer.from(out.slice().buffer));
        }
      }
    });
  });
}

async function solve(c: BrewCase, method: string, rtol: number): Promise<Solved> {
  const e = new Equations(c);
  const rows = couplings(e.layout);
  const stops = stretchesOf(c);
  let begin = 0;
  const task = {
    method,
    rtol,
    stops,
    start: Array.from(e.start),
    scale: Array.from(scales(e.layout, c, e.state)),
    columns: rows.flatMap((row) => Array.from(row)),
    begin: [0, ...rows.map((row) => (begin += row.length))],
  };
  const child = spawn('python3', [SCRIPT], {
    timeout: LONGEST_MS,
    env: { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' },
  });
  let said = '';
  child.stderr.on('data', (chunk: Buffer) => {
    said += chunk.toString();
  });
  const closed = new Promise((resolve) => child.once('close', resolve));
  child.stdin.write(`${JSON.stringify(task)}\n`);
  const y = await serve(child, e, stops);
  await closed;
  const { cpu_s, factors } = JSON.parse(said) as { cpu_s: number; factors: number };
  const calls = e.calls;
  // Its own time, the pipe's included, and that of the right-hand side as it runs in this process.
  e.moment = 1;
  const out = new Float64Array(e.layout.size);
  const each = timesOf(() => {
    for (let k = 0; k < 200; k++) e.slope(1, y, out);
  }).cpu.median_ms;
  return {
    solver: `SciPy ${method}`,
    tolerance: String(rtol),
    work: `${calls} f, ${factors} LU`,
    cpu_ms: cpu_s * 1e3 + (each / 200) * calls,
    outcome: outcomeOf(e, y),
  };
}

/** SciPy's stiff methods on the same right-hand side, which stays compiled on this side of a pipe. Nothing where there is no SciPy. */
export async function byScipy(c: BrewCase): Promise<Solved[]> {
  const version = scipyVersion();
  if (version === null) {
    console.log('\nSciPy is not on this machine; its solvers are left out.');
    return [];
  }
  console.log(`\nSciPy ${version}: its own processor time, the pipe to the right-hand side included.`);
  const solved: Solved[] = [];
  for (const [method, rtol] of [['BDF', 1e-3]] as const)
    try {
      solved.push(await solve(c, method, rtol));
    } catch (error) {
      console.log(`SciPy ${method} at ${rtol} gave up: ${error instanceof Error ? error.message : error}`);
    }
  return solved;
}
