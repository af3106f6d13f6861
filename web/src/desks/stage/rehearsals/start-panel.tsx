import { type LiveRun, runOfTalk } from '@pourline/core';
import { useEffect, useMemo, useState } from 'react';
import { keepRun, openLog, unfinishedRuns } from '../../../live/keep-run.ts';
import { liveHref, prepareRun, USUAL_SETTINGS } from '../../../live/prepare-run.ts';
import type { StoredRun } from '../../../live/store/db.ts';
import { Button, Panel } from '../../../ui/index.ts';
import { formatMoment, t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import type { Run } from '../room/use-run.ts';

interface StartPanelProps {
  run: Run;
  campaignId: string;
  /** Rehearsals there are, for the name of the next. */
  count: number;
  stale: boolean;
}

/** Everything is ready, or why not; and the way into the live view. */
export function StartPanel({ run, campaignId, count, stale }: StartPanelProps) {
  const { talk, contest, plan, placed } = run;
  const prepared = useMemo(
    () => (plan.output && placed.output ? runOfTalk(talk, plan.output, placed.output, contest) : null),
    [talk, plan.output, placed.output, contest],
  );
  const [trouble, setTrouble] = useState<string | null>(null);
  const go = async (ready: LiveRun): Promise<void> => {
    try {
      const name = t('rehearsal.name', { talk: talk.name, number: count + 1 }).slice(0, 120);
      const about = { campaign_id: campaignId, talk_id: talk.id, plan_id: talk.plan_id, name };
      location.hash = liveHref(await prepareRun(ready, about, USUAL_SETTINGS));
    } catch (reason) {
      setTrouble(
        t('live.cannot_open', { detail: reason instanceof Error ? reason.message : String(reason) }),
      );
    }
  };
  return (
    <Panel title={t('rehearsal.start')}>
      <p>{t('rehearsal.start_text')}</p>
      {prepared ? (
        <RemarkList remarks={prepared.remarks} />
      ) : (
        <p className="quiet-text">{t('common.loading')}</p>
      )}
      {trouble && (
        <p className="field-problem" role="alert">
          {trouble}
        </p>
      )}
      <div className="buttons">
        <Button
          look="primary"
          isDisabled={!prepared?.run || stale}
          onPress={() => prepared?.run && void go(prepared.run)}
        >
          {t('rehearsal.follow')}
        </Button>
      </div>
      <Unfinished talkId={talk.id} />
    </Panel>
  );
}

/** Runs of this talk that wait in this browser: to be begun, gone on with, kept as they stand, or thrown away. */
function Unfinished({ talkId }: { talkId: string }) {
  const [runs, setRuns] = useState<readonly { stored: StoredRun; phase: string }[]>([]);
  const [asked, setAsked] = useState(0);
  useEffect(() => {
    let gone = false;
    const ask = asked;
    unfinishedRuns()
      .then((found) => !gone && ask >= 0 && setRuns(found.filter(({ stored }) => stored.talk_id === talkId)))
      .catch(() => !gone && setRuns([]));
    return () => {
      gone = true;
    };
  }, [talkId, asked]);
  const settle = async (run_id: string, how: 'keep' | 'drop'): Promise<void> => {
    if (how === 'keep') await keepRun(run_id);
    else await (await openLog()).close(run_id, 'dropped');
    setAsked((n) => n + 1);
  };
  if (runs.length === 0) return null;
  return (
    <ul className="rehearsal-waiting">
      {runs.map(({ stored, phase }) => (
        <li key={stored.run_id}>
          <span>
            {t(phase === 'running' ? 'rehearsal.under_way' : 'rehearsal.prepared', {
              name: stored.name,
              at: formatMoment(stored.prepared_at),
            })}
          </span>
          <span className="buttons">
            <Button onPress={() => (location.hash = liveHref(stored.run_id))}>
              {t(phase === 'running' ? 'rehearsal.go_on' : 'rehearsal.begin')}
            </Button>
            {phase === 'running' ? (
              <Button look="quiet" onPress={() => void settle(stored.run_id, 'keep')}>
                {t('rehearsal.keep')}
              </Button>
            ) : (
              <Button look="quiet" onPress={() => void settle(stored.run_id, 'drop')}>
                {t('rehearsal.drop')}
              </Button>
            )}
          </span>
        </li>
      ))}
    </ul>
  );
}
