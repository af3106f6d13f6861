import { formatNumber, t } from '../../words/index.ts';
import type { GrindSizes, SizeCurve } from './sizes.ts';

const WIDTH = 300;
const HEIGHT = 92;
const FOOT = 18;
const LOW = Math.log(10);
const HIGH = Math.log(4_000);
const MARKS = [10, 30, 100, 300, 1_000, 3_000];

const x = (um: number): number => ((Math.log(um) - LOW) / (HIGH - LOW)) * WIDTH;

/** A small drawing of the sizes in the cup of grounds: share of the mass over the logarithm of the diameter. */
export function SizeDrawing({ sizes }: { sizes: GrindSizes | null }) {
  if (!sizes?.mix) return null;
  const most = Math.max(...sizes.mix.density, 1e-9);
  const y = (density: number): number => HEIGHT - (density / most) * (HEIGHT - 8);
  const line = (curve: SizeCurve): string =>
    curve.diameter_um
      .map((um, i) => `${i ? 'L' : 'M'}${x(um).toFixed(1)} ${y(curve.density[i]!).toFixed(1)}`)
      .join('');
  const figures = [
    { key: 'D10', value: sizes.d10_um, unit: 'µm' },
    { key: 'D50', value: sizes.d50_um, unit: 'µm' },
    { key: 'D90', value: sizes.d90_um, unit: 'µm' },
    { key: t('brew.fines'), value: sizes.fines_pct, unit: '%' },
  ];
  return (
    <figure className="sizes">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT + FOOT}`} role="img" aria-label={t('brew.sizes_drawing')}>
        {MARKS.map((um) => (
          <g key={um}>
            <line className="sizes-mark" x1={x(um)} x2={x(um)} y1={4} y2={HEIGHT} />
            <text
              className="sizes-label"
              x={x(um)}
              y={HEIGHT + 14}
              textAnchor={um === 10 ? 'start' : 'middle'}
            >
              {um >= 1_000 ? `${um / 1_000} mm` : um === 10 ? '10 µm' : um}
            </text>
          </g>
        ))}
        <path className="sizes-mix" d={`${line(sizes.mix)}L${WIDTH} ${HEIGHT}L0 ${HEIGHT}Z`} />
        {sizes.parts.length > 1
          ? sizes.parts.map((part, i) => (
              <path
                // Parts have no identity beyond their place in the mix.
                key={['part', i].join('/')}
                className="sizes-part"
                strokeDasharray={i === 0 ? '6 3' : i === 1 ? '2 3' : '8 3 2 3'}
                d={line(part)}
              />
            ))
          : null}
        <line className="sizes-base" x1={0} x2={WIDTH} y1={HEIGHT} y2={HEIGHT} />
      </svg>
      <dl className="sizes-figures">
        {figures.map((figure) => (
          <div key={figure.key}>
            <dt>{figure.key}</dt>
            <dd>
              {formatNumber(figure.value)} <span className="unit">{figure.unit}</span>
            </dd>
          </div>
        ))}
      </dl>
    </figure>
  );
}
