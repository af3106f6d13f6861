import { PROTOCOL_NAMES } from '@pourline/core';
import { useMemo } from 'react';
import { Choice, Fields, NumberInput, Panel, SelectInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { FindingList } from '../parts/finding-list.tsx';
import { usePower } from '../room/use-panel.ts';
import { PowerChart } from './power-chart.tsx';
import type { PowerAnswer, PowerQuestion } from './power-kernels.ts';

interface Typed {
  aim: string;
  protocol: string;
  sides: string;
  alpha: unknown;
  limit: unknown;
  tasters: unknown;
  repeats: unknown;
  size: string;
  d_prime: unknown;
  discriminators: unknown;
}

const FIRST: Typed = {
  aim: 'difference',
  protocol: 'triangle',
  sides: 'one',
  alpha: 0.05,
  limit: 30,
  tasters: 5,
  repeats: 3,
  size: 'd_prime',
  d_prime: 1.5,
  discriminators: 50,
};

const within = (value: unknown, low: number, high: number): value is number =>
  typeof value === 'number' && value >= low && value <= high;
const whole = (value: unknown, low: number, high: number): value is number =>
  within(value, low, high) && Number.isInteger(value);

/** What is wrong with a typed field, as a sentence. */
function wrong(field: string, value: unknown, ok: boolean, low: number, high: number): string | undefined {
  return ok ? undefined : t('panel.power.wrong', { field, value: String(value ?? ''), low, high });
}

/** The typed plan as a question, or null while a field is wrong. */
function questionOf(typed: Typed): PowerQuestion | null {
  const { alpha, limit, tasters, repeats, d_prime, discriminators } = typed;
  if (!within(alpha, 0.0001, 0.5) || !whole(tasters, 1, 200) || !whole(repeats, 1, 60)) return null;
  if (tasters * repeats > 5_000 || !within(limit, 1, 99)) return null;
  const byD = typed.size === 'd_prime';
  if (byD ? !within(d_prime, 0, 10) : !within(discriminators, 0, 100)) return null;
  return {
    aim: typed.aim === 'similarity' ? 'similarity' : 'difference',
    protocol: PROTOCOL_NAMES.find((name) => name === typed.protocol) ?? 'triangle',
    sides: typed.sides === 'two' ? 'two' : 'one',
    alpha,
    limit: limit / 100,
    tasters,
    repeats,
    effect: byD ? { d_prime: d_prime as number } : { discriminators: (discriminators as number) / 100 },
  };
}

/** Before anything is poured: what so many answers can and cannot show, and how many it takes. */
export function PowerPage() {
  const [typed, type] = useKept<Typed>('desk.panel.power', FIRST);
  const question = useMemo(() => questionOf(typed), [typed]);
  const { output, stale } = usePower(question);
  return (
    <div className="panel-two">
      <Panel title={t('panel.power.plan')}>
        <Choice
          label={t('panel.power.aim')}
          value={typed.aim === 'similarity' ? 'similarity' : 'difference'}
          options={[
            { value: 'difference', label: t('panel.power.aim.difference') },
            { value: 'similarity', label: t('panel.power.aim.similarity') },
          ]}
          onChange={(aim) => type({ aim })}
        />
        <SelectInput
          label={t('panel.power.protocol')}
          value={typed.protocol}
          options={PROTOCOL_NAMES.map((value) => ({
            value,
            label: t(`panel.protocol.${value}`),
            detail: t(`panel.protocol_about.${value}`),
          }))}
          onChange={(protocol) => type({ protocol })}
        />
        {typed.protocol === 'paired' && typed.aim !== 'similarity' && (
          <Choice
            label={t('panel.power.sides')}
            value={typed.sides === 'two' ? 'two' : 'one'}
            options={[
              { value: 'one', label: t('panel.power.sides.one') },
              { value: 'two', label: t('panel.power.sides.two') },
            ]}
            onChange={(sides) => type({ sides })}
          />
        )}
        <PowerFields typed={typed} type={type} />
      </Panel>
      <div className="panel-column">
        {output && (
          <>
            <Panel title={t('panel.power.says')}>
              <div data-stale={stale || undefined}>
                <FindingList findings={output.findings} live />
              </div>
            </Panel>
            <Panel title={t('panel.power.chart')}>
              <PowerChart answer={output} stale={stale} />
              <p className="quiet-text">{t('panel.power.chart_text')}</p>
              <ProtocolTable answer={output} />
            </Panel>
          </>
        )}
      </div>
    </div>
  );
}

function PowerFields({ typed, type }: { typed: Typed; type: (part: Partial<Typed>) => void }) {
  const { alpha, limit, tasters, repeats, d_prime, discriminators } = typed;
  const field = (
    key: 'alpha' | 'limit' | 'tasters' | 'repeats' | 'd_prime' | 'discriminators',
    value: unknown,
    ok: boolean,
    [low, high]: [number, number],
    more: { step: number; unit?: string },
  ) => (
    <NumberInput
      label={t(`panel.power.${key}`)}
      value={value}
      onChange={(next) => type({ [key]: next })}
      problem={wrong(t(`panel.power.${key}`), value, ok, low, high)}
      {...more}
    />
  );
  return (
    <>
      <Fields>
        {field('tasters', tasters, whole(tasters, 1, 200), [1, 200], { step: 1 })}
        {field('repeats', repeats, whole(repeats, 1, 60), [1, 60], { step: 1 })}
        {field('alpha', alpha, within(alpha, 0.0001, 0.5), [0.0001, 0.5], { step: 0.01 })}
        {typed.aim === 'similarity' &&
          field('limit', limit, within(limit, 1, 99), [1, 99], { step: 5, unit: '%' })}
      </Fields>
      <Choice
        label={t('panel.power.size')}
        value={typed.size === 'discriminators' ? 'discriminators' : 'd_prime'}
        options={[
          { value: 'd_prime', label: t('panel.power.size.d_prime') },
          { value: 'discriminators', label: t('panel.power.size.discriminators') },
        ]}
        onChange={(size) => type({ size })}
      />
      <Fields>
        {typed.size === 'discriminators'
          ? field('discriminators', discriminators, within(discriminators, 0, 100), [0, 100], {
              step: 5,
              unit: '%',
            })
          : field('d_prime', d_prime, within(d_prime, 0, 10), [0, 10], { step: 0.1 })}
      </Fields>
      <p className="quiet-text">{t('panel.power.size_text')}</p>
    </>
  );
}

/** All protocols at the planned number of answers, with what each costs in sips. */
function ProtocolTable({ answer }: { answer: PowerAnswer }) {
  const { rows, question } = answer;
  const answers = question.tasters * question.repeats;
  return (
    <div className="table-scroll">
      <table className="panel-table">
        <thead>
          <tr>
            <th scope="col">{t('panel.power.protocol')}</th>
            <th scope="col">{t('panel.power.needs', { answers })}</th>
            <th scope="col">{t('panel.power.chance')}</th>
            <th scope="col">{t('panel.power.enough')}</th>
            <th scope="col">{t('panel.power.sips')}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.protocol} data-taken={row.protocol === question.protocol || undefined}>
              <th scope="row">{t(`panel.protocol.${row.protocol}`)}</th>
              <td>
                {row.critical === null
                  ? t('panel.power.cannot', { fewest: row.fewest ?? 0 })
                  : t(question.aim === 'similarity' ? 'panel.power.at_most' : 'panel.power.at_least', {
                      count: row.critical,
                    })}
              </td>
              <td>{formatNumber(100 * row.power)} %</td>
              <td>
                {row.size === null
                  ? t('panel.power.never')
                  : t('panel.power.size_of', { first: row.size.first, stable: row.size.stable })}
              </td>
              <td>{formatNumber(row.served * question.repeats)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
