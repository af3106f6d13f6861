import { useVirtualizer } from '@tanstack/react-virtual';
import { memo, useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react';
import { hrefOf } from '../../../shell/route.ts';
import { Icon } from '../../../ui/index.ts';
import { formatClock, formatNumber, type Key, t } from '../../../words/index.ts';
import { useListener } from '../../grind/parts/use-listener.ts';
import { useNarrow } from '../parts/use-narrow.ts';
import type { Sort, SortKey } from './filter.ts';
import type { Marked } from './marked.ts';
import { useIsMarked } from './marked.ts';
import type { TrialRow } from './rows.ts';

interface Column {
  readonly key: SortKey;
  readonly label: Key;
  readonly figure?: { unit: string; digits: number };
}

const COLUMNS: readonly Column[] = [
  { key: 'at', label: 'trials.column.at' },
  { key: 'name', label: 'trials.column.name' },
  { key: 'plan', label: 'trials.column.plan' },
  { key: 'coffee', label: 'trials.column.coffee' },
  { key: 'setup', label: 'trials.column.setup' },
  { key: 'dose_g', label: 'trials.column.dose', figure: { unit: 'g', digits: 1 } },
  { key: 'water_g', label: 'trials.column.water', figure: { unit: 'g', digits: 0 } },
  { key: 'beverage_g', label: 'trials.column.beverage', figure: { unit: 'g', digits: 0 } },
  { key: 'strength_pct', label: 'trials.column.strength', figure: { unit: '%', digits: 2 } },
  { key: 'yield_pct', label: 'trials.column.yield', figure: { unit: '%', digits: 1 } },
  { key: 'drawdown_s', label: 'trials.column.drawdown', figure: { unit: '', digits: 0 } },
];

interface TrialListProps {
  rows: readonly TrialRow[];
  sort: Sort;
  onSort: (by: SortKey) => void;
  /** Trials chosen for a comparison. */
  chosen: readonly string[];
  onChoose: (id: string) => void;
  marked: Marked;
}

/** Height of a row [px]; on a phone a row is two lines. */
const WIDE_ROW = 44;
const NARROW_ROW = 84;

/** All rows of a list, of which only those in view exist on the page. */
export const TrialList = memo(function TrialList(props: TrialListProps) {
  const { rows, sort, onSort, chosen, onChoose, marked } = props;
  const frame = useRef<HTMLDivElement>(null);
  const body = useRef<HTMLTableSectionElement>(null);
  const narrow = useNarrow('62rem');
  const size = narrow ? NARROW_ROW : WIDE_ROW;
  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => frame.current,
    estimateSize: () => size,
    getItemKey: (index) => rows[index]?.id ?? index,
    scrollMargin: narrow ? 0 : WIDE_ROW,
    scrollPaddingStart: narrow ? 0 : WIDE_ROW,
    overscan: 6,
  });
  useLayoutEffect(() => {
    // Rows of another height: what was measured of the old ones no longer holds.
    if (size > 0) virtual.measure();
  }, [virtual, size]);
  useEffect(
    () =>
      marked.onPoint((id) => {
        const index = rows.findIndex((row) => row.id === id);
        if (index >= 0) virtual.scrollToIndex(index, { align: 'auto' });
      }),
    [rows, virtual, marked],
  );
  const mark = (event: Event): void => {
    const row = event.target instanceof Element ? event.target.closest('tr') : null;
    marked.put(row?.dataset.trial ?? null);
  };
  useListener(body, 'pointerover', mark);
  useListener(body, 'focusin', mark);
  useListener(body, 'pointerleave', () => marked.put(null));
  const offset = virtual.options.scrollMargin;
  return (
    <div className="trial-frame" ref={frame}>
      <table className="trial-table" aria-label={t('trials.list')} aria-rowcount={rows.length + 1}>
        <Head sort={sort} onSort={onSort} />
        <tbody className="trial-room" ref={body} style={{ height: virtual.getTotalSize() }}>
          {virtual.getVirtualItems().map(({ index, key, start }) => {
            const row = rows[index];
            return row ? (
              <Row
                key={key}
                row={row}
                index={index}
                top={start - offset}
                chosen={chosen.includes(row.id)}
                onChoose={onChoose}
                marked={marked}
              />
            ) : null;
          })}
        </tbody>
      </table>
    </div>
  );
});

const Head = memo(function Head({ sort, onSort }: Pick<TrialListProps, 'sort' | 'onSort'>) {
  return (
    <thead className="trial-head">
      <tr className="trial-row" aria-rowindex={1}>
        <th className="trial-pick" scope="col">
          <span className="visually-hidden">{t('trials.column.pick')}</span>
        </th>
        {COLUMNS.map(({ key, label, figure }) => {
          const on = sort.by === key;
          return (
            <th
              key={key}
              scope="col"
              data-column={key}
              data-figure={figure ? '' : undefined}
              aria-sort={on ? (sort.down ? 'descending' : 'ascending') : undefined}
            >
              <button type="button" className="trial-sort" onClick={() => onSort(key)}>
                {t(label)}
                {figure?.unit ? <span className="unit"> {figure.unit}</span> : null}
                {on ? (
                  <span className="trial-arrow" data-up={sort.down ? undefined : ''}>
                    <Icon name="down" />
                  </span>
                ) : null}
              </button>
            </th>
          );
        })}
      </tr>
    </thead>
  );
});

interface RowProps {
  row: TrialRow;
  index: number;
  top: number;
  chosen: boolean;
  onChoose: (id: string) => void;
  marked: Marked;
}

const Row = memo(function Row({ row, index, top, chosen, onChoose, marked }: RowProps) {
  const isMarked = useIsMarked(marked, row.id);
  return (
    <tr
      className="trial-row"
      aria-rowindex={index + 2}
      data-trial={row.id}
      data-marked={isMarked || undefined}
      data-left-out={row.trial.counted ? undefined : ''}
      style={{ transform: `translateY(${top}px)` }}
    >
      <td className="trial-pick">
        <label className="trial-check">
          <input type="checkbox" checked={chosen} onChange={() => onChoose(row.id)} />
          <span className="visually-hidden">{t('trials.pick', { name: row.name })}</span>
        </label>
      </td>
      {COLUMNS.map(({ key, figure }) => (
        <td key={key} data-column={key} data-figure={figure ? '' : undefined}>
          {key === 'name' ? (
            <a className="trial-link" href={hrefOf('trials', 'log', row.id)}>
              <span>{row.name}</span>
              <Marks row={row} />
            </a>
          ) : (
            cellText(row, key, figure)
          )}
        </td>
      ))}
    </tr>
  );
});

function cellText(row: TrialRow, key: SortKey, figure: Column['figure']): string {
  if (key === 'at') return row.when;
  const value = row[key];
  if (key === 'drawdown_s') return value === null ? '–' : formatClock(Number(value));
  return typeof value === 'string' ? value || '–' : formatNumber(value, figure?.digits ?? 0);
}

/** What else belongs to a trial, in words for those who cannot see the signs. */
function Marks({ row }: { row: TrialRow }) {
  const marks: string[] = [];
  if (row.cups > 1) marks.push(t('trials.mark.cups', { count: row.cups }));
  if (row.traces > 0) marks.push(t('trials.mark.trace'));
  if (row.photographs > 0) marks.push(t('trials.mark.photograph', { count: row.photographs }));
  if (!row.trial.counted) marks.push(t('trials.mark.left_out'));
  return marks.length > 0 ? <span className="trial-marks">{marks.join(' · ')}</span> : null;
}

/** Trials ticked for a comparison: the last two. */
export function useChosen(): [readonly string[], (id: string) => void, () => void] {
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const toggle = useCallback(
    (id: string) =>
      setChosen((now) => (now.includes(id) ? now.filter((one) => one !== id) : [...now, id].slice(-2))),
    [],
  );
  const clear = useCallback(() => setChosen([]), []);
  return [chosen, toggle, clear];
}
