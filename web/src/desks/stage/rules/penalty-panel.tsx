import { type OvertimePenalty, penaltyFor } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { CheckInput, Fields, NumberAt, OptionAt, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

const FIRST: OvertimePenalty = {
  grace_s: 0,
  points: 1,
  every_s: 1,
  counts: 'begun',
  cap_points: null,
  hard_stop_s: 60,
};

/** What running over costs, typed and drawn. */
export function PenaltyPanel({ draft }: { draft: Draft<'contest'> }) {
  const { body } = draft;
  const { penalty } = draft.document;
  return (
    <Panel title={t('stage.penalty.title')} fold="open">
      <CheckInput
        label={t('stage.penalty.known')}
        value={body.penalty !== null}
        onChange={(on) => draft.change({ ...body, penalty: on ? FIRST : null })}
      />
      {body.penalty && (
        <Fields>
          <NumberAt path={['penalty', 'points']} label={t('stage.penalty.points')} />
          <NumberAt path={['penalty', 'every_s']} label={t('stage.penalty.every')} />
          <NumberAt path={['penalty', 'grace_s']} label={t('stage.penalty.grace')} />
          <OptionAt
            path={['penalty', 'counts']}
            label={t('stage.penalty.counts')}
            options={(['begun', 'whole', 'in_proportion'] as const).map((value) => ({
              value,
              label: t(`stage.penalty.${value}`),
            }))}
          />
          <NumberAt
            path={['penalty', 'cap_points']}
            label={t('stage.penalty.cap')}
            nullable
            placeholder={t('stage.penalty.no_cap')}
          />
          <NumberAt
            path={['penalty', 'hard_stop_s']}
            label={t('stage.penalty.stop')}
            nullable
            placeholder={t('stage.penalty.no_stop')}
          />
        </Fields>
      )}
      {penalty && <Drawn penalty={penalty} />}
    </Panel>
  );
}

const WIDTH = 320;
const HEIGHT = 130;
const LEFT = 34;
const BOTTOM = 24;
/** Longest overtime that is drawn where nothing stops the run [s]. */
const LONGEST = 90;

/** Points lost over seconds past the limit. */
function Drawn({ penalty }: { penalty: OvertimePenalty }) {
  const to = Math.min(
    600,
    Math.max(20, penalty.hard_stop_s ?? Math.max(LONGEST, penalty.grace_s + 10 * penalty.every_s)),
  );
  const most = Math.max(1, penaltyFor(penalty, to).points);
  const x = (over: number): number => LEFT + (over / (to * 1.06)) * (WIDTH - LEFT);
  const y = (points: number): number => 8 + (1 - points / most) * (HEIGHT - BOTTOM - 8);
  const steps = 240;
  const path = Array.from({ length: steps + 1 }, (_, i) => (i / steps) * to)
    .map(
      (over, i) =>
        `${i === 0 ? 'M' : 'L'}${x(over).toFixed(1)} ${y(penaltyFor(penalty, over).points).toFixed(1)}`,
    )
    .join('');
  const at = (over: number): string => formatNumber(penaltyFor(penalty, over).points, 1);
  return (
    <figure className="stage-penalty">
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={t('stage.penalty.drawn', { ten: at(10), thirty: at(30) })}
      >
        <path className="penalty-axis" d={`M${LEFT} 4V${HEIGHT - BOTTOM}H${WIDTH}`} />
        <path className="penalty-line" d={path} />
        {penalty.hard_stop_s !== null && (
          <path className="penalty-stop" d={`M${x(penalty.hard_stop_s)} 4V${HEIGHT - BOTTOM}`} />
        )}
        <text x={LEFT - 4} y={y(most) + 4} textAnchor="end">
          {formatNumber(most, 0)}
        </text>
        <text x={LEFT - 4} y={y(0) + 4} textAnchor="end">
          0
        </text>
        {[0, to / 2, to].map((over) => (
          <text key={over} x={x(over)} y={HEIGHT - 8} textAnchor="middle">
            {formatNumber(over)}
          </text>
        ))}
      </svg>
      <figcaption>
        {t('stage.penalty.caption')}
        {penalty.hard_stop_s !== null &&
          ` ${t('stage.penalty.caption_stop', { seconds: penalty.hard_stop_s })}`}
      </figcaption>
    </figure>
  );
}
