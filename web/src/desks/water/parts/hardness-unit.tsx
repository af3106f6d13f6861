import { convertHardness, HARDNESS_UNITS, type HardnessUnit, type Spread } from '@pourline/core';
import { createContext, type ReactNode, useContext, useMemo } from 'react';
import { NumberInput, type Path, problemAt, useForm } from '../../../ui/index.ts';
import { getAt } from '../../../ui/path.ts';
import { t } from '../../../words/index.ts';
import { scaledSpread, spreadText } from './figures.ts';
import { SteadySelect } from './steady-select.tsx';
import { useKept } from './use-kept.ts';

/** Units that hardness and alkalinity are written in, as they are printed. */
export const UNIT_TEXT: Readonly<Record<HardnessUnit, string>> = {
  mg_L_CaCO3: 'mg/L CaCO₃',
  mmol_L: 'mmol/L',
  meq_L: 'meq/L',
  dH: '°dH',
  fH: '°fH',
  e: '°e',
  gpg: 'gpg',
};
export const UNITS = Object.keys(HARDNESS_UNITS) as HardnessUnit[];
const isUnit = (value: string): value is HardnessUnit => Object.hasOwn(HARDNESS_UNITS, value);

interface UnitChoice {
  unit: HardnessUnit;
  set: (unit: HardnessUnit) => void;
}

const UnitContext = createContext<UnitChoice>({ unit: 'mg_L_CaCO3', set: () => {} });

/** Lets everything below it read and write hardness and alkalinity in the unit this browser chose. */
export function HardnessUnits({ children }: { children: ReactNode }) {
  const [kept, keep] = useKept('hardness-unit', { unit: 'mg_L_CaCO3' as string });
  const choice = useMemo(
    () => ({
      unit: isUnit(kept.unit) ? kept.unit : 'mg_L_CaCO3',
      set: (unit: HardnessUnit) => keep({ unit }),
    }),
    [kept, keep],
  );
  return <UnitContext value={choice}>{children}</UnitContext>;
}

export const useHardnessUnit = (): UnitChoice => useContext(UnitContext);

/** The unit on screen, and a way to another. */
export function HardnessUnitChoice() {
  const { unit, set } = useHardnessUnit();
  return (
    <SteadySelect
      label={t('water.unit_choice')}
      value={unit}
      options={UNITS.map((value) => ({
        value,
        label: UNIT_TEXT[value],
        detail: t(`water.unit.${value}`),
      }))}
      onChange={(value) => {
        if (isUnit(value)) set(value);
      }}
    />
  );
}

/** A hardness or an alkalinity [mg/L as CaCO3] in the unit on screen, with its spread. */
export function hardnessText(of: Spread | undefined, unit: HardnessUnit, withUnit = true): string {
  if (!of) return '–';
  const text = spreadText(scaledSpread(of, convertHardness(1, 'mg_L_CaCO3', unit)), 2);
  return withUnit ? `${text}\u202f${UNIT_TEXT[unit]}` : text;
}

/** Digits that outlast a conversion without its dust, and digits that fit into a field. */
const steady = (value: number): number => Number(value.toPrecision(10));
const short = (value: number): number => Number(value.toPrecision(5));

interface HardnessAtProps {
  path: Path;
  label: string;
}

/** A field kept in mg/L as CaCO3, read and typed in the unit on screen. */
export function HardnessAt({ path, label }: HardnessAtProps) {
  const form = useForm();
  const { unit } = useHardnessUnit();
  const value = getAt(form.body, path);
  const shown =
    typeof value === 'number' && unit !== 'mg_L_CaCO3'
      ? short(convertHardness(value, 'mg_L_CaCO3', unit))
      : value;
  return (
    <NumberInput
      label={label}
      hideLabel
      value={shown}
      step={unit === 'mg_L_CaCO3' ? 1 : 0.1}
      placeholder="–"
      problem={problemAt(form.problems, path)}
      onChange={(next) =>
        form.set(path, typeof next === 'number' ? steady(convertHardness(next, unit, 'mg_L_CaCO3')) : next)
      }
    />
  );
}
