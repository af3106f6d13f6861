import type { TasterSheet } from '@pourline/core';
import { useEffect, useMemo, useRef, useState } from 'react';
import { type Ask, answeredKeys, asksOf, whatNow } from '../asks.ts';
import type { Keeper, View } from '../keeper.ts';
import { Big } from '../parts.tsx';
import { prompt } from '../prompt.ts';
import { useNow } from '../use-now.ts';
import { clock, say } from '../words.ts';
import { AskScreen } from './ask.tsx';

interface SessionProps {
  keeper: Keeper;
  view: View;
  sheet: TasterSheet;
}

interface Rest {
  kind: 'rinse' | 'break';
  until: number;
}

/** While a session runs: the cup that is next, a rest, or what is waited for. */
export function SessionScreen({ keeper, view, sheet }: SessionProps) {
  const now = useNow(keeper);
  const asks = useMemo(() => asksOf(sheet), [sheet]);
  const answered = useMemo(() => answeredKeys(sheet.answers, view.waiting), [sheet, view.waiting]);
  const [rest, setRest] = useState<Rest | null>(null);
  const [late, setLate] = useState<Ask | null>(null);
  const [enough, setEnough] = useState(false);
  const next = whatNow(asks, answered, now);
  const resting = rest !== null && now < rest.until;
  usePrompt(next.do === 'taste' && !resting ? next.ask.key : null);
  const after = (ask: Ask): void => {
    setLate(null);
    setRest(restAfter(ask, asks, answered, sheet, keeper.now()));
  };
  const seen = late ?? (next.do === 'taste' ? next.ask : null);
  if (sheet.state === 'open' && next.do === 'wait' && next.until === null)
    return (
      <Waiting title={say('wait.begin')}>
        {sheet.instructions !== '' && <p>{sheet.instructions}</p>}
        <CareNotes sheet={sheet} />
      </Waiting>
    );
  if (resting && rest && late === null)
    return (
      <Waiting title={say(`rest.${rest.kind}`)}>
        <p className="count" role="timer">
          {clock(rest.until - now)}
        </p>
        <div className="taste-foot">
          <Big onPress={() => setRest(null)}>{say('rest.skip')}</Big>
        </div>
      </Waiting>
    );
  if (seen)
    return (
      <AskScreen
        key={seen.key}
        keeper={keeper}
        sheet={sheet}
        ask={seen}
        late={late !== null}
        now={now}
        place={{ number: asks.indexOf(seen) + 1, total: asks.length }}
        onSent={() => after(seen)}
      />
    );
  if (next.do === 'wait') return <WaitFor next={next} sheet={sheet} now={now} />;
  if (next.do === 'missed' && !enough)
    return (
      <Waiting title={say('missed.title')}>
        <p>{say('missed.text')}</p>
        {next.asks.map((ask) => (
          <Big key={ask.key} onPress={() => setLate(ask)}>
            {`${ask.code ?? ask.set.codes.join(' ')} ${sheet.windows.find((w) => w.id === ask.window_id)?.name ?? ''}`}
          </Big>
        ))}
        <div className="taste-foot">
          <Big look="main" onPress={() => setEnough(true)}>
            {say('missed.none')}
          </Big>
        </div>
      </Waiting>
    );
  const waiting = view.waiting.filter((w) => w.refused === null).length;
  return (
    <Waiting title={say('done.title')}>
      <p>{waiting > 0 ? say('done.waiting', { count: waiting }) : say('done.text')}</p>
    </Waiting>
  );
}

function Waiting({ title, children }: { title: string; children?: React.ReactNode }) {
  return (
    <main className="taste-body">
      <h1 aria-live="polite">{title}</h1>
      {children}
    </main>
  );
}

function WaitFor({
  next,
  sheet,
  now,
}: {
  next: { until: number | null; ask: Ask };
  sheet: TasterSheet;
  now: number;
}) {
  const { ask, until } = next;
  const window = sheet.windows.find((w) => w.id === ask.window_id);
  if (until === null || !window)
    return <Waiting title={say('wait.pour', { codes: ask.code ?? ask.set.codes.join(', ') })} />;
  return (
    <Waiting title={say('wait.window', { window: window.name })}>
      <p className="count" role="timer">
        {until - now < 1_000 ? say('wait.soon') : clock(until - now)}
      </p>
      <p>{say('wait.window_text', { from: window.from_C, to: window.to_C })}</p>
    </Waiting>
  );
}

/** Cautions that hold for this taster; the same whatever is in the cups. */
export function CareNotes({ sheet }: { sheet: TasterSheet }) {
  if (sheet.care.length === 0) return null;
  return (
    <section aria-label={say('care_notes')}>
      <ul className="care">
        {sheet.care.map((found) => (
          <li key={found.code}>{found.sentence}</li>
        ))}
      </ul>
    </section>
  );
}

/** What follows an answer: rinsing between cups, the set's own rest after its last one, nothing after the very last. */
function restAfter(
  ask: Ask,
  asks: readonly Ask[],
  answered: ReadonlySet<string>,
  sheet: TasterSheet,
  now: number,
): Rest | null {
  const left = asks.filter((other) => other.key !== ask.key && !answered.has(other.key));
  if (left.length === 0) return null;
  const more = left.some((other) => other.set.set === ask.set.set && other.window_id === ask.window_id);
  const rest = more ? { kind: 'rinse' as const, seconds: sheet.rinse_s } : ask.set.rest;
  return rest && rest.seconds > 0 ? { kind: rest.kind, until: now + rest.seconds * 1_000 } : null;
}

/** Shakes and beeps when something new is to be tasted, but not for what was there when the page opened. */
function usePrompt(key: string | null): void {
  const before = useRef<string | null | undefined>(undefined);
  useEffect(() => {
    if (before.current === null && key !== null) prompt();
    before.current = key;
  }, [key]);
}
