import { QUANTITIES, type Quantity, type Spread } from '@pourline/core';
import { Fragment, type ReactNode } from 'react';
import { Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { prettyUnit } from '../order/target-rows.tsx';
import { plainText, spreadText } from '../parts/figures.ts';
import { hardnessText, UNIT_TEXT, useHardnessUnit } from '../parts/hardness-unit.tsx';
import { termName } from '../parts/terms.ts';
import type { SideFigures, View } from './compare-rows.ts';

interface Row {
  key: string;
  words: string;
  unit: string;
  of: (side: SideFigures) => string;
}

interface CompareTableProps {
  names: readonly [string, string];
  sides: readonly [SideFigures, SideFigures];
  view: View;
}

/** Every figure of two waters beside each other, in the order of a day: composition, bottle, meter, kettle. */
export function CompareTable({ names, sides, view }: CompareTableProps) {
  const { unit } = useHardnessUnit();
  const parts = partsOf(view, unit);
  return (
    <Panel title={t('water.compare.figures')}>
      <table className="water-table compare-water">
        <thead>
          <tr>
            <th scope="col">
              <span className="visually-hidden">{t('water.compare.figure')}</span>
            </th>
            <th scope="col">{names[0]}</th>
            <th scope="col">{names[1]}</th>
          </tr>
        </thead>
        <tbody>
          {parts.map(({ title, rows }) => (
            <Fragment key={title}>
              <tr className="compare-part">
                <th scope="colgroup" colSpan={3}>
                  {title}
                </th>
              </tr>
              {rows.map((row) => (
                <tr key={row.key}>
                  <th scope="row">
                    {row.words} {row.unit && <span className="unit">{row.unit}</span>}
                  </th>
                  <Cell>{row.of(sides[0])}</Cell>
                  <Cell>{row.of(sides[1])}</Cell>
                </tr>
              ))}
            </Fragment>
          ))}
        </tbody>
      </table>
    </Panel>
  );
}

const Cell = ({ children }: { children: ReactNode }) => <td>{children}</td>;

const IN_WATER = [
  'calcium',
  'magnesium',
  'sodium',
  'potassium',
  'bicarbonate',
  'sulfate',
  'chloride',
  'nitrate',
  'ion_sum',
  'calcium_to_magnesium',
  'chloride_to_sulfate',
] as const satisfies readonly Quantity[];

function partsOf(
  view: View,
  unit: ReturnType<typeof useHardnessUnit>['unit'],
): { title: string; rows: Row[] }[] {
  const degrees = (value: number): string =>
    hardnessText({ value, low: value, high: value } satisfies Spread, unit, false);
  const row = (key: string, words: string, u: string, of: Row['of']): Row => ({ key, words, unit: u, of });
  const quantity = (of: Quantity): Row =>
    row(of, termName(of), prettyUnit(QUANTITIES[of]), ({ figures }) => spreadText(figures.quantities[of]));
  const hot =
    (of: (kettle: NonNullable<SideFigures['kettle']>) => string): Row['of'] =>
    ({ kettle }) =>
      kettle ? of(kettle) : '–';
  const celsius = formatNumber(view.heating?.to_C ?? null);
  const sample = formatNumber(view.sample_C, (view.sample_C ?? 0) % 1 === 0 ? 0 : 1);
  return [
    {
      title: t('water.compare.composition'),
      rows: [
        row('hardness', t('water.figure.hardness'), UNIT_TEXT[unit], ({ figures }) =>
          hardnessText(figures.quantities.hardness, unit, false),
        ),
        row('alkalinity', t('water.figure.alkalinity'), UNIT_TEXT[unit], ({ figures }) =>
          hardnessText(figures.quantities.alkalinity, unit, false),
        ),
        ...IN_WATER.map(quantity),
        row('residue', t('water.figure.residue'), 'mg/L', ({ figures }) =>
          spreadText(figures.residue_mg_L, 1),
        ),
      ],
    },
    {
      title: t('water.compare.bottle'),
      rows: [
        row('pH', t('water.figure.pH'), '', ({ figures }) => spreadText(figures.pH)),
        row('co2', t('water.figure.co2'), 'mg/L', ({ co2_mg_L }) => plainText(co2_mg_L, 2)),
        row('calcite', t('water.figure.calcite_25'), '', ({ figures }) => spreadText(figures.calcite_25)),
        row('langelier', t('water.figure.langelier'), '', ({ langelier }) => formatNumber(langelier, 2)),
        row('kappa', t('water.figure.conductivity'), 'µS/cm', ({ figures }) =>
          spreadText(figures.quantities.conductivity, 1),
        ),
      ],
    },
    {
      title: t('water.compare.sample', { celsius: sample }),
      rows: [
        row('kappa_t', t('water.figure.conductivity_there'), 'µS/cm', ({ sample: at }) =>
          plainText(at?.conductivity_uS_cm ?? Number.NaN, 1),
        ),
        row('pH_t', t('water.figure.pH_there'), '', ({ sample: at }) => formatNumber(at?.pH, 2)),
        row('reading', t('water.figure.reading'), '', ({ sample: at }) =>
          at === null
            ? '–'
            : at.reading === null
              ? t('water.compare.too_hot')
              : `${spreadText(at.reading, 1)} ${at.unit}`,
        ),
      ],
    },
    {
      title: t('water.compare.kettle', { celsius }),
      rows: [
        row(
          'pH_hot',
          t('water.figure.pH_there'),
          '',
          hot((k) => formatNumber(k.pH, 2)),
        ),
        row(
          'index_hot',
          t('water.figure.calcite_before'),
          '',
          hot((k) => `${formatNumber(k.saturation, 2)} ± ${formatNumber(k.doubt, 2)}`),
        ),
        row(
          'scale',
          t('water.figure.scale'),
          'mg/kg',
          hot((k) => plainText(k.scale_mg_kg, 1)),
        ),
        row(
          'most',
          t('water.figure.scale_most'),
          'mg/kg',
          hot((k) => plainText(k.most_mg_kg, 1)),
        ),
        row(
          'filling',
          t('water.figure.scale_filling'),
          'mg',
          hot((k) => plainText(k.per_filling_mg ?? Number.NaN, 1)),
        ),
        row(
          'hard_hot',
          t('water.figure.hardness_after'),
          UNIT_TEXT[unit],
          hot((k) => degrees(k.hardness_mg_L)),
        ),
        row(
          'alk_hot',
          t('water.figure.alkalinity_after'),
          UNIT_TEXT[unit],
          hot((k) => degrees(k.alkalinity_mg_L)),
        ),
        row(
          'kappa_hot',
          t('water.figure.conductivity_there'),
          'µS/cm',
          hot((k) => plainText(k.conductivity_uS_cm, 1)),
        ),
      ],
    },
    {
      title: t('water.compare.ppm'),
      rows: PPM.map((meaning, i) =>
        row(`ppm ${meaning}`, t(`water.ppm.${meaning}`), '', ({ ppm }) =>
          plainText(ppm[i]?.value ?? Number.NaN, 1),
        ),
      ),
    },
  ];
}

/** The meanings of "ppm" in the order in which core lists them. */
const PPM = ['ion_sum', 'residue', 'hardness', 'alkalinity', 'half', 'seven', 'NaCl', '442'] as const;
