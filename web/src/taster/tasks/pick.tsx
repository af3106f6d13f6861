import type { TastingAnswer } from '@pourline/core';
import { Big } from '../parts.tsx';
import { say } from '../words.ts';
import type { FormProps } from './task-form.tsx';

type Picking = 'triangle' | 'duo_trio' | 'tetrad' | 'a_not_a' | 'three_afc' | 'paired' | 'preference';

/** One cup, two cups, or yes and no. */
export function PickForm({ task, ask, form, onChange }: FormProps<Picking>) {
  const { codes, known_code } = ask.set;
  const picked = Array.isArray(form) ? (form as string[]) : [];
  const { test } = task;
  if (test === 'a_not_a') return <YesNo ask={ask} picked={picked[0]} onChange={onChange} />;
  const two = test === 'tetrad';
  const pick = (code: string): void => {
    const next = picked.includes(code)
      ? picked.filter((c) => c !== code)
      : [...picked, code].slice(two ? -2 : -1);
    const [first, second] = next;
    const whole = two ? second !== undefined : first !== undefined;
    onChange(next, whole ? answerOf(test, next) : null);
  };
  const question =
    task.test === 'three_afc' || task.test === 'paired'
      ? say(`task.${task.test}`, { attribute: task.attribute })
      : say(`task.${test}`, { code: known_code ?? '' });
  return (
    <fieldset className="task">
      <legend>{question}</legend>
      <div className="cups">
        {codes.map((code) => (
          <Big key={code} pressed={picked.includes(code)} onPress={() => pick(code)}>
            <span className="cup-code">{code}</span>
          </Big>
        ))}
      </div>
      {task.test === 'preference' && task.ties && (
        <Big
          pressed={picked[0] === NONE}
          onPress={() => onChange([NONE], { test: 'preference', code: null })}
        >
          {say('task.no_preference')}
        </Big>
      )}
    </fieldset>
  );
}

const NONE = '-';

function answerOf(test: Exclude<Picking, 'a_not_a'>, picked: readonly string[]): TastingAnswer {
  const code = picked[0]!;
  return test === 'tetrad' ? { test, group: [...picked] } : { test, code };
}

function YesNo({
  ask,
  picked,
  onChange,
}: Pick<FormProps, 'ask' | 'onChange'> & { picked: string | undefined }) {
  const code = ask.code ?? ask.set.codes[0] ?? '';
  const give = (same: boolean): void => onChange([same ? 'same' : 'other'], { test: 'a_not_a', same });
  return (
    <fieldset className="task">
      <legend>{say('task.a_not_a', { code })}</legend>
      {ask.set.known_code !== null && (
        <p className="quiet">{say('task.a_not_a_known', { code: ask.set.known_code })}</p>
      )}
      <div className="cups">
        <Big pressed={picked === 'same'} onPress={() => give(true)}>
          {say('task.same')}
        </Big>
        <Big pressed={picked === 'other'} onPress={() => give(false)}>
          {say('task.different')}
        </Big>
      </div>
    </fieldset>
  );
}
