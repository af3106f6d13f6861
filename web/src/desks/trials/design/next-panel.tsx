import type { DesignFactor, NextAim, Plan, SuggestedBrew } from '@pourline/core';
import { useMemo } from 'react';
import { useLookup } from '../../../replica/index.ts';
import { go } from '../../../shell/route.ts';
import { Button, Choice, Fields, NumberInput, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useAnswer } from '../../grind/room/use-answer.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { FindingList } from '../compare/compare-page.tsx';
import { useTrialRows } from '../list/rows.ts';
import { startTrial } from '../log/start-trial.ts';
import { theTrialsRoom } from '../room/room.ts';
import type { NextAnswer, NextOrder } from '../room/worker.ts';
import { levelText, levelWithUnit } from './levels-text.ts';
import { type LeverKey, turned } from './levers.ts';
import { triedBrews, VALUE_LOOK, VALUES, type ValueKey } from './next-question.ts';
import type { Chosen } from './sheet-panel.tsx';

interface NextPanelProps {
  plan: Plan;
  chosen: Chosen;
  campaignId: string;
}

const AIMS = ['most', 'least', 'target'] as const;
const FIRST = {
  value: 'liking',
  aim: 'most',
  target: 20 as unknown,
  grams: 200 as unknown,
  purge: 2 as unknown,
  minutes: null as unknown,
  brew_min: 8 as unknown,
};
const number = (value: unknown): number | null => (typeof value === 'number' && value >= 0 ? value : null);
/** Nothing else can be asked of a value. */
function aimOf(aim: (typeof AIMS)[number], target: number): NextAim {
  return aim === 'target' ? { by: 'target', target } : { by: aim };
}
const ask = (order: NextOrder): Promise<NextAnswer> => theTrialsRoom().next(order);

/** The next brew worth its grams, from what was brewed so far. */
export function NextPanel({ plan, chosen, campaignId }: NextPanelProps) {
  const rows = useTrialRows();
  const lookup = useLookup();
  const [kept, keep] = useKept('trials-next', FIRST);
  const value = VALUES.find((one) => one === kept.value) ?? 'liking';
  const aim = AIMS.find((one) => one === kept.aim) ?? 'most';
  const able = useMemo(
    () => chosen.filter((one): one is { factor: DesignFactor; lever: LeverKey } => one.lever !== null),
    [chosen],
  );
  const levers = useMemo(() => able.map(({ lever }) => lever), [able]);
  const tried = useMemo(
    () => triedBrews(rows, plan, levers, value, lookup),
    [rows, plan, levers, value, lookup],
  );
  const order = useMemo<NextOrder | null>(() => {
    const target = number(kept.target);
    if (able.length === 0 || (aim === 'target' && target === null)) return null;
    return {
      figure: {
        name: t(`trials.next.value.${value}`),
        unit: VALUE_LOOK[value].unit,
        decimals: VALUE_LOOK[value].digits,
      },
      factors: able.map(({ factor }) => factor),
      tried,
      preferred: [],
      aim: aimOf(aim, target ?? 0),
      repeat_sd: null,
      budget: {
        grams: number(kept.grams) ?? 0,
        dose_g: plan.dose_g + (number(kept.purge) ?? 0),
        minutes: number(kept.minutes),
        brew_min: Math.max(1, number(kept.brew_min) ?? 8),
      },
      seed: 1,
    };
  }, [able, tried, aim, value, kept, plan.dose_g]);
  const { output, input, stale, failure } = useAnswer(ask, order);
  const start = async (brew: SuggestedBrew): Promise<void> => {
    const name = `${plan.name}, ${t('trials.next.named')}`.slice(0, 120);
    go('trials', 'log', await startTrial({ ...turned(plan, levers, brew.levels), name }, 1, campaignId));
  };
  return (
    <Panel title={t('trials.next.title')}>
      <div className="next-ask">
        <Choice
          label={t('trials.next.value')}
          value={value}
          options={VALUES.map((one) => ({ value: one, label: t(`trials.next.value.${one}`) }))}
          onChange={(next) => keep({ value: next })}
        />
        <Choice
          label={t('trials.next.aim')}
          value={aim}
          options={AIMS.map((one) => ({ value: one, label: t(`trials.next.aim.${one}`) }))}
          onChange={(next) => keep({ aim: next })}
        />
      </div>
      <Fields>
        {aim === 'target' && (
          <NumberInput
            label={t('trials.next.target')}
            value={kept.target}
            unit={VALUE_LOOK[value].unit || undefined}
            step={0.1}
            onChange={(target) => keep({ target })}
          />
        )}
        <NumberInput
          label={t('trials.next.grams')}
          value={kept.grams}
          unit="g"
          onChange={(grams) => keep({ grams })}
        />
        <NumberInput
          label={t('trials.next.purge')}
          value={kept.purge}
          unit="g"
          step={0.5}
          onChange={(purge) => keep({ purge })}
        />
        <NumberInput
          label={t('trials.next.minutes')}
          value={kept.minutes}
          unit="min"
          placeholder={t('trials.next.no_bound')}
          onChange={(minutes) => keep({ minutes })}
        />
        <NumberInput
          label={t('trials.next.brew_min')}
          value={kept.brew_min}
          unit="min"
          onChange={(brew_min) => keep({ brew_min })}
        />
      </Fields>
      <p className="quiet-text">{t('trials.next.tried', { count: tried.length })}</p>
      {able.length === 0 && <p className="quiet-text">{t('trials.next.no_factors')}</p>}
      {failure && <p className="plain-problem">{failure}</p>}
      {order && !output && !failure && <p className="quiet-text">{t('common.loading')}</p>}
      {order && output && input && (
        <div className="trials-stack" data-stale={stale || undefined}>
          <Suggestions answer={output} order={input} value={value} onStart={(brew) => void start(brew)} />
        </div>
      )}
    </Panel>
  );
}

interface SuggestionsProps {
  answer: NextAnswer;
  order: NextOrder;
  value: ValueKey;
  onStart: (brew: SuggestedBrew) => void;
}

function Suggestions({ answer: { next, pair }, order, value, onStart }: SuggestionsProps) {
  const { unit, digits } = VALUE_LOOK[value];
  const { champion, suggestions, brews_left, stop } = next;
  const best = champion && order.tried[champion.tried];
  return (
    <>
      <p role="status" className="next-standing">
        <b>{t('trials.next.left', { count: brews_left })}</b> {stop && <span>{t('trials.next.stop')}</span>}
      </p>
      {champion && best && (
        <p>
          {t('trials.next.champion', {
            name: best.name,
            mean: formatNumber(champion.mean, digits),
            sd: formatNumber(champion.sd, digits + 1),
            unit,
          })}
        </p>
      )}
      <ol className="suggestions">
        {suggestions.map((brew) => (
          <li key={brew.levels.join(' ')} className="suggestion">
            <div>
              <span className="suggestion-why">{t(`trials.next.why.${brew.why}`)}</span>
              <p className="suggestion-levels">
                {order.factors.map((factor, i) => (
                  <span key={factor.name}>
                    {factor.name} <b>{levelWithUnit(factor, brew.levels[i]!)}</b>
                  </span>
                ))}
              </p>
              {brew.changes.length > 0 && (
                <p className="quiet-text">
                  {brew.changes
                    .map(({ factor, from, to }) =>
                      t('trials.next.change', {
                        name: order.factors[factor]?.name ?? '',
                        from: levelText(order.factors[factor]!, from),
                        to: levelText(order.factors[factor]!, to),
                      }),
                    )
                    .join('; ')}
                </p>
              )}
              <p className="quiet-text">
                {t('trials.next.expected', {
                  mean: formatNumber(brew.mean, digits),
                  sd: formatNumber(brew.sd, digits),
                  unit,
                  chance: Math.round(100 * brew.chance_better),
                })}
              </p>
            </div>
            <Button onPress={() => onStart(brew)}>{t('trials.next.start')}</Button>
          </li>
        ))}
      </ol>
      <FindingList findings={next.findings} />
      {pair && (
        <section className="pair">
          <h4>{t('trials.next.pair')}</h4>
          <p>
            {pair.order.map((which) => t(`trials.next.pair.${which}`)).join(' → ')} ·{' '}
            {formatNumber(pair.grams, 0)} g
          </p>
          <FindingList findings={pair.findings} />
        </section>
      )}
    </>
  );
}
