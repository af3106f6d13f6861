import { type KeyboardEvent, type ReactNode, useId, useState } from 'react';
import { Button as AriaButton } from 'react-aria-components/Button';
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox';
import { Popover } from 'react-aria-components/Popover';
import { Select as AriaSelect, SelectValue } from 'react-aria-components/Select';
import { t } from '../words/index.ts';
import { Icon } from './icon.tsx';
import { figureText, parseFigure, stepFigure } from './number-text.ts';

/** What every field has. `problem` is a whole sentence and shows beside the field. */
export interface FieldProps {
  label: string;
  /** The label is read out but not shown: for cells of a table whose head says it. */
  hideLabel?: boolean;
  hint?: string | undefined;
  problem?: string | undefined;
  disabled?: boolean;
}

interface Parts {
  id: string;
  describedBy: string | undefined;
  invalid: true | undefined;
}

/** Label, control, unit, hint and problem, tied together for screen readers. */
function FieldFrame({
  label,
  hideLabel = false,
  hint,
  problem,
  unit,
  children,
}: FieldProps & { unit?: string | undefined; children: (parts: Parts) => ReactNode }) {
  const id = useId();
  const described = [unit && `${id}-u`, hint && `${id}-h`, problem && `${id}-p`].filter(Boolean).join(' ');
  return (
    <div className="field">
      <label className={hideLabel ? 'visually-hidden' : 'field-label'} htmlFor={id}>
        {label}
      </label>
      <div className={problem ? 'field-box field-box-wrong' : 'field-box'}>
        {children({ id, describedBy: described || undefined, invalid: problem ? true : undefined })}
        {unit && (
          <span className="field-unit" id={`${id}-u`}>
            {unit}
          </span>
        )}
      </div>
      {hint && (
        <p className="field-hint" id={`${id}-h`}>
          {hint}
        </p>
      )}
      {problem && (
        <p className="field-problem" id={`${id}-p`}>
          <Icon name="alert" />
          <span>{problem}</span>
        </p>
      )}
    </div>
  );
}

export interface NumberInputProps extends FieldProps {
  /** A number; null for none; a string when something else was typed. */
  value: unknown;
  /** Gives the number, null for an emptied field, or the text as typed when it is not a number. */
  onChange: (value: number | string | null) => void;
  unit?: string | undefined;
  /** What one press of an arrow key adds; ten times that with Shift. */
  step?: number;
  placeholder?: string | undefined;
}

/** A figure with its unit. Follows every key; keeps on screen whatever was typed. */
export function NumberInput({ value, onChange, step = 1, placeholder, ...frame }: NumberInputProps) {
  const [typed, setTyped] = useState<string | null>(null);
  // The text as typed stands only while it means the present value; an undo shows at once.
  const means = typed === null ? undefined : (parseFigure(typed) ?? '');
  const shown = typed !== null && Object.is(means, value ?? '') ? typed : figureText(value);
  const keys = (event: KeyboardEvent): void => {
    const direction = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0;
    if (direction === 0) return;
    event.preventDefault();
    setTyped(null);
    onChange(stepFigure(value, event.shiftKey ? step * 10 : step, direction));
  };
  return (
    <FieldFrame {...frame}>
      {({ id, describedBy, invalid }) => (
        <input
          id={id}
          className="field-input field-number"
          inputMode="decimal"
          autoComplete="off"
          spellCheck={false}
          value={shown}
          placeholder={placeholder}
          disabled={frame.disabled}
          aria-invalid={invalid}
          aria-describedby={describedBy}
          onKeyDown={keys}
          onChange={(event) => {
            setTyped(event.target.value);
            onChange(parseFigure(event.target.value));
          }}
          onBlur={() => setTyped(null)}
        />
      )}
    </FieldFrame>
  );
}

export interface TextInputProps extends FieldProps {
  value: string;
  onChange: (value: string) => void;
  placeholder?: string | undefined;
  /** More than one line. */
  long?: boolean;
}

/** A line of text, or several. */
export function TextInput({ value, onChange, placeholder, long = false, ...frame }: TextInputProps) {
  return (
    <FieldFrame {...frame}>
      {({ id, describedBy, invalid }) => {
        const shared = {
          id,
          className: long ? 'field-input field-long' : 'field-input',
          value,
          placeholder,
          disabled: frame.disabled,
          'aria-invalid': invalid,
          'aria-describedby': describedBy,
        };
        return long ? (
          <textarea {...shared} rows={3} onChange={(event) => onChange(event.target.value)} />
        ) : (
          <input {...shared} autoComplete="off" onChange={(event) => onChange(event.target.value)} />
        );
      }}
    </FieldFrame>
  );
}

export interface DateInputProps extends FieldProps {
  /** ISO 8601 date, or null. */
  value: string | null;
  onChange: (value: string | null) => void;
}

/** A calendar day, picked with the system's own calendar. */
export function DateInput({ value, onChange, ...frame }: DateInputProps) {
  return (
    <FieldFrame {...frame}>
      {({ id, describedBy, invalid }) => (
        <input
          id={id}
          type="date"
          className="field-input"
          value={value ?? ''}
          disabled={frame.disabled}
          aria-invalid={invalid}
          aria-describedby={describedBy}
          onChange={(event) => onChange(event.target.value === '' ? null : event.target.value)}
        />
      )}
    </FieldFrame>
  );
}

export interface Option {
  value: string;
  label: string;
  /** A second, quieter line. */
  detail?: string | undefined;
}

export interface SelectInputProps extends FieldProps {
  value: string | null;
  options: readonly Option[];
  onChange: (value: string) => void;
  placeholder?: string | undefined;
}

/** One of a list. */
export function SelectInput({ value, options, onChange, placeholder, ...frame }: SelectInputProps) {
  return (
    <FieldFrame {...frame}>
      {({ id, describedBy, invalid }) => (
        <AriaSelect
          className="select"
          aria-label={frame.label}
          value={options.some((option) => option.value === value) ? value : null}
          onChange={(key) => {
            if (typeof key === 'string') onChange(key);
          }}
          isDisabled={frame.disabled ?? false}
          isInvalid={invalid ?? false}
          placeholder={placeholder ?? t('common.choose')}
        >
          <AriaButton className="select-button" id={id} aria-describedby={describedBy ?? ''}>
            <SelectValue className="select-value">
              {({ selectedText, defaultChildren }) => selectedText || defaultChildren}
            </SelectValue>
            <Icon name="down" />
          </AriaButton>
          <Popover className="popover">
            <ListBox className="list" items={options.map((option) => ({ ...option, id: option.value }))}>
              {(option) => (
                <ListBoxItem id={option.id} textValue={option.label} className="list-item">
                  <span>{option.label}</span>
                  {option.detail && <span className="list-detail">{option.detail}</span>}
                </ListBoxItem>
              )}
            </ListBox>
          </Popover>
        </AriaSelect>
      )}
    </FieldFrame>
  );
}

export interface CheckInputProps {
  label: string;
  value: boolean;
  onChange: (value: boolean) => void;
  disabled?: boolean;
}

/** Yes or no. */
export function CheckInput({ label, value, onChange, disabled = false }: CheckInputProps) {
  return (
    <label className="check">
      <input
        type="checkbox"
        checked={value}
        disabled={disabled}
        onChange={(event) => onChange(event.target.checked)}
      />
      <span className="check-box">
        <Icon name="check" />
      </span>
      <span>{label}</span>
    </label>
  );
}
