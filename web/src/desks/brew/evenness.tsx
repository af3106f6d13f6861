import type { BrewResult } from '@pourline/core';
import { formatNumber, t } from '../../words/index.ts';

const WIDTH = 300;
const HEIGHT = 96;
const LEFT = 30;
const FOOT = 16;

/** How evenly the grounds gave: from top to bottom of the bed, and from fine to coarse. */
export function Evenness({ result }: { result: BrewResult }) {
  const { layer_yield_pct, top_to_bottom, sizes, size_variation } = result.evenness;
  return (
    <div className="evenness">
      <figure>
        <figcaption>
          <span>{t('brew.top_to_bottom')}</span>
          <b>{formatNumber(top_to_bottom, 2)}</b>
        </figcaption>
        <Layers yields={layer_yield_pct} />
        <p className="quiet-text">{t('brew.top_to_bottom_note')}</p>
      </figure>
      <figure>
        <figcaption>
          <span>{t('brew.fine_to_coarse')}</span>
          <b>{formatNumber(size_variation * 100)} %</b>
        </figcaption>
        <Sizes sizes={sizes} />
        <p className="quiet-text">{t('brew.fine_to_coarse_note')}</p>
      </figure>
    </div>
  );
}

/** Yield of each layer, top first, as bars. */
function Layers({ yields }: { yields: Float64Array }) {
  const most = niceTop(Math.max(...yields, 1));
  const step = (HEIGHT - FOOT) / Math.max(1, yields.length);
  const from = LEFT + 22;
  const right = (value: number): number => from + (value / most) * (WIDTH - from);
  const steps = Array.from(
    yields,
    (value, i) => `H${right(value).toFixed(1)}V${((i + 1) * step).toFixed(1)}`,
  );
  const outline = `M${from} 0${steps.join('')}H${from}Z`;
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={t('brew.layers_drawing')}>
      <path className="layers" d={outline} />
      <text x={from - 6} y={10} textAnchor="end">
        {t('brew.depth.top')}
      </text>
      <text x={from - 6} y={HEIGHT - FOOT - 3} textAnchor="end">
        {t('brew.depth.bottom')}
      </text>
      <Foot most={most} from={from} />
    </svg>
  );
}

/** A line of figures under a drawing: 0 to the largest yield. */
function Foot({ most, from }: { most: number; from: number }) {
  return (
    <>
      <line className="sizes-base" x1={from} x2={WIDTH} y1={HEIGHT - FOOT} y2={HEIGHT - FOOT} />
      <text x={from} y={HEIGHT - 3}>
        0
      </text>
      <text x={WIDTH} y={HEIGHT - 3} textAnchor="end">
        {most} %
      </text>
    </>
  );
}

/** Yield by particle size; the area of a dot tells its share of the mass. */
function Sizes({ sizes }: { sizes: BrewResult['evenness']['sizes'] }) {
  const most = niceTop(Math.max(...sizes.map((size) => size.yield_pct), 1));
  const low = Math.log(Math.min(...sizes.map((size) => size.diameter_um)) / 1.25);
  const high = Math.log(Math.max(...sizes.map((size) => size.diameter_um)) * 1.25);
  const x = (um: number): number =>
    LEFT + ((Math.log(um) - low) / Math.max(1e-9, high - low)) * (WIDTH - LEFT);
  const floor = HEIGHT - FOOT;
  const y = (value: number): number => floor - (value / most) * (floor - 8);
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={t('brew.size_yields_drawing')}>
      <line className="sizes-base" x1={LEFT} x2={WIDTH} y1={floor} y2={floor} />
      <line className="sizes-mark" x1={LEFT} x2={WIDTH} y1={y(most)} y2={y(most)} />
      <text x={LEFT - 4} y={y(most) + 4} textAnchor="end">
        {most} %
      </text>
      <text x={LEFT - 4} y={floor} textAnchor="end">
        0
      </text>
      {sizes.map((size) => (
        <circle
          key={size.diameter_um}
          className="size-dot"
          cx={x(size.diameter_um)}
          cy={y(size.yield_pct)}
          r={1.6 + 11 * Math.sqrt(Math.max(0, size.mass_share))}
        />
      ))}
      <text x={LEFT} y={HEIGHT - 3}>
        {formatNumber(Math.exp(low) * 1.25)} µm
      </text>
      <text x={WIDTH} y={HEIGHT - 3} textAnchor="end">
        {formatNumber(Math.exp(high) / 1.25)} µm
      </text>
    </svg>
  );
}

const niceTop = (value: number): number => Math.ceil(value / 5) * 5;
