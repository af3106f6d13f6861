/** Screening and indices against functions whose answers are known in closed form (reference/sensitivity-functions). */
import { describe, expect, it } from 'vitest';
import known from '../../../../reference/sensitivity-functions/values.json' with { type: 'json' };
import type { Model } from './model.ts';
import { morris } from './morris.ts';
import { sobolIndices } from './sobol-indices.ts';

const { ishigami, g_function } = known;

const ishigamiModel: Model = (u, out) => {
  const [x1, x2, x3] = [...u].map((x) => Math.PI * (2 * x - 1)) as [number, number, number];
  out[0] = Math.sin(x1) + ishigami.a * Math.sin(x2) ** 2 + ishigami.b * x3 ** 4 * Math.sin(x1);
};
const gModel: Model = (u, out) => {
  out[0] = u.reduce(
    (product, x, i) => (product * (Math.abs(4 * x - 2) + g_function.a[i]!)) / (1 + g_function.a[i]!),
    1,
  );
};

describe.each([
  { name: 'Ishigami and Homma 1990', model: ishigamiModel, answer: ishigami },
  { name: "Sobol's g-function, eight inputs (Saltelli and Sobol 1995)", model: gModel, answer: g_function },
])('indices of $name', ({ model, answer }) => {
  const inputs = answer.first.length;
  const result = sobolIndices(model, { inputs, outputs: 1, samples: 4096, seed: 1 });
  it('find mean and variance', () => {
    expect(result.mean[0]! / answer.mean).toBeCloseTo(1, 2);
    expect(result.variance[0]! / answer.variance).toBeCloseTo(1, 2);
    expect(result.runs).toBe(4096 * (inputs + 2));
  });
  it.each(answer.first.map((first, i) => ({ i, first, total: answer.total[i]! })))(
    'input $i: first $first, total $total, within 0.01',
    ({ i, first, total }) => {
      const index = result.indices[0]![i]!;
      expect(Math.abs(index.first - first)).toBeLessThan(0.01);
      expect(Math.abs(index.total - total)).toBeLessThan(0.01);
    },
  );
  it('says how far it is off: truth within four standard errors, at 256 rows', () => {
    const rough = sobolIndices(model, { inputs, outputs: 1, samples: 256, seed: 2 }).indices[0]!;
    rough.forEach((index, i) => {
      expect(Math.abs(index.first - answer.first[i]!)).toBeLessThan(4 * index.firstError + 1e-6);
      expect(Math.abs(index.total - answer.total[i]!)).toBeLessThan(4 * index.totalError + 1e-6);
    });
  });
});

/** The function of Morris 1991, its random small coefficients zero. */
const morrisModel: Model = (u, out) => {
  const w = [...u].map((x, i) => ([2, 4, 6].includes(i) ? 2 * ((1.1 * x) / (x + 0.1) - 0.5) : 2 * (x - 0.5)));
  let y = 0;
  for (let i = 0; i < 10; i++) y += 20 * w[i]!;
  for (let i = 0; i < 6; i++) for (let j = i + 1; j < 6; j++) y -= 15 * w[i]! * w[j]!;
  for (let i = 0; i < 5; i++)
    for (let j = i + 1; j < 5; j++) for (let l = j + 1; l < 5; l++) y -= 10 * w[i]! * w[j]! * w[l]!;
  y += 5 * w[0]! * w[1]! * w[2]! * w[3]!;
  out[0] = y;
};

describe('elementary effects', () => {
  it('of a linear function are its coefficients, without spread', () => {
    const model: Model = (u, out) => {
      out[0] = 3 * u[0]! - 2 * u[1]! + 5;
      out[1] = u[2]!;
    };
    const { effects, runs } = morris(model, { inputs: 3, outputs: 2, trajectories: 5, seed: 1 });
    expect(runs).toBe(20);
    const [a, b, c] = effects[0]!;
    expect(a!.mean).toBeCloseTo(3, 12);
    expect(b!.mean).toBeCloseTo(-2, 12);
    expect(b!.size).toBeCloseTo(2, 12);
    expect(c!.size).toBe(0);
    expect(a!.spread).toBeCloseTo(0, 10);
    expect(effects[1]!.map((e) => e.size)).toEqual([0, 0, expect.closeTo(1, 12)]);
  });
  it("sort the twenty inputs of Morris's function into linear, tangled and idle ones (Morris 1991)", () => {
    const { effects } = morris(morrisModel, { inputs: 20, outputs: 1, trajectories: 40, seed: 1 });
    const at = (i: number) => effects[0]![i]!;
    for (const i of [7, 8, 9]) {
      expect(at(i).size).toBeCloseTo(40, 6);
      expect(at(i).spread).toBeCloseTo(0, 6);
    }
    for (let i = 0; i < 7; i++) {
      expect(at(i).size).toBeGreaterThan(25);
      expect(at(i).spread).toBeGreaterThan(15);
    }
    for (let i = 10; i < 20; i++) expect(at(i).size).toBe(0);
  });
  it('rank the g-function as its total indices do, the smallest last', () => {
    const { effects } = morris(gModel, { inputs: 8, outputs: 1, trajectories: 60, seed: 3 });
    const sizes = effects[0]!.map((e) => e.size);
    expect(sizes.slice(0, 4)).toEqual(sizes.slice(0, 4).sort((x, y) => y - x));
    expect(sizes[3]!).toBeGreaterThan(Math.max(...sizes.slice(4)) * 3);
  });
  it('are the same for the same seed and differ for another', () => {
    const run = (seed: number) => morris(gModel, { inputs: 8, outputs: 1, trajectories: 3, seed });
    expect(run(1)).toEqual(run(1));
    expect(run(2)).not.toEqual(run(1));
  });
});

describe('stopping and figures that do not exist', () => {
  const patchy: Model = (u, out) => {
    out[0] = u[0]! > 0.9 ? Number.NaN : u[0]! + u[1]!;
  };
  it('keeps the effects of the trajectories that were run', () => {
    const seen: number[] = [];
    const stopped = morris(gModel, {
      inputs: 8,
      outputs: 1,
      trajectories: 10,
      seed: 1,
      progress: (done, effects) => {
        seen.push(effects()[0]![0]!.count);
        return done < 0.3;
      },
    });
    expect(seen).toEqual([1, 2, 3]);
    expect(stopped.trajectories).toBe(3);
    expect(stopped.effects).toEqual(
      morris(gModel, { inputs: 8, outputs: 1, trajectories: 3, seed: 1 }).effects,
    );
  });
  it('keeps the rows that were run', () => {
    const part = sobolIndices(gModel, {
      inputs: 8,
      outputs: 1,
      samples: 64,
      seed: 1,
      progress: (done) => done < 0.5,
    });
    expect(part.rows).toEqual([32]);
    expect(part.runs).toBe(320);
  });
  it('leaves out effects and rows in which a figure does not exist', () => {
    const { effects } = morris(patchy, { inputs: 2, outputs: 1, trajectories: 40, seed: 1 });
    expect(effects[0]![0]!.count).toBeLessThan(40);
    expect(effects[0]![0]!.mean).toBeCloseTo(1, 9);
    expect(effects[0]![1]!.mean).toBeCloseTo(1, 9);
    const { rows, indices } = sobolIndices(patchy, { inputs: 2, outputs: 1, samples: 64, seed: 1 });
    expect(rows[0]).toBeLessThan(64);
    expect(Number.isFinite(indices[0]![0]!.total)).toBe(true);
  });
});
