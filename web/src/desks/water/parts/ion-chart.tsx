import type { Ions } from '@pourline/core';
import type { CSSProperties } from 'react';
import { formatNumber, t } from '../../../words/index.ts';
import { type IonSegment, layoutIons, sharedScale } from './ion-layout.ts';

/** Symbols as chemists write them; the same in every language. */
export const ION_SYMBOLS = {
  calcium_mg_L: 'Ca²⁺',
  magnesium_mg_L: 'Mg²⁺',
  sodium_mg_L: 'Na⁺',
  potassium_mg_L: 'K⁺',
  bicarbonate_mg_L: 'HCO₃⁻',
  sulfate_mg_L: 'SO₄²⁻',
  chloride_mg_L: 'Cl⁻',
  nitrate_mg_L: 'NO₃⁻',
} as const satisfies Record<keyof Ions, string>;

/** Charges that may be apart before the gap is drawn [meq/L]: a hundredth of what brewing waters hold. */
const GAP_WORTH = 0.02;
/** Narrower segments have no room for their symbol [share of the scale]. */
const ROOM = 0.055;

/** A figure of the scale without padding: half of 1.5 is 0.75. */
const tickText = (meq: number): string =>
  formatNumber(meq, [0, 1, 2].find((digits) => Math.abs(meq - Number(meq.toFixed(digits))) < 1e-9) ?? 3);

interface IonChartProps {
  name: string;
  ions: Ions;
  /** Length of the scale [meq/L]; the water's own when not given. */
  scale?: number | undefined;
}

/**
 * A water as two rows of charge on one scale: cations above, anions below. The rows end together in a water that balances;
 * what hardness and alkalinity share, from the left, is what a kettle can drop as scale.
 */
export function IonChart({ name, ions, scale }: IonChartProps) {
  const layout = layoutIons(ions);
  const reach = scale ?? sharedScale([layout]);
  const share = (meq: number): string => `${(100 * meq) / reach}%`;
  const gap = layout.positive - layout.negative;
  const gapAt: CSSProperties = {
    insetInlineStart: share(Math.min(layout.positive, layout.negative)),
    width: share(Math.abs(gap)),
  };
  const apart = Math.abs(gap) > GAP_WORTH;
  return (
    <figure className="ions" role="img" aria-label={spoken(name, layout, gap)}>
      <div className="ions-plot">
        <Bracket
          side="above"
          width={share(layout.hardness)}
          words={t('water.chart.hardness')}
          meq={layout.hardness}
        />
        <Row segments={layout.cations} share={share} reach={reach} />
        <div className="ions-middle">
          {layout.temporary > 0 && (
            <span className="ions-temporary" style={{ width: share(layout.temporary) }} />
          )}
          {[0, 0.25, 0.5, 0.75, 1].map((at) => (
            <span key={at} className="ions-tick" style={{ insetInlineStart: `${100 * at}%` }}>
              {at % 0.5 === 0 ? tickText(at * reach) : ''}
            </span>
          ))}
        </div>
        <Row segments={layout.anions} share={share} reach={reach} />
        <Bracket
          side="below"
          width={share(layout.alkalinity)}
          words={t('water.chart.alkalinity')}
          meq={layout.alkalinity}
        />
        {apart && <span className={`ions-gap ions-gap-${gap > 0 ? 'below' : 'above'}`} style={gapAt} />}
      </div>
      <figcaption className="ions-caption">
        <span>
          {apart
            ? t('water.chart.apart', {
                gap: formatNumber(Math.abs(gap), 2),
                side: gap > 0 ? 'positive' : 'negative',
              })
            : t('water.chart.balanced', { sum: formatNumber(layout.positive, 2) })}
        </span>
        {layout.temporary > GAP_WORTH && (
          <span className="ions-key">
            <span className="ions-key-temporary" aria-hidden="true" />
            {t('water.chart.temporary', { meq: formatNumber(layout.temporary, 2) })}
          </span>
        )}
      </figcaption>
    </figure>
  );
}

function spoken(name: string, layout: ReturnType<typeof layoutIons>, gap: number): string {
  const list = (segments: readonly IonSegment[]): string =>
    segments.map(({ field, length }) => `${t(`field.${field}`)} ${formatNumber(length, 2)}`).join(', ');
  return t('water.chart.spoken', {
    name,
    cations: list(layout.cations) || '0',
    anions: list(layout.anions) || '0',
    gap: formatNumber(gap, 2),
  });
}

interface RowProps {
  segments: readonly IonSegment[];
  share: (meq: number) => string;
  reach: number;
}

function Row({ segments, share, reach }: RowProps) {
  return (
    <div className="ions-row">
      {segments.map(({ field, from, length }) => (
        <span
          key={field}
          className={`ion ion-${field.replace('_mg_L', '')}`}
          style={{ insetInlineStart: share(from), width: share(length) }}
        >
          {length / reach >= ROOM && <span className="ion-symbol">{ION_SYMBOLS[field]}</span>}
        </span>
      ))}
    </div>
  );
}

interface BracketProps {
  side: 'above' | 'below';
  width: string;
  words: string;
  meq: number;
}

/** How far hardness or alkalinity reaches along its row. */
function Bracket({ side, width, words, meq }: BracketProps) {
  return (
    <div className={`ions-bracket ions-bracket-${side}`}>
      {meq > 0 && <span className="ions-bracket-line" style={{ width }} />}
      <span className="ions-bracket-words">
        {words} {formatNumber(meq, 2)}
      </span>
    </div>
  );
}
