import type { BrewResult } from '@pourline/core';
import { memo, useSyncExternalStore } from 'react';
import { formatNumber, t, tMaybe } from '../words/index.ts';
import type { Cursor } from './cursor.ts';
import type { Group, Palette } from './draw/palette.ts';
import { DASH } from './draw/pen.ts';
import type { LaneBox, StripLayout } from './kernels/lane-layout.ts';
import { type MeasuredBrew, measuredAt } from './measured.ts';
import { releaseAt, SERIES, type Series } from './series.ts';

interface LaneHeadsProps {
  layout: StripLayout;
  palette: Palette | null;
  result: BrewResult | null;
  ghost: BrewResult | null;
  measured: readonly MeasuredBrew[];
  cursor: Cursor;
  /** Moment shown while the cursor is nowhere [s]. */
  rest_s: number;
  /** What the hands lane says of itself. */
  hands: React.ReactNode;
}

/** Units that hold for a whole lane stand beside its name. */
const UNITS: Readonly<Partial<Record<LaneBox['key'], string>>> = {
  heat: '°C',
  head: 'mm',
  drip: 'g/s',
  solutes: 'mg/s',
};

/** Name, unit and value at the crosshair of every lane; they are its legend as well. */
export function LaneHeads(props: LaneHeadsProps) {
  const { layout, cursor, rest_s } = props;
  const at = useSyncExternalStore(cursor.subscribe, cursor.get) ?? rest_s;
  const { palette, result, ghost, measured, hands } = props;
  return layout.lanes.map((box) => (
    <LaneHead
      key={box.key}
      box={box}
      layout={layout}
      palette={palette}
      result={result}
      ghost={ghost}
      measured={measured}
      at={at}
      hands={box.key === 'hands' ? hands : null}
    />
  ));
}

interface LaneHeadProps extends Omit<LaneHeadsProps, 'cursor' | 'rest_s'> {
  box: LaneBox;
  at: number;
}

const LaneHead = memo(function LaneHead(props: LaneHeadProps) {
  const { box, layout, palette, result, ghost, measured, at, hands } = props;
  const style = layout.narrow
    ? { top: box.top, left: layout.plot_left, right: 12, height: box.plot.top - box.top }
    : { top: box.plot.top, left: 0, width: layout.plot_left - 44, height: box.plot.height };
  return (
    <div className="lane-head" data-lane={box.key} style={style}>
      <h3>
        {t(`strip.lane.${box.key}`)}
        {UNITS[box.key] ? <span className="unit">{UNITS[box.key]}</span> : null}
      </h3>
      {box.key === 'hands' ? (
        hands
      ) : box.key === 'solutes' ? (
        <SoluteLegend result={result} palette={palette} at={at} />
      ) : (
        <dl>
          {SERIES[box.key].map((series) => (
            <Reading
              key={series.key}
              lane={box.key}
              series={series}
              result={result}
              ghost={ghost}
              measured={measured}
              at={at}
            />
          ))}
        </dl>
      )}
    </div>
  );
});

function Reading(props: {
  lane: LaneBox['key'];
  series: Series;
  result: BrewResult | null;
  ghost: BrewResult | null;
  measured: readonly MeasuredBrew[];
  at: number;
}) {
  const { lane, series, result, ghost, measured, at } = props;
  const value = result ? series.at(result.trace, at) : Number.NaN;
  const other = ghost ? series.at(ghost.trace, at) : Number.NaN;
  return (
    <div className="reading">
      <dt>
        <Swatch series={series} />
        {t(series.key)}
      </dt>
      <dd>
        {formatNumber(value, series.digits)}
        {ghost ? <span className="ghost-value">{formatNumber(other, series.digits)}</span> : null}
        {measured.map((brew, i) => {
          const read = series.measured ? measuredAt(brew, series.measured, at) : Number.NaN;
          return Number.isFinite(read) ? (
            <span key={brew.name} className="measured-value" data-second={i > 0 || undefined}>
              <span className="visually-hidden">{t('strip.measured')} </span>
              {formatNumber(read, series.digits)}
            </span>
          ) : null;
        })}
        {UNITS[lane] ? null : <span className="unit">{series.unit}</span>}
      </dd>
    </div>
  );
}

function Swatch({ series }: { series: Series }) {
  if (series.hue === '') return <span className="swatch" />;
  return (
    <svg className="swatch" viewBox="0 0 18 10" aria-hidden="true" style={{ color: `var(${series.hue})` }}>
      {series.area ? <rect x="0" y="4" width="18" height="6" fill={`var(${series.hue}-soft)`} /> : null}
      <line
        x1="0"
        x2="18"
        y1={series.area ? 4 : 5}
        y2={series.area ? 4 : 5}
        stroke="currentColor"
        strokeWidth="2"
        strokeDasharray={DASH[series.dash].join(' ')}
      />
    </svg>
  );
}

function SoluteLegend(props: { result: BrewResult | null; palette: Palette | null; at: number }) {
  const { result, palette, at } = props;
  if (!result || !palette) return null;
  const groups = releaseAt(result, at);
  const total = groups.reduce((sum, group) => sum + (group.value || 0), 0);
  return (
    <dl className="solute-legend">
      {groups
        .map((group, k) => ({ ...group, look: palette.groups[k % palette.groups.length]! }))
        .reverse()
        .map(({ key, value, look }) => (
          <div className="reading" key={key}>
            <dt>
              <HatchSwatch group={look} ink={palette.ink} />
              {tMaybe(`solute.${key}`) ?? key}
            </dt>
            <dd>{formatNumber(value, 1)}</dd>
          </div>
        ))}
      <div className="reading total">
        <dt>
          <span className="swatch" />
          {t('strip.series.total')}
        </dt>
        <dd>{formatNumber(total, 1)}</dd>
      </div>
    </dl>
  );
}

const HATCH_LINES: Readonly<Record<Group['hatch'], string>> = {
  plain: '',
  rising: 'M0 6 6 0M4 10 14 0M10 10 18 2',
  falling: 'M0 4 6 10M4 0 14 10M12 0 18 6',
  level: 'M0 3H18M0 7H18',
  dots: 'M2 3h1.6M8 3h1.6M14 3h1.6M5 7h1.6M11 7h1.6',
};

function HatchSwatch({ group, ink }: { group: Group; ink: string }) {
  return (
    <svg className="swatch" viewBox="0 0 18 10" aria-hidden="true">
      <rect width="18" height="10" fill={group.fill} />
      <path d={HATCH_LINES[group.hatch]} stroke={ink} strokeOpacity="0.5" fill="none" />
    </svg>
  );
}
