import { formatClock, formatNumber, t } from '../../../words/index.ts';
import type { SheetsOf } from './sheet-page.tsx';

/** Sizes on paper [mm]; 3.18 mm is 9 pt. */
const TEXT = 3.2;
const LANE = 6;
const GAP = 1.2;
const HEAD = 17;

/** Brewers and voice on one time axis, in ink: what is poured, said and served when. */
export function PaperStrip({ of, width_mm }: { of: SheetsOf; width_mm: number }) {
  const { actions, shown } = of.plan.schedule;
  const segments = of.placed.placed.segments;
  const end = Math.max(
    of.plan.limit_s,
    ...actions.map(({ end_s }) => end_s),
    ...segments.map(({ end_s }) => end_s ?? 0),
  );
  const x = (seconds: number): number => HEAD + (seconds / end) * (width_mm - HEAD - 4);
  const y = (lane: number): number => 5 + lane * (LANE + GAP);
  const height = y(shown + 1) + 1;
  const step = [30, 60, 120, 300, 600].find((s) => (s / end) * (width_mm - HEAD) >= 11) ?? 1_200;
  const brewers = Array.from({ length: shown }, (_, b) => b + 1);
  const ticks = Array.from({ length: Math.floor(end / step) + 1 }, (_, i) => i * step);
  return (
    <svg
      className="sheet-strip"
      viewBox={`0 0 ${width_mm} ${height}`}
      style={{ width: `${width_mm}mm` }}
      role="img"
      aria-label={t('stage.strip.name', { name: of.talk.name })}
    >
      {ticks.map((at) => (
        <g key={at}>
          <path d={`M${x(at)} 4V${height - 1}`} className="sheet-tick" />
          <text x={x(at)} y={3.2} fontSize={TEXT} textAnchor="middle">
            {formatClock(at)}
          </text>
        </g>
      ))}
      {brewers.map((brewer) => (
        <text key={brewer} x={0} y={y(brewer - 1) + 4.2} fontSize={TEXT}>
          {t('stage.brewer', { number: brewer })}
        </text>
      ))}
      <text x={0} y={y(shown) + 4.2} fontSize={TEXT}>
        {t('stage.lane.voice')}
      </text>
      {actions.map((action) => {
        const from = x(action.start_s);
        const wide = Math.max(0.6, x(action.end_s) - from);
        return (
          <g key={action.id}>
            <rect
              x={from}
              y={y(action.brewer - 1)}
              width={wide}
              height={LANE}
              className={action.what === 'pour' ? 'sheet-pour' : 'sheet-other'}
            />
            {action.water_g !== null && wide > 5.5 && (
              <text
                x={from + wide / 2}
                y={y(action.brewer - 1) + 4.2}
                fontSize={TEXT}
                textAnchor="middle"
                className="sheet-on-ink"
              >
                {formatNumber(action.water_g)}
              </text>
            )}
          </g>
        );
      })}
      {segments.map(
        ({ id, start_s, end_s }) =>
          start_s !== null && (
            <rect
              key={id}
              x={x(start_s)}
              y={y(shown)}
              width={Math.max(0.6, x(end_s ?? start_s) - x(start_s))}
              height={LANE}
              className="sheet-voice"
            />
          ),
      )}
      <path d={`M${x(of.plan.limit_s)} 3.6V${height}`} className="sheet-limit" />
    </svg>
  );
}
