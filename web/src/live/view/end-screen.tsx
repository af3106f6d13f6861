import { timesOf } from '@pourline/core';
import { useEffect, useMemo, useState } from 'react';
import { formatClock, formatNumber, formatWithUnit, t } from '../../words/index.ts';
import { rehearsalOfRun } from '../kernels/rehearsal-of-run.ts';
import type { LiveRunner } from '../run/live-runner.ts';
import type { RunLog } from '../store/run-log.ts';
import { cueName } from './cue-words.ts';
import { PressNow } from './press-now.tsx';
import { useRunView } from './use-runner.ts';

interface EndScreenProps {
  runner: LiveRunner;
  log: RunLog;
  /** The rest of the app; rejected when it could not be opened. */
  rest: Promise<unknown>;
}

type Kept = { stands: 'keeping' } | { stands: 'kept' } | { stands: 'here'; detail: string };

/** After the run: how it went, and that it is kept. An end that came by mistake is taken back here. */
export function EndScreen({ runner, log, rest }: EndScreenProps) {
  const { events } = useRunView(runner);
  const kept = useKept(runner, rest);
  const made = useMemo(() => rehearsalOfRun(runner.stored, events, []), [runner, events]);
  const times = made.ok ? timesOf(made.value) : null;
  const over = times?.over_s ?? null;
  const goOn = async (at: number): Promise<void> => {
    await log.reopen(runner.stored.run_id);
    await runner.undo(at);
  };
  return (
    <div className="live-end">
      <h1>{runner.stored.name || runner.stored.run.title}</h1>
      {times && (
        <>
          <p className="live-total">
            {times.ended_s === null ? t('live.end.stopped') : formatClock(times.ended_s, 1)}
          </p>
          {over !== null && (
            <p className="live-verdict" data-tone={over > 0 ? 'alert' : 'good'}>
              {over > 0
                ? t('live.end.over', { over: formatNumber(over, 1), limit: formatClock(times.limit_s) })
                : t('live.end.within', { spare: formatNumber(-over, 1), limit: formatClock(times.limit_s) })}
            </p>
          )}
        </>
      )}
      <p className="live-kept" role="status" data-kept={kept.stands}>
        {kept.stands === 'here' ? t('live.end.here', { detail: kept.detail }) : t(`live.end.${kept.stands}`)}
      </p>
      <div className="live-end-keys">
        <a className="live-key" href="#/stage/rehearsals">
          {t('live.end.look')}
        </a>
        <PressNow className="live-key" onPress={(at) => void goOn(at)} data-key="go-on">
          {t('live.end.go_on')}
        </PressNow>
      </div>
      {times && (
        <div className="live-table">
          <table>
            <caption className="visually-hidden">{t('live.end.laps')}</caption>
            <thead>
              <tr>
                <th scope="col">{t('live.end.what')}</th>
                <th scope="col">{t('live.end.planned')}</th>
                <th scope="col">{t('live.end.began')}</th>
                <th scope="col">{t('live.end.late')}</th>
              </tr>
            </thead>
            <tbody>
              {times.cues.map(({ cue, planned_s, began_s, late_s, skipped }) => (
                <tr key={cue.id}>
                  <th scope="row">{cueName(cue, runner.stored.run.cues)}</th>
                  <td>{formatClock(planned_s)}</td>
                  <td>{skipped ? t('live.end.left_out') : formatClock(began_s, 1)}</td>
                  <td>
                    {late_s === null ? '–' : `${late_s > 0 ? '+' : ''}${formatWithUnit(late_s, 's', 1)}`}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </div>
  );
}

/** Turns the run into a document as soon as the rest of the app is there; without it, it stays safe in the log. */
function useKept(runner: LiveRunner, rest: Promise<unknown>): Kept {
  const [kept, setKept] = useState<Kept>({ stands: 'keeping' });
  const { events } = useRunView(runner);
  const count = events.length;
  useEffect(() => {
    let gone = false;
    // Once more when something has been added: an end that was taken back and came again.
    const keep = async (added: number): Promise<void> => {
      await runner.recorded;
      await rest;
      const { keepRun } = await import('../keep-run.ts');
      await keepRun(runner.stored.run_id);
      if (!gone && added > 0) setKept({ stands: 'kept' });
    };
    keep(count).catch((reason: unknown) => {
      if (!gone)
        setKept({ stands: 'here', detail: reason instanceof Error ? reason.message : String(reason) });
    });
    return () => {
      gone = true;
    };
  }, [runner, rest, count]);
  return kept;
}
