import { formatNumber, t } from '../../../words/index.ts';

/** A count of all as a length, with its words beside it. */
export interface ShareRow {
  name: string;
  count: number;
  of: number;
  /** Ends of an interval of the share; drawn as a thin line. */
  low?: number;
  high?: number;
}

/** Shares as bars: one row each, `4 of 5` in words, the interval as a thin line. Told apart by length and words alone. */
export function ShareBars({ rows, label }: { rows: readonly ShareRow[]; label: string }) {
  return (
    <ul className="bars" aria-label={label}>
      {rows.map((row) => (
        <li key={row.name}>
          <span className="bars-name">{row.name}</span>
          <ShareBar {...row} />
          <span className="bars-count">
            {t('panel.results.count_of', { count: formatNumber(row.count), of: row.of })}
          </span>
        </li>
      ))}
    </ul>
  );
}

/** One share as a bar. */
export function ShareBar({ count, of, low, high }: Omit<ShareRow, 'name'>) {
  const share = of > 0 ? count / of : 0;
  return (
    <svg className="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" focusable="false">
      <rect className="bar-ground" x="0" y="2" width="100" height="6" />
      <rect className="bar-share" x="0" y="2" width={100 * share} height="6" />
      {low !== undefined && high !== undefined && (
        <line
          className="bar-doubt"
          x1={100 * low}
          x2={100 * high}
          y1="9.4"
          y2="9.4"
          vectorEffect="non-scaling-stroke"
        />
      )}
    </svg>
  );
}
