import { binomialMass } from '@pourline/core';
import { t } from '../../../words/index.ts';
import { useWidth } from '../../grind/chart/use-width.ts';
import { Axes, marksIn } from '../parts/axes.tsx';

interface CountChartProps {
  correct: number;
  answers: number;
  /** Chance of a right answer by guessing. */
  guess: number;
  /** Count from which a difference is shown; null when it cannot be. */
  critical: number | null;
}

const ROOM = { left: 12, right: 12, top: 34, foot: 40 };
const HEIGHT = 190;

/** What guessing alone would give, what is needed, and what there was: three marks on one line of counts. */
export function CountChart({ correct, answers, guess, critical }: CountChartProps) {
  const [ref, width] = useWidth<HTMLDivElement>(520);
  const masses = Array.from({ length: answers + 1 }, (_, x) => binomialMass(x, answers, guess));
  const top = Math.max(...masses);
  const step = (width - ROOM.left - ROOM.right) / (answers + 1);
  const x = (n: number): number => ROOM.left + (n + 0.5) * step;
  const foot = HEIGHT - ROOM.foot;
  const y = (p: number): number => foot - (p / top) * (foot - ROOM.top);
  return (
    <figure className="panel-chart" ref={ref}>
      <svg
        width={width}
        height={HEIGHT}
        viewBox={`0 0 ${width} ${HEIGHT}`}
        role="img"
        aria-label={t(critical === null ? 'panel.results.count_label_never' : 'panel.results.count_label', {
          correct,
          answers,
          critical: critical ?? 0,
        })}
      >
        {masses.map((p, n) => (
          <rect
            key={x(n)}
            className={critical !== null && n >= critical ? 'count-bar count-bar-needed' : 'count-bar'}
            x={x(n) - Math.max(0.5, step * 0.36)}
            width={Math.max(1, step * 0.72)}
            y={y(p)}
            height={Math.max(1, foot - y(p))}
          />
        ))}
        <Axes
          width={width}
          height={HEIGHT}
          room={ROOM}
          x={{
            marks: marksIn(0, answers, Math.min(10, width / 48)),
            at: x,
            title: t('panel.results.count_axis'),
          }}
          y={{ marks: [], at: y }}
        />
        {critical !== null && (
          <>
            <line
              className="chart-planned"
              x1={x(critical) - step / 2}
              x2={x(critical) - step / 2}
              y1={ROOM.top - 14}
              y2={foot}
            />
            <text
              className="chart-word"
              x={x(critical) - step / 2 + (critical > answers * 0.6 ? -5 : 5)}
              y={ROOM.top - 4}
              textAnchor={critical > answers * 0.6 ? 'end' : 'start'}
            >
              {t('panel.results.needed', { critical })}
            </text>
          </>
        )}
        <path className="count-seen" d={`M${x(correct)} ${foot + 1}l-7 12h14z`} />
        <text
          className="chart-word chart-word-main"
          x={Math.min(width - 40, Math.max(40, x(correct)))}
          y={14}
          textAnchor="middle"
        >
          {t('panel.results.seen', { correct })}
        </text>
        <line className="count-seen-line" x1={x(correct)} x2={x(correct)} y1={18} y2={foot} />
      </svg>
    </figure>
  );
}
