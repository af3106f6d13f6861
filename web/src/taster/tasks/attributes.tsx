import type { TastingAnswer } from '@pourline/core';
import { Big } from '../parts.tsx';
import { say } from '../words.ts';
import type { FormProps } from './task-form.tsx';

interface Given {
  values: Record<string, number>;
  liking: number | null;
}

const LEVELS = [-2, -1, 0, 1, 2] as const;
const LIKING = [1, 2, 3, 4, 5, 6, 7, 8, 9] as const;

/** How much of each thing, or whether it is right. Nothing is set before it is touched. */
export function AttributesForm({ task, form, onChange }: FormProps<'intensity' | 'just_about_right'>) {
  const given = (form as Given | undefined) ?? { values: {}, liking: null };
  const asksLiking = task.test === 'just_about_right' && task.liking;
  const give = (next: Given): void => {
    const all = task.attributes.every(({ id }) => next.values[id] !== undefined);
    const whole = all && (!asksLiking || next.liking !== null);
    onChange(next, whole ? answerOf(task.test, task.attributes, next) : null);
  };
  const set = (id: string, value: number): void =>
    give({ ...given, values: { ...given.values, [id]: value } });
  return (
    <fieldset className="task">
      <legend>{say(task.test === 'intensity' ? 'task.intensity' : 'task.jar')}</legend>
      {task.attributes.map((attribute) =>
        task.test === 'intensity' ? (
          <Scale
            key={attribute.id}
            attribute={attribute}
            scale={task.scale}
            value={given.values[attribute.id]}
            onChange={(value) => set(attribute.id, value)}
          />
        ) : (
          <fieldset key={attribute.id} className="line">
            <legend>{attribute.name}</legend>
            <div className="levels">
              {LEVELS.map((level) => (
                <Big
                  key={level}
                  pressed={given.values[attribute.id] === level}
                  onPress={() => set(attribute.id, level)}
                >
                  {say(`task.jar.${level}`)}
                </Big>
              ))}
            </div>
          </fieldset>
        ),
      )}
      {asksLiking && (
        <fieldset className="line">
          <legend>{say('task.liking')}</legend>
          <div className="nine">
            {LIKING.map((liking) => (
              <Big key={liking} pressed={given.liking === liking} onPress={() => give({ ...given, liking })}>
                {liking}
              </Big>
            ))}
          </div>
        </fieldset>
      )}
    </fieldset>
  );
}

function answerOf(
  test: 'intensity' | 'just_about_right',
  attributes: readonly { id: string }[],
  { values, liking }: Given,
): TastingAnswer {
  if (test === 'intensity') return { test, scores: attributes.map(({ id }) => ({ id, score: values[id]! })) };
  return { test, levels: attributes.map(({ id }) => ({ id, level: values[id]! })), liking };
}

interface ScaleProps {
  attribute: { id: string; name: string; low: string; high: string };
  scale: { min: number; max: number; step: number };
  value: number | undefined;
  onChange: (value: number) => void;
}

/** A scale with steps by thumb: slide, or tap less and more. */
function Scale({ attribute, scale, value, onChange }: ScaleProps) {
  const { name, low, high } = attribute;
  const middle = scale.min + Math.round((scale.max - scale.min) / scale.step / 2) * scale.step;
  const decimals = Math.max(0, (String(scale.step).split('.')[1] ?? '').length);
  const put = (next: number): void =>
    onChange(Number(Math.min(scale.max, Math.max(scale.min, next)).toFixed(decimals)));
  const step = (direction: number): void =>
    put(value === undefined ? middle : value + direction * scale.step);
  return (
    <div className="scale">
      <div className="scale-head">
        <label htmlFor={`scale ${attribute.id}`}>{name}</label>
        <output>{value === undefined ? say('task.not_yet') : value.toFixed(decimals)}</output>
      </div>
      <div className="scale-row">
        <Big label={say('task.less', { name })} onPress={() => step(-1)}>
          −
        </Big>
        <input
          id={`scale ${attribute.id}`}
          type="range"
          data-untouched={value === undefined || undefined}
          min={scale.min}
          max={scale.max}
          step={scale.step}
          value={value ?? middle}
          onChange={(event) => put(Number(event.target.value))}
          onPointerDown={(event) => {
            if (value === undefined) put(Number(event.currentTarget.value));
          }}
        />
        <Big label={say('task.more', { name })} onPress={() => step(1)}>
          +
        </Big>
      </div>
      {(low !== '' || high !== '') && (
        <p className="scale-ends">
          <span>{low}</span>
          <span>{high}</span>
        </p>
      )}
    </div>
  );
}
