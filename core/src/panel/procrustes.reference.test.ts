import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { type FreeProfile, procrustes } from './procrustes.ts';
import { chanceFrom } from './random.ts';

const CUPS = [
  [2, 7, 1],
  [6, 3, 4],
  [5, 5, 8],
  [8, 1, 2],
  [3, 4, 6],
];
const profile = (taster: string, scores: number[][]): FreeProfile => ({
  taster,
  attributes: scores[0]!.map((_, i) => `${taster} ${i + 1}`),
  scores,
});

/** The cups turned, mirrored, stretched and moved. */
function moved(angle: number, scale: number, shift: number, mirror: boolean): number[][] {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return CUPS.map(([x, y, z]) => [
    scale * (c * x! - s * y!) + shift,
    scale * (s * x! + c * y!) - shift,
    scale * (mirror ? -z! : z!) + 2 * shift,
  ]);
}

describe('free profiles laid over each other', () => {
  it('the same profile turned, mirrored, stretched and moved agrees wholly; stretches are undone', () => {
    const found = procrustes([
      profile('Ines', CUPS),
      profile('Joris', moved(0.7, 2, 3, false)),
      profile('Kei', moved(-2.1, 0.5, -1, true)),
    ])!;
    expect(found.agreement).toBeCloseTo(1, 9);
    const [a, b, c] = found.tasters.map((t) => t.stretch);
    expect(a! / b!).toBeCloseTo(2, 6);
    expect(a! / c!).toBeCloseTo(0.5, 6);
    expect(found.p.p).toBeLessThan(0.02);
    expect(found.axes.reduce((x, y) => x + y, 0)).toBeCloseTo(1, 12);
  });

  it('two profiles: agreement is (1 + Σσ)/2 with the singular values of the product of both at equal size (closed form)', () => {
    const chance = chanceFrom(3);
    const noisy = CUPS.map((row) => row.map((v) => v + chance.whole(-3, 3)));
    const found = procrustes([profile('Ines', CUPS), profile('Joris', noisy)])!;
    const unit = (rows: number[][]): Matrix => {
      const m = new Matrix(rows);
      m.subRowVector(m.mean('column'));
      return m.div(m.norm('frobenius'));
    };
    const { diagonal } = new SingularValueDecomposition(unit(CUPS).transpose().mmul(unit(noisy)));
    const closed = (1 + diagonal.reduce((x, y) => x + y, 0)) / 2;
    expect(found.agreement).toBeCloseTo(closed, 9);
    expect(found.agreement).toBeLessThan(1);
  });

  it('attributes need not be as many, and one that is the first axis correlates with it', () => {
    const two = CUPS.map(([x]) => [x!, 0]);
    const found = procrustes([
      profile('Ines', two),
      profile(
        'Joris',
        CUPS.map(([x]) => [3 * x!]),
      ),
    ])!;
    expect(found.agreement).toBeCloseTo(1, 9);
    expect(Math.abs(found.tasters[1]!.attributes[0]!.correlations[0]!)).toBeCloseTo(1, 9);
  });

  it('profiles at random do not agree more than shuffled ones; a flat profile has no place', () => {
    const chance = chanceFrom(8);
    const random = (name: string): FreeProfile =>
      profile(
        name,
        CUPS.map(() => [0, 1].map(() => chance.whole(0, 100))),
      );
    const found = procrustes([random('Ines'), random('Joris'), random('Kei'), random('Lena')])!;
    expect(found.p.p).toBeGreaterThan(0.1);
    expect(
      procrustes([
        profile('Ines', CUPS),
        profile(
          'Joris',
          CUPS.map(() => [5]),
        ),
      ]),
    ).toBeNull();
  });
});
