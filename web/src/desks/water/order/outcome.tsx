import type { ExpectedReading, WaterFigures } from '@pourline/core';
import type { ReactNode } from 'react';
import { formatNumber, t } from '../../../words/index.ts';
import { spreadText } from '../parts/figures.ts';
import { hardnessText, UNIT_TEXT, useHardnessUnit } from '../parts/hardness-unit.tsx';

interface OutcomeProps {
  figures: WaterFigures;
  reading?: ExpectedReading | undefined;
}

/** The figures of a finished water that a person asks for first, each with its spread. */
export function Outcome({ figures, reading }: OutcomeProps) {
  const { unit } = useHardnessUnit();
  const { quantities, hot_C } = figures;
  return (
    <dl className="outcome">
      <Item words={t('water.figure.hardness')} unit={UNIT_TEXT[unit]}>
        {hardnessText(quantities.hardness, unit, false)}
      </Item>
      <Item words={t('water.figure.alkalinity')} unit={UNIT_TEXT[unit]}>
        {hardnessText(quantities.alkalinity, unit, false)}
      </Item>
      <Item words={t('water.figure.pH')} unit="">
        {spreadText(figures.pH)}
      </Item>
      <Item words={t('water.figure.conductivity')} unit="µS/cm">
        {spreadText(quantities.conductivity, 1)}
      </Item>
      {reading?.reading && (
        <Item words={t('water.figure.reading')} unit={reading.unit}>
          {formatNumber(reading.reading.low)} – {formatNumber(reading.reading.high)}
        </Item>
      )}
      <Item words={t('water.figure.calcite_hot', { celsius: hot_C })} unit="">
        {spreadText(figures.calcite_hot)}
      </Item>
      <Item words={t('water.figure.ion_sum')} unit="mg/L">
        {spreadText(quantities.ion_sum, 1)}
      </Item>
    </dl>
  );
}

function Item({ words, unit, children }: { words: string; unit: string; children: ReactNode }) {
  return (
    <div className="outcome-item">
      <dt>{words}</dt>
      <dd>
        {children} {unit && <span className="unit">{unit}</span>}
      </dd>
    </div>
  );
}
