import { Big } from '../parts.tsx';
import { say } from '../words.ts';
import type { FormProps } from './task-form.tsx';

/** Cups tapped in order, most first; with ties, a cup may share the place of the one before it. */
export function RankingForm({ task, ask, form, onChange }: FormProps<'ranking'>) {
  const order = Array.isArray(form) ? (form as string[][]) : [];
  const placed = order.flat();
  const give = (next: string[][]): void => {
    const whole = next.flat().length === ask.set.codes.length;
    onChange(next, whole ? { test: 'ranking', order: next } : null);
  };
  const share = (at: number): void => {
    const joined = [...(order[at - 1] ?? []), ...(order[at] ?? [])];
    give([...order.slice(0, at - 1), joined, ...order.slice(at + 1)]);
  };
  return (
    <fieldset className="task">
      <legend>{say('task.ranking', { attribute: task.attribute })}</legend>
      <ol className="ranks">
        {order.map((group, i) => (
          <li key={group.join(' ')}>
            <span className="rank">{i + 1}</span>
            <span className="cup-code">{group.join(' ')}</span>
            {task.ties && i > 0 && (
              <button type="button" className="rank-share" onClick={() => share(i)}>
                {say('task.ranking_ties')}
              </button>
            )}
          </li>
        ))}
      </ol>
      <div className="cups">
        {ask.set.codes
          .filter((code) => !placed.includes(code))
          .map((code) => (
            <Big key={code} onPress={() => give([...order, [code]])}>
              <span className="cup-code">{code}</span>
            </Big>
          ))}
      </div>
      {placed.length > 0 && (
        <Big look="quiet" onPress={() => give([])}>
          {say('task.ranking_clear')}
        </Big>
      )}
    </fieldset>
  );
}
