import type { GrindEffect, MixEffect } from '@pourline/core';
import { formatClock, formatNumber, type Key, t } from '../../../words/index.ts';
import { LineKey } from '../chart/mark.tsx';
import { letterOf } from '../chart/series.ts';

interface Row {
  key: string;
  label: Key;
  of: (effect: GrindEffect) => string;
  /** What the mix is beyond the average of its parts. */
  beyond?: (effect: MixEffect) => string;
}

const signed = (text: string, value: number | null): string =>
  value !== null && value > 0 ? `+${text}` : text;

const ROWS: readonly Row[] = [
  {
    key: 'drawdown',
    label: 'brew.figure.drawdown',
    of: (effect) => formatClock(effect.drawdown_s),
    beyond: ({ beyond_average: { drawdown_s } }) =>
      drawdown_s === null ? '–' : signed(`${formatNumber(drawdown_s)} s`, drawdown_s),
  },
  {
    key: 'strength',
    label: 'brew.figure.strength',
    of: (effect) => `${formatNumber(effect.strength_pct, 2)} %`,
    beyond: ({ beyond_average: { strength_pct } }) => signed(formatNumber(strength_pct, 2), strength_pct),
  },
  {
    key: 'yield',
    label: 'brew.figure.yield',
    of: (effect) => `${formatNumber(effect.yield_pct, 1)} %`,
    beyond: ({ beyond_average: { yield_pct } }) => signed(formatNumber(yield_pct, 1), yield_pct),
  },
  {
    key: 'permeability',
    label: 'grind.mix.permeability',
    of: (effect) => `${formatNumber(effect.permeability_ratio, 2)} ×`,
  },
  {
    key: 'sizes',
    label: 'grind.mix.size_variation',
    of: (effect) => `${formatNumber(100 * effect.size_variation)} %`,
  },
  {
    key: 'layers',
    label: 'grind.mix.layers',
    of: (effect) => formatNumber(effect.top_to_bottom, 2),
  },
];

/** The mix against each of its parts alone in the same brew, and what only mixing does. */
export function PureTable({ effect, stale }: { effect: MixEffect; stale: boolean }) {
  const all = [effect.mix, ...effect.pure];
  return (
    <div className="table-scroll">
      <table className="grind-table pure-table" data-stale={stale || undefined}>
        <caption>{t('grind.mix.pure')}</caption>
        <thead>
          <tr>
            <th scope="col">
              <span className="visually-hidden">{t('grind.mix.figure')}</span>
            </th>
            {all.map((one, i) => (
              <th key={one.name} scope="col">
                <LineKey index={i} letter={letterOf(i)} />
                {i === 0 ? t('grind.mix.the_mix') : t('grind.mix.alone', { name: one.name })}
              </th>
            ))}
            <th scope="col">{t('grind.mix.beyond')}</th>
          </tr>
        </thead>
        <tbody>
          {ROWS.map(({ key, label, of, beyond }) => (
            <tr key={key}>
              <th scope="row">{t(label)}</th>
              {all.map((one) => (
                <td key={one.name}>{of(one)}</td>
              ))}
              <td>{beyond?.(effect) ?? ''}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
