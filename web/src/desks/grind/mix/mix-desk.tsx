import { type GrindMixSheet, workOutGrindMix } from '@pourline/core';
import { memo, useMemo, useState } from 'react';
import { type Draft, useDocuments } from '../../../replica/index.ts';
import { Fields, NumberAt, OptionAt, Panel, TextAt } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useSettled } from '../../brew/use-settled.ts';
import { LineKey } from '../chart/mark.tsx';
import { letterOf, lineOfTable, mixedLine, type Series } from '../chart/series.ts';
import { SizeChart } from '../chart/size-chart.tsx';
import { FIGURES } from '../parts/figures.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { MixCup } from './mix-cup.tsx';
import { orderOf } from './mix-kernels.ts';
import { partName } from './part-name.ts';
import { PartRows } from './part-rows.tsx';
import { WeighTable } from './weigh-table.tsx';
import './mix.css';

/** Quiet time before sizes are drawn again. */
const LAG_ms = 120;

/** One mix: its parts and their slider, the cup beside it, the sizes, and what to weigh. */
export function MixDesk({ draft }: { draft: Draft<'blend'> }) {
  const grinders = useDocuments('grinder');
  const [moving, setMoving] = useState(false);
  const blend = draft.document;
  const order = useMemo(() => orderOf(blend, grinders, partName), [blend, grinders]);
  const sheet = useMemo(() => order && workOutGrindMix(order), [order]);
  // The drawing need not follow every step of a slider; the cup and the masses do.
  const lagging = useSettled(sheet, LAG_ms);
  return (
    <>
      <div className="grind-pair mix-pair">
        <Panel title={t('grind.mix.parts')}>
          <PartRows draft={draft} grinders={grinders} onMoving={setMoving} />
          {!order && <p className="plain-problem">{t('grind.mix.setting_gone')}</p>}
        </Panel>
        <Panel title={t('grind.mix.cup')}>
          {order && sheet ? (
            <MixCup draft={draft} order={order} sheet={sheet} grinders={grinders} moving={moving} />
          ) : (
            <p className="quiet-text">{t('grind.mix.nothing_left')}</p>
          )}
        </Panel>
      </div>
      {order && sheet && (
        <div className="grind-pair">
          <Panel title={t('grind.mix.sizes')}>
            <MixSizes limit_um={blend.fines_limit_um} sheet={lagging ?? sheet} name={blend.name} />
          </Panel>
          <Panel title={t('grind.mix.weigh')}>
            <Fields>
              <NumberAt path={['dose_g']} step={0.5} />
              <NumberAt path={['cups']} step={1} />
              <NumberAt path={['step_g']} step={0.01} />
              <OptionAt
                path={['grinding']}
                options={(['each_cup', 'one_batch'] as const).map((value) => ({
                  value,
                  label: t(`grind.mix.grinding.${value}`),
                }))}
              />
            </Fields>
            <WeighTable sheet={sheet} cups={blend.cups} />
            <RemarkList remarks={sheet.remarks} />
          </Panel>
        </div>
      )}
      <TextAt path={['notes']} long />
    </>
  );
}

interface MixSizesProps {
  limit_um: number;
  sheet: GrindMixSheet;
  name: string;
}

/** The mix and its parts over each other, and their figures. */
const MixSizes = memo(function MixSizes({ limit_um, sheet, name }: MixSizesProps) {
  const series = useMemo(() => seriesOf(sheet, name), [sheet, name]);
  const all = [
    { name, figures: sheet.figures },
    ...sheet.parts.map((part) => ({ name: part.name, figures: part.figures })),
  ];
  return (
    <>
      <SizeChart series={series} fines_um={limit_um} height={360} />
      <div className="table-scroll">
        <table className="grind-table mix-figures">
          <thead>
            <tr>
              <th scope="col">
                <span className="visually-hidden">{t('grind.mix.figure')}</span>
              </th>
              {all.map((one, i) => (
                <th key={one.name} scope="col">
                  <LineKey index={i} letter={letterOf(i)} />
                  {one.name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {FIGURES.map(({ name: figure, label, unit, digits }) => (
              <tr key={figure}>
                <th scope="row">
                  {t(label, { limit: formatNumber(limit_um) })}
                  {unit && <span className="unit">, {unit}</span>}
                </th>
                {all.map((one) => (
                  <td key={one.name}>{formatNumber(one.figures[figure], digits)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
});

function seriesOf(sheet: GrindMixSheet, name: string): Series[] {
  const parts = sheet.parts.map((part) => ({ ...part, line: lineOfTable(part.table) }));
  const lines = [
    { id: 'mix', name, line: mixedLine(parts.map(({ share, line }) => ({ share, line }))) },
    ...parts.map((part, i) => ({ id: `part-${i}`, name: part.name, line: part.line })),
  ];
  return lines.map((line, i) => ({ ...line, place: i, letter: letterOf(i), points: [] }));
}
