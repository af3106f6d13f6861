import {
  type Composition,
  compositionOf,
  ionsOf,
  type Meter,
  type SolvedWaters,
  USUAL_METER,
  type Water,
} from '@pourline/core';
import { useMemo } from 'react';
import { useWaters } from '../../../engine/use-waters.ts';
import { useDocument, useDocuments } from '../../../replica/index.ts';
import { Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { SCALES, scaleOf } from '../order/instruments-panel.tsx';
import { HardnessUnitChoice } from '../parts/hardness-unit.tsx';
import { IonChart } from '../parts/ion-chart.tsx';
import { layoutIons, sharedScale } from '../parts/ion-layout.ts';
import { SteadySelect } from '../parts/steady-select.tsx';
import { useKept } from '../parts/use-kept.ts';
import { useGathered } from '../parts/use-order-choice.ts';
import { type Side, sideFigures, type View } from './compare-rows.ts';
import { CompareTable } from './compare-table.tsx';
import { heatingOf, kettleFigure, USUAL_KETTLE } from './heating.ts';
import { KettlePanel } from './kettle-panel.tsx';

const AS_ORDER = 'order';
const CHOICES = SCALES.filter((scale) => scale !== 'factor');

/** Two waters side by side: what is in them, what a meter says, what a kettle makes of them. */
export function ComparePage({ orderId }: { orderId: string | null }) {
  const waters = useDocuments('water');
  const mix = useDocument('mix', orderId);
  const { order } = useGathered(mix);
  const { output } = useWaters(order);
  const [chosen, choose] = useKept('compare', {
    a: null as string | null,
    b: null as string | null,
    scale: AS_ORDER as string,
  });
  const [kettle, keep] = useKept('kettle', USUAL_KETTLE);
  const sides = useMemo(() => sidesOf(waters, output?.solved, mix?.name ?? ''), [waters, output, mix]);
  const first = sides.find(({ key }) => key === chosen.a) ?? sides[0];
  const second = sides.find(({ key }) => key === chosen.b) ?? sides.find((side) => side !== first) ?? first;
  const meter: Meter = mix?.instruments.meter ?? USUAL_METER;
  const view: View = {
    heating: heatingOf(kettle),
    meter: chosen.scale === AS_ORDER ? meter : { ...meter, scale: scaleOf(chosen.scale) },
    sample_C: kettleFigure(kettle, 'sample_C'),
    kettle_g: kettleFigure(kettle, 'kettle_g'),
  };
  if (!first || !second) return <p className="quiet-text water-empty">{t('water.compare.nothing')}</p>;
  const scale = sharedScale([first, second].map(({ composition }) => layoutIons(ionsOf(composition))));
  const options = sides.map(({ key, name }) => ({
    value: key,
    label: name,
    detail: key.startsWith('made ') ? (mix?.name ?? '') : undefined,
  }));
  return (
    <div className="compare-page">
      <div className="compare-bar">
        <SteadySelect
          label={t('water.compare.first')}
          value={first.key}
          options={options}
          onChange={(a) => choose({ a })}
        />
        <SteadySelect
          label={t('water.compare.second')}
          value={second.key}
          options={options}
          onChange={(b) => choose({ b })}
        />
        <SteadySelect
          label={t('water.meter.scale')}
          value={chosen.scale}
          options={[
            { value: AS_ORDER, label: t('water.compare.own_scale') },
            ...CHOICES.map((value) => ({ value, label: t(`water.scale.${value}`) })),
          ]}
          onChange={(next) => choose({ scale: next })}
        />
        <HardnessUnitChoice />
      </div>
      <div className="compare-sides">
        <div className="compare-looks">
          <Panel title={t('water.compare.charges')}>
            <h4>{first.name}</h4>
            <IonChart name={first.name} ions={ionsOf(first.composition)} scale={scale} />
            <h4>{second.name}</h4>
            <IonChart name={second.name} ions={ionsOf(second.composition)} scale={scale} />
          </Panel>
          <KettlePanel of={kettle} onChange={keep} />
        </div>
        <CompareTable
          names={[first.name, second.name]}
          sides={[sideFigures(first, view), sideFigures(second, view)]}
          view={view}
        />
      </div>
    </div>
  );
}

/** What can be compared: waters of the order on the desk, as they would be made, then those on the shelf. */
function sidesOf(waters: readonly Water[], solved: SolvedWaters | undefined, order: string): Side[] {
  const made =
    solved?.sheets.map(({ water_id, name, composition, deviations }) => ({
      key: `made ${water_id}`,
      name,
      composition,
      deviations,
    })) ?? [];
  const whole: { key: string; name: string; composition: Composition; deviations: [] }[] = solved?.composite
    ? [
        {
          key: 'made of all',
          name: t('water.compare.composite', { order }),
          composition: solved.composite.composition,
          deviations: [],
        },
      ]
    : [];
  const shelf = waters.map((water) => ({
    key: `shelf ${water.id}`,
    name: water.name,
    composition: compositionOf(water),
    deviations: [],
  }));
  return [...made, ...whole, ...shelf];
}
