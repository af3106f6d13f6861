import { type Kind, type Problem, unitOf } from '@pourline/core';
import { createContext, type ReactNode, useContext } from 'react';
import type { Draft } from '../replica/index.ts';
import { fieldLabel, problemSentence, t, tMaybe } from '../words/index.ts';
import { CheckInput, DateInput, NumberInput, type Option, SelectInput, TextInput } from './fields.tsx';
import { getAt, type Path, samePath, setAt } from './path.ts';

/** What the fields of a form need of a draft, whatever its kind. */
interface Form {
  body: unknown;
  problems: readonly Problem[];
  set: (path: Path, value: unknown) => void;
}

const FormContext = createContext<Form | null>(null);

/** Ties the `…At` fields below it to a draft: they show its body, change it, and put its problems beside themselves. */
export function DraftForm<K extends Kind>({ draft, children }: { draft: Draft<K>; children: ReactNode }) {
  const form: Form = {
    body: draft.body,
    problems: draft.problems,
    set: (path, value) => draft.change(setAt(draft.body, path, value)),
  };
  return <FormContext value={form}>{children}</FormContext>;
}

/** The form around a field. @throws Error outside of a {@link DraftForm} */
export function useForm(): Form {
  const form = useContext(FormContext);
  if (!form) throw new Error('useForm: there is no DraftForm around this field');
  return form;
}

/** The problems at exactly this path as one text, or undefined. */
export function problemAt(problems: readonly Problem[], path: Path): string | undefined {
  const found = problems.filter((problem) => samePath(problem.path, path));
  return found.length > 0 ? found.map(problemSentence).join(' ') : undefined;
}

export interface AtProps {
  path: Path;
  /** The catalogue's word for the field, unless given. */
  label?: string;
  hideLabel?: boolean;
  hint?: string;
}

function useAt({ path, label, hideLabel, hint }: AtProps) {
  const form = useForm();
  return {
    value: getAt(form.body, path),
    set: (value: unknown) => form.set(path, value),
    frame: {
      label: label ?? fieldLabel(path),
      ...(hideLabel === undefined ? {} : { hideLabel }),
      hint,
      problem: problemAt(form.problems, path),
    },
  };
}

const lastField = (path: Path): string => String(path.findLast((step) => typeof step === 'string') ?? '');

export interface NumberAtProps extends AtProps {
  step?: number;
  /** Overrides the unit in the field's name. */
  unit?: string;
  /** May be left empty; `placeholder` says what then holds. */
  nullable?: boolean;
  placeholder?: string;
}

/** A figure of the document. Emptied, it becomes null where that is allowed. */
export function NumberAt({ step, unit, nullable = false, placeholder, ...at }: NumberAtProps) {
  const { value, set, frame } = useAt(at);
  return (
    <NumberInput
      {...frame}
      value={value}
      onChange={(next) => set(next === null && !nullable ? '' : next)}
      unit={unit ?? unitOf(lastField(at.path))}
      placeholder={placeholder ?? (nullable ? t('common.optional') : undefined)}
      {...(step === undefined ? {} : { step })}
    />
  );
}

/** A line of text of the document. */
export function TextAt({ long, placeholder, ...at }: AtProps & { long?: boolean; placeholder?: string }) {
  const { value, set, frame } = useAt(at);
  return (
    <TextInput
      {...frame}
      value={typeof value === 'string' ? value : ''}
      onChange={set}
      placeholder={placeholder}
      {...(long === undefined ? {} : { long })}
    />
  );
}

/** A calendar day of the document. */
export function DateAt(at: AtProps) {
  const { value, set, frame } = useAt(at);
  return <DateInput {...frame} value={typeof value === 'string' ? value : null} onChange={set} />;
}

/** Yes or no. */
export function CheckAt(at: AtProps) {
  const { value, set, frame } = useAt(at);
  return <CheckInput label={frame.label} value={value === true} onChange={set} />;
}

/** One of the schema's own choices, named by the catalogue under `words`. */
export function WordAt({ words, choices, ...at }: AtProps & { words: string; choices: readonly string[] }) {
  return (
    <OptionAt
      {...at}
      options={choices.map((value) => ({ value, label: tMaybe(`${words}.${value}`) ?? value }))}
    />
  );
}

/** One of a list of options. */
export function OptionAt({ options, ...at }: AtProps & { options: readonly Option[] }) {
  const { value, set, frame } = useAt(at);
  return (
    <SelectInput
      {...frame}
      value={typeof value === 'string' ? value : null}
      options={options}
      onChange={set}
    />
  );
}
