import { PLAIN_PANEL } from '@pourline/core';
import { useMemo, useState } from 'react';
import { go } from '../../../shell/route.ts';
import { Button, Panel, SelectInput } from '../../../ui/index.ts';
import { problemSentence, t, tMaybe } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { NumbersBehind } from '../parts/figures.tsx';
import { FindingList } from '../parts/finding-list.tsx';
import { numbered } from '../parts/numbered.ts';
import { usePlain } from '../room/use-panel.ts';
import { StatisticForm } from './statistic-form.tsx';

/** Statistics with a page of their own, or that only a program would ask. */
const ELSEWHERE = new Set(['plan', 'description', 'serve']);
const KINDS = Object.keys(PLAIN_PANEL).filter((kind) => !ELSEWHERE.has(kind));

type Input = Readonly<Record<string, unknown>>;

/** Any statistic over a table typed by hand or pasted from a spreadsheet. */
export function TablesPage({ chosen }: { chosen: string | undefined }) {
  const kind = chosen !== undefined && KINDS.includes(chosen) ? chosen : 'difference';
  return (
    <div className="panel-stack">
      <SelectInput
        label={t('panel.tables.question')}
        value={kind}
        options={KINDS.map((value) => ({
          value,
          label: tMaybe(`panel.statistic.${value.replaceAll('-', '_')}`) ?? value,
        }))}
        onChange={(next) => go('panel', 'tables', next)}
      />
      <Statistic key={kind} kind={kind} />
    </div>
  );
}

function Statistic({ kind }: { kind: string }) {
  const statistic = PLAIN_PANEL[kind];
  const example = (statistic?.example ?? {}) as Input;
  const schema = useMemo(() => statistic?.input() ?? {}, [statistic]);
  const [kept, keep] = useKept<{ input: Input }>(`desk.panel.table.${kind}`, { input: example });
  const [turn, setTurn] = useState(0);
  const question = useMemo(() => ({ kind, input: kept.input }), [kind, kept.input]);
  const { output, stale, failure } = usePlain(question);
  const start = (input: Input): void => {
    keep({ input });
    setTurn(turn + 1);
  };
  return (
    <div className="panel-two">
      <Panel title={t('panel.tables.typed')}>
        <StatisticForm key={turn} schema={schema} input={kept.input} onChange={(input) => keep({ input })} />
        <div className="buttons">
          <Button look="quiet" onPress={() => start(example)}>
            {t('panel.tables.example')}
          </Button>
          <Button look="quiet" onPress={() => start({})}>
            {t('panel.tables.empty')}
          </Button>
        </div>
      </Panel>
      <Panel title={t('panel.tables.answer')}>
        <div className="panel-column" data-stale={stale || undefined} aria-live="polite">
          {failure && <p className="plain-problem">{failure}</p>}
          {output?.ok === false && (
            <ul className="panel-problems">
              {numbered(output.problems.slice(0, 20)).map(({ at, of }) => (
                <li key={at}>{problemSentence(of)}</li>
              ))}
            </ul>
          )}
          {output?.ok && (
            <>
              <FindingList findings={output.value.findings} />
              {output.value.findings.length === 0 && (
                <p className="quiet-text">{t('panel.tables.numbers_only')}</p>
              )}
              <NumbersBehind figures={output.value.figures} />
            </>
          )}
        </div>
      </Panel>
    </div>
  );
}
