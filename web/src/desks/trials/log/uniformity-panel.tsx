import {
  type CupFigure,
  type CupUniformity,
  type Lookup,
  type Plan,
  pooledScatter,
  type Trial,
} from '@pourline/core';
import { useMemo, useState } from 'react';
import { Button, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useBundle } from '../../brew/use-brew.ts';
import { useAnswer } from '../../grind/room/use-answer.ts';
import { FindingList } from '../compare/compare-page.tsx';
import { COMPARED_UNITS, type Compared } from '../compare/compare-question.ts';
import { type TrialRow, useTrialRows } from '../list/rows.ts';
import { balanceIn } from '../parts/balance.ts';
import { theTrialsRoom } from '../room/room.ts';
import { blameQuestion } from './blame-question.ts';

const FIGURES = ['strength_pct', 'yield_pct', 'beverage_g', 'drawdown_s'] as const satisfies Compared[];
const ask = (figures: readonly CupFigure[]): Promise<CupUniformity> => theTrialsRoom().alike(figures);

interface UniformityPanelProps {
  cups: readonly Trial[];
  plan: Plan | null;
  lookup: Lookup;
}

/** Were the cups of one set the same, and which pour made them differ? */
export function UniformityPanel({ cups, plan, lookup }: UniformityPanelProps) {
  const rows = useTrialRows();
  const figures = useMemo(() => figuresOf(cups, rows, plan, lookup), [cups, rows, plan, lookup]);
  const { output, stale } = useAnswer(ask, figures.length > 0 ? figures : null);
  return (
    <Panel title={t('trials.alike.title')}>
      {figures.length === 0 || !output ? (
        <p className="quiet-text">{t('trials.alike.needs')}</p>
      ) : (
        <div data-stale={stale || undefined} className="verdict" data-verdict={output.verdict}>
          <p className="verdict-word" role="status">
            <b>{t(`trials.alike.verdict.${output.verdict}`)}</b>
          </p>
          <div className="table-scroll">
            <table className="compare-table">
              <thead>
                <tr>
                  <th scope="col">{t('trials.alike.figure')}</th>
                  <th scope="col">{t('trials.alike.range')}</th>
                  <th scope="col">{t('trials.alike.sd')}</th>
                </tr>
              </thead>
              <tbody>
                {output.figures.map((figure) => {
                  const decimals = figures.find(({ name }) => name === figure.name)?.decimals ?? 1;
                  return (
                    <tr key={figure.name}>
                      <th scope="row">{figure.name}</th>
                      <td>
                        {formatNumber(figure.range, decimals)} <span className="unit">{figure.unit}</span>
                      </td>
                      <td>
                        {formatNumber(figure.sd, decimals + 1)}{' '}
                        <span className="quiet-text">
                          {t('trials.learned.band', {
                            low: formatNumber(figure.sd_low, decimals + 1),
                            high: formatNumber(figure.sd_high, decimals + 1),
                          })}
                        </span>
                      </td>
                    </tr>
                  );
                })}
              </tbody>
            </table>
          </div>
          <FindingList findings={output.findings} />
        </div>
      )}
      <Blame cups={cups} rows={rows} plan={plan} />
    </Panel>
  );
}

/** Sets of earlier events, for how far one's cups usually scatter. */
function historyOf(rows: readonly TrialRow[], without: string, figure: Compared): CupFigure['history'] {
  const sets = new Map<string, number[]>();
  for (const row of rows) {
    const { event, counted } = row.trial;
    const value = row[figure];
    if (!event || event.id === without || !counted || value === null) continue;
    sets.set(event.id, [...(sets.get(event.id) ?? []), value]);
  }
  const scatter = pooledScatter(sets.values());
  return scatter && scatter.groups >= 2 ? { sd: scatter.sd, sets: scatter.groups } : null;
}

function figuresOf(
  cups: readonly Trial[],
  rows: readonly TrialRow[],
  plan: Plan | null,
  lookup: Lookup,
): CupFigure[] {
  const mine = cups.map((cup) => rows.find(({ id }) => id === cup.id));
  const event = cups[0]?.event?.id ?? '';
  return FIGURES.flatMap((key): CupFigure[] => {
    const values = mine.map((row) => row?.[key] ?? null);
    if (values.filter((value) => value !== null).length < 2) return [];
    const { unit, decimals } = COMPARED_UNITS[key];
    const doubts = cups.map((cup) =>
      key === 'beverage_g'
        ? 0.06
        : key === 'drawdown_s'
          ? 1
          : (balanceIn(cup, plan, lookup)[key]?.uncertainty ?? 0),
    );
    return [
      {
        name: t(`trials.compared.${key}`),
        unit,
        decimals,
        values,
        doubt: Math.max(...doubts),
        history: historyOf(rows, event, key),
        limit: null,
      },
    ];
  });
}

/** Asked for by a press: it runs the engine for every slip of every pour. */
function Blame({
  cups,
  rows,
  plan,
}: {
  cups: readonly Trial[];
  rows: readonly TrialRow[];
  plan: Plan | null;
}) {
  const { bundle } = useBundle(plan);
  const [found, setFound] = useState<Awaited<ReturnType<ReturnType<typeof theTrialsRoom>['blame']>>>(null);
  const [busy, setBusy] = useState(false);
  const question = useMemo(() => blameQuestion(cups, rows, plan), [cups, rows, plan]);
  if (!bundle || !question) return <p className="quiet-text">{t('trials.alike.no_pours')}</p>;
  const look = async (): Promise<void> => {
    setBusy(true);
    try {
      setFound(await theTrialsRoom().blame(bundle, question));
    } finally {
      setBusy(false);
    }
  };
  return (
    <>
      <div className="buttons">
        <Button isDisabled={busy} onPress={() => void look()}>
          {t(busy ? 'trials.alike.looking' : 'trials.alike.which_pour')}
        </Button>
      </div>
      {found && <FindingList findings={found.findings} />}
    </>
  );
}
