import { useId, useMemo, useState } from 'react';
import { formatNumber, t } from '../../../words/index.ts';
import { MARKS, pathOf, placeOf, type Reach, reachOf, sizeOf, topOf } from './axes.ts';
import { dashOf, shapeOf } from './mark.tsx';
import { at, letterPlace, type Series } from './series.ts';
import { useWidth } from './use-width.ts';
import './chart.css';

const LEFT = 38;
const RIGHT = 12;
const TOP = 24;
const FOOT = 26;
const GAP = 22;
/** Shares at which a distribution is usually named by its size. */
const NAMED = [10, 50, 90];

interface SizeChartProps {
  series: readonly Series[];
  /** Limit of fines that is marked [µm]. */
  fines_um?: number;
  /** Height of both parts together [px]. */
  height?: number;
}

/**
 * Distributions over the logarithm of size: above, where the mass lies (share per decade); below, how much is finer. Lines carry
 * letters and differ in their dashes, measured classes in the shape of their marks.
 */
export function SizeChart({ series, fines_um, height = 430 }: SizeChartProps) {
  const [ref, width] = useWidth<HTMLDivElement>(640);
  const [look, setLook] = useState<number | null>(null);
  const clip = useId();
  const reach = useMemo(() => reachOf(series.map(({ line }) => line)), [series]);
  const inner = width - LEFT - RIGHT;
  const upper = Math.round((height - TOP - FOOT - GAP) * 0.42);
  const lowerTop = TOP + upper + GAP;
  const lower = height - lowerTop - FOOT;
  const x = (um: number): number => LEFT + placeOf(um, reach, inner);
  const seen = look === null ? null : Math.min(reach.high, Math.max(reach.low, look));
  const pick = (clientX: number, box: DOMRect): void =>
    setLook(sizeOf(Math.min(inner, Math.max(0, clientX - box.left - LEFT)), reach, inner));
  return (
    <figure className="size-chart">
      <div ref={ref} className="size-chart-ground">
        <svg
          width={width}
          height={height}
          viewBox={`0 0 ${width} ${height}`}
          role="img"
          aria-label={t('grind.chart.label', {
            names: series.map((one) => `${one.letter} ${one.name}`).join(', '),
          })}
          onPointerDown={(event) => pick(event.clientX, event.currentTarget.getBoundingClientRect())}
          onPointerMove={(event) => {
            if (event.pointerType === 'mouse' || event.buttons > 0)
              pick(event.clientX, event.currentTarget.getBoundingClientRect());
          }}
        >
          <Ground
            reach={reach}
            x={x}
            parts={{ upper, lowerTop, lower, right: width - RIGHT }}
            fines_um={fines_um}
          />
          <clipPath id={clip}>
            <rect x={LEFT} y={0} width={inner} height={height} />
          </clipPath>
          <g clipPath={`url(#${clip})`}>
            <Densities series={series} x={x} top={TOP} height={upper} />
            <Sums series={series} x={x} top={lowerTop} height={lower} reach={reach} />
          </g>
          {seen !== null && (
            <line className="size-look" x1={x(seen)} x2={x(seen)} y1={TOP} y2={lowerTop + lower} />
          )}
        </svg>
      </div>
      <Look series={series} reach={reach} seen={seen} onLook={setLook} />
    </figure>
  );
}

interface GroundProps {
  reach: Reach;
  x: (um: number) => number;
  parts: { upper: number; lowerTop: number; lower: number; right: number };
  fines_um: number | undefined;
}

function Ground({ reach, x, parts: { upper, lowerTop, lower, right }, fines_um }: GroundProps) {
  const foot = lowerTop + lower;
  const marks = MARKS.filter((mark) => mark >= reach.low && mark <= reach.high);
  const tight = right - LEFT < 420;
  const level = (pct: number): number => lowerTop + lower * (1 - pct / 100);
  return (
    <g>
      {fines_um !== undefined && fines_um > reach.low && fines_um < reach.high && (
        <>
          <rect className="size-fines" x={LEFT} width={x(fines_um) - LEFT} y={TOP} height={upper} />
          <text className="size-words" x={LEFT} y={TOP - 8}>
            {t('grind.chart.fines', { limit: formatNumber(fines_um) })}
          </text>
        </>
      )}
      {marks.map((mark) => (
        <g key={mark}>
          <line className="size-grid" x1={x(mark)} x2={x(mark)} y1={TOP} y2={foot} />
          {(!tight || /^[1]/.test(String(mark)) || mark === 500) && (
            <text
              className="size-words"
              x={x(mark)}
              y={foot + 17}
              textAnchor={mark === reach.low ? 'start' : mark === reach.high ? 'end' : 'middle'}
            >
              {mark >= 1_000 ? `${mark / 1_000} mm` : mark === reach.low ? `${mark} µm` : mark}
            </text>
          )}
        </g>
      ))}
      <line className="size-base" x1={LEFT} x2={right} y1={TOP + upper} y2={TOP + upper} />
      {[0, ...NAMED, 100].map((pct) => (
        <g key={pct}>
          <line
            className={NAMED.includes(pct) ? 'size-named' : 'size-base'}
            x1={LEFT}
            x2={right}
            y1={level(pct)}
            y2={level(pct)}
          />
          <text className="size-words" x={LEFT - 5} y={level(pct) + 4} textAnchor="end">
            {NAMED.includes(pct) ? `D${pct}` : `${pct} %`}
          </text>
        </g>
      ))}
      <text className="size-words" x={LEFT} y={lowerTop - 6}>
        {t('grind.chart.below')}
      </text>
      <text className="size-words" x={right} y={TOP - 8} textAnchor="end">
        {t('grind.chart.density')}
      </text>
    </g>
  );
}

interface PartProps {
  series: readonly Series[];
  x: (um: number) => number;
  top: number;
  height: number;
}

function Densities({ series, x, top, height }: PartProps) {
  const most = topOf(Math.max(...series.flatMap(({ line }) => line.density), 1));
  const y = (value: number): number => top + height * (1 - value / most);
  return (
    <g>
      {series.map(({ id, line, place }, i) => {
        const path = pathOf(line.um.map(x), line.density.map(y));
        const [first, last] = [x(line.um[0]!), x(line.um[line.um.length - 1]!)];
        return (
          <g key={id}>
            {i === 0 && (
              <path className="size-fill" d={`${path}L${last} ${top + height}L${first} ${top + height}Z`} />
            )}
            <path className="size-line" d={path} strokeDasharray={dashOf(place)} />
          </g>
        );
      })}
      {series.map(({ id, letter, line }, i) => {
        const k = letterPlace(line, i * 3 - series.length);
        return <Letter key={id} letter={letter} x={x(line.um[k]!)} y={y(line.density[k]!)} />;
      })}
    </g>
  );
}

function Sums({ series, x, top, height, reach }: PartProps & { reach: Reach }) {
  const y = (pct: number): number => top + height * (1 - pct / 100);
  return (
    <g>
      {series.map(({ id, line, points, place }) => {
        const xs = line.um.map(x);
        const band =
          line.low && line.high
            ? `${pathOf(xs, line.high.map(y))}${pathOf([...xs].reverse(), [...line.low].reverse().map(y)).replace('M', 'L')}Z`
            : null;
        return (
          <g key={id}>
            {band && <path className="size-band" d={band} />}
            <path className="size-line" d={pathOf(xs, line.below.map(y))} strokeDasharray={dashOf(place)} />
            {points
              .filter(({ um }) => um >= reach.low && um <= reach.high)
              .map(({ um, pct }) => (
                <path
                  key={um}
                  className="size-point"
                  d={shapeOf(place)}
                  transform={`translate(${x(um).toFixed(1)} ${y(pct).toFixed(1)})`}
                />
              ))}
          </g>
        );
      })}
      {series.map(({ id, letter, line }, i) => {
        // Spread over the steep part, each at a height of its own.
        const pct = 30 + ((i * 17) % 50);
        const k = Math.max(
          0,
          line.below.findIndex((value) => value >= pct),
        );
        return <Letter key={id} letter={letter} x={x(line.um[k]!)} y={y(line.below[k]!)} />;
      })}
    </g>
  );
}

function Letter({ letter, x, y }: { letter: string; x: number; y: number }) {
  return (
    <g transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`}>
      <circle className="size-letter-ground" r={8.5} />
      <text className="size-letter" y={4.2} textAnchor="middle">
        {letter}
      </text>
    </g>
  );
}

interface LookProps {
  series: readonly Series[];
  reach: Reach;
  seen: number | null;
  onLook: (um: number | null) => void;
}

/** Reads every line at one size: a slider for fingers and keys, figures in words. */
function Look({ series, reach, seen, onLook }: LookProps) {
  const id = useId();
  const [low, high] = [Math.log(reach.low), Math.log(reach.high)];
  const um = seen ?? Math.sqrt(reach.low * reach.high);
  return (
    <div className="size-look-row">
      <label htmlFor={id}>{t('grind.chart.look')}</label>
      <input
        id={id}
        type="range"
        min={0}
        max={200}
        step={1}
        value={Math.round((200 * (Math.log(um) - low)) / (high - low))}
        aria-valuetext={`${formatNumber(um)} µm`}
        onChange={(event) => onLook(Math.exp(low + ((high - low) * Number(event.target.value)) / 200))}
      />
      <p className="size-look-words" role="status">
        {seen === null
          ? t('grind.chart.look_hint')
          : t('grind.chart.look_at', {
              size: formatNumber(seen),
              list: series.map((one) => lookText(one, seen)).join(' · '),
            })}
      </p>
    </div>
  );
}

function lookText({ letter, line }: Series, um: number): string {
  const value = formatNumber(at(line.um, line.below, um), 1);
  if (!line.low || !line.high) return t('grind.chart.look_one', { letter, value });
  return t('grind.chart.look_band', {
    letter,
    value,
    low: formatNumber(at(line.um, line.low, um), 1),
    high: formatNumber(at(line.um, line.high, um), 1),
  });
}
