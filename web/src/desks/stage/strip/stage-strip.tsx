import type { HandAction, PlannedRun, RunTalk, Talk } from '@pourline/core';
import { titleOf } from '@pourline/core';
import { type ReactNode, useLayoutEffect, useMemo, useRef, useState } from 'react';
import { makeCursor } from '../../../strip/cursor.ts';
import { type TimeAxis, timeTicks, toPx } from '../../../strip/kernels/time-axis.ts';
import { useAxis } from '../../../strip/use-axis.ts';
import { useZoom } from '../../../strip/use-zoom.ts';
import { Button } from '../../../ui/index.ts';
import { formatClock, formatNumber, formatWithUnit, t } from '../../../words/index.ts';
import { actionWord } from '../parts/action-words.ts';
import { type BrewerLane, brewerLanes, extentOfRun, kettleLines, kettleRange } from './stage-lanes.ts';

interface StageStripProps {
  talk: Talk;
  plan: PlannedRun | null;
  placed: RunTalk | null;
  stale: boolean;
  /** Segment in hand. */
  selected?: string | null;
  onSelect?: (id: string) => void;
}

const HEAD_PX = 118;
const NARROW_HEAD_PX = 64;

/** Hands, brewers, voice, kettles and cups of a run on one time axis. */
export function StageStrip({ talk, plan, placed, stale, selected = null, onSelect }: StageStripProps) {
  const surface = useRef<HTMLDivElement>(null);
  const width = useWidth(surface);
  const head = width < 640 ? NARROW_HEAD_PX : HEAD_PX;
  const ends_s = placed ? Math.max(0, ...placed.placed.segments.map(({ end_s }) => end_s ?? 0)) : null;
  const extent = extentOfRun(plan, ends_s);
  const control = useAxis(extent, Math.max(80, width - head - 12), false);
  const [cursor] = useState(makeCursor);
  const pointer = useZoom(surface, head, control, cursor);
  const { axis } = control;
  const lanes = useMemo(() => (plan ? brewerLanes(plan.schedule, plan.cups) : []), [plan]);
  const summary = plan ? summaryOf(plan, placed) : t('common.loading');
  return (
    <section
      className="stage-strip"
      ref={surface}
      data-stale={stale || undefined}
      aria-label={t('stage.strip.name', { name: talk.name })}
      style={{ '--stage-head': `${head}px` } as React.CSSProperties}
      {...pointer}
    >
      <p className="visually-hidden">{summary}</p>
      {control.zoomed && (
        <div className="stage-strip-tools">
          <Button look="quiet" onPress={control.reset}>
            {t('stage.strip.whole')}
          </Button>
        </div>
      )}
      <Ruler axis={axis} apart={width < 640 ? 44 : 56} />
      {plan && (
        <>
          <HandsLane axis={axis} plan={plan} />
          {lanes.map((lane) => (
            <Lane
              key={lane.brewer}
              label={t('stage.brewer', { number: lane.brewer })}
              className="lane-brewer"
            >
              <BrewerBlocks axis={axis} lane={lane} />
            </Lane>
          ))}
          <VoiceLane
            axis={axis}
            talk={talk}
            placed={placed}
            selected={selected}
            {...(onSelect ? { onSelect } : {})}
          />
          <KettleLanes axis={axis} plan={plan} />
          <CupLanes axis={axis} plan={plan} />
          <Marks axis={axis} limit_s={plan.limit_s} />
        </>
      )}
    </section>
  );
}

function summaryOf({ schedule, limit_s }: PlannedRun, placed: RunTalk | null): string {
  return t('stage.strip.summary', {
    brewers: schedule.shown,
    ends: formatClock(schedule.ends_s),
    talk: formatClock(placed?.placed.ends_s),
    limit: formatClock(limit_s),
  });
}

function useWidth(root: React.RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = root.current;
    if (!element) return;
    setWidth(element.clientWidth);
    const watch = new ResizeObserver(() => setWidth(element.clientWidth));
    watch.observe(element);
    return () => watch.disconnect();
  }, [root]);
  return width || 800;
}

/** Where a stretch of time lies on the axis. */
const place = (axis: TimeAxis, from_s: number, to_s: number): React.CSSProperties => {
  const left = toPx(axis, from_s);
  return { left, width: Math.max(2, toPx(axis, to_s) - left) };
};

interface LaneProps {
  label: string;
  className: string;
  children: ReactNode;
  height?: number;
}

function Lane({ label, className, children, height }: LaneProps) {
  return (
    <div className={`stage-lane ${className}`} style={height === undefined ? undefined : { height }}>
      <h3 className="stage-lane-head">{label}</h3>
      <div className="stage-lane-plot">{children}</div>
    </div>
  );
}

function Ruler({ axis, apart }: { axis: TimeAxis; apart: number }) {
  return (
    <div className="stage-ruler" aria-hidden="true">
      {timeTicks(axis, apart)
        .filter(({ major, time_s }) => major && time_s >= 0)
        .map(({ time_s }) => (
          <span key={time_s} style={{ left: toPx(axis, time_s) }}>
            {formatClock(time_s)}
          </span>
        ))}
    </div>
  );
}

/** One pair of hands: when it is taken, moving included. */
function HandsLane({ axis, plan }: { axis: TimeAxis; plan: PlannedRun }) {
  return (
    <Lane label={t('stage.lane.hands')} className="lane-hands">
      {plan.schedule.actions.map(({ id, start_s, end_s, brewer, what }) => (
        <span
          key={id}
          className={`stage-block block-taken block-${what}`}
          style={place(axis, start_s, end_s)}
          title={t('stage.strip.taken', { brewer, from: formatClock(start_s, 1), to: formatClock(end_s, 1) })}
        >
          {brewer}
        </span>
      ))}
    </Lane>
  );
}

/** What a block says when there is room for it; its title says it in any case. */
function textIn(axis: TimeAxis, action: HandAction): string {
  const text = action.pour === null ? actionWord(action) : formatNumber(action.water_g);
  const room = toPx(axis, action.end_s) - toPx(axis, action.start_s);
  return room >= 7 * text.length + 2 ? text : '';
}

/** What is done at one brewer, over the time it holds its scale. */
function BrewerBlocks({ axis, lane }: { axis: TimeAxis; lane: BrewerLane }) {
  return (
    <>
      {lane.drained_s !== null && (
        <span className="stage-held" style={place(axis, lane.from_s, lane.drained_s)} />
      )}
      {lane.actions.map((action) => (
        <span
          key={action.id}
          className={`stage-block block-${action.what}`}
          style={place(axis, action.start_s, action.end_s)}
          title={`${actionWord(action)}, ${formatClock(action.start_s, 1)}`}
        >
          {textIn(axis, action)}
        </span>
      ))}
    </>
  );
}

interface VoiceLaneProps {
  axis: TimeAxis;
  talk: Talk;
  placed: RunTalk | null;
  selected: string | null;
  onSelect?: (id: string) => void;
}

/** The talk, between the silences. */
function VoiceLane({ axis, talk, placed, selected, onSelect }: VoiceLaneProps) {
  const wrong = (id: string): boolean =>
    placed?.spoken[id]?.values.some(({ truth }) => truth === 'false' || truth === 'out_of_date') ?? false;
  return (
    <Lane label={t('stage.lane.voice')} className="lane-voice">
      {placed?.order.silent.map(({ label, from_s, to_s }) => (
        <span
          key={`${label} ${from_s}`}
          className="stage-silence"
          style={place(axis, from_s, to_s)}
          title={t('stage.strip.silence')}
        />
      ))}
      {placed?.placed.segments.map(({ id, start_s, end_s }) => {
        const segment = talk.segments.find((entry) => entry.id === id);
        if (!segment || start_s === null) return null;
        const shared = {
          className: 'stage-block block-say',
          style: place(axis, start_s, end_s ?? start_s),
          'data-wrong': wrong(id) || undefined,
          'data-selected': id === selected || undefined,
          title: `${titleOf(segment)}, ${formatClock(start_s, 1)}`,
        };
        return onSelect ? (
          <button key={id} type="button" {...shared} onClick={() => onSelect(id)}>
            {titleOf(segment)}
          </button>
        ) : (
          <span key={id} {...shared}>
            {titleOf(segment)}
          </span>
        );
      })}
    </Lane>
  );
}

const KETTLE_PX = 64;

/** Temperature at the spout where a pour begins and ends, kettle by kettle. */
function KettleLanes({ axis, plan }: { axis: TimeAxis; plan: PlannedRun }) {
  const lines = kettleLines(plan.schedule);
  const { low, high } = kettleRange(lines);
  const y = (temperature_C: number): number =>
    10 + ((high - temperature_C) / Math.max(1, high - low)) * (KETTLE_PX - 20);
  return lines.map(({ kettle, points, pours }) => (
    <Lane key={kettle} label={kettle} className="lane-kettle" height={KETTLE_PX}>
      <svg className="stage-line" width={axis.width_px} height={KETTLE_PX} aria-hidden="true">
        <path
          d={points
            .map(
              (p, i) =>
                `${i === 0 ? 'M' : 'L'}${toPx(axis, p.time_s).toFixed(1)} ${y(p.temperature_C).toFixed(1)}`,
            )
            .join('')}
        />
        {pours.map((pour) => (
          <circle
            key={pour.id}
            cx={toPx(axis, pour.start_s)}
            cy={y(pour.start_C)}
            r={3}
            data-cooler={pour.asked_C - pour.start_C >= 1 || undefined}
          />
        ))}
      </svg>
      <span className="stage-scale-mark" style={{ top: y(high) - 8 }}>
        {formatWithUnit(high, '°C')}
      </span>
      <span className="stage-scale-mark" style={{ top: y(low) - 8 }}>
        {formatWithUnit(low, '°C')}
      </span>
    </Lane>
  ));
}

/** Each cup from being served: hot, warm, cold. */
function CupLanes({ axis, plan }: { axis: TimeAxis; plan: PlannedRun }) {
  const { cups } = plan;
  if (!cups) return null;
  return (
    <Lane label={t('stage.lane.cups')} className="lane-cups" height={8 + 22 * cups.cups.length}>
      {cups.cups.map((cup, row) => {
        const top = 4 + 22 * row;
        const hot = Math.max(cup.served_s, cup.hot_until_s ?? axis.to_s);
        const warm = Math.max(hot, cup.warm_until_s ?? axis.to_s);
        return (
          <div key={cup.brewer}>
            <span
              className="stage-cup cup-hot"
              style={{ ...place(axis, cup.served_s, Math.max(cup.served_s, hot)), top }}
            />
            <span className="stage-cup cup-warm" style={{ ...place(axis, hot, warm), top }} />
            {warm < axis.to_s && (
              <span className="stage-cup cup-cold" style={{ ...place(axis, warm, axis.to_s), top }} />
            )}
            <span className="stage-cup-label" style={{ left: toPx(axis, cup.served_s) + 4, top }}>
              {t('stage.strip.cup', { brewer: cup.brewer, served: formatWithUnit(cup.served_C, '°C') })}
            </span>
          </div>
        );
      })}
    </Lane>
  );
}

/** The limit, over all lanes. */
function Marks({ axis, limit_s }: { axis: TimeAxis; limit_s: number }) {
  const x = toPx(axis, limit_s);
  if (x < 0 || x > axis.width_px + 1) return null;
  return (
    <div className="stage-limit" style={{ left: `calc(var(--stage-head) + ${x}px)` }} aria-hidden="true">
      <span>{t('stage.strip.limit', { limit: formatClock(limit_s) })}</span>
    </div>
  );
}
