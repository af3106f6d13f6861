import {
  type Mix,
  QUANTITIES,
  QUANTITY_NAMES,
  type Quantity,
  type TargetResult,
  type WaterRemark,
  type WeighSheet,
} from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { Button, CheckInput, Icon, IconButton, Menu, NumberAt } from '../../../ui/index.ts';
import { formatNumber, remarkSentence, t } from '../../../words/index.ts';
import { spreadText } from '../parts/figures.ts';
import { HardnessAt, hardnessText, UNIT_TEXT, useHardnessUnit } from '../parts/hardness-unit.tsx';
import { emptyTarget } from '../parts/new-order.ts';
import { termName } from '../parts/terms.ts';

type Wanted = Mix['waters'][number];

interface TargetRowsProps {
  draft: Draft<'mix'>;
  /** Place of the water in the order. */
  index: number;
  water: Wanted;
  sheet: WeighSheet | undefined;
  remarks: ReadonlyMap<Quantity, readonly WaterRemark[]>;
}

/** What a water is asked for, one row a quantity, and under each what it comes to and why. */
export function TargetRows({ draft, index, water, sheet, remarks }: TargetRowsProps) {
  const set = (targets: Wanted['targets']): void =>
    draft.change({
      ...draft.body,
      waters: draft.body.waters.map((entry, i) => (i === index ? { ...entry, targets } : entry)),
    });
  const { targets } = water;
  const free = QUANTITY_NAMES.filter((of) => !targets.some((target) => target.of === of));
  return (
    <div className="targets">
      <div className="target-head" aria-hidden="true">
        <span>{t('water.target.of')}</span>
        <span>{t('water.target.aim')}</span>
        <span>{t('water.target.low')}</span>
        <span>{t('water.target.high')}</span>
        <span>{t('water.target.weight')}</span>
        <span />
        <span />
      </div>
      {targets.length === 0 && <p className="quiet-text">{t('water.target.none')}</p>}
      {targets.map((target, i) => (
        <TargetRow
          key={target.of}
          name={water.name}
          at={['waters', index, 'targets', i]}
          of={target.of}
          hard={target.hard}
          result={sheet?.targets.find(({ of }) => of === target.of)}
          sheet={sheet}
          remarks={remarks.get(target.of) ?? []}
          onHard={(hard) => set(targets.map((entry, j) => (j === i ? { ...entry, hard } : entry)))}
          onRemove={() => set(targets.filter((_, j) => j !== i))}
        />
      ))}
      {free.length > 0 && (
        <div className="target-add">
          <Menu
            label={t('water.target.add')}
            trigger={
              <Button look="quiet" icon="add">
                {t('water.target.add')}
              </Button>
            }
            entries={free.map((of) => ({
              key: of,
              label: termName(of),
              detail: prettyUnit(QUANTITIES[of]),
              onChoose: () => set([...targets, emptyTarget(of)]),
            }))}
          />
        </div>
      )}
    </div>
  );
}

/** A unit of core as it is printed. */
export const prettyUnit = (unit: string): string => unit.replace('CaCO3', 'CaCO₃').replace(' as', '');

const inDegrees = (of: Quantity): boolean => of === 'hardness' || of === 'alkalinity';

interface TargetRowProps {
  name: string;
  at: readonly (string | number)[];
  of: Quantity;
  hard: boolean;
  result: TargetResult | undefined;
  sheet: WeighSheet | undefined;
  remarks: readonly WaterRemark[];
  onHard: (hard: boolean) => void;
  onRemove: () => void;
}

function TargetRow({ name, at, of, hard, result, sheet, remarks, onHard, onRemove }: TargetRowProps) {
  const { unit } = useHardnessUnit();
  const quantity = termName(of);
  const said = (field: 'aim' | 'low' | 'high' | 'weight'): string =>
    `${name}, ${quantity}: ${t(`water.target.${field}`)}`;
  const figure = (field: 'aim' | 'low' | 'high') => (
    <div className="target-figure" data-label={t(`water.target.${field}`)}>
      {inDegrees(of) ? (
        <HardnessAt path={[...at, field]} label={said(field)} />
      ) : (
        <NumberAt path={[...at, field]} label={said(field)} hideLabel nullable placeholder="–" />
      )}
    </div>
  );
  return (
    <div className="target" data-of={of}>
      <div className="target-name">
        {quantity}{' '}
        <span className="unit">{inDegrees(of) ? UNIT_TEXT[unit] : prettyUnit(QUANTITIES[of])}</span>
      </div>
      {figure('aim')}
      {figure('low')}
      {figure('high')}
      <div className="target-figure" data-label={t('water.target.weight')}>
        <NumberAt path={[...at, 'weight']} label={said('weight')} hideLabel step={0.5} />
      </div>
      <div className="target-hard">
        <CheckInput label={t('water.target.hard')} value={hard} onChange={onHard} />
      </div>
      <IconButton icon="remove" label={`${t('common.remove')}: ${name}, ${quantity}`} onPress={onRemove} />
      <div className="target-result">
        {result && sheet && <Reached result={result} sheet={sheet} />}
        {remarks.map((remark) => (
          <p key={remark.sentence} className={`target-remark target-remark-${remark.level}`}>
            {remarkSentence(remark)}
          </p>
        ))}
      </div>
    </div>
  );
}

/** What the water has of it, beside what was asked. */
function Reached({ result, sheet }: { result: TargetResult; sheet: WeighSheet }) {
  const { unit } = useHardnessUnit();
  const { of, met } = result;
  const spread = sheet.figures.quantities[of];
  const text = inDegrees(of) ? hardnessText(spread, unit, false) : spreadText(spread);
  return (
    <p className={met ? 'target-reached' : 'target-reached target-missed'}>
      <Icon name={met ? 'check' : 'alert'} />
      <span>
        {t(met ? 'water.target.reached' : 'water.target.missed', {
          value: spread ? text : formatNumber(result.reached, 2),
        })}
      </span>
    </p>
  );
}
