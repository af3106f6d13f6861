import { useState } from 'react';
import { CheckInput, NumberInput, SelectInput, TextInput } from '../../../ui/index.ts';
import { fieldLabel, t } from '../../../words/index.ts';
import { optionWords, Sheet } from '../parts/sheet.tsx';
import { cellText, fieldsOf, gridText, readGrid, readList, type Shape } from './form-kernels.ts';

type Input = Readonly<Record<string, unknown>>;

interface StatisticFormProps {
  schema: Readonly<Record<string, unknown>>;
  input: Input;
  onChange: (input: Input) => void;
}

/** A form for the input of any statistic, made from its schema: what is long below, what is short side by side. */
export function StatisticForm({ schema, input, onChange }: StatisticFormProps) {
  const fields = fieldsOf(schema).filter(({ key }) => key !== 'seed');
  const isLong = (shape: Shape): boolean => ['sheet', 'grid', 'json', 'list'].includes(shape.is);
  const set = (key: string, value: unknown): void => {
    const { [key]: _, ...rest } = input;
    onChange(value === undefined ? rest : { ...rest, [key]: value });
  };
  const draw = ({ key, shape, usual }: (typeof fields)[number]) => (
    <StatisticField
      key={key}
      name={key}
      shape={shape}
      usual={usual}
      value={input[key]}
      onChange={(v) => set(key, v)}
    />
  );
  return (
    <div className="statistic-form">
      <div className="fields">{fields.filter(({ shape }) => !isLong(shape)).map(draw)}</div>
      {fields.filter(({ shape }) => isLong(shape)).map(draw)}
    </div>
  );
}

interface FieldProps {
  name: string;
  shape: Shape;
  usual: unknown;
  value: unknown;
  onChange: (value: unknown) => void;
}

function StatisticField({ name, shape, usual, value, onChange }: FieldProps) {
  const label = fieldLabel([name]);
  const shown = value === undefined ? usual : value;
  switch (shape.is) {
    case 'number':
      return (
        <NumberInput
          label={label}
          value={shown ?? null}
          step={shape.whole ? 1 : 0.01}
          onChange={(v) => onChange(v ?? undefined)}
        />
      );
    case 'text':
      return (
        <TextInput
          label={label}
          value={cellText(shown)}
          onChange={(v) => onChange(v === '' ? undefined : v)}
        />
      );
    case 'one_of':
      return (
        <SelectInput
          label={label}
          value={typeof shown === 'string' ? shown : null}
          options={shape.options.map((option) => ({ value: option, label: optionWords(option) }))}
          onChange={onChange}
        />
      );
    case 'either': {
      const [key, figure] = Object.entries((shown ?? {}) as Input)[0] ?? [shape.keys[0] ?? '', null];
      return (
        <>
          <SelectInput
            label={label}
            value={key}
            options={shape.keys.map((one) => ({ value: one, label: fieldLabel([one]) }))}
            onChange={(next) => onChange({ [next]: next === 'discriminators' ? 0.5 : 1.5 })}
          />
          <NumberInput
            label={fieldLabel([key])}
            value={figure}
            step={0.1}
            onChange={(next) => onChange({ [key]: next })}
          />
        </>
      );
    }
    case 'yes':
      return <CheckInput label={label} value={shown === true} onChange={onChange} />;
    case 'list':
      return <ListField label={label} numbers={shape.numbers} value={shown} onChange={onChange} />;
    case 'sheet':
      return (
        <fieldset className="statistic-part">
          <legend>{label}</legend>
          <Sheet
            label={label}
            columns={shape.columns}
            rows={Array.isArray(shown) ? shown : []}
            onChange={onChange}
          />
        </fieldset>
      );
    case 'grid':
      return (
        <TextField
          label={label}
          hint={t('panel.tables.grid_hint')}
          first={gridText(shown)}
          read={(text) => readGrid(text)}
          onChange={onChange}
        />
      );
    default:
      return (
        <TextField
          label={label}
          hint={t('panel.tables.json_hint')}
          first={shown === undefined ? '' : JSON.stringify(shown, null, 1)}
          read={readJson}
          onChange={onChange}
        />
      );
  }
}

/** JSON as typed; the text itself while it is none, so that the schema refuses it by name. */
function readJson(text: string): unknown {
  if (text.trim() === '') return undefined;
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return text;
  }
}

interface ListFieldProps {
  label: string;
  numbers: boolean;
  value: unknown;
  onChange: (value: unknown) => void;
}

function ListField({ label, numbers, value, onChange }: ListFieldProps) {
  const [text, setText] = useState(() => cellText(value));
  return (
    <TextInput
      label={label}
      value={text}
      hint={t('panel.tables.list_hint')}
      onChange={(next) => {
        setText(next);
        onChange(next.trim() === '' ? undefined : readList(next, numbers));
      }}
    />
  );
}

interface TextFieldProps {
  label: string;
  hint: string;
  first: string;
  read: (text: string) => unknown;
  onChange: (value: unknown) => void;
}

/** A text that means something once it is read; what is typed stays as typed. */
function TextField({ label, hint, first, read, onChange }: TextFieldProps) {
  const [text, setText] = useState(first);
  return (
    <TextInput
      label={label}
      hint={hint}
      value={text}
      long
      onChange={(next) => {
        setText(next);
        onChange(read(next));
      }}
    />
  );
}
