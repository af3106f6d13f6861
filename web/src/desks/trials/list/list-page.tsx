import { useCallback, useDeferredValue, useMemo, useState } from 'react';
import { go } from '../../../shell/route.ts';
import { Button, Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { StartWindow } from '../log/start-window.tsx';
import { StrengthYield } from '../plot/strength-yield.tsx';
import { filterRows, NO_FILTER, type Sort, type SortKey, sortRows } from './filter.ts';
import { FilterBar } from './filter-bar.tsx';
import { makeMarked } from './marked.ts';
import { useTrialRows } from './rows.ts';
import { TrialList, useChosen } from './trial-list.tsx';

const NEWEST: Sort = { by: 'at', down: true };

/** Every trial of the campaign: found, sorted, seen beside each other, and two of them compared. */
export function ListPage({ campaignId }: { campaignId: string }) {
  const rows = useTrialRows();
  const [filter, change] = useKept('trials-filter', NO_FILTER);
  const [sort, setSort] = useKept('trials-sort', NEWEST);
  const [marked] = useState(makeMarked);
  const [chosen, choose, clear] = useChosen();
  const [starting, setStarting] = useState(false);
  // Typing stays ahead of the list.
  const asked = useDeferredValue(filter);
  const found = useMemo(() => filterRows(rows, asked), [rows, asked]);
  const shown = useMemo(() => sortRows(found, sort), [found, sort]);
  const onSort = useCallback(
    (by: SortKey) => setSort(sort.by === by ? { down: !sort.down } : { by, down: by === 'at' }),
    [sort, setSort],
  );
  const [a, b] = chosen;
  return (
    <div className="trials-list">
      <div className="trials-bar">
        <Button look="primary" icon="add" onPress={() => setStarting(true)}>
          {t('trials.start')}
        </Button>
        <Button
          isDisabled={!a || !b}
          onPress={() => {
            if (a && b) go('trials', 'compare', a, b);
          }}
        >
          {t('trials.compare_chosen')}
        </Button>
        <p className="quiet-text" role="status">
          {chosen.length > 0 ? t('trials.chosen', { count: chosen.length }) : t('trials.choose_hint')}
        </p>
        {chosen.length > 0 && (
          <Button look="quiet" onPress={clear}>
            {t('trials.choose_none')}
          </Button>
        )}
      </div>
      <FilterBar
        rows={rows}
        shown={shown.length}
        filter={filter}
        sort={sort}
        change={change}
        onSort={onSort}
      />
      <div className="trials-split">
        <Panel title={t('trials.plot.title')}>
          <StrengthYield rows={found} all={rows} marked={marked} />
        </Panel>
        <div className="trials-found">
          {rows.length === 0 ? (
            <p className="quiet-text">{t('trials.none')}</p>
          ) : shown.length === 0 ? (
            <p className="quiet-text">{t('trials.none_found')}</p>
          ) : (
            <TrialList
              rows={shown}
              sort={sort}
              onSort={onSort}
              chosen={chosen}
              onChoose={choose}
              marked={marked}
            />
          )}
        </div>
      </div>
      <StartWindow open={starting} onClose={() => setStarting(false)} campaignId={campaignId} />
    </div>
  );
}
