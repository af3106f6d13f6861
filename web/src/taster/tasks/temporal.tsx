import { useEffect, useMemo, useRef, useState } from 'react';
import { shuffledFor } from '../asks.ts';
import { Big } from '../parts.tsx';
import { clock, say } from '../words.ts';
import type { FormProps } from './task-form.tsx';

interface Click {
  id: string;
  at_s: number;
  on: boolean;
}

/** Words over time after a sip: the clock runs, taps are written down with their seconds. */
export function TemporalForm({ task, seat, form, onChange }: FormProps<'temporal'>) {
  const recorded = Array.isArray(form) ? (form as Click[]) : null;
  const [began, setBegan] = useState<number | null>(null);
  const [clicks, setClicks] = useState<Click[]>([]);
  const [now, setNow] = useState(0);
  const words = useMemo(() => shuffledFor(task.words, seat), [task.words, seat]);
  const latest = useRef(clicks);
  latest.current = clicks;
  const finish = (): void => {
    setBegan(null);
    onChange(latest.current, { test: 'temporal', clicks: latest.current });
  };
  const end = useRef(finish);
  end.current = finish;
  useEffect(() => {
    if (began === null) return;
    const timer = setInterval(() => {
      const at = (performance.now() - began) / 1_000;
      setNow(at);
      if (at >= task.lasts_s) end.current();
    }, 100);
    return () => clearInterval(timer);
  }, [began, task.lasts_s]);
  const isOn = (id: string): boolean =>
    task.mode === 'dominant' ? clicks.at(-1)?.id === id : (clicks.findLast((c) => c.id === id)?.on ?? false);
  const tap = (id: string): void => {
    if (began === null) return;
    const at_s = Math.min(task.lasts_s, Math.round((performance.now() - began) / 10) / 100);
    setClicks([...clicks, { id, at_s, on: task.mode === 'dominant' ? true : !isOn(id) }]);
  };
  const start = (): void => {
    setClicks([]);
    setNow(0);
    onChange(undefined, null);
    setBegan(performance.now());
  };
  return (
    <fieldset className="task">
      <legend>{say(task.mode === 'dominant' ? 'task.temporal_dominant' : 'task.temporal_ticks')}</legend>
      {began === null ? (
        <>
          {recorded && <p>{say('task.recorded', { count: recorded.length })}</p>}
          <Big look={recorded ? 'quiet' : 'plain'} onPress={start}>
            {say(recorded ? 'task.again' : 'task.start')}
          </Big>
        </>
      ) : (
        <>
          <p className="count" role="timer">
            {say('task.running', { clock: clock((task.lasts_s - now) * 1_000) })}
          </p>
          <div className="chips">
            {words.map(({ id, word }) => (
              <Big key={id} pressed={isOn(id)} onPress={() => tap(id)}>
                {word}
              </Big>
            ))}
          </div>
          <Big look="quiet" onPress={finish}>
            {say('task.finish')}
          </Big>
        </>
      )}
    </fieldset>
  );
}
