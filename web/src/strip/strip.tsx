import type { Bands, BedVisit, BrewResult, Plan } from '@pourline/core';
import { memo, useLayoutEffect, useMemo, useRef, useState } from 'react';
import { formatClock, formatNumber, t, tMaybe } from '../words/index.ts';
import type { Cursor } from './cursor.ts';
import {
  emptyScales,
  fitScales,
  type Ghost,
  type Scales,
  type Scene,
  type StripWords,
} from './draw/scene.ts';
import { HandsSurface } from './hands-surface.tsx';
import { layoutStrip } from './kernels/lane-layout.ts';
import type { Hands } from './kernels/pour-edit.ts';
import { clockDigits } from './kernels/value-scale.ts';
import { LaneHeads } from './lane-heads.tsx';
import type { MeasuredBrew } from './measured.ts';
import { MeasuredPours } from './measured-pours.tsx';
import { pourText } from './pour-elements.tsx';
import { SERIES } from './series.ts';
import { TimeRuler } from './time-ruler.tsx';
import { type AxisControl, extentOf, useAxis } from './use-axis.ts';
import { usePainting } from './use-painting.ts';
import { usePalette } from './use-palette.ts';
import { useZoom } from './use-zoom.ts';
import './strip.css';

export interface StripProps {
  plan: Plan;
  result: BrewResult | null;
  /** The result does not belong to the plan as it stands. */
  stale?: boolean;
  ghost?: Ghost | null;
  bands?: Bands | null;
  visits?: readonly BedVisit[];
  /** Brews as they were measured, two at most: drawn in ink over the prediction, the second dashed. */
  measured?: readonly MeasuredBrew[];
  /** A line at this moment, for a brew under way [s]. */
  now_s?: number | null;
  cursor: Cursor;
  /** Id of the pour in hand. */
  selected: string | null;
  /** Moving a pour takes the later ones along. */
  ripple: boolean;
  waterName: (id: string) => string;
  newId: () => string;
  onSelect: (id: string | null) => void;
  /** Gives the hand work as changed; `settled` is false while a gesture is under way. Left out: read-only. */
  onEdit?: (hands: Hands, settled: boolean) => void;
  /** Buttons above the lanes. */
  tools?: (control: AxisControl) => React.ReactNode;
}

/** A gesture on the hands lane is under way. */
const nothingToEdit = (): void => {};

/** Everything that happens in a brew, on one time axis. */
export const Strip = memo(function Strip(props: StripProps) {
  const { plan, result, stale = false, ghost = null, bands = null, visits = NO_VISITS, now_s = null } = props;
  const {
    measured = NO_MEASURED,
    cursor,
    selected,
    ripple,
    waterName,
    newId,
    onSelect,
    onEdit,
    tools,
  } = props;
  const root = useRef<HTMLDivElement>(null);
  const surface = useRef<HTMLDivElement>(null);
  const lanes = useRef<HTMLCanvasElement>(null);
  const cross = useRef<HTMLCanvasElement>(null);
  const ruler = useRef<HTMLCanvasElement>(null);
  const [held, setHeld] = useState(false);
  const width = useWidth(root);
  const palette = usePalette(root);
  const layout = useMemo(() => layoutStrip(width), [width]);
  const extent = extentOf(ghost ? [plan, ghost.plan] : [plan], [result, ghost?.result ?? null], measured);
  const control = useAxis(extent, layout.plot_width, held);
  const scales = useScales(result, ghost?.result ?? null, measured);
  const words = useWords();
  const rest_s = result?.cup.end_s ?? 0;
  const { axis } = control;
  const scene = useMemo<Scene | null>(
    () =>
      palette
        ? { layout, axis, palette, plan, result, ghost, bands, visits, measured, stale, now_s, scales, words }
        : null,
    [layout, axis, palette, plan, result, ghost, bands, visits, measured, stale, now_s, scales, words],
  );
  usePainting(scene, lanes, cross, ruler, cursor, rest_s);
  const pointer = useZoom(surface, layout.plot_left, control, cursor);
  const hands = layout.lanes.find((lane) => lane.key === 'hands');

  return (
    <div
      className="strip"
      ref={root}
      data-narrow={layout.narrow || undefined}
      data-stale={stale || undefined}
    >
      {tools ? <div className="strip-tools">{tools(control)}</div> : null}
      <TimeRuler
        layout={layout}
        control={control}
        cursor={cursor}
        rest_s={rest_s}
        canvas={ruler}
        spoken={(time_s) => spokenAt(result, time_s)}
      />
      <section
        className="strip-lanes"
        ref={surface}
        style={{ height: layout.height - layout.axis.height }}
        aria-label={t('strip.name', { name: plan.name })}
        {...pointer}
      >
        <canvas ref={lanes} style={{ top: -layout.axis.height }} />
        <div className="strip-shift" style={{ top: -layout.axis.height }}>
          <LaneHeads
            layout={layout}
            palette={palette}
            result={result}
            ghost={ghost?.result ?? null}
            measured={measured}
            cursor={cursor}
            rest_s={rest_s}
            hands={<HandsNote plan={plan} selected={selected} readOnly={!onEdit} narrow={layout.narrow} />}
          />
          {hands ? (
            <HandsSurface
              plan={plan}
              axis={control.axis}
              box={hands}
              selected={selected}
              ripple={ripple}
              readOnly={!onEdit}
              waterName={waterName}
              newId={newId}
              onSelect={onSelect}
              onEdit={
                onEdit
                  ? (next, settled) => {
                      setHeld(!settled);
                      onEdit(next, settled);
                    }
                  : nothingToEdit
              }
            />
          ) : null}
          {hands && measured.length > 0 ? (
            <MeasuredPours measured={measured} plan={plan} axis={control.axis} box={hands} />
          ) : null}
        </div>
        <canvas ref={cross} className="strip-cross" style={{ top: -layout.axis.height }} />
      </section>
      <p id="strip-keys" className="visually-hidden">
        {t('strip.keys')}
      </p>
    </div>
  );
});

const NO_VISITS: readonly BedVisit[] = [];
const NO_MEASURED: readonly MeasuredBrew[] = [];

/** What the hands lane says beside itself: the pour in hand, or how to work. */
function HandsNote(props: { plan: Plan; selected: string | null; readOnly: boolean; narrow: boolean }) {
  const { plan, selected, readOnly, narrow } = props;
  const index = plan.pours.findIndex((pour) => pour.id === selected);
  if (index < 0)
    return readOnly ? null : <p className="hands-note">{t(narrow ? 'strip.hint_short' : 'strip.hint')}</p>;
  const parts = pourText(plan, index).split(', ');
  return (
    <p className="hands-note" data-selected="">
      <b>{t('strip.pour.name', { number: index + 1 })}</b>
      {parts.map((part) => (
        <span key={part}>{part}</span>
      ))}
    </p>
  );
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

function useScales(
  result: BrewResult | null,
  ghost: BrewResult | null,
  measured: readonly MeasuredBrew[],
): Scales {
  const kept = useRef<Scales | null>(null);
  return useMemo(() => {
    const shown = [result, ghost].filter((r) => r !== null);
    if (shown.length === 0 && measured.length === 0) return kept.current ?? emptyScales();
    kept.current = fitScales(kept.current, shown, measured);
    return kept.current;
  }, [result, ghost, measured]);
}

function useWords(): StripWords {
  return useMemo(
    () => ({
      bedTop: t('strip.paint.bed_top'),
      bedBottom: t('strip.paint.bed_bottom'),
      top: t('strip.paint.top'),
      middle: t('strip.paint.middle'),
      bottom: t('strip.paint.bottom'),
      drawdown: t('strip.paint.drawdown'),
      clock: (time_s) => formatClock(time_s, clockDigits(time_s)),
      number: (value, digits) => formatNumber(value, digits),
    }),
    [],
  );
}

/** A moment read aloud: the clock, then the main values. */
function spokenAt(result: BrewResult | null, time_s: number): string {
  const clock = formatClock(Math.round(time_s));
  if (!result) return clock;
  const values = [...SERIES.heat.slice(2), ...SERIES.cup.slice(0, 2)].map((series) => {
    const value = series.at(result.trace, time_s);
    return Number.isFinite(value)
      ? `${tMaybe(series.key) ?? ''} ${formatNumber(value, series.digits)} ${series.unit}`
      : '';
  });
  return [clock, ...values.filter((value) => value !== '')].join(', ');
}

export type { Ghost, Hands };
