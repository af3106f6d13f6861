import type { BrewResult } from '@pourline/core';
import { formatNumber, t, tMaybe } from '../../words/index.ts';

/** How well the books close, how large the numerical error is, and what the run was made of. */
export function NumbersBehind({ result }: { result: BrewResult }) {
  const { closure, error, stats } = result;
  const worst = closure.solutes.reduce((max, entry) => Math.max(max, Math.abs(entry.relative)), 0);
  const rows: [string, string][] = [
    [t('brew.closure_water'), power(closure.water)],
    [t('brew.closure_solutes'), power(worst)],
    [t('brew.closure_enthalpy'), power(closure.enthalpy)],
  ];
  if (error)
    rows.push(
      [t('brew.error_beverage'), `± ${formatNumber(error.beverage_g, 2)} g`],
      [t('brew.error_strength'), `± ${formatNumber(error.strength_pct, 3)} %`],
      [t('brew.error_yield'), `± ${formatNumber(error.yield_pct, 2)} %`],
      [t('brew.error_temperature'), `± ${formatNumber(error.temperature_K, 2)} K`],
    );
  rows.push(
    [t('brew.resolution'), tMaybe(`brew.resolution.${result.resolution}`) ?? result.resolution],
    [
      t('brew.run_size'),
      t('brew.run_size_value', {
        cells: stats.cells,
        classes: stats.classes,
        solutes: stats.solutes,
        steps: stats.steps,
      }),
    ],
    [t('brew.core_version'), result.core_version],
  );
  return (
    <>
      <p className="quiet-text">{t('brew.numbers_note')}</p>
      <dl className="plain-list">
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </>
  );
}

/** A tiny ratio as a power of ten: `3·10⁻¹⁴`. */
function power(value: number): string {
  if (value === 0) return '0';
  const exponent = Math.floor(Math.log10(Math.abs(value)));
  const digits = String(Math.abs(exponent)).replace(/\d/g, (d) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(d)]!);
  return `${formatNumber(Math.abs(value) / 10 ** exponent)}·10${exponent < 0 ? '⁻' : ''}${digits}`;
}
