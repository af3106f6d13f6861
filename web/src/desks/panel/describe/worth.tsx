import type { Contest, DescriptionProposal, DescriptionValue } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';
import { useWidth } from '../../grind/chart/use-width.ts';
import { marksIn } from '../parts/axes.tsx';
import { priced } from './describe-kernels.ts';

interface WorthProps {
  proposal: DescriptionProposal;
  /** Points of the total for one mark of every judge; null: marks. */
  price: number | null;
  contest: Contest | null;
}

const HEIGHT = 128;
const LEFT = 8;

/** What is said now and what could be said on one line of points: the mean, what the tasters leave open, what one panel of judges spreads. */
export function Worth({ proposal, price, contest }: WorthProps) {
  const [ref, width] = useWidth<HTMLDivElement>(520);
  const scale = (value: DescriptionValue): DescriptionValue =>
    price === null ? value : priced(value, price);
  const rows = [
    { key: 'now' as const, value: scale(proposal.now) },
    { key: 'proposed' as const, value: scale(proposal.proposed) },
  ];
  const reach = rows.flatMap(({ value: { expected, panel_spread, doubt } }) => {
    const far = Math.hypot(panel_spread, doubt) * 1.2;
    return [expected - far, expected + far];
  });
  const [low, high] = [Math.min(0, ...reach), Math.max(1, ...reach)];
  const x = (v: number): number => LEFT + ((v - low) / (high - low)) * (width - 2 * LEFT);
  return (
    <>
      <dl className="worth">
        {rows.map(({ key, value }) => (
          <div key={key}>
            <dt>{t(`panel.describe.${key}`)}</dt>
            <dd>
              <span className="worth-points" data-worth={key}>
                {formatNumber(value.expected, 2)}
              </span>{' '}
              {t('panel.describe.plus_minus', { doubt: formatNumber(value.doubt, 2) })}
              <span className="quiet-text">
                {' '}
                {t('panel.describe.one_panel', { spread: formatNumber(value.panel_spread, 2) })}
              </span>
            </dd>
          </div>
        ))}
      </dl>
      <figure className="panel-chart" ref={ref}>
        <svg
          width={width}
          height={HEIGHT}
          viewBox={`0 0 ${width} ${HEIGHT}`}
          role="img"
          aria-label={t('panel.describe.worth_label', {
            now: formatNumber(rows[0]!.value.expected, 2),
            proposed: formatNumber(rows[1]!.value.expected, 2),
          })}
        >
          <g className="chart-ground">
            <line className="chart-base" x1={LEFT} x2={width - LEFT} y1={HEIGHT - 30} y2={HEIGHT - 30} />
            {marksIn(low, high, 7).map((mark) => (
              <text key={mark} x={x(mark)} y={HEIGHT - 13} textAnchor="middle">
                {formatNumber(mark, Number.isInteger(mark) ? 0 : 1)}
              </text>
            ))}
          </g>
          {rows.map(({ key, value: { expected, doubt, panel_spread } }, i) => {
            const y = 30 + i * 40;
            return (
              <g key={key}>
                <text className="chart-word" x={x(low)} y={y - 14}>
                  {t(`panel.describe.${key}`)}
                </text>
                <line
                  className="worth-spread"
                  x1={x(expected - panel_spread)}
                  x2={x(expected + panel_spread)}
                  y1={y}
                  y2={y}
                />
                <line
                  className="worth-doubt"
                  x1={x(expected - doubt)}
                  x2={x(expected + doubt)}
                  y1={y}
                  y2={y}
                />
                <circle
                  className={key === 'now' ? 'worth-dot worth-dot-now' : 'worth-dot'}
                  cx={x(expected)}
                  cy={y}
                  r={6}
                />
              </g>
            );
          })}
        </svg>
        <figcaption className="quiet-text">
          {t(price === null ? 'panel.describe.in_marks' : 'panel.describe.in_points', {
            contest: contest?.name ?? '',
          })}{' '}
          {t('panel.describe.worth_text')}
        </figcaption>
      </figure>
    </>
  );
}
