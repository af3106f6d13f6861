import type { DialPoint } from '@pourline/core';
import { useState } from 'react';
import { formatNumber, t } from '../../../words/index.ts';
import { pathOf, topOf } from '../chart/axes.ts';
import { shapeOf } from '../chart/mark.tsx';
import { useWidth } from '../chart/use-width.ts';
import type { LinePoint } from '../room/curve-question.ts';
import { dialMarks, pointOf } from './dial-kernels.ts';

const LEFT = 46;
const RIGHT = 14;
const TOP = 22;
const FOOT = 34;

interface DialChartProps {
  line: readonly LinePoint[];
  points: readonly DialPoint[];
  /** Where the burrs touch now: points measured with another zero are moved to where they would stand today. */
  touch: number;
  measured: { low: number; high: number };
  /** A setting to mark, with its band. */
  found: { low: number; mid: number; high: number } | null;
  height?: number;
}

/**
 * Median size over the dial: the curve with its spread, around it that of a single grind, the measurements with theirs, and a setting
 * that was asked for. Beyond the measured part the line is dashed.
 */
export function DialChart({ line, points, touch, measured, found, height = 340 }: DialChartProps) {
  const [ref, width] = useWidth<HTMLDivElement>(640);
  const [seen, see] = useState<number | null>(null);
  const [first, last] = [line[0]!.dial, line[line.length - 1]!.dial];
  const top = topOf(Math.max(...line.map((at) => at.next_d50_um.high)));
  const inner = height - TOP - FOOT;
  const x = (dial: number): number => LEFT + ((dial - first) / (last - first)) * (width - LEFT - RIGHT);
  const y = (um: number): number => TOP + inner * (1 - um / top);
  const xs = line.map(({ dial }) => x(dial));
  const band = (pick: 'd50_um' | 'next_d50_um'): string =>
    `${pathOf(
      xs,
      line.map((at) => y(at[pick].high)),
    )}${pathOf(
      [...xs].reverse(),
      [...line].reverse().map((at) => y(at[pick].low)),
    ).replace('M', 'L')}Z`;
  const inside = line.filter(({ beyond }) => !beyond);
  const path = (part: readonly LinePoint[]): string =>
    pathOf(
      part.map(({ dial }) => x(dial)),
      part.map(({ d50_um }) => y(d50_um.mid)),
    );
  const steps = [0.25, 0.5, 0.75, 1].map((part) => top * part);
  const at = seen === null ? null : line[seen];
  return (
    <figure className="size-chart">
      <div ref={ref} className="size-chart-ground">
        <svg
          width={width}
          height={height}
          viewBox={`0 0 ${width} ${height}`}
          role="img"
          aria-label={t('grind.dial.chart')}
        >
          {steps.map((um) => (
            <g key={um}>
              <line className="size-grid" x1={LEFT} x2={width - RIGHT} y1={y(um)} y2={y(um)} />
              <text className="size-words" x={LEFT - 6} y={y(um) + 4} textAnchor="end">
                {formatNumber(um)}
              </text>
            </g>
          ))}
          <text className="size-words" x={LEFT} y={TOP - 8}>
            D50, µm
          </text>
          {dialMarks(first, last).map((dial) => (
            <g key={dial}>
              <line className="size-grid" x1={x(dial)} x2={x(dial)} y1={TOP} y2={TOP + inner} />
              <text className="size-words" x={x(dial)} y={TOP + inner + 16} textAnchor="middle">
                {formatNumber(dial, dial % 1 === 0 ? 0 : 1)}
              </text>
            </g>
          ))}
          <text className="size-words" x={width - RIGHT} y={height - 4} textAnchor="end">
            {t('grind.dial.axis')}
          </text>
          <path className="dial-next" d={band('next_d50_um')} />
          <path className="size-band" d={band('d50_um')} />
          <path className="size-line" strokeDasharray="2 5" d={path(line)} />
          <path className="size-line" d={path(inside)} />
          <line className="size-base" x1={LEFT} x2={width - RIGHT} y1={TOP + inner} y2={TOP + inner} />
          {found && (
            <g className="dial-found">
              <rect
                x={x(found.low)}
                width={Math.max(2, x(found.high) - x(found.low))}
                y={TOP}
                height={inner}
              />
              <line x1={x(found.mid)} x2={x(found.mid)} y1={TOP} y2={TOP + inner} />
            </g>
          )}
          {points.map((point, i) => {
            const { dial, um, low, high } = pointOf(point, touch);
            return (
              <g key={point.name}>
                <line className="dial-doubt" x1={x(dial)} x2={x(dial)} y1={y(low)} y2={y(high)} />
                <path className="size-point" d={shapeOf(i)} transform={`translate(${x(dial)} ${y(um)})`} />
              </g>
            );
          })}
          {at && <line className="size-look" x1={x(at.dial)} x2={x(at.dial)} y1={TOP} y2={TOP + inner} />}
        </svg>
      </div>
      <label className="size-look-row">
        <span>{t('grind.dial.look')}</span>
        <input
          type="range"
          min={0}
          max={line.length - 1}
          step={1}
          value={seen ?? Math.floor(line.length / 2)}
          aria-valuetext={at ? formatNumber(at.dial, 1) : t('grind.dial.look_hint')}
          onChange={(event) => see(Number(event.target.value))}
        />
        <output className="size-look-words">
          {at
            ? t('grind.dial.look_at', {
                dial: formatNumber(at.dial, 1),
                size: formatNumber(at.d50_um.mid),
                low: formatNumber(at.d50_um.low),
                high: formatNumber(at.d50_um.high),
                next_low: formatNumber(at.next_d50_um.low),
                next_high: formatNumber(at.next_d50_um.high),
                fines: formatNumber(at.fines_pct, 1),
              })
            : t('grind.dial.measured', {
                low: formatNumber(measured.low, 1),
                high: formatNumber(measured.high, 1),
              })}
        </output>
      </label>
    </figure>
  );
}
