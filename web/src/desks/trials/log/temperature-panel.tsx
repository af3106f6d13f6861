import { TEMPERATURE_PLACES, type Trial } from '@pourline/core';
import { useEffect, useRef, useState } from 'react';
import type { Draft } from '../../../replica/index.ts';
import { IconButton, NumberInput, Panel, problemAt, SelectInput } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { upTo } from '../parts/up-to.ts';

type Reading = Trial['temperatures'][number];
/** As it may stand in the fields. */
type Typed = Record<keyof Reading, unknown>;

const LIST = 'temperatures';
/** Rows shown at once; a recording has its own way in. */
const MOST = 200;

/** Temperatures read one by one; one empty row always waits for the next. */
export function TemperaturePanel({ draft }: { draft: Draft<'trial'> }) {
  const readings = draft.body.temperatures as readonly Typed[];
  const [next, setNext] = useState<{ time_s: unknown; where: Reading['where'] | null }>({
    time_s: null,
    where: null,
  });
  const list = useRef<HTMLDivElement>(null);
  const last = readings.at(-1)?.where as Reading['where'] | undefined;
  const where = next.where ?? last ?? 'bed_middle';
  const put = (temperatures: readonly Typed[]): void =>
    draft.change({ ...draft.body, temperatures: temperatures as unknown as Reading[] });
  const set = (i: number, part: Partial<Typed>): void => {
    if (i < readings.length) put(readings.map((one, k) => (k === i ? { ...one, ...part } : one)));
    else if (!('temperature_C' in part)) setNext((now) => ({ ...now, ...part }) as typeof now);
    else {
      put([...readings, { time_s: next.time_s ?? '', where, ...part } as Typed]);
      setNext({ time_s: null, where: null });
    }
  };
  useEffect(() => {
    const now = (event: Event): void => {
      setNext((kept) => ({ ...kept, time_s: (event as CustomEvent<number>).detail }));
      const inputs = list.current?.querySelectorAll<HTMLInputElement>('.temperature-row:last-child input');
      inputs?.[inputs.length - 1]?.focus();
    };
    addEventListener('trials:temperature-now', now);
    return () => removeEventListener('trials:temperature-now', now);
  }, []);
  const rows = Math.min(MOST, readings.length + 1);
  return (
    <Panel title={t('trials.temperatures.title')} fold="open">
      <div className="temperature-rows" ref={list}>
        {upTo(rows).map((i) => {
          const row = readings[i];
          return (
            <div className="temperature-row" key={i}>
              <NumberInput
                label={t('trials.temperatures.time', { number: i + 1 })}
                value={row ? row.time_s : next.time_s}
                unit="s"
                problem={problemAt(draft.problems, [LIST, i, 'time_s'])}
                onChange={(value) => set(i, { time_s: value ?? (row ? '' : null) })}
              />
              <SelectInput
                label={t('trials.temperatures.where')}
                value={String(row ? row.where : where)}
                options={TEMPERATURE_PLACES.map((value) => ({ value, label: t(`trials.place.${value}`) }))}
                onChange={(value) => set(i, { where: value })}
              />
              <NumberInput
                label={t('trials.temperatures.temperature')}
                value={row?.temperature_C ?? null}
                unit="°C"
                step={0.1}
                problem={problemAt(draft.problems, [LIST, i, 'temperature_C'])}
                onChange={(value) => {
                  if (row || value !== null) set(i, { temperature_C: value ?? '' });
                }}
              />
              {row ? (
                <IconButton
                  icon="close"
                  label={t('trials.temperatures.remove', { number: i + 1 })}
                  onPress={() => put(readings.filter((_one, k) => k !== i))}
                />
              ) : (
                <span />
              )}
            </div>
          );
        })}
      </div>
      {readings.length > MOST && (
        <p className="quiet-text">{t('trials.temperatures.more', { count: readings.length - MOST })}</p>
      )}
    </Panel>
  );
}
