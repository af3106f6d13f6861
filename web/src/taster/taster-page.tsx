import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import type { Keeper } from './keeper.ts';
import { keepAwake } from './prompt.ts';
import { ClosedScreen } from './screens/closed.tsx';
import { JoinScreen } from './screens/join.tsx';
import { MoreScreen } from './screens/more.tsx';
import { SessionScreen } from './screens/session.tsx';
import { say } from './words.ts';

/** The whole page: joining, tasting, and the end. */
export function TasterPage({ keeper, code }: { keeper: Keeper; code: string }) {
  const view = useSyncExternalStore(keeper.subscribe, keeper.get);
  const [more, setMore] = useState(false);
  const seated = view.seat?.token !== null && view.seat !== null && view.sheet !== null;
  const awake = useRef(false);
  useEffect(() => {
    if (!seated || awake.current) return;
    awake.current = true;
    void keepAwake();
  }, [seated]);
  if (!view.ready) return <p className="taste-wait">{say('opening')}</p>;
  if (!seated || !view.sheet) return <JoinScreen keeper={keeper} view={view} code={code} />;
  const { sheet } = view;
  const waiting = view.waiting.filter((w) => w.refused === null).length;
  return (
    <div className="taste">
      <header className="taste-top">
        <p>
          <strong>{sheet.name}</strong> <span className="quiet">{say('top.seat', { seat: sheet.seat })}</span>
        </p>
        <p className={view.reached ? 'taste-link' : 'taste-link taste-link-away'} role="status">
          {view.reached
            ? waiting > 0
              ? say('top.sending', { count: waiting })
              : say('top.online')
            : waiting > 0
              ? say('top.waiting', { count: waiting })
              : say('top.away')}
        </p>
        <button type="button" className="taste-more" onClick={() => setMore(!more)} aria-expanded={more}>
          {say('top.more')}
        </button>
      </header>
      {view.waiting
        .filter((w) => w.refused !== null)
        .map((w) => (
          <p key={w.answer_id} className="taste-refused" role="alert">
            <strong>{say('refused.title')}: </strong>
            {w.refused}
          </p>
        ))}
      {more ? (
        <MoreScreen keeper={keeper} view={view} sheet={sheet} onClose={() => setMore(false)} />
      ) : sheet.state === 'closed' ? (
        <ClosedScreen sheet={sheet} keeper={keeper} waiting={waiting} />
      ) : sheet.left ? (
        <main className="taste-body">
          <h1>{say('left.title')}</h1>
          <p>{say('left.text')}</p>
        </main>
      ) : (
        <SessionScreen keeper={keeper} view={view} sheet={sheet} />
      )}
    </div>
  );
}
