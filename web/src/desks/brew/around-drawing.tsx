import { formatNumber } from '../../words/index.ts';
import { type Course, coursePath, ticks } from './around-kernels.ts';

const WIDTH = 300;
const HEIGHT = 118;
const LEFT = 26;
const FOOT = 16;

/** Words at an end of the axis stay within it. */
function anchorAt(x: number): 'start' | 'middle' | 'end' {
  if (x < LEFT + 4) return 'start';
  return x > WIDTH - 8 ? 'end' : 'middle';
}

interface Zone {
  key: string;
  /** Between these temperatures; ends beyond the drawing are cut. */
  from_C: number;
  to_C: number;
  label: string;
}

interface AroundDrawingProps {
  label: string;
  courses: readonly (Course & { key: string; faint?: boolean; dashed?: boolean })[];
  /** Ends of the time axis, in the unit of the courses. */
  from: number;
  to: number;
  low_C: number;
  high_C: number;
  /** Words under the time axis at a moment. */
  moment: (time: number) => string;
  /** Steps of the time axis to choose from. */
  steps: readonly number[];
  zones?: readonly Zone[];
  /** Stretches of time that stand out: pours. */
  spans?: readonly { key: string; from: number; to: number }[];
}

/** Temperatures over time in a small drawing: of kettles, or of cups between hot and cold. */
export function AroundDrawing(props: AroundDrawingProps) {
  const { label, courses, from, to, low_C, high_C, moment, steps, zones = [], spans = [] } = props;
  const x = (time: number): number => LEFT + ((time - from) / Math.max(1e-9, to - from)) * (WIDTH - LEFT);
  const y = (T: number): number => {
    const share = (T - low_C) / Math.max(1e-9, high_C - low_C);
    return (HEIGHT - FOOT) * (1 - Math.min(1, Math.max(0, share)));
  };
  return (
    <svg className="around-drawing" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={label}>
      {zones.map((zone) => (
        <g key={zone.key}>
          <rect
            className={`around-zone around-zone-${zone.key}`}
            x={LEFT}
            width={WIDTH - LEFT}
            y={y(zone.to_C)}
            height={Math.max(0, y(zone.from_C) - y(zone.to_C))}
          />
          {y(zone.from_C) - y(zone.to_C) > 12 ? (
            <text x={WIDTH - 4} y={y(zone.to_C) + 12} textAnchor="end">
              {zone.label}
            </text>
          ) : null}
        </g>
      ))}
      {spans.map((span) => (
        <rect
          key={span.key}
          className="around-span"
          x={x(span.from)}
          width={Math.max(1, x(span.to) - x(span.from))}
          y={0}
          height={HEIGHT - FOOT}
        />
      ))}
      {ticks(low_C, high_C, [1, 2, 5, 10, 20], 4).map((T) => (
        <g key={T}>
          <line className="around-mark" x1={LEFT} x2={WIDTH} y1={y(T)} y2={y(T)} />
          <text x={LEFT - 5} y={y(T) + 4} textAnchor="end">
            {formatNumber(T)}
          </text>
        </g>
      ))}
      {ticks(from, to, steps, 6).map((time) => (
        <text key={time} x={x(time)} y={HEIGHT - 3} textAnchor={anchorAt(x(time))}>
          {moment(time)}
        </text>
      ))}
      <line className="around-base" x1={LEFT} x2={WIDTH} y1={HEIGHT - FOOT} y2={HEIGHT - FOOT} />
      {courses.map((course) => (
        <path
          key={course.key}
          className="around-course"
          data-faint={course.faint || undefined}
          strokeDasharray={course.dashed ? '5 3' : undefined}
          d={coursePath(course, x, y)}
        />
      ))}
    </svg>
  );
}
