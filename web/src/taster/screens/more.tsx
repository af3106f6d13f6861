import type { TasterSheet } from '@pourline/core';
import { useState } from 'react';
import { answeredKeys, asksOf, keyOf, standingOf } from '../asks.ts';
import type { Keeper, View } from '../keeper.ts';
import { Big } from '../parts.tsx';
import { readySound, setSound, soundOn } from '../prompt.ts';
import { useNow } from '../use-now.ts';
import { say } from '../words.ts';

interface MoreProps {
  keeper: Keeper;
  view: View;
  sheet: TasterSheet;
  onClose: () => void;
}

/** Everything that is not the next cup: the list of cups, cautions, sound, leaving. */
export function MoreScreen({ keeper, view, sheet, onClose }: MoreProps) {
  const now = useNow(keeper);
  const [sound, hear] = useState(soundOn);
  const [leaving, setLeaving] = useState(false);
  const asks = asksOf(sheet);
  const kept = new Set(view.waiting.map((w) => keyOf(w.set, w.code, w.window_id)));
  const answered = answeredKeys(sheet.answers, view.waiting);
  return (
    <main className="taste-body">
      <h1>{sheet.title === '' ? say('more.title') : sheet.title}</h1>
      {sheet.care.length > 0 && (
        <ul className="care">
          {sheet.care.map((found) => (
            <li key={found.code}>{found.sentence}</li>
          ))}
        </ul>
      )}
      <h2>{say('cups.title')}</h2>
      <ul className="told">
        {asks.map((ask) => {
          const window = sheet.windows.find((w) => w.id === ask.window_id)?.name ?? '';
          const standing = standingOf(ask, answered, now);
          return (
            <li key={ask.key}>
              <span className="told-code">{ask.code ?? ask.set.codes.join(' ')}</span>
              <span>{window}</span>
              <span className="quiet">
                {kept.has(ask.key) ? say('cups.to_send') : say(`cups.${standing}`)}
              </span>
            </li>
          );
        })}
      </ul>
      <Big
        pressed={sound}
        onPress={() => {
          readySound();
          setSound(!sound);
          hear(!sound);
        }}
      >
        {say('more.sound')}
      </Big>
      {!sheet.left && sheet.state !== 'closed' && !leaving && (
        <Big look="quiet" onPress={() => setLeaving(true)}>
          {say('more.leave')}
        </Big>
      )}
      {leaving && (
        <div className="sure">
          <p>{say('more.leave_sure')}</p>
          <Big
            onPress={() => {
              setLeaving(false);
              onClose();
              void keeper.leave();
            }}
          >
            {say('more.leave_yes')}
          </Big>
        </div>
      )}
      <div className="taste-foot">
        <Big look="main" onPress={onClose}>
          {say('more.close')}
        </Big>
      </div>
    </main>
  );
}
