import {
  type BrewBundle,
  type Grinder,
  type GrindMixOrder,
  type GrindMixSheet,
  type GrindPart,
  type MixEffect,
  withGrind,
} from '@pourline/core';
import { useMemo, useState } from 'react';
import { usePrediction } from '../../../engine/use-prediction.ts';
import { type Draft, useDraft } from '../../../replica/index.ts';
import { formatClock, formatNumber, problemSentence, t } from '../../../words/index.ts';
import { type Figure, MAIN_FIGURES } from '../../brew/figures.ts';
import { useBundle } from '../../brew/use-brew.ts';
import { usePlanChoice } from '../../brew/use-plan-choice.ts';
import { useSettled } from '../../brew/use-settled.ts';
import { SteadySelect } from '../../water/parts/steady-select.tsx';
import { theGrindRoom } from '../room/room.ts';
import { useAnswer } from '../room/use-answer.ts';
import { engineParts } from './mix-kernels.ts';
import { PureTable } from './pure-table.tsx';
import { TakeMix } from './take-mix.tsx';

interface MixCupProps {
  draft: Draft<'blend'>;
  order: GrindMixOrder;
  sheet: GrindMixSheet;
  grinders: readonly Grinder[];
  moving: boolean;
}

/** Runs of the spread of the cup: it says how far to trust the middle, and must not hold a slider up. */
const SPREAD = { bandRuns: 32 };

/** Quiet time before the parts are brewed alone. */
const REST_ms = 500;

interface EffectQuestion {
  bundle: BrewBundle;
  name: string;
  parts: readonly GrindPart[];
}

const effectOf = ({ bundle, name, parts }: EffectQuestion): Promise<MixEffect> =>
  theGrindRoom().remote.effect(bundle, name, parts);

/** The cup a plan makes with this mix, following the slider, beside what each part would make alone. */
export function MixCup({ draft, order, sheet, grinders, moving }: MixCupProps) {
  const { plans, planId: usual } = usePlanChoice();
  const [chosen, choose] = useState<string | null>(null);
  const planId = chosen ?? usual;
  const plan = useDraft('plan', planId);
  const { bundle, problems } = useBundle(plan?.document ?? null);
  const parts = useMemo(() => engineParts(order, sheet), [order, sheet]);
  const mixed = useMemo(
    () => (bundle && parts.length > 0 ? withGrind(bundle, parts) : null),
    [bundle, parts],
  );
  const prediction = usePrediction(mixed, moving, SPREAD);
  const question = useMemo(
    () => (bundle && parts.length > 0 && !moving ? { bundle, name: draft.document.name, parts } : null),
    [bundle, parts, moving, draft.document.name],
  );
  // One run of the engine for every part: not while keys or a finger are still at it.
  const effect = useAnswer(effectOf, useSettled(question, REST_ms));
  const asked = useMemo(() => JSON.stringify(question), [question]);
  const answered = useMemo(() => JSON.stringify(effect.input), [effect.input]);
  if (plans.length === 0 || !plan) return <p className="quiet-text">{t('grind.mix.no_plan')}</p>;
  const { result, bands } = prediction;
  return (
    <div className="grind-stack">
      <SteadySelect
        label={t('grind.mix.in_plan')}
        value={planId}
        options={plans.map(({ id, name }) => ({ value: id, label: name }))}
        onChange={choose}
      />
      {problems.length > 0 && (
        <p className="plain-problem">
          {t('grind.mix.plan_problem')} {problems.map(problemSentence).join(' ')}
        </p>
      )}
      <dl className="mix-cup" data-stale={prediction.stale || undefined}>
        {MAIN_FIGURES.map((figure) => (
          <div key={figure.key} data-figure={figure.key}>
            <dt>{t(figure.label)}</dt>
            <dd>
              {result ? shown(figure, figure.of(result)) : '–'}
              {result && figure.of(result) !== null && bands && figure.band && (
                <span className="mix-cup-band">
                  {t('grind.spread', {
                    low: shown(figure, figure.band(bands).low),
                    high: shown(figure, figure.band(bands).high),
                  })}
                </span>
              )}
            </dd>
          </div>
        ))}
      </dl>
      <p className="quiet-text">{prediction.failure ?? t('grind.mix.live')}</p>
      {effect.output && <PureTable effect={effect.output} stale={effect.stale || asked !== answered} />}
      {effect.failure && <p className="plain-problem">{effect.failure}</p>}
      <TakeMix draft={draft} plan={plan} sheet={sheet} grinders={grinders} />
    </div>
  );
}

function shown(figure: Figure, value: number | null): string {
  if (figure.clock) return formatClock(value);
  const text = formatNumber(value, figure.digits);
  return figure.unit ? `${text}\u202f${figure.unit}` : text;
}
