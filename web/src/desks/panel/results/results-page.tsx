import { type ClosedTasting, isClosed, type SessionTable, type Tasting, tablesOf } from '@pourline/core';
import { useMemo, useState } from 'react';
import { go } from '../../../shell/route.ts';
import { Button, NumberInput, Panel } from '../../../ui/index.ts';
import { formatMoment, problemSentence, t, tMaybe } from '../../../words/index.ts';
import { NumbersBehind } from '../parts/figures.tsx';
import { FindingList } from '../parts/finding-list.tsx';
import { numbered } from '../parts/numbered.ts';
import { usePlain } from '../room/use-panel.ts';
import { openTable } from '../tables/open-table.ts';
import { ResultDrawing } from './result-drawing.tsx';

/** What a closed session says, in plain words with the numbers behind them. */
export function ResultsPage({ tasting }: { tasting: Tasting }) {
  if (!isClosed(tasting)) return <p className="panel-lead">{t('panel.results.not_closed')}</p>;
  return <Results tasting={tasting} />;
}

function Results({ tasting }: { tasting: ClosedTasting }) {
  const tables = useMemo(() => tablesOf(tasting), [tasting]);
  const { run } = tasting;
  const asked = run.answers.filter((a) => a.counts).length;
  return (
    <div className="panel-stack">
      <p className="panel-lead">
        {t('panel.results.head', {
          at: formatMoment(run.closed_at),
          tasters: run.tasters.length,
          answers: asked,
        })}
        {run.sheet_seen.length > 0 && ` ${t('panel.results.sheet_seen', { times: run.sheet_seen.length })}`}
      </p>
      {tables.length === 0 && <p className="panel-lead">{t('panel.results.nothing')}</p>}
      <div className="results">
        {numbered(tables).map(({ at, of }) => (
          <Result key={at} table={of} />
        ))}
        {run.method.test === 'descriptors' && (
          <Panel title={t('panel.results.to_words')}>
            <p>{t('panel.results.to_words_text')}</p>
            <div className="buttons">
              <Button onPress={() => go('panel', 'words')}>{t('panel.results.to_words_go')}</Button>
            </div>
          </Panel>
        )}
        <Alike
          table={
            tables.find((table) => table.kind === 'difference' && table.window === null) ??
            tables.find((table) => table.kind === 'difference')
          }
        />
      </div>
    </div>
  );
}

const titleOf = ({ kind, about, window }: SessionTable): string =>
  [tMaybe(`panel.statistic.${kind.replaceAll('-', '_')}`) ?? kind, about, window]
    .filter((part) => part !== null)
    .join(' · ');

function Result({ table }: { table: SessionTable }) {
  const question = useMemo(() => ({ kind: table.kind, input: table.input }), [table]);
  const { output, failure } = usePlain(question);
  return (
    <Panel
      title={titleOf(table)}
      aside={
        <Button look="quiet" onPress={() => openTable(table.kind, table.input)}>
          {t('panel.results.as_table')}
        </Button>
      }
    >
      {failure && <p className="plain-problem">{failure}</p>}
      {output?.ok === false && (
        <ul className="panel-problems">
          {numbered(output.problems).map(({ at, of }) => (
            <li key={at}>{problemSentence(of)}</li>
          ))}
        </ul>
      )}
      {output?.ok && (
        <>
          <FindingList findings={output.value.findings} />
          <ResultDrawing table={table} answer={output.value} />
          <NumbersBehind figures={output.value.figures} />
        </>
      )}
    </Panel>
  );
}

/** The same answers asked the other way round: are the cups alike enough? */
function Alike({ table }: { table: SessionTable | undefined }) {
  const [limit, setLimit] = useState<number | string | null>(30);
  const good = typeof limit === 'number' && limit >= 1 && limit <= 99;
  const { protocol, correct, answers, alpha } = (table?.input ?? {}) as Record<string, unknown>;
  const question = useMemo(
    () =>
      table && good
        ? { kind: 'similarity', input: { protocol, correct, answers, alpha, limit: (limit as number) / 100 } }
        : null,
    [table, good, protocol, correct, answers, alpha, limit],
  );
  const { output } = usePlain(question);
  if (!table) return null;
  return (
    <Panel title={t('panel.statistic.similarity')}>
      <NumberInput
        label={t('panel.power.limit')}
        unit="%"
        value={limit}
        step={5}
        onChange={setLimit}
        problem={
          good
            ? undefined
            : t('panel.power.wrong', {
                field: t('panel.power.limit'),
                value: String(limit ?? ''),
                low: 1,
                high: 99,
              })
        }
      />
      {output?.ok && (
        <>
          <FindingList findings={output.value.findings} />
          <NumbersBehind figures={output.value.figures} />
        </>
      )}
    </Panel>
  );
}
