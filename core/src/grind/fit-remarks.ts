import { MICROMETRE } from '../units/index.ts';
import type { RankedFit } from './choose-model.ts';
import type { ModelName } from './fit.ts';
import { figureOf, type GrindRemark, grindRemark } from './remarks.ts';
import type { SizeData } from './size-data.ts';

/** Miss of the cumulative curve that is worth a caution [share]. */
const POOR = 0.02;

/** What to know of the fit that was taken among those tried. */
export function fitRemarks(
  data: SizeData,
  ranked: readonly RankedFit[],
  taken: RankedFit | undefined,
  asked: ModelName | 'best',
): GrindRemark[] {
  if (!taken) return [grindRemark('caution', 'no_fit')];
  const remarks: GrindRemark[] = [];
  const finest = data.binned.limits[0]! / MICROMETRE;
  if (asked !== 'best' && taken.name !== asked)
    remarks.push(grindRemark('caution', 'model_too_rich', {}, { model: asked, taken: taken.name }));
  if (!taken.converged) remarks.push(grindRemark('note', 'model_not_settled', {}, { model: taken.name }));
  if (taken.miss > POOR)
    remarks.push(
      grindRemark('caution', 'poor_fit', {
        miss: figureOf(100 * taken.miss, 2),
        size: figureOf(taken.missAt / MICROMETRE),
      }),
    );
  const [first, second] = ranked;
  if (first && second && second.weight > 0.2)
    remarks.push(
      grindRemark(
        'note',
        'models_alike',
        { weight: Math.round(100 * first.weight), other: Math.round(100 * second.weight) },
        { first: first.name, second: second.name },
      ),
    );
  const { model } = taken;
  if (model.family === 'weibull') {
    if (model.shape <= 1)
      remarks.push(grindRemark('caution', 'surface_unbounded', { shape: figureOf(model.shape) }));
  } else if (data.binned.share[0]! > 1e-3 && model.modes[0]!.median / MICROMETRE < finest)
    remarks.push(grindRemark('caution', 'fines_guessed', { size: figureOf(finest) }));
  return remarks;
}
