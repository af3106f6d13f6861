import type { Trial } from '@pourline/core';
import { useRef } from 'react';
import type { Draft } from '../../../replica/index.ts';
import { Choice, NumberInput, problemAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { useListener } from '../../grind/parts/use-listener.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { upTo } from '../parts/up-to.ts';

type List = 'strength_readings' | 'brix_readings';

/** Readings of one sample: one empty field always waits for the next. */
export function Readings({ draft }: { draft: Draft<'trial'> }) {
  const { body } = draft;
  const [{ shows }, keep] = useKept('trials-shows', { shows: 'strength' });
  const both = body.brix_readings.length > 0 && body.strength_readings.length > 0;
  const brix = body.strength_readings.length === 0 && (shows === 'brix' || body.brix_readings.length > 0);
  return (
    <div className="readings">
      {(both || !brix) && <ReadingList draft={draft} list="strength_readings" />}
      {(both || brix) && <ReadingList draft={draft} list="brix_readings" />}
      {body.strength_readings.length + body.brix_readings.length === 0 && (
        <Choice
          label={t('trials.readings.shows')}
          value={brix ? 'brix' : 'strength'}
          options={[
            { value: 'strength', label: t('trials.readings.shows_strength') },
            { value: 'brix', label: t('trials.readings.shows_brix') },
          ]}
          onChange={(next) => keep({ shows: next })}
        />
      )}
    </div>
  );
}

/** What stands in a reading's field, whichever list it is of. */
const figureOf = (reading: object | undefined, list: List): unknown =>
  (reading as Record<string, unknown> | undefined)?.[list === 'brix_readings' ? 'brix' : 'strength_pct'] ??
  null;

function ReadingList({ draft, list }: { draft: Draft<'trial'>; list: List }) {
  const place = useRef<HTMLDivElement>(null);
  const readings: readonly object[] = draft.body[list];
  const field = list === 'brix_readings' ? 'brix' : 'strength_pct';
  const put = (next: readonly object[]): void => draft.change({ ...draft.body, [list]: next } as Trial);
  const set = (i: number, name: string, value: number | string | null): void => {
    const blank = { [field]: '', sample_C: sampleBefore(readings, i) };
    const now = readings[i] ?? blank;
    const next = [...readings];
    next[i] = { ...now, [name]: value ?? (name === 'sample_C' ? null : '') };
    // The last one emptied is the one that waits.
    if (i === readings.length - 1 && name === field && value === null) next.pop();
    put(next);
  };
  const dropEmpty = (): void => {
    const filled = readings.filter((reading) => figureOf(reading, list) !== '');
    if (filled.length < readings.length) put(filled);
  };
  useListener(place, 'focusout', dropEmpty);
  // Twenty is all that a document holds.
  const rows = Math.min(20, readings.length + 1);
  return (
    <div className="reading-list" ref={place}>
      {upTo(rows).map((i) => (
        <div className="reading-row wet" key={i}>
          <NumberInput
            label={t(`trials.readings.${field}`, { number: i + 1 })}
            value={figureOf(readings[i], list)}
            unit={list === 'brix_readings' ? '°Bx' : '%'}
            step={0.01}
            problem={problemAt(draft.problems, [list, i, field])}
            onChange={(value) => set(i, field, value)}
          />
          {i < readings.length && (
            <NumberInput
              label={t('trials.readings.sample')}
              value={(readings[i] as { sample_C?: unknown }).sample_C ?? null}
              unit="°C"
              problem={problemAt(draft.problems, [list, i, 'sample_C'])}
              onChange={(value) => set(i, 'sample_C', value)}
            />
          )}
        </div>
      ))}
    </div>
  );
}

/** A sample rarely changes its temperature between two readings: the next begins with that of the one before. */
function sampleBefore(readings: readonly object[], i: number): unknown {
  const before = readings[i - 1] as { sample_C?: unknown } | undefined;
  return typeof before?.sample_C === 'number' ? before.sample_C : null;
}
