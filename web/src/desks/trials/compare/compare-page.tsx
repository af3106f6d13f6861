import type { BrewDifference, DifferenceQuestion, Finding } from '@pourline/core';
import { useMemo, useState } from 'react';
import { useLookup } from '../../../replica/index.ts';
import { go, hrefOf } from '../../../shell/route.ts';
import { Choice, NumberInput, type Option, Panel, SelectInput } from '../../../ui/index.ts';
import { formatClock, formatNumber, remarkSentence, t } from '../../../words/index.ts';
import { useAnswer } from '../../grind/room/use-answer.ts';
import { type TrialRow, useTrialRows } from '../list/rows.ts';
import { MeasuredKey, PlanStrip, useMeasured } from '../log/trial-strip.tsx';
import { theTrialsRoom } from '../room/room.ts';
import {
  COMPARED,
  COMPARED_UNITS,
  type Compared,
  differenceQuestion,
  type Scope,
  sidesOf,
} from './compare-question.ts';
import './compare.css';

const ask = (question: DifferenceQuestion): Promise<BrewDifference> => theTrialsRoom().compare(question);

/** Two trials over each other on the strip, and whether their difference is real. */
export function ComparePage({ first, second }: { first: string | undefined; second: string | undefined }) {
  const rows = useTrialRows();
  const newest = useMemo(() => [...rows].sort((a, b) => b.at - a.at), [rows]);
  const b = rows.find(({ id }) => id === (second ?? newest[0]?.id)) ?? null;
  const a = rows.find(({ id }) => id === (first ?? newest[1]?.id)) ?? null;
  if (!a || !b) return <p className="quiet-text">{t('trials.compare.needs_two')}</p>;
  return (
    <div className="trials-stack">
      <div className="compare-choice">
        <TrialChoice
          label={t('trials.compare.first')}
          value={a}
          newest={newest}
          onChange={(id) => go('trials', 'compare', id, b.id)}
        />
        <TrialChoice
          label={t('trials.compare.second')}
          value={b}
          newest={newest}
          onChange={(id) => go('trials', 'compare', a.id, id)}
        />
      </div>
      <div className="compare-pair">
        <VerdictPanel key={`${a.plan_id} ${b.plan_id}`} rows={rows} a={a} b={b} />
        <FiguresPanel a={a} b={b} />
      </div>
      <StripPanel a={a} b={b} />
    </div>
  );
}

/** So many of the newest are offered; older ones are ticked in the list. */
const OFFERED = 80;

interface TrialChoiceProps {
  label: string;
  value: TrialRow;
  newest: readonly TrialRow[];
  onChange: (id: string) => void;
}

function TrialChoice({ label, value, newest, onChange }: TrialChoiceProps) {
  const shown = newest.slice(0, OFFERED);
  const options = (shown.includes(value) ? shown : [value, ...shown]).map(
    ({ id, name, when }): Option => ({ value: id, label: name, detail: when }),
  );
  return (
    <SelectInput
      label={label}
      value={value.id}
      options={options}
      onChange={onChange}
      hint={newest.length > OFFERED ? t('trials.compare.offered', { count: OFFERED }) : undefined}
    />
  );
}

interface PairProps {
  a: TrialRow;
  b: TrialRow;
}

function VerdictPanel({ rows, a, b }: PairProps & { rows: readonly TrialRow[] }) {
  const lookup = useLookup();
  const [figure, setFigure] = useState<Compared>('yield_pct');
  const [scope, setScope] = useState<Scope>('two');
  const [limit, setLimit] = useState<unknown>(null);
  const apart = a.plan_id !== b.plan_id;
  const taken = apart ? scope : 'two';
  const care = typeof limit === 'number' && limit > 0 ? limit : null;
  const question = useMemo(
    () =>
      a.id === b.id
        ? null
        : differenceQuestion({
            rows,
            a,
            b,
            scope: taken,
            figure,
            name: t(`trials.compared.${figure}`),
            limit: care,
            lookup,
          }),
    [rows, a, b, taken, figure, care, lookup],
  );
  const { output, stale, failure } = useAnswer(ask, question);
  const [left, right] = sidesOf(rows, a, b, taken);
  return (
    <Panel title={t('trials.compare.verdict')}>
      <Choice
        label={t('trials.compare.figure')}
        value={figure}
        options={COMPARED.map((value) => ({ value, label: t(`trials.compared.${value}`) }))}
        onChange={setFigure}
      />
      {apart && (
        <Choice
          label={t('trials.compare.scope')}
          value={scope}
          options={[
            { value: 'two', label: t('trials.compare.scope_two') },
            { value: 'plans', label: t('trials.compare.scope_plans') },
          ]}
          onChange={setScope}
        />
      )}
      <div className="compare-limit">
        <NumberInput
          label={t('trials.compare.limit')}
          value={limit}
          unit={COMPARED_UNITS[figure].unit}
          step={0.1}
          hint={t('trials.compare.limit_hint')}
          onChange={setLimit}
        />
      </div>
      {question === null ? (
        <p className="quiet-text">
          {t(a.id === b.id ? 'trials.compare.same_one' : 'trials.compare.no_figure')}
        </p>
      ) : (
        <div data-stale={stale || undefined}>
          {output ? (
            <Verdict found={output} figure={figure} />
          ) : (
            <p className="quiet-text">{t('common.loading')}</p>
          )}
          {taken === 'plans' && (
            <p className="quiet-text">
              {t('trials.compare.counts', { left: left.length, right: right.length })}
            </p>
          )}
          {failure && <p className="plain-problem">{failure}</p>}
        </div>
      )}
    </Panel>
  );
}

/** Signs by which verdicts are told apart without colour. */
const SIGNS: Readonly<Record<BrewDifference['verdict'], string>> = {
  same: '=',
  maybe: '?',
  clear: '≠',
  not_shown: '≈',
  cannot: '…',
};

function Verdict({ found, figure }: { found: BrewDifference; figure: Compared }) {
  const { unit, decimals } = COMPARED_UNITS[figure];
  const sign = found.difference > 0 ? '+' : '';
  const known = Number.isFinite(found.low) && Number.isFinite(found.high);
  return (
    <div className="verdict" data-verdict={found.verdict}>
      <p className="verdict-word" role="status">
        <span className="verdict-sign" aria-hidden="true">
          {SIGNS[found.verdict]}
        </span>
        <b>{t(`trials.verdict.${found.verdict}`)}</b>
        <span>
          {sign}
          {formatNumber(found.difference, decimals)} {unit}
        </span>
        {known && (
          <span className="quiet-text">
            {t('trials.compare.interval', {
              low: formatNumber(found.low, decimals),
              high: formatNumber(found.high, decimals),
              unit,
            })}
          </span>
        )}
      </p>
      <FindingList findings={found.findings} />
    </div>
  );
}

/** What core has to say, one sentence a line. */
export function FindingList({
  findings,
}: {
  findings: readonly Pick<Finding, 'code' | 'values' | 'sentence'>[];
}) {
  if (findings.length === 0) return null;
  return (
    <ul className="trial-findings">
      {findings.map((finding) => (
        <li key={finding.sentence}>{remarkSentence(finding)}</li>
      ))}
    </ul>
  );
}

const FIGURES = [
  ['dose_g', 'g', 2],
  ['water_g', 'g', 1],
  ['beverage_g', 'g', 1],
  ['strength_pct', '%', 2],
  ['yield_pct', '%', 1],
  ['drawdown_s', '', 0],
] as const;

function FiguresPanel({ a, b }: PairProps) {
  return (
    <Panel title={t('trials.compare.figures')}>
      <div className="table-scroll">
        <table className="compare-table">
          <thead>
            <tr>
              <td />
              {[a, b].map((row, i) => (
                <th key={row.id} scope="col">
                  <a href={hrefOf('trials', 'log', row.id)}>{row.name}</a>
                  <span className="quiet-text">
                    {t(i === 0 ? 'trials.compare.solid' : 'trials.compare.dashed')}
                  </span>
                </th>
              ))}
              <th scope="col">{t('trials.compare.difference')}</th>
            </tr>
          </thead>
          <tbody>
            {FIGURES.map(([key, unit, digits]) => {
              const text = (value: number | null): string =>
                key === 'drawdown_s' ? formatClock(value) : formatNumber(value, digits);
              const [left, right] = [a[key], b[key]];
              const by = left === null || right === null ? null : right - left;
              return (
                <tr key={key}>
                  <th scope="row">
                    {t(`trials.compared.${key}`)} <span className="unit">{unit}</span>
                  </th>
                  <td>{text(left)}</td>
                  <td>{text(right)}</td>
                  <td>
                    {by !== null && by > 0 ? '+' : ''}
                    {formatNumber(by, digits)}
                    {key === 'drawdown_s' && by !== null ? ' s' : ''}
                  </td>
                </tr>
              );
            })}
            {(['plan', 'coffee', 'setup', 'when'] as const).map((key) => (
              <tr key={key}>
                <th scope="row">{t(`trials.compared.${key}`)}</th>
                <td>{a[key] || '–'}</td>
                <td>{b[key] || '–'}</td>
                <td>{a[key] === b[key] ? t('trials.compare.alike') : ''}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Panel>
  );
}

function StripPanel({ a, b }: PairProps) {
  const lookup = useLookup();
  const found = lookup(a.plan_id);
  const plan = a.trial.plan_then ?? (found?.kind === 'plan' ? found : null);
  const measured = useMeasured(a.id === b.id ? [a.trial] : [a.trial, b.trial]);
  if (!plan) return <p className="quiet-text">{t('trials.strip.no_plan')}</p>;
  return (
    <Panel title={t('trials.compare.strip')} aside={<MeasuredKey names={measured.map(({ name }) => name)} />}>
      <p className="quiet-text">{t('trials.compare.strip_hint', { plan: plan.name })}</p>
      <PlanStrip plan={plan} measured={measured} />
    </Panel>
  );
}
