import { t } from '../../../words/index.ts';
import type { BlendPart } from './mix-kernels.ts';

/** What a part is called: the mark of its setting and what its sieves keep. */
export function partName(
  { above_um, below_um }: Pick<BlendPart, 'above_um' | 'below_um'>,
  mark: string,
): string {
  if (above_um !== null && below_um !== null)
    return t('grind.mix.part_between', { mark, low: String(above_um), high: String(below_um) });
  if (above_um !== null) return t('grind.mix.part_above', { mark, low: String(above_um) });
  if (below_um !== null) return t('grind.mix.part_below', { mark, high: String(below_um) });
  return mark;
}
