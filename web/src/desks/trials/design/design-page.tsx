import type { Plan } from '@pourline/core';
import { useEffect, useMemo } from 'react';
import { useDocuments } from '../../../replica/index.ts';
import { Panel, SelectInput } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { DialInPanel } from './dial-in-panel.tsx';
import { FactorTable } from './factor-table.tsx';
import { type FactorRow, factorsOf, rowsFor } from './levers.ts';
import { NextPanel } from './next-panel.tsx';
import { SheetPanel } from './sheet-panel.tsx';
import './design.css';

interface Kept {
  plan_id: string;
  rows: FactorRow[];
}

/** Which brews come next: a designed set, the one most worth its grams, or a plan for a coffee nobody knows. */
export function DesignPage({ campaignId }: { campaignId: string }) {
  const plans = useDocuments('plan');
  const [kept, keep] = useKept<Kept>('trials-design', { plan_id: '', rows: [] });
  const plan = plans.find(({ id }) => id === kept.plan_id) ?? plans[0] ?? null;
  const fits = plan !== null && kept.plan_id === plan.id && kept.rows.length > 0;
  useEffect(() => {
    if (plan && !fits) keep({ plan_id: plan.id, rows: freshRows(plan) });
  }, [plan, fits, keep]);
  const chosen = useMemo(() => factorsOf(fits ? kept.rows : []), [fits, kept.rows]);
  if (!plan) return <p className="quiet-text">{t('trials.start_no_plan')}</p>;
  return (
    <div className="trials-stack">
      <Panel title={t('trials.design.factors')}>
        <div className="design-plan">
          <SelectInput
            label={t('trials.design.plan')}
            value={plan.id}
            options={plans.map(({ id, name }) => ({ value: id, label: name }))}
            onChange={(id) => {
              const next = plans.find((one) => one.id === id);
              if (next) keep({ plan_id: id, rows: freshRows(next) });
            }}
          />
        </div>
        <FactorTable rows={kept.rows} change={(rows) => keep({ rows })} />
      </Panel>
      <NextPanel plan={plan} chosen={chosen} campaignId={campaignId} />
      <SheetPanel plan={plan} chosen={chosen} campaignId={campaignId} />
      <DialInPanel plan={plan} chosen={chosen} />
    </div>
  );
}

const freshRows = (plan: Plan): FactorRow[] => rowsFor(plan, (key) => t(`trials.lever.${key}`));
