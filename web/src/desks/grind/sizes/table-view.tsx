import type { Sizing } from '@pourline/core';
import { Fields, NumberAt, OptionAt } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { endOptions, ofOptions, weightingOptions } from '../parts/options.ts';

export type TableData = Extract<Sizing['data'], { by: 'table' }>;

/** A table as it was read: what its columns mean, its rows, and the text it came from. */
export function TableView({ data }: { data: TableData }) {
  return (
    <div className="grind-stack">
      <Fields>
        <OptionAt path={['data', 'of']} options={ofOptions()} />
        {data.of === 'class' && <OptionAt path={['data', 'sizes']} options={endOptions()} />}
        <OptionAt path={['data', 'weighting']} options={weightingOptions()} />
        <NumberAt path={['data', 'repeat_pct']} step={0.5} hint={t('grind.table.repeat_hint')} />
      </Fields>
      <TableRows rows={data.rows} />
      {data.file && data.file.text !== '' && (
        <details className="grind-more">
          <summary>
            {t('grind.table.as_it_came', { name: data.file.name || t('grind.table.pasted') })}
          </summary>
          <pre className="grind-text">{data.file.text}</pre>
        </details>
      )}
    </div>
  );
}

/** Sizes and what stands beside them, in as many columns as fit. */
export function TableRows({ rows }: { rows: TableData['rows'] }) {
  return (
    <ul className="grind-rows" aria-label={t('grind.table.rows', { count: rows.length })}>
      {rows.map(({ size_um, value_pct }) => (
        <li key={size_um}>
          <span>{formatNumber(size_um, size_um < 100 ? 1 : 0)} µm</span>
          <span>{formatNumber(value_pct, 2)} %</span>
        </li>
      ))}
    </ul>
  );
}
