import { useEffect, useMemo } from 'react';
import { shuffledFor } from '../asks.ts';
import { Big } from '../parts.tsx';
import { say } from '../words.ts';
import type { FormProps } from './task-form.tsx';

/** Tick all that apply; the words stand in another order for every seat. No tick at all is an answer. */
export function TicksForm({ task, seat, form, onChange }: FormProps<'check_all'>) {
  const ticked = Array.isArray(form) ? (form as string[]) : null;
  const words = useMemo(() => shuffledFor(task.words, seat), [task.words, seat]);
  useEffect(() => {
    if (ticked === null) onChange([], { test: 'check_all', ticked: [] });
  }, [ticked, onChange]);
  const tick = (id: string): void => {
    const now = ticked ?? [];
    const next = now.includes(id) ? now.filter((t) => t !== id) : [...now, id];
    onChange(next, { test: 'check_all', ticked: next });
  };
  return (
    <fieldset className="task">
      <legend>{say('task.check_all')}</legend>
      <div className="chips">
        {words.map(({ id, word }) => (
          <Big key={id} pressed={ticked?.includes(id) ?? false} onPress={() => tick(id)}>
            {word}
          </Big>
        ))}
      </div>
    </fieldset>
  );
}
