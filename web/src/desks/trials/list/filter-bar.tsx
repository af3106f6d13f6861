import { memo, useMemo } from 'react';
import { Button, CheckInput, DateInput, type Option, SelectInput, TextInput } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { isNarrow, NO_FILTER, SORTS, type Sort, type SortKey, type TrialFilter, WITH } from './filter.ts';
import type { TrialRow } from './rows.ts';

interface FilterBarProps {
  rows: readonly TrialRow[];
  shown: number;
  filter: TrialFilter;
  sort: Sort;
  change: (part: Partial<TrialFilter>) => void;
  onSort: (by: SortKey) => void;
}

const ANY = 'any';

/** What the list is narrowed to. */
export const FilterBar = memo(function FilterBar(props: FilterBarProps) {
  const { rows, shown, filter, sort, change, onSort } = props;
  const coffees = useChoices(rows, 'coffee_id', 'coffee');
  const plans = useChoices(rows, 'plan_id', 'plan');
  const setups = useChoices(rows, 'setup_id', 'setup');
  const select = (field: 'coffee_id' | 'plan_id' | 'setup_id', options: Option[]) => (
    <SelectInput
      label={t(`field.${field}`)}
      value={filter[field] || ANY}
      options={[{ value: ANY, label: t('trials.filter.any') }, ...options]}
      onChange={(id) => change({ [field]: id === ANY ? '' : id })}
    />
  );
  return (
    <search className="trial-filter" aria-label={t('trials.filter.title')}>
      <div className="trial-filter-first">
        <TextInput
          label={t('trials.filter.text')}
          value={filter.text}
          placeholder={t('trials.filter.text_hint')}
          onChange={(text) => change({ text })}
        />
        <p className="trial-count" role="status">
          {shown === rows.length
            ? t('trials.count', { count: rows.length })
            : t('trials.count_shown', { shown, count: rows.length })}
        </p>
      </div>
      <details className="trial-filter-more" open={isNarrow({ ...filter, text: '' }) || undefined}>
        <summary>{t('trials.filter.more')}</summary>
        <div className="trial-filter-fields">
          {select('coffee_id', coffees)}
          {select('plan_id', plans)}
          {select('setup_id', setups)}
          <DateInput
            label={t('trials.filter.from')}
            value={filter.from || null}
            onChange={(from) => change({ from: from ?? '' })}
          />
          <DateInput
            label={t('trials.filter.to')}
            value={filter.to || null}
            onChange={(to) => change({ to: to ?? '' })}
          />
          <div className="trial-sort-choice">
            <SelectInput
              label={t('trials.filter.sort')}
              value={sort.by}
              options={SORTS.map((key) => ({ value: key, label: t(`trials.sort.${key}`) }))}
              onChange={(key) => onSort(key as SortKey)}
            />
          </div>
        </div>
        <fieldset className="trial-with">
          <legend>{t('trials.filter.only_with')}</legend>
          {WITH.map((what) => (
            <CheckInput
              key={what}
              label={t(`trials.with.${what}`)}
              value={filter.with.includes(what)}
              onChange={(on) =>
                change({ with: on ? [...filter.with, what] : filter.with.filter((one) => one !== what) })
              }
            />
          ))}
          <Button look="quiet" isDisabled={!isNarrow(filter)} onPress={() => change(NO_FILTER)}>
            {t('trials.filter.clear')}
          </Button>
        </fieldset>
      </details>
    </search>
  );
});

/** What can be chosen: what occurs in the rows, by name. */
function useChoices(
  rows: readonly TrialRow[],
  id: 'coffee_id' | 'plan_id' | 'setup_id',
  name: 'coffee' | 'plan' | 'setup',
) {
  return useMemo(() => {
    const found = new Map<string, string>();
    for (const row of rows) if (row[id] !== '') found.set(row[id], row[name]);
    return [...found]
      .map(([value, label]): Option => ({ value, label }))
      .sort((a, b) => a.label.localeCompare(b.label));
  }, [rows, id, name]);
}
