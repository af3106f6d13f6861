import { compareRuns, timesOf } from '@pourline/core';
import { useEffect, useMemo, useState } from 'react';
import { keepEndedRuns } from '../../../live/keep-run.ts';
import { type Draft, useDocuments, useDraft } from '../../../replica/index.ts';
import { Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import type { Run } from '../room/use-run.ts';
import { DriftPanel } from './drift-panel.tsx';
import { GhostStrip } from './ghost-strip.tsx';
import { LatenessPanel } from './lateness-panel.tsx';
import { OneRun } from './one-run.tsx';
import { PacePanel } from './pace-panel.tsx';
import { RunList } from './run-list.tsx';
import { StartPanel } from './start-panel.tsx';
import './rehearsals.css';

interface RehearsalsPageProps {
  draft: Draft<'talk'>;
  run: Run;
  campaignId: string;
  stale: boolean;
}

/** Rehearsals of a performance: the way into the live view, and what the runs say together. */
export default function RehearsalsPage({ draft, run, campaignId, stale }: RehearsalsPageProps) {
  const talkId = draft.document.id;
  const all = useDocuments('rehearsal');
  const own = useMemo(
    () =>
      all
        .filter(({ talk_id }) => talk_id === talkId)
        .sort((a, b) => Date.parse(a.began_at) - Date.parse(b.began_at)),
    [all, talkId],
  );
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [open, setOpen] = useState<string | null>(null);
  const opened = useDraft('rehearsal', open);
  // Runs that ended while the rest of the app was not there become documents now.
  useEffect(() => void keepEndedRuns().catch(() => {}), []);
  const listed = useMemo(() => own.map(timesOf), [own]);
  const numbers = useMemo(() => new Map(own.map(({ id }, i) => [id, i + 1])), [own]);
  const chosen = useMemo(() => own.filter(({ id }) => !left.has(id)), [own, left]);
  const compared = useMemo(() => compareRuns(chosen), [chosen]);
  return (
    <div className="rehearsals">
      <div className="stage-pair">
        <div className="stage-column">
          <StartPanel run={run} campaignId={campaignId} count={own.length} stale={stale} />
          <PacePanel
            pace={compared.pace}
            talk={draft.document}
            onUse={(rate) => draft.change({ ...draft.body, rate })}
          />
        </div>
        <div className="stage-column">
          <RunList
            runs={listed}
            numbers={numbers}
            chosen={new Set(chosen.map(({ id }) => id))}
            onChoose={(id, on) =>
              setLeft((now) => {
                const next = new Set(now);
                if (on) next.delete(id);
                else next.add(id);
                return next;
              })
            }
            open={open}
            onOpen={(id) => setOpen((now) => (now === id ? null : id))}
          />
          {opened && <OneRun draft={opened} onGone={() => setOpen(null)} />}
        </div>
      </div>
      {chosen.length > 0 && (
        <>
          <Panel title={t('rehearsal.ghosts')}>
            <GhostStrip runs={compared.runs.slice(-8)} numbers={numbers} />
          </Panel>
          <div className="stage-pair">
            <div className="stage-column">
              <LatenessPanel compared={compared} numbers={numbers} />
            </div>
            <div className="stage-column">
              <DriftPanel compared={compared} />
            </div>
          </div>
        </>
      )}
    </div>
  );
}
