import type { DesignFactor, DesignKind, Plan, RunSheet, SheetRun } from '@pourline/core';
import { useMemo, useState } from 'react';
import { createPortal } from 'react-dom';
import { go } from '../../../shell/route.ts';
import { Button, CheckInput, Fields, NumberInput, Panel, SelectInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useAnswer } from '../../grind/room/use-answer.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { FindingList } from '../compare/compare-page.tsx';
import { startTrial } from '../log/start-trial.ts';
import { theTrialsRoom } from '../room/room.ts';
import type { SheetOrder } from '../room/worker.ts';
import { levelText } from './levels-text.ts';
import { type LeverKey, turned } from './levers.ts';
import { kindsFor } from './make-design.ts';
import { usePrinting } from './use-printing.ts';

/** What is varied, with the part of the plan it moves. */
export type Chosen = readonly { factor: DesignFactor; lever: LeverKey | null }[];

interface SheetPanelProps {
  plan: Plan;
  chosen: Chosen;
  campaignId: string;
}

const FIRST = {
  kind: 'full_factorial',
  per_day: 8 as unknown,
  runs: 12 as unknown,
  dose: null as unknown,
  drift: true,
  seed: 1,
};
const number = (value: unknown): number | null => (typeof value === 'number' && value > 0 ? value : null);
const ask = (order: SheetOrder): Promise<RunSheet | null> => theTrialsRoom().sheet(order);

/** A designed set of brews as a sheet to brew from: printed, copied, or started run by run. */
export function SheetPanel({ plan, chosen, campaignId }: SheetPanelProps) {
  const [kept, keep] = useKept('trials-sheet', FIRST);
  const kinds = kindsFor(chosen.length);
  const kind = kinds.find((one) => one === kept.kind) ?? kinds[0] ?? null;
  const factors = useMemo(() => chosen.map(({ factor }) => factor), [chosen]);
  const order = useMemo<SheetOrder | null>(
    () =>
      kind && {
        kind,
        factors,
        runs: number(kept.runs) ?? 12,
        per_day: number(kept.per_day),
        dose_g: number(kept.dose) ?? plan.dose_g,
        against_drift: kept.drift,
        seed: kept.seed,
      },
    [kind, factors, kept, plan.dose_g],
  );
  const { output: sheet, input, stale, failure } = useAnswer(ask, order);
  return (
    <Panel title={t('trials.sheet.title')} fold="closed">
      <p className="quiet-text">{t('trials.sheet.text')}</p>
      {kind === null ? (
        <p className="quiet-text">{t('trials.sheet.no_factors')}</p>
      ) : (
        <>
          <Fields>
            <SelectInput
              label={t('trials.sheet.kind')}
              value={kind}
              options={kinds.map((value) => ({ value, label: t(`trials.design_kind.${value}`) }))}
              onChange={(value) => keep({ kind: value as DesignKind })}
            />
            {kind === 'd_optimal' && (
              <NumberInput
                label={t('trials.sheet.runs')}
                value={kept.runs}
                onChange={(runs) => keep({ runs })}
              />
            )}
            <NumberInput
              label={t('trials.sheet.per_day')}
              value={kept.per_day}
              placeholder={t('trials.sheet.one_day')}
              onChange={(per_day) => keep({ per_day })}
            />
            <NumberInput
              label={t('trials.sheet.dose')}
              value={kept.dose ?? plan.dose_g}
              unit="g"
              step={0.5}
              onChange={(dose) => keep({ dose })}
            />
            <CheckInput
              label={t('trials.sheet.drift')}
              value={kept.drift}
              onChange={(drift) => keep({ drift })}
            />
          </Fields>
          {failure && <p className="plain-problem">{failure}</p>}
          {!sheet && !failure && <p className="quiet-text">{t('common.loading')}</p>}
          {sheet && input && (
            <div data-stale={stale || undefined}>
              <Sheet
                sheet={sheet}
                factors={input.factors}
                plan={plan}
                chosen={chosen}
                campaignId={campaignId}
                onShuffle={() => keep({ seed: kept.seed + 1 })}
              />
            </div>
          )}
        </>
      )}
    </Panel>
  );
}

interface SheetProps extends SheetPanelProps {
  sheet: RunSheet;
  factors: readonly DesignFactor[];
  onShuffle: () => void;
}

function Sheet({ sheet, factors, plan, chosen, campaignId, onShuffle }: SheetProps) {
  const [printing, print] = usePrinting();
  const [copied, setCopied] = useState<boolean | null>(null);
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(sheetText(sheet, factors));
      setCopied(true);
    } catch {
      setCopied(false);
    }
  };
  const start = async (run: SheetRun): Promise<void> => {
    const levers = chosen.map(({ lever }) => lever);
    const body = {
      ...turned(plan, levers, run.levels),
      name: `${plan.name}, ${t('trials.sheet.run', { run: run.run })}`.slice(0, 120),
    };
    go('trials', 'log', await startTrial(body, 1, campaignId));
  };
  const table = (onStart?: (run: SheetRun) => void) => (
    <table className="learn-table sheet-table">
      <thead>
        <tr>
          <th scope="col">{t('trials.sheet.number')}</th>
          {sheet.blocks > 1 && <th scope="col">{t('trials.sheet.day')}</th>}
          {factors.map(({ name, unit }) => (
            <th key={name} scope="col">
              {name} {unit && <span className="unit">{unit}</span>}
            </th>
          ))}
          <th scope="col">{t('trials.sheet.result')}</th>
        </tr>
      </thead>
      <tbody>
        {sheet.runs.map((run) => (
          <tr key={run.run}>
            <th scope="row">{run.run}</th>
            {sheet.blocks > 1 && <td>{run.block}</td>}
            {factors.map((factor, i) => (
              <td key={factor.name}>{levelText(factor, run.levels[i]!)}</td>
            ))}
            <td className="sheet-result">
              {onStart && (
                <Button look="quiet" onPress={() => onStart(run)}>
                  {t('trials.sheet.start')}
                </Button>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
  return (
    <div className="trials-stack">
      <p role="status">
        {t('trials.sheet.cost', {
          runs: sheet.runs.length,
          days: sheet.blocks,
          grams: formatNumber(sheet.grams, 0),
        })}
      </p>
      <div className="buttons">
        <Button onPress={print}>{t('trials.sheet.print')}</Button>
        <Button onPress={() => void copy()}>{t('trials.sheet.copy')}</Button>
        <Button look="quiet" onPress={onShuffle}>
          {t('trials.sheet.shuffle')}
        </Button>
        {copied !== null && (
          <span className="quiet-text" role="status">
            {t(copied ? 'trials.sheet.copied' : 'trials.sheet.not_copied')}
          </span>
        )}
      </div>
      <div className="table-scroll">{table((run) => void start(run))}</div>
      <FindingList findings={sheet.findings} />
      {printing &&
        createPortal(
          <div className="trials-paper">
            <h1>{t('trials.sheet.paper', { plan: plan.name })}</h1>
            {table()}
          </div>,
          document.body,
        )}
    </div>
  );
}

/** The sheet as a table for any other program: tabs between columns. */
export function sheetText(sheet: RunSheet, factors: readonly DesignFactor[]): string {
  const head = [
    t('trials.sheet.number'),
    t('trials.sheet.day'),
    ...factors.map(({ name, unit }) => (unit ? `${name} [${unit}]` : name)),
    t('trials.sheet.result'),
  ];
  const rows = sheet.runs.map(({ run, block, levels }) => [run, block, ...levels, '']);
  return [head, ...rows].map((row) => row.join('\t')).join('\n');
}
