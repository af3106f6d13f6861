import type { PhotoBand, PhotoSummary } from '@pourline/core';
import { formatNumber, formatWithUnit, t } from '../../../words/index.ts';

interface SummaryListProps {
  summary: PhotoSummary;
  /** Grains taken out by hand. */
  erased: number;
  /** Photographs they are in. */
  pictures: number;
}

/** What the grains of the pictures say, redrawn with every touch. */
export function SummaryList({ summary, erased, pictures }: SummaryListProps) {
  const rows: [label: string, band: PhotoBand, unit: string, digits: number][] = [
    ['D10', summary.d10_um, 'µm', 0],
    ['D50', summary.d50_um, 'µm', 0],
    ['D90', summary.d90_um, 'µm', 0],
    [t('grind.figure.span'), summary.span, '', 2],
    ['D[3,2]', summary.d32_um, 'µm', 0],
    ['D[4,3]', summary.d43_um, 'µm', 0],
  ];
  return (
    <div className="grind-stack">
      <p role="status">
        {t('grind.picture.counted', { count: summary.grains, erased })}
        {pictures > 1 && ` ${t('grind.picture.in_all', { pictures })}`}
      </p>
      <dl className="grind-pairs">
        {rows.map(([label, band, unit, digits]) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>
              {formatWithUnit(band.value, unit, digits)}{' '}
              <span className="quiet-text">
                {t('grind.spread', {
                  low: formatNumber(band.low, digits),
                  high: formatNumber(band.high, digits),
                })}
              </span>
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}
