import type { Plan, Trial } from '@pourline/core';
import { useMemo, useState } from 'react';
import { useDocuments } from '../../../replica/index.ts';
import { go } from '../../../shell/route.ts';
import { Choice, Dialog } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { startTrial } from './start-trial.ts';

interface StartWindowProps {
  open: boolean;
  onClose: () => void;
  campaignId: string;
}

const CUPS = ['1', '2', '3', '4'] as const;

/** The second tap: which plan is brewed. Those brewed last stand first. */
export function StartWindow({ open, onClose, campaignId }: StartWindowProps) {
  const plans = useDocuments('plan');
  const trials = useDocuments('trial');
  const [cups, setCups] = useState<(typeof CUPS)[number]>('1');
  const [failure, setFailure] = useState<string | null>(null);
  const sorted = useMemo(() => lastBrewedFirst(plans, trials), [plans, trials]);
  const start = async (plan: Plan): Promise<void> => {
    try {
      const id = await startTrial(plan, Number(cups), campaignId);
      onClose();
      go('trials', 'log', id);
    } catch (reason) {
      setFailure(reason instanceof Error ? reason.message : String(reason));
    }
  };
  return (
    <Dialog open={open} onClose={onClose} title={t('trials.start_which')}>
      {sorted.length === 0 && <p>{t('trials.start_no_plan')}</p>}
      <ul className="trial-plans">
        {sorted.map((plan) => (
          <li key={plan.id}>
            <button type="button" className="trial-plan" onClick={() => void start(plan)}>
              <span>{plan.name}</span>
              <span className="quiet-text">
                {t('trials.start_plan', {
                  dose: formatNumber(plan.dose_g, 1),
                  water: formatNumber(
                    plan.pours.reduce((sum, pour) => sum + pour.water_g, 0),
                    0,
                  ),
                })}
              </span>
            </button>
          </li>
        ))}
      </ul>
      <Choice
        label={t('trials.start_cups')}
        value={cups}
        options={CUPS.map((value) => ({ value, label: value }))}
        onChange={setCups}
      />
      {failure && (
        <p className="plain-problem" role="alert">
          {failure}
        </p>
      )}
    </Dialog>
  );
}

function lastBrewedFirst(plans: readonly Plan[], trials: readonly Trial[]): readonly Plan[] {
  const last = new Map<string, string>();
  for (const { plan_id, brewed_at } of trials)
    if (brewed_at > (last.get(plan_id) ?? '')) last.set(plan_id, brewed_at);
  return [...plans].sort((a, b) => (last.get(b.id) ?? '').localeCompare(last.get(a.id) ?? ''));
}
