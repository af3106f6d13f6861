import { formatNumber, t } from '../../../words/index.ts';
import { useWidth } from '../../grind/chart/use-width.ts';
import { Axes, marksIn } from '../parts/axes.tsx';

/** One score of one taster for one cup. */
export interface ScoreDot {
  taster: string;
  cup: string;
  score: number;
}

const ROOM = { left: 132, right: 20, top: 10, foot: 40 };
const ROW = 46;

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

/** A letter for each taster: the first of the name, then others of it, then of the alphabet. */
export function lettersFor(names: readonly string[]): Map<string, string> {
  const letters = new Map<string, string>();
  const used = new Set<string>();
  for (const name of names) {
    const options = [
      ...name.toUpperCase().replaceAll(/[^\p{L}\p{N}]/gu, ''),
      ...'ABCDEFGHIJKLMNOPQRSTUVWXYZ',
    ];
    const letter = options.find((c) => !used.has(c)) ?? '?';
    used.add(letter);
    letters.set(name, letter);
  }
  return letters;
}

/** Every taster's mean for every cup as a letter, the panel's mean as a bar: cups one under the other on one scale. */
export function ScoreChart({ scores }: { scores: readonly ScoreDot[] }) {
  const [ref, width] = useWidth<HTMLDivElement>(560);
  const cups = [...new Set(scores.map((s) => s.cup))];
  const tasters = [...new Set(scores.map((s) => s.taster))];
  const letters = lettersFor(tasters);
  const values = scores.map((s) => s.score);
  const [low, high] = padded(Math.min(...values), Math.max(...values));
  const height = ROOM.top + cups.length * ROW + ROOM.foot;
  const left = Math.min(ROOM.left, width * 0.3);
  const room = { ...ROOM, left };
  const x = (v: number): number => left + ((v - low) / (high - low)) * (width - left - ROOM.right);
  return (
    <figure className="panel-chart" ref={ref}>
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={cups
          .map((cup) =>
            t('panel.results.mean_of', {
              cup,
              mean: formatNumber(mean(scores.filter((s) => s.cup === cup).map((s) => s.score)), 2),
            }),
          )
          .join(', ')}
      >
        <Axes
          width={width}
          height={height}
          room={room}
          x={{ marks: marksIn(low, high, 6), at: x, title: t('panel.results.score') }}
          y={{ marks: [], at: () => 0 }}
        />
        {cups.map((cup, row) => {
          const y = ROOM.top + row * ROW + ROW / 2;
          const means = tasters.flatMap((taster) => {
            const own = scores.filter((s) => s.cup === cup && s.taster === taster).map((s) => s.score);
            return own.length > 0 ? [{ taster, at: mean(own) }] : [];
          });
          const middle = mean(means.map(({ at }) => at));
          return (
            <g key={cup}>
              <line className="score-row" x1={left} x2={width - ROOM.right} y1={y} y2={y} />
              <text className="score-cup" x={left - 10} y={y + 4} textAnchor="end">
                {short(cup, left)}
              </text>
              <line className="score-mean" x1={x(middle)} x2={x(middle)} y1={y - 17} y2={y + 17} />
              {placed(means, x).map(({ taster, px, level }) => (
                <text key={taster} className="score-letter" x={px} y={y + 5 - level * 13} textAnchor="middle">
                  {letters.get(taster)}
                </text>
              ))}
            </g>
          );
        })}
      </svg>
      <figcaption className="quiet-text">
        {tasters.map((taster) => `${letters.get(taster)} ${taster}`).join(', ')}.{' '}
        {t('panel.results.bar_is_mean')}
      </figcaption>
    </figure>
  );
}

const short = (name: string, room: number): string => {
  const most = Math.max(6, Math.floor(room / 7.5));
  return name.length > most ? `${name.slice(0, most - 1)}…` : name;
};

function padded(low: number, high: number): [number, number] {
  const pad = Math.max(0.25, (high - low) * 0.08);
  return [low - pad, high + pad];
}

/** Letters pushed up where they would stand on one another. */
function placed(means: readonly { taster: string; at: number }[], x: (v: number) => number) {
  const done: { taster: string; px: number; level: number }[] = [];
  for (const { taster, at } of [...means].sort((a, b) => a.at - b.at)) {
    const px = x(at);
    let level = 0;
    while (done.some((d) => d.level === level && Math.abs(d.px - px) < 12) && level < 3) level++;
    done.push({ taster, px, level: level === 0 ? 0 : level % 2 === 1 ? (level + 1) / 2 : -level / 2 });
  }
  return done;
}
