import { describe, expect, it } from 'vitest';
import { measurePhoto } from './measure.ts';
import type { PhotoBand } from './result.ts';
import { summarisePhoto } from './summarise.ts';
import { sceneSet } from './testing/scene-set.ts';
import { populationOf, truthOf } from './testing/scenes.ts';

interface Row {
  name: string;
  drawn: number;
  grains: number;
  /** Relative errors of D10, D50, D90 against the grains in the picture. */
  errors: number[];
  /** Whether each band holds the figure of the modes the grains were drawn from. */
  held: boolean[];
  /** Half widths of the bands over their values. */
  widths: number[];
}

const percent = (x: number): string => (100 * x).toFixed(1);
const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!;

function table(rows: readonly Row[]): string {
  const line = (cells: readonly (string | number)[]): string =>
    cells.map((c, k) => (k === 0 ? String(c).padEnd(24) : String(c).padStart(8))).join('');
  return [
    line(['scene', 'drawn', 'counted', 'D10 %', 'D50 %', 'D90 %', 'band ±%', '', '', 'held']),
    ...rows.map((r) =>
      line([
        r.name,
        r.drawn,
        r.grains,
        ...r.errors.map(percent),
        ...r.widths.map(percent),
        r.held.map((h) => (h ? 'y' : '-')).join(''),
      ]),
    ),
  ].join('\n');
}

describe.runIf(process.env.POURLINE_SLOW === '1')('forty-eight drawn photographs with known grains', () => {
  it('give D50 by volume within 5 %, D10 and D90 within 10 %, and bands that hold the grounds in 85 to 95 %', () => {
    const rows: Row[] = sceneSet().map(({ name, make }) => {
      const { scene, scale } = make();
      const measured = measurePhoto(scene.image, { scale });
      const summary = measured && summarisePhoto(measured);
      if (!summary)
        throw new Error(`no summary of ${name}: ${measured?.remarks.map((r) => r.sentence).join(' ')}`);
      const bands: PhotoBand[] = [summary.d10_um, summary.d50_um, summary.d90_um];
      const truth = truthOf(scene);
      const population = populationOf(scene);
      return {
        name,
        drawn: scene.shapes.length,
        grains: summary.grains,
        errors: bands.map((b, k) => b.value / truth[k]! - 1),
        held: bands.map((b, k) => b.low <= population[k]! && population[k]! <= b.high),
        widths: bands.map((b) => (b.high - b.low) / 2 / b.value),
      };
    });
    console.log(table(rows));
    const share = (k: number): number => rows.filter((r) => r.held[k]).length / rows.length;
    const shares = [share(0), share(1), share(2)];
    const worst = [0, 1, 2].map((k) => Math.max(...rows.map((r) => Math.abs(r.errors[k]!))));
    const usual = [0, 1, 2].map((k) => median(rows.map((r) => Math.abs(r.errors[k]!))));
    console.log(
      `D10, D50, D90: worst error ${worst.map(percent).join(', ')} %, median ${usual.map(percent).join(', ')} %; bands hold ${shares.map(percent).join(', ')} %`,
    );
    expect(rows.length).toBeGreaterThanOrEqual(40);
    expect(worst[1]).toBeLessThan(0.05);
    expect(worst[0]).toBeLessThan(0.1);
    expect(worst[2]).toBeLessThan(0.1);
    for (const held of shares) {
      expect(held).toBeGreaterThanOrEqual(0.85);
      expect(held).toBeLessThanOrEqual(0.95);
    }
  }, 3_600_000);
});
