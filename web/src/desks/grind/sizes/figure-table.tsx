import type { SizeAnalysis } from '@pourline/core';
import { formatNumber, formatWithUnit, t } from '../../../words/index.ts';
import { FIGURES, figureOf } from '../parts/figures.ts';

interface FigureTableProps {
  analysis: SizeAnalysis;
  /** Spread is there, not only the middle. */
  spread: boolean;
}

/** The figures of one measurement, each with its spread and, unfolded, with where it comes from. */
export function FigureTable({ analysis, spread }: FigureTableProps) {
  const limit = formatNumber(analysis.fines_limit_um);
  return (
    <ul className="grind-figures">
      {FIGURES.map(({ name, label, why, unit, digits }) => {
        const { value, band, from } = figureOf(analysis, name);
        const width = band && {
          low: formatNumber(band.low, digits),
          high: formatNumber(band.high, digits),
        };
        return (
          <li key={name}>
            <details className="grind-figure" data-figure={name}>
              <summary>
                <span className="grind-figure-label">{t(label, { limit })}</span>
                <span className="grind-figure-value">{formatWithUnit(value, unit, digits)}</span>
                <span className="grind-figure-band">
                  {spread
                    ? width
                      ? t('grind.spread', width)
                      : t('grind.no_spread')
                    : t('grind.spread_working')}
                </span>
              </summary>
              <p>
                {t(why, { limit })} {t(`grind.from.${from}`)}
              </p>
            </details>
          </li>
        );
      })}
    </ul>
  );
}
