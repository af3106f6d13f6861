import type { Plan, Trial } from '@pourline/core';
import { useMemo, useState } from 'react';
import { usePrediction } from '../../../engine/use-prediction.ts';
import { useDocuments } from '../../../replica/index.ts';
import { makeCursor } from '../../../strip/cursor.ts';
import type { MeasuredBrew } from '../../../strip/measured.ts';
import { type Ghost, Strip } from '../../../strip/strip.tsx';
import { Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { useBundle } from '../../brew/use-brew.ts';
import { measuredBrew } from '../parts/measured-brew.ts';

/** The brew on the strip: what was measured over what the plan foretold. */
export function TrialStrip({ trial, plan }: { trial: Trial; plan: Plan | null }) {
  const measured = useMeasured([trial]);
  const [first] = measured;
  const seen = first && first.lines.length + first.points.length + first.pours.length > 0;
  if (!plan) return <p className="quiet-text">{t('trials.strip.no_plan')}</p>;
  return (
    <Panel title={t('trials.strip.title')} aside={<MeasuredKey names={seen ? [t('strip.measured')] : []} />}>
      {!seen && <p className="quiet-text">{t('trials.strip.nothing')}</p>}
      <PlanStrip plan={plan} measured={measured} />
    </Panel>
  );
}

/** Measured brews of trials; the same objects as long as the trials are. */
export function useMeasured(trials: readonly (Trial | null)[]): readonly MeasuredBrew[] {
  const [a = null, b = null] = trials;
  return useMemo(() => [a, b].flatMap((trial) => (trial ? [measuredBrew(trial)] : [])), [a, b]);
}

interface PlanStripProps {
  plan: Plan;
  measured: readonly MeasuredBrew[];
  ghost?: Ghost | null;
}

const NO_SPREAD = { bandRuns: 0 } as const;
const nothing = (): void => {};

/** A plan to look at, predicted, with brews measured over it. */
export function PlanStrip({ plan, measured, ghost = null }: PlanStripProps) {
  const [cursor] = useState(makeCursor);
  const { bundle } = useBundle(plan);
  const { result, stale } = usePrediction(bundle, false, NO_SPREAD);
  const waters = useDocuments('water');
  return (
    <div className="trial-strip">
      <Strip
        plan={plan}
        result={result}
        stale={stale}
        ghost={ghost}
        measured={measured}
        cursor={cursor}
        selected={null}
        ripple={false}
        waterName={(id) => waters.find((water) => water.id === id)?.name ?? '–'}
        newId={() => ''}
        onSelect={nothing}
      />
    </div>
  );
}

/** How measured lines look, in words. */
export function MeasuredKey({ names }: { names: readonly string[] }) {
  if (names.length === 0) return null;
  return (
    <ul className="measured-key">
      {names.map((name, i) => (
        <li key={name}>
          <svg viewBox="0 0 26 8" aria-hidden="true">
            <path d="M0 4H26" strokeDasharray={i === 0 ? undefined : '7 4'} />
          </svg>
          {name}
        </li>
      ))}
    </ul>
  );
}
