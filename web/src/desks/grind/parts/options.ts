import type { Sizing } from '@pourline/core';
import type { Option } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';

type Table = Extract<Sizing['data'], { by: 'table' }>;

/** What a share of a table may mean. */
export const ofOptions = (): Option[] =>
  (['undersize', 'oversize', 'class'] satisfies Table['of'][]).map((value) => ({
    value,
    label: t(`grind.of.${value}`),
  }));

/** What a size of a table may mean. */
export const endOptions = (): Option[] =>
  (['upper', 'middle', 'lower'] satisfies Table['sizes'][]).map((value) => ({
    value,
    label: t(`grind.sizes_are.${value}`),
  }));

/** What a table may count. */
export const weightingOptions = (): Option[] =>
  (['volume', 'area', 'number'] satisfies Table['weighting'][]).map((value) => ({
    value,
    label: t(`grind.weighting.${value}`),
  }));

/** Curves that may be fitted. */
export const modelOptions = (): Option[] =>
  (['best', 'log_normal', 'weibull', 'two_modes', 'three_modes'] satisfies Sizing['model'][]).map(
    (value) => ({
      value,
      label: t(`grind.model.${value}`),
    }),
  );
