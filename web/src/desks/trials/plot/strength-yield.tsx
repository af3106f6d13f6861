import type { PreferredRegion } from '@pourline/core';
import { memo, useEffect, useMemo, useRef, useState, useSyncExternalStore } from 'react';
import { hrefOf } from '../../../shell/route.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { shapeOf } from '../../grind/chart/mark.tsx';
import { useWidth } from '../../grind/chart/use-width.ts';
import { useListener } from '../../grind/parts/use-listener.ts';
import type { Marked } from '../list/marked.ts';
import type { TrialRow } from '../list/rows.ts';
import { usePaletteTick } from '../parts/use-palette-tick.ts';
import { nearest, type Room, ticks, type Window, windowOf, xOf, yOf } from './plot-kernels.ts';
import { PreferredShape, PreferredText, usePreferred } from './preferred.tsx';
import { type PlotRegion, RegionLegend, RegionShapes, useRegions } from './regions.tsx';

interface StrengthYieldProps {
  /** What is drawn. */
  rows: readonly TrialRow[];
  /** All there is: the window and the shapes of marks do not jump while the list is narrowed. */
  all: readonly TrialRow[];
  marked: Marked;
}

interface Placed {
  readonly rows: readonly TrialRow[];
  /** x, y of every row [px]. */
  readonly places: Float64Array;
}

const drawn = (row: TrialRow): row is TrialRow & { strength_pct: number; yield_pct: number } =>
  row.strength_pct !== null && row.yield_pct !== null;

/** Strength over yield: regions of the trade, the region this person likes, and every trial as a mark tied to its row. */
export const StrengthYield = memo(function StrengthYield({ rows, all, marked }: StrengthYieldProps) {
  const [frame, width] = useWidth<HTMLDivElement>(420);
  const height = Math.round(Math.min(440, Math.max(280, width * 0.8)));
  const room = useMemo<Room>(
    () => ({ left: 44, top: 10, width: width - 56, height: height - 54 }),
    [width, height],
  );
  const coffees = useMemo(() => shapesOf(all), [all]);
  const view = useMemo(() => windowOf(all.filter(drawn)), [all]);
  const placed = useMemo(() => place(rows, view, room), [rows, view, room]);
  const regions = useRegions();
  const preferred = usePreferred(all);
  return (
    <figure className="strength-yield" ref={frame}>
      <div className="strength-yield-room" style={{ height }}>
        <svg
          width={width}
          height={height}
          role="img"
          aria-label={t('trials.plot.label', { count: placed.rows.length })}
        >
          <Ground view={view} room={room} regions={regions} preferred={preferred} />
        </svg>
        <Marks placed={placed} coffees={coffees} width={width} height={height} marked={marked} />
        <MarkedMark placed={placed} width={width} height={height} marked={marked} />
      </div>
      <figcaption>
        <MarkedText rows={rows} marked={marked} />
        <Legend coffees={coffees} />
        {placed.rows.length < rows.length && (
          <p className="quiet-text">
            {t('trials.plot.not_drawn', { count: rows.length - placed.rows.length })}
          </p>
        )}
        <PreferredText region={preferred} />
        <RegionLegend regions={regions} />
      </figcaption>
    </figure>
  );
});

interface CoffeeShape {
  id: string;
  name: string;
  shape: number;
}

/** Coffees in the order they first occur, each with its own shape of mark. */
function shapesOf(rows: readonly TrialRow[]): readonly CoffeeShape[] {
  const found = new Map<string, CoffeeShape>();
  for (const { coffee_id, coffee } of rows)
    if (!found.has(coffee_id)) found.set(coffee_id, { id: coffee_id, name: coffee, shape: found.size });
  return [...found.values()];
}

function place(rows: readonly TrialRow[], view: Window, room: Room): Placed {
  const shown = rows.filter(drawn);
  const places = new Float64Array(shown.length * 2);
  shown.forEach((row, i) => {
    places[2 * i] = xOf(row.yield_pct, view, room);
    places[2 * i + 1] = yOf(row.strength_pct, view, room);
  });
  return { rows: shown, places };
}

interface GroundProps {
  view: Window;
  room: Room;
  regions: readonly PlotRegion[];
  preferred: PreferredRegion | null;
}

const Ground = memo(function Ground({ view, room, regions, preferred }: GroundProps) {
  const bottom = room.top + room.height;
  const right = room.left + room.width;
  return (
    <g>
      <PreferredShape region={preferred} view={view} room={room} />
      <RegionShapes regions={regions} view={view} room={room} />
      {ticks(view.yield_low, view.yield_high, room.width / 70).map((value) => {
        const x = xOf(value, view, room);
        return (
          <g key={`x${value}`}>
            <path className="plot-line" d={`M${x} ${room.top}V${bottom}`} />
            <text className="plot-figure" x={x} y={bottom + 16} textAnchor="middle">
              {formatNumber(value, Number.isInteger(value) ? 0 : 1)}
            </text>
          </g>
        );
      })}
      {ticks(view.strength_low, view.strength_high, room.height / 56).map((value) => {
        const y = yOf(value, view, room);
        return (
          <g key={`y${value}`}>
            <path className="plot-line" d={`M${room.left} ${y}H${right}`} />
            <text className="plot-figure" x={room.left - 6} y={y + 4} textAnchor="end">
              {formatNumber(value, 1)}
            </text>
          </g>
        );
      })}
      <text className="plot-name" x={right} y={bottom + 36} textAnchor="end">
        {t('trials.plot.yield')}
      </text>
      <text className="plot-name" x={room.left + 6} y={room.top + 14}>
        {t('trials.plot.strength')}
      </text>
    </g>
  );
});

interface MarksProps {
  placed: Placed;
  coffees: readonly CoffeeShape[];
  width: number;
  height: number;
  marked: Marked;
}

/** The marks themselves, on a canvas: two thousand of them cost no elements. */
const Marks = memo(function Marks({ placed, coffees, width, height, marked }: MarksProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const theme = usePaletteTick();
  useEffect(() => {
    if (canvas.current && theme >= 0) paint(canvas.current, placed, coffees, width, height);
  }, [placed, coffees, width, height, theme]);
  const at = (event: PointerEvent, element: HTMLCanvasElement): TrialRow | undefined => {
    const box = element.getBoundingClientRect();
    const reach = event.pointerType === 'mouse' ? 14 : 26;
    return placed.rows[nearest(placed.places, event.clientX - box.left, event.clientY - box.top, reach)];
  };
  useListener(canvas, 'pointermove', (event, element) => marked.put(at(event, element)?.id ?? null));
  useListener(canvas, 'pointerleave', (event) => {
    if (event.pointerType === 'mouse') marked.put(null);
  });
  useListener(canvas, 'pointerdown', (event, element) => {
    const row = at(event, element);
    if (row) marked.point(row.id);
  });
  return <canvas ref={canvas} className="strength-yield-marks" />;
});

function paint(
  canvas: HTMLCanvasElement,
  { rows, places }: Placed,
  coffees: readonly CoffeeShape[],
  width: number,
  height: number,
): void {
  const ratio = Math.min(3, devicePixelRatio || 1);
  canvas.width = Math.round(width * ratio);
  canvas.height = Math.round(height * ratio);
  canvas.style.width = `${width}px`;
  canvas.style.height = `${height}px`;
  const ctx = canvas.getContext('2d');
  if (!ctx) return;
  const style = getComputedStyle(canvas);
  const shapes = new Map(coffees.map(({ id, shape }) => [id, new Path2D(shapeOf(shape))]));
  ctx.lineWidth = 1.2;
  ctx.strokeStyle = style.getPropertyValue('--ink');
  ctx.fillStyle = style.getPropertyValue('--paper-raised');
  // Many marks lie on each other: unfilled ones show how many.
  ctx.globalAlpha = rows.length > 300 ? 0.55 : 1;
  rows.forEach((row, i) => {
    ctx.setTransform(ratio, 0, 0, ratio, places[2 * i]! * ratio, places[2 * i + 1]! * ratio);
    const shape = shapes.get(row.coffee_id);
    if (!shape) return;
    if (rows.length <= 300) ctx.fill(shape);
    ctx.stroke(shape);
  });
}

/** A ring round the marked trial; renders alone. */
function MarkedMark({ placed, width, height, marked }: Omit<MarksProps, 'coffees'>) {
  const id = useSyncExternalStore(marked.subscribe, marked.get);
  const index = id === null ? -1 : placed.rows.findIndex((row) => row.id === id);
  if (index < 0) return null;
  return (
    <svg className="strength-yield-ring" width={width} height={height} aria-hidden="true">
      <circle cx={placed.places[2 * index]} cy={placed.places[2 * index + 1]} r={9} />
      <circle className="dot" cx={placed.places[2 * index]} cy={placed.places[2 * index + 1]} r={4} />
    </svg>
  );
}

function MarkedText({ rows, marked }: { rows: readonly TrialRow[]; marked: Marked }) {
  const id = useSyncExternalStore(marked.subscribe, marked.get);
  const [last, setLast] = useState<string | null>(null);
  useEffect(() => {
    if (id !== null) setLast(id);
  }, [id]);
  const row = rows.find((one) => one.id === (id ?? last));
  if (!row) return <p className="plot-marked quiet-text">{t('trials.plot.hint')}</p>;
  return (
    <p className="plot-marked">
      <a href={hrefOf('trials', 'log', row.id)}>{row.name}</a>{' '}
      <span className="quiet-text">
        {row.when} · {formatNumber(row.strength_pct, 2)} % · {t('trials.plot.yield_short')}{' '}
        {formatNumber(row.yield_pct, 1)} %
      </span>
    </p>
  );
}

function Legend({ coffees }: { coffees: readonly CoffeeShape[] }) {
  return (
    <ul className="plot-legend" aria-label={t('trials.plot.legend')}>
      {coffees.map(({ id, name, shape }) => (
        <li key={id}>
          <svg viewBox="-6 -6 12 12" aria-hidden="true">
            <path d={shapeOf(shape)} />
          </svg>
          {name || t('trials.plot.unknown_coffee')}
        </li>
      ))}
    </ul>
  );
}
