import type { Lookup, Plan, Trial } from '@pourline/core';
import { useDraft } from '../../../replica/index.ts';
import { hrefOf } from '../../../shell/route.ts';
import { DraftForm, NumberAt, Panel } from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';
import { BalanceFigures } from './balance-figures.tsx';
import { Readings } from './readings.tsx';

interface CupColumnsProps {
  cups: readonly Trial[];
  openId: string;
  plan: Plan | null;
  lookup: Lookup;
}

/** What was measured of each brew of one event, side by side, in fields for wet hands. */
export function CupColumns({ cups, openId, plan, lookup }: CupColumnsProps) {
  return (
    <Panel title={t(cups.length > 1 ? 'trials.log.measured_cups' : 'trials.log.measured')}>
      <div className="cup-columns" data-cups={cups.length}>
        {cups.map(({ id }) => (
          <CupColumn
            key={id}
            id={id}
            open={id === openId}
            many={cups.length > 1}
            plan={plan}
            lookup={lookup}
          />
        ))}
      </div>
    </Panel>
  );
}

interface CupColumnProps {
  id: string;
  open: boolean;
  many: boolean;
  plan: Plan | null;
  lookup: Lookup;
}

const FIELDS = ['dose_g', 'water_g', 'beverage_g', 'drawdown_s', 'end_s', 'spent_g'] as const;
/** What one press of an arrow key adds. */
const STEPS: Readonly<Record<(typeof FIELDS)[number], number>> = {
  dose_g: 0.1,
  water_g: 1,
  beverage_g: 1,
  drawdown_s: 1,
  end_s: 1,
  spent_g: 0.1,
};

function CupColumn({ id, open, many, plan, lookup }: CupColumnProps) {
  const draft = useDraft('trial', id);
  if (!draft) return null;
  const cup = draft.document.event?.cup ?? '1';
  const planned = plan ? plan.pours.reduce((sum, pour) => sum + pour.water_g, 0) : null;
  const hints: Partial<Record<(typeof FIELDS)[number], string>> = {};
  if (planned !== null) hints.water_g = t('trials.log.planned', { value: `${formatNumber(planned, 0)} g` });
  if (plan) hints.dose_g = t('trials.log.planned', { value: `${formatNumber(plan.dose_g, 1)} g` });
  const { drawdown_s, end_s } = draft.document;
  if (drawdown_s !== null) hints.drawdown_s = formatClock(drawdown_s);
  if (end_s !== null) hints.end_s = formatClock(end_s);
  return (
    <DraftForm draft={draft}>
      <fieldset className="cup-column" data-open={open || undefined}>
        {many ? (
          <legend>
            {open ? (
              t('trials.log.cup', { cup })
            ) : (
              <a href={hrefOf('trials', 'log', id)}>{t('trials.log.cup', { cup })}</a>
            )}
          </legend>
        ) : (
          <legend className="visually-hidden">{t('trials.log.measured')}</legend>
        )}
        {FIELDS.map((field) => (
          <div className="wet" key={field}>
            <NumberAt
              path={[field]}
              label={t(`trials.field.${field}`)}
              nullable={field !== 'dose_g'}
              placeholder=""
              step={STEPS[field]}
              {...(hints[field] ? { hint: hints[field] } : {})}
            />
          </div>
        ))}
        <Readings draft={draft} />
        <BalanceFigures trial={draft.document} plan={plan} lookup={lookup} />
      </fieldset>
    </DraftForm>
  );
}
