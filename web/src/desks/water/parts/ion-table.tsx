import {
  ION_FIELDS,
  IONS,
  type IonField,
  type Ions,
  ionWords,
  type Quantity,
  type WaterFigures,
} from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';
import { spreadText } from './figures.ts';
import { ION_SYMBOLS } from './ion-chart.tsx';

interface IonTableProps {
  ions: Ions;
  /** Spreads, where they are known. */
  figures?: WaterFigures | undefined;
}

const quantityOfIon = (field: IonField): Quantity => ionWords(field) as Quantity;

/** Every ion in mg/L, mmol/L and meq/L, with the mark it has on the chart. */
export function IonTable({ ions, figures }: IonTableProps) {
  return (
    <table className="water-table">
      <thead>
        <tr>
          <th scope="col">{t('water.ion')}</th>
          <th scope="col">mg/L</th>
          <th scope="col">mmol/L</th>
          <th scope="col">meq/L</th>
        </tr>
      </thead>
      <tbody>
        {ION_FIELDS.map((field) => {
          const mmol = ions[field] / IONS[field].molarMass;
          const spread = figures?.quantities[quantityOfIon(field)];
          return (
            <tr key={field} data-none={ions[field] < 5e-4 || undefined}>
              <th scope="row">
                <span className={`ion-swatch ion ion-${ionWords(field)}`} aria-hidden="true" />
                {t(`field.${field}`)} <span className="quiet-text">{ION_SYMBOLS[field]}</span>
              </th>
              <td>{spread ? spreadText(spread) : formatNumber(ions[field], 1)}</td>
              <td>{formatNumber(mmol, 3)}</td>
              <td>{formatNumber(mmol * Math.abs(IONS[field].charge), 3)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
