import type { DialInPlan, DialInQuestion, Plan } from '@pourline/core';
import { useMemo } from 'react';
import { createPortal } from 'react-dom';
import { Button, Fields, NumberInput, Panel } from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';
import { useAnswer } from '../../grind/room/use-answer.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { FindingList } from '../compare/compare-page.tsx';
import { theTrialsRoom } from '../room/room.ts';
import { levelWithUnit } from './levels-text.ts';
import type { Chosen } from './sheet-panel.tsx';
import { usePrinting } from './use-printing.ts';

const FIELDS = [
  ['minutes', 'min', 1],
  ['grams', 'g', 10],
  ['purge_g', 'g', 0.5],
  ['serve_cups', '', 1],
  ['spare_doses', '', 1],
  ['brew_s', 's', 5],
  ['ready_s', 's', 5],
  ['cool_s', 's', 5],
  ['taste_s', 's', 5],
  ['close_min', 'min', 1],
] as const;
type Field = (typeof FIELDS)[number][0];

const FIRST: Record<Field, unknown> = {
  minutes: 38,
  grams: 350,
  purge_g: 2,
  serve_cups: 3,
  spare_doses: 1,
  brew_s: 200,
  ready_s: 90,
  cool_s: 180,
  taste_s: 60,
  close_min: 5,
};
const ask = (question: DialInQuestion): Promise<DialInPlan> => theTrialsRoom().dialIn(question);

/** A coffee nobody knows, and so many minutes and grams: which brews, when, and when their taste is known. */
export function DialInPanel({ plan, chosen }: { plan: Plan; chosen: Chosen }) {
  const [kept, keep] = useKept('trials-dial-in', FIRST);
  const question = useMemo<DialInQuestion | null>(() => {
    const values = Object.fromEntries(FIELDS.map(([field]) => [field, kept[field]]));
    const whole = FIELDS.every(([field]) => typeof kept[field] === 'number' && (kept[field] as number) >= 0);
    if (!whole || chosen.length === 0) return null;
    return {
      ...(values as Record<Field, number>),
      dose_g: plan.dose_g,
      factors: chosen.map(({ factor }) => factor),
      seed: 1,
    };
  }, [kept, chosen, plan.dose_g]);
  const { output, input, stale, failure } = useAnswer(ask, question);
  const [printing, print] = usePrinting();
  return (
    <Panel title={t('trials.dial_in.title')} fold="closed">
      <p className="quiet-text">{t('trials.dial_in.text')}</p>
      <Fields>
        {FIELDS.map(([field, unit, step]) => (
          <NumberInput
            key={field}
            label={t(`trials.dial_in.${field}`)}
            value={kept[field]}
            unit={unit || undefined}
            step={step}
            onChange={(value) => keep({ [field]: value })}
          />
        ))}
      </Fields>
      {question === null && <p className="quiet-text">{t('trials.dial_in.needs')}</p>}
      {failure && <p className="plain-problem">{failure}</p>}
      {question && !output && !failure && <p className="quiet-text">{t('common.loading')}</p>}
      {question && output && input && (
        <div className="trials-stack" data-stale={stale || undefined}>
          <p role="status">
            {t('trials.dial_in.sum', {
              count: output.brews.length,
              used: formatNumber(output.grams_used, 0),
              kept: formatNumber(output.grams_kept, 0),
              bound: t(`trials.dial_in.bound.${output.bound_by}`),
            })}
          </p>
          <Timeline plan={output} minutes={input.minutes} />
          <div className="table-scroll">
            <DialInTable plan={output} question={input} />
          </div>
          <div className="buttons">
            <Button onPress={print}>{t('trials.sheet.print')}</Button>
          </div>
          <FindingList findings={output.findings} />
          {printing &&
            createPortal(
              <div className="trials-paper">
                <h1>{t('trials.dial_in.paper', { minutes: input.minutes, grams: input.grams })}</h1>
                <DialInTable plan={output} question={input} />
              </div>,
              document.body,
            )}
        </div>
      )}
    </Panel>
  );
}

/** Brewing and tasting side by side on one line of time. */
function Timeline({ plan, minutes }: { plan: DialInPlan; minutes: number }) {
  const x = (seconds: number): number => (seconds / (minutes * 60)) * 1_000;
  return (
    <svg className="dial-in-line" viewBox="0 0 1000 66" preserveAspectRatio="none" aria-hidden="true">
      {plan.brews.map(({ brew, start_s, end_s, taste_from_s, taste_until_s }) => (
        <g key={brew}>
          <rect
            className="brewing"
            x={x(start_s)}
            y={4}
            width={Math.max(2, x(end_s - start_s))}
            height={24}
          />
          <rect
            className="tasting"
            x={x(taste_from_s)}
            y={36}
            width={Math.max(2, x(taste_until_s - taste_from_s))}
            height={24}
          />
        </g>
      ))}
    </svg>
  );
}

function DialInTable({ plan, question }: { plan: DialInPlan; question: DialInQuestion }) {
  return (
    <table className="learn-table">
      <thead>
        <tr>
          <th scope="col">{t('trials.sheet.number')}</th>
          <th scope="col">{t('trials.dial_in.from')}</th>
          <th scope="col">{t('trials.dial_in.taste')}</th>
          <th scope="col">{t('trials.dial_in.for')}</th>
          <th scope="col">{t('trials.dial_in.levels')}</th>
          <th scope="col">{t('trials.dial_in.known')}</th>
        </tr>
      </thead>
      <tbody>
        {plan.brews.map((brew) => (
          <tr key={brew.brew}>
            <th scope="row">{brew.brew}</th>
            <td>{formatClock(brew.start_s)}</td>
            <td>
              {formatClock(brew.taste_from_s)} – {formatClock(brew.taste_until_s)}
            </td>
            <td>{t(`trials.dial_in.purpose.${brew.purpose}`)}</td>
            <td>
              {brew.levels
                ? question.factors.map((factor, i) => (
                    <span key={factor.name} className="dial-in-level">
                      {factor.name} {levelWithUnit(factor, brew.levels![i]!)}
                    </span>
                  ))
                : t('trials.dial_in.open')}
            </td>
            <td>{brew.known.length === 0 ? '–' : brew.known.map((one) => one + 1).join(', ')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
