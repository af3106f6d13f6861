import type { PlannedRun } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { Panel } from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import type { Run } from '../room/use-run.ts';
import { StageStrip } from '../strip/stage-strip.tsx';
import { ActionTable } from './action-table.tsx';
import { BrewingPanel } from './brewing-panel.tsx';
import { CupsPanel } from './cups-panel.tsx';
import { KettlesPanel } from './kettles-panel.tsx';

interface SchedulePageProps {
  draft: Draft<'talk'>;
  run: Run;
  stale: boolean;
}

/** Who is poured when: the schedule, or why there is none; kettles, power and cups. */
export function SchedulePage({ draft, run, stale }: SchedulePageProps) {
  const plan = run.plan.output;
  return (
    <>
      <StageStrip talk={run.talk} plan={plan} placed={run.placed.output} stale={stale} />
      {plan && <Answer plan={plan} />}
      <div className="stage-pair" data-stale={stale || undefined}>
        <div className="stage-column">
          <BrewingPanel draft={draft} plan={plan} />
          {plan && <CupsPanel plan={plan} />}
        </div>
        <div className="stage-column">
          <KettlesPanel draft={draft} plan={plan} />
          {plan && (
            <Panel title={t('stage.actions.title')} fold="closed">
              <ActionTable plan={plan} />
            </Panel>
          )}
        </div>
      </div>
    </>
  );
}

/** The answer in figures, then in sentences. */
function Answer({ plan }: { plan: PlannedRun }) {
  const { schedule } = plan;
  return (
    <section className="stage-answer" aria-label={t('stage.answer')}>
      <dl className="stage-figures">
        <Figure
          name={t('stage.figure.fits')}
          value={t(`stage.possible.${schedule.possible}`, { brewers: schedule.asked })}
        />
        <Figure
          name={t('stage.figure.largest')}
          value={formatNumber(schedule.largest)}
          note={schedule.largest_proven ? t('stage.figure.proven') : t('stage.figure.not_proven')}
        />
        <Figure name={t('stage.figure.ends')} value={formatClock(schedule.ends_s)} />
        <Figure
          name={t('stage.figure.latest')}
          value={formatClock(schedule.latest_first_pour_s)}
          note={t('stage.figure.latest_note', { limit: formatClock(plan.limit_s) })}
        />
        <Figure
          name={t('stage.figure.room')}
          value={t('stage.seconds', { seconds: formatNumber(leastSlack(plan), 1) })}
          note={t('stage.figure.room_note')}
        />
      </dl>
      <RemarkList remarks={[...plan.remarks, ...schedule.remarks]} />
    </section>
  );
}

const leastSlack = ({ schedule }: PlannedRun): number | null =>
  schedule.actions.length === 0 ? null : Math.min(...schedule.actions.map(({ slack_s }) => slack_s));

function Figure({ name, value, note }: { name: string; value: string; note?: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <strong>{value}</strong>
        {note && <span>{note}</span>}
      </dd>
    </div>
  );
}
