import type { TasterSheet, TastingAnswer } from '@pourline/core';
import type { Keeper } from '../keeper.ts';
import { Big } from '../parts.tsx';
import { say } from '../words.ts';

interface ClosedProps {
  sheet: TasterSheet;
  keeper: Keeper;
  waiting: number;
}

/** Codes that an answer named. */
const namedIn = (answer: TastingAnswer): string[] =>
  'group' in answer ? answer.group : 'code' in answer && answer.code !== null ? [answer.code] : [];

/** What it was, once the host has closed; only what this taster had. */
export function ClosedScreen({ sheet, keeper, waiting }: ClosedProps) {
  const { told } = sheet;
  const last = new Map(sheet.answers.filter((a) => a.counts).map((a) => [`${a.set} ${a.window_id}`, a]));
  const judged = (told?.right ?? []).flatMap(({ set, codes }) =>
    [...last.values()]
      .filter((answer) => answer.set === set)
      .map((answer) => {
        const named = namedIn(answer.answer);
        // Either group of a tetrad is the same answer.
        const other = sheet.sets.find((s) => s.set === set)?.codes.filter((c) => !codes.includes(c)) ?? [];
        const is = (wanted: readonly string[]): boolean =>
          named.length === wanted.length && named.every((c) => wanted.includes(c));
        return { key: answer.answer_id, set, right: is(codes) || (named.length === 2 && is(other)) };
      }),
  );
  return (
    <main className="taste-body">
      <h1>{say('closed.title')}</h1>
      {waiting > 0 && <p className="taste-refused">{say('done.waiting', { count: waiting })}</p>}
      {!told && <p>{say('closed.not_told')}</p>}
      {judged.length > 0 && (
        <>
          <h2>{say('closed.right')}</h2>
          <ul className="told">
            {judged.map(({ key, set, right }) => (
              <li key={key}>
                <span>{say('closed.set', { set })}</span>
                <strong>{say(right ? 'closed.was_right' : 'closed.was_wrong')}</strong>
              </li>
            ))}
          </ul>
        </>
      )}
      {told && (
        <>
          <h2>{say('closed.what')}</h2>
          <ul className="told">
            {told.samples.map(({ code, name }) => (
              <li key={code}>
                <span className="told-code">{code}</span>
                <span>{name}</span>
              </li>
            ))}
          </ul>
        </>
      )}
      <Big look="quiet" disabled={waiting > 0} onPress={() => void keeper.forget()}>
        {say('more.forget')}
      </Big>
    </main>
  );
}
