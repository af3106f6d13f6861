import type { DialPoint, KnownBrew } from '@pourline/core';
import { useState } from 'react';
import { useDraft } from '../../../replica/index.ts';
import { Button, Fields, NumberInput, SelectInput } from '../../../ui/index.ts';
import { formatClock, formatNumber, problemSentence, t } from '../../../words/index.ts';
import { useBundle } from '../../brew/use-brew.ts';
import { usePlanChoice } from '../../brew/use-plan-choice.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { DialFound } from './dial-found.tsx';
import { useDialQuestion } from './use-dial-question.ts';

interface AskDrawdownProps {
  points: readonly DialPoint[];
  touch: number;
}

/** The setting at which a plan draws down in a given time, by the engine on this grinder's curve. */
export function AskDrawdown({ points, touch }: AskDrawdownProps) {
  const { plans, planId: usual } = usePlanChoice();
  const [chosen, choose] = useState<string | null>(null);
  const [seconds, setSeconds] = useState<unknown>(150);
  const [known, setKnown] = useState<{ dial: unknown; drawdown_s: unknown }>({
    dial: null,
    drawdown_s: null,
  });
  const planId = chosen ?? usual;
  const plan = useDraft('plan', planId);
  const { bundle, problems } = useBundle(plan?.document ?? null);
  const { answer, done, failure, ask, stop } = useDialQuestion();
  const fits = typeof seconds === 'number' && seconds >= 10 && seconds <= 1_800;
  const brews: KnownBrew[] =
    typeof known.dial === 'number' && typeof known.drawdown_s === 'number' && known.drawdown_s > 0
      ? [{ dial: known.dial, drawdown_s: known.drawdown_s }]
      : [];
  return (
    <div className="grind-stack">
      <SelectInput
        label={t('kind.plan')}
        value={planId}
        options={plans.map(({ id, name }) => ({ value: id, label: name }))}
        onChange={choose}
      />
      {problems.length > 0 && <p className="plain-problem">{problems.map(problemSentence).join(' ')}</p>}
      <Fields>
        <NumberInput
          label={t('grind.ask.wanted')}
          unit="s"
          step={5}
          value={seconds}
          problem={fits ? undefined : t('grind.ask.wanted_wrong', { value: String(seconds ?? '') })}
          onChange={setSeconds}
        />
        <NumberInput
          label={t('grind.ask.known_dial')}
          step={0.1}
          value={known.dial}
          placeholder={t('common.optional')}
          onChange={(dial) => setKnown({ ...known, dial })}
        />
        <NumberInput
          label={t('grind.ask.known_drawdown')}
          unit="s"
          value={known.drawdown_s}
          placeholder={t('common.optional')}
          onChange={(drawdown_s) => setKnown({ ...known, drawdown_s })}
        />
      </Fields>
      <p className="quiet-text">{t('grind.ask.known_hint')}</p>
      {done === null ? (
        <div>
          <Button
            onPress={() =>
              bundle &&
              fits &&
              ask({ by: 'drawdown', points, touch_dial: touch, bundle, drawdown_s: seconds, known: brews })
            }
            isDisabled={!bundle || !fits || points.length === 0}
          >
            {t('grind.ask.work_out')}
          </Button>
        </div>
      ) : (
        <div className="picture-progress">
          <progress max={1} value={done} aria-label={t('grind.ask.working')} />
          <span>{formatNumber(100 * done)} %</span>
          <Button onPress={stop}>{t('grind.picture.stop')}</Button>
        </div>
      )}
      {failure && <p className="plain-problem">{failure}</p>}
      {answer?.by === 'drawdown' && (
        <>
          <DialFound dial={answer.answer.dial} onScale={answer.answer.on_scale} />
          <RemarkList remarks={answer.answer.remarks} />
          <div className="table-scroll">
            <table className="grind-table">
              <caption className="visually-hidden">{t('grind.ask.ladder')}</caption>
              <thead>
                <tr>
                  <th scope="col">{t('field.dial')}</th>
                  <th scope="col">D50</th>
                  <th scope="col">{t('brew.figure.drawdown')}</th>
                  <th scope="col">{t('brew.figure.strength')}</th>
                  <th scope="col">{t('brew.figure.yield')}</th>
                </tr>
              </thead>
              <tbody>
                {answer.answer.ladder.map((step) => (
                  <tr key={step.dial}>
                    <th scope="row">{formatNumber(step.dial, 1)}</th>
                    <td>{formatNumber(step.d50_um)} µm</td>
                    <td>{formatClock(step.drawdown_s)}</td>
                    <td>{formatNumber(step.strength_pct, 2)} %</td>
                    <td>{formatNumber(step.yield_pct, 1)} %</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </>
      )}
    </div>
  );
}
