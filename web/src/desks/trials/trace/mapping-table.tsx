import {
  type ColumnChoice,
  type ColumnUse,
  MASS_UNITS,
  TEMPERATURE_PLACES,
  TEMPERATURE_UNITS,
  TIME_UNITS,
  type TraceMapping,
  type TracePlace,
  type TracePreview,
  type TraceUnit,
} from '@pourline/core';
import { CheckInput, NumberInput, SelectInput } from '../../../ui/index.ts';
import { t, tMaybe } from '../../../words/index.ts';

const USES = ['time', 'poured', 'beverage', 'temperature', 'skip'] as const satisfies ColumnUse[];
const DELIMITERS = ['\t', ';', ',', '|', ' '] as const satisfies TraceMapping['delimiter'][];
const DELIMITER_WORDS: Readonly<Record<TraceMapping['delimiter'], string>> = {
  '\t': 'tab',
  ';': 'semicolon',
  ',': 'comma',
  '|': 'bar',
  ' ': 'space',
};

const unitsOf = (use: ColumnUse): readonly TraceUnit[] =>
  use === 'time' ? TIME_UNITS : use === 'temperature' ? TEMPERATURE_UNITS : use === 'skip' ? [] : MASS_UNITS;

interface MappingTableProps {
  preview: TracePreview;
  mapping: TraceMapping;
  onChange: (mapping: TraceMapping) => void;
}

/** What each column is taken for, over the first lines of the file as they stand. */
export function MappingTable({ preview, mapping, onChange }: MappingTableProps) {
  const set = (column: number, part: Partial<ColumnChoice>): void =>
    onChange({
      ...mapping,
      columns: mapping.columns.map((one) => (one.column === column ? { ...one, ...part } : one)),
    });
  const use = (column: number, next: ColumnUse): void => {
    const units = unitsOf(next);
    const was = mapping.columns.find((one) => one.column === column)?.unit ?? null;
    const unit = was !== null && units.includes(was) ? was : (units[0] ?? null);
    const place = next === 'temperature' ? ('bed_middle' as const) : null;
    const columns = mapping.columns.map((one) =>
      one.column === column
        ? { ...one, use: next, unit, place }
        : // There is one time only.
          next === 'time' && one.use === 'time'
          ? { ...one, use: 'skip' as const, unit: null }
          : one,
    );
    const timed = columns.some((one) => one.use === 'time');
    onChange({ ...mapping, columns, every_s: timed ? null : (mapping.every_s ?? 0.1) });
  };
  return (
    <div className="mapping">
      <div className="table-scroll">
        <table className="mapping-table">
          <thead>
            <tr>
              <td />
              {mapping.columns.map((choice) => (
                <th key={choice.column} scope="col">
                  <ColumnFields
                    choice={choice}
                    head={preview.columns[choice.column]?.head ?? ''}
                    onUse={(next) => use(choice.column, next)}
                    onSet={(part) => set(choice.column, part)}
                  />
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {preview.lines.slice(0, 8).map(({ line, cells, read }) => (
              <tr key={line} data-read={read || undefined}>
                <th scope="row">{line}</th>
                {mapping.columns.map(({ column, use: taken }) => (
                  <td key={column} data-skipped={taken === 'skip' || undefined}>
                    {cells[column] ?? ''}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <details className="mapping-more">
        <summary>{t('trials.trace.how_written')}</summary>
        <div className="fields">
          <SelectInput
            label={t('trials.trace.delimiter')}
            value={mapping.delimiter}
            options={DELIMITERS.map((value) => ({
              value,
              label: tMaybe(`trials.trace.delimiter.${DELIMITER_WORDS[value]}`) ?? value,
            }))}
            onChange={(value) => onChange({ ...mapping, delimiter: value as TraceMapping['delimiter'] })}
          />
          <NumberInput
            label={t('trials.trace.skip_lines')}
            value={mapping.skip_lines}
            onChange={(value) => {
              if (typeof value === 'number' && value >= 0)
                onChange({ ...mapping, skip_lines: Math.round(value) });
            }}
          />
          {mapping.every_s !== null && (
            <NumberInput
              label={t('trials.trace.every')}
              value={mapping.every_s}
              unit="s"
              step={0.1}
              onChange={(value) => {
                if (typeof value === 'number' && value > 0) onChange({ ...mapping, every_s: value });
              }}
            />
          )}
          <CheckInput
            label={t('trials.trace.comma_decimals')}
            value={mapping.comma_decimals}
            onChange={(comma_decimals) => onChange({ ...mapping, comma_decimals })}
          />
        </div>
      </details>
    </div>
  );
}

interface ColumnFieldsProps {
  choice: ColumnChoice;
  head: string;
  onUse: (use: ColumnUse) => void;
  onSet: (part: Partial<ColumnChoice>) => void;
}

function ColumnFields({ choice, head, onUse, onSet }: ColumnFieldsProps) {
  const { column, use, unit, place } = choice;
  const number = column + 1;
  return (
    <div className="mapping-column">
      <span className="mapping-head">{head || t('trials.trace.column', { number })}</span>
      <SelectInput
        label={t('trials.trace.use', { number })}
        hideLabel
        value={use}
        options={USES.map((value) => ({ value, label: t(`trials.trace.use.${value}`) }))}
        onChange={(value) => onUse(value as ColumnUse)}
      />
      {use !== 'skip' && (
        <SelectInput
          label={t('trials.trace.unit', { number })}
          hideLabel
          value={unit}
          options={unitsOf(use).map((value) => ({
            value,
            label: tMaybe(`trials.trace.unit.${value.replace('/', '_per_')}`) ?? value,
          }))}
          onChange={(value) => onSet({ unit: value as TraceUnit })}
        />
      )}
      {use === 'temperature' && (
        <SelectInput
          label={t('trials.trace.place', { number })}
          hideLabel
          value={place}
          options={TEMPERATURE_PLACES.map((value) => ({ value, label: t(`trials.place.${value}`) }))}
          onChange={(value) => onSet({ place: value as TracePlace })}
        />
      )}
    </div>
  );
}
