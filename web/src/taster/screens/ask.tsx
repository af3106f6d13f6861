import type { TasterSheet, TastingAnswer } from '@pourline/core';
import { useEffect, useState } from 'react';
import type { Ask } from '../asks.ts';
import type { Keeper } from '../keeper.ts';
import { Big, Line } from '../parts.tsx';
import { readySound } from '../prompt.ts';
import { TaskForm } from '../tasks/task-form.tsx';
import { clock, say } from '../words.ts';

interface AskProps {
  keeper: Keeper;
  sheet: TasterSheet;
  ask: Ask;
  late: boolean;
  now: number;
  place: { number: number; total: number };
  onSent: () => void;
}

/** What is kept of a half answer: anything its form needs, and the answer once it is whole. */
export interface Half {
  form: unknown;
  answer: TastingAnswer | null;
}

/** One question with its cups, and the button that sends the answer. */
export function AskScreen({ keeper, sheet, ask, late, now, place, onSent }: AskProps) {
  const [half, setHalf] = useState<Half | null>(null);
  const [celsius, setCelsius] = useState('');
  useEffect(() => {
    let stale = false;
    void keeper.draft(ask.key).then((kept) => {
      if (!stale) setHalf((kept as Half | undefined) ?? { form: undefined, answer: null });
    });
    return () => {
      stale = true;
    };
  }, [keeper, ask.key]);
  const window = sheet.windows.find((w) => w.id === ask.window_id);
  const temperature = celsius.trim() === '' ? null : Number(celsius.replace(',', '.'));
  const wrong = temperature !== null && !(temperature >= -5 && temperature <= 101);
  if (!half) return null;
  return (
    <main className="taste-body">
      <div className="ask-head">
        <p className="quiet">{say('taste.progress', place)}</p>
        {window && (
          <p className="ask-window">
            {ask.closes_at !== null && !late
              ? say('taste.window', { window: window.name, clock: clock(ask.closes_at - now) })
              : say('taste.window_free', { window: window.name })}
          </p>
        )}
      </div>
      {late && <p className="taste-refused">{say('taste.late')}</p>}
      <h1 className="ask-cups">
        {ask.code === null
          ? say('taste.cups', { codes: ask.set.codes.join(' ') })
          : say('taste.cup', { code: ask.code })}
      </h1>
      <TaskForm
        task={sheet.task}
        ask={ask}
        seat={sheet.seat}
        form={half.form}
        onChange={(form, answer) => {
          setHalf({ form, answer });
          keeper.keepDraft(ask.key, { form, answer });
        }}
      />
      {ask.code === null && <p className="quiet">{say('taste.sip', { sip: sheet.sip_mL })}</p>}
      <details className="ask-more">
        <summary>{say('taste.temperature')}</summary>
        <Line
          id="celsius"
          label="°C"
          problem={wrong || Number.isNaN(temperature) ? say('taste.temperature_wrong') : undefined}
        >
          <input
            id="celsius"
            className="line-input"
            inputMode="decimal"
            autoComplete="off"
            value={celsius}
            onChange={(event) => setCelsius(event.target.value)}
          />
        </Line>
      </details>
      <div className="taste-foot">
        <Big
          look="main"
          disabled={half.answer === null || wrong || Number.isNaN(temperature)}
          onPress={() => {
            readySound();
            if (half.answer === null) return;
            void keeper.answer(ask, half.answer, temperature).then(onSent);
          }}
        >
          {say(half.answer === null ? 'taste.choose_first' : 'taste.send')}
        </Big>
      </div>
    </main>
  );
}
