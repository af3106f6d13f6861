import { formatNumber } from '../../../words/index.ts';

/** Room around a drawing [px]. */
export interface Room {
  left: number;
  right: number;
  top: number;
  foot: number;
}

/** Steps of 1, 2 or 5 that cut a range into at most `most` parts. */
export function niceStep(range: number, most: number): number {
  const rough = range / Math.max(1, most);
  const power = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((k) => k * power).find((step) => step >= rough - 1e-12) ?? 10 * power;
}

/** Multiples of a step within a range. */
export function marksIn(low: number, high: number, most: number): number[] {
  const step = niceStep(high - low || 1, most);
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * step);
}

/** Decimals that tell the marks of an axis apart. */
export function markDigits(marks: readonly number[]): number {
  const step = marks.length > 1 ? Math.abs(marks[1]! - marks[0]!) : 1;
  return Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
}

interface AxesProps {
  width: number;
  height: number;
  room: Room;
  x: { marks: readonly number[]; at: (v: number) => number; words?: (v: number) => string; title: string };
  y: { marks: readonly number[]; at: (v: number) => number; words?: (v: number) => string };
}

/** Ground, grid and words of a chart. */
export function Axes({ width, height, room, x, y }: AxesProps) {
  const foot = height - room.foot;
  return (
    <g className="chart-ground">
      {y.marks.map((mark) => (
        <g key={mark}>
          <line x1={room.left} x2={width - room.right} y1={y.at(mark)} y2={y.at(mark)} />
          <text x={room.left - 6} y={y.at(mark) + 4} textAnchor="end">
            {y.words?.(mark) ?? formatNumber(mark, markDigits(y.marks))}
          </text>
        </g>
      ))}
      <line className="chart-base" x1={room.left} x2={width - room.right} y1={foot} y2={foot} />
      {x.marks.map((mark) => (
        <text key={mark} x={x.at(mark)} y={foot + 16} textAnchor="middle">
          {x.words?.(mark) ?? formatNumber(mark, markDigits(x.marks))}
        </text>
      ))}
      <text x={width - room.right} y={foot + 32} textAnchor="end">
        {x.title}
      </text>
    </g>
  );
}
