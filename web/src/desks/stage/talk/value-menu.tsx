import type { BoundValue } from '@pourline/core';
import { Button, Menu } from '../../../ui/index.ts';
import { formatNumber, formatWithUnit, t, tMaybe } from '../../../words/index.ts';
import { digitsOf } from './spoken-line.tsx';

/** What a figure is called. */
export const valueName = (name: string): string => tMaybe(`field.value_${name}`) ?? name.replaceAll('_', ' ');

interface ValueMenuProps {
  values: readonly BoundValue[];
  /** Takes the reference to be written into the text. */
  onChoose: (reference: string) => void;
}

/** Figures that a talk may speak of, each with its source: choosing one writes a reference that follows it. */
export function ValueMenu({ values, onChoose }: ValueMenuProps) {
  return (
    <Menu
      label={t('stage.numbers.insert')}
      trigger={
        <Button look="quiet" icon="add" isDisabled={values.length === 0}>
          {t('stage.numbers.insert')}
        </Button>
      }
      entries={values.map((value) => ({
        key: `${value.source} ${value.name}`,
        label: `${valueName(value.name)}: ${formatWithUnit(value.value, value.unit, digitsOf(value.value))}`,
        detail: t(value.current ? 'stage.numbers.entry' : 'stage.numbers.entry_old', {
          source: t(`stage.source.${value.source}`),
          from: value.from,
        }),
        onChoose: () => onChoose(`{${value.source}:${value.name}:${Math.min(2, digitsOf(value.value))}}`),
      }))}
    />
  );
}

export const shownValue = (value: number): string => formatNumber(value, digitsOf(value));
