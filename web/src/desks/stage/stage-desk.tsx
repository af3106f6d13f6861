import type { Talk } from '@pourline/core';
import { lazy, Suspense, useEffect, useRef } from 'react';
import { createDocument, useDocuments, useDraft } from '../../replica/index.ts';
import { go, hrefOf } from '../../shell/route.ts';
import { Button, DraftForm } from '../../ui/index.ts';
import { t } from '../../words/index.ts';
import { GramsPage } from './grams/grams-page.tsx';
import { OverrunPage } from './overrun/overrun-page.tsx';
import { newRun } from './parts/new-documents.ts';
import { RunBar } from './parts/run-bar.tsx';
import { Standing } from './parts/standing.tsx';
import { rememberRun, useRunChoice } from './parts/use-run-choice.ts';
import { useRun } from './room/use-run.ts';
import { RulesPage } from './rules/rules-page.tsx';
import { SchedulePage } from './schedule/schedule-page.tsx';
import { TalkPage } from './talk/talk-page.tsx';
import './style/index.css';

/** Pages of the desk, in the order of the work. */
const PAGES = ['schedule', 'talk', 'rules', 'rehearsals', 'overrun', 'print', 'grams'] as const;
type Page = (typeof PAGES)[number];

const isPage = (value: string | undefined): value is Page => PAGES.some((page) => page === value);

/** Fetched when it is first needed: paper is for another moment than planning. */
const PrintPage = lazy(async () => ({ default: (await import('./print/print-page.tsx')).PrintPage }));

const RehearsalsPage = lazy(() => import('./rehearsals/rehearsals-page.tsx'));

interface StageDeskProps {
  campaignId: string;
  rest: readonly string[];
}

/** The desk of the stage: can I say and do all this in time, truly? */
export default function StageDesk({ campaignId, rest }: StageDeskProps) {
  const page = isPage(rest[0]) ? rest[0] : 'schedule';
  const { runId, runs } = useRunChoice(rest[1]);
  const plans = useDocuments('plan');
  const contests = useDocuments('contest');
  const choose = (id: string): void => {
    rememberRun(id);
    go('stage', page, id);
  };
  const make = async (): Promise<void> => {
    const plan = plans[0];
    if (!plan) return;
    const name = t('stage.new_name', { number: runs.length + 1 });
    const made = await createDocument('talk', newRun(name, plan.id, contests[0]?.id ?? null), campaignId);
    if (made.ok) choose(made.value.id);
  };
  const pages = useRef<HTMLElement>(null);
  // On a phone the row of pages scrolls; the one that is open stays in view.
  useEffect(() => {
    const open = page && pages.current?.querySelector('[aria-current]');
    open?.scrollIntoView({ block: 'nearest', inline: 'center' });
  }, [page]);
  return (
    <div className="stage">
      <h1 className="visually-hidden">{t('stage.title')}</h1>
      <nav className="stage-pages" aria-label={t('stage.title')} ref={pages}>
        {PAGES.map((entry) => (
          <a
            key={entry}
            className="stage-page"
            href={runId !== null ? hrefOf('stage', entry, runId) : hrefOf('stage', entry)}
            aria-current={entry === page ? 'page' : undefined}
          >
            {t(`stage.page.${entry}`)}
          </a>
        ))}
      </nav>
      {page === 'grams' ? (
        <GramsPage campaignId={campaignId} />
      ) : runId === null ? (
        <NoRun onNew={() => void make()} possible={plans.length > 0} />
      ) : (
        <RunPages
          key={runId}
          page={page}
          runId={runId}
          runs={runs}
          campaignId={campaignId}
          choose={choose}
          onNew={() => void make()}
        />
      )}
    </div>
  );
}

interface RunPagesProps {
  page: Exclude<Page, 'grams'>;
  runId: string;
  runs: readonly Talk[];
  campaignId: string;
  choose: (id: string) => void;
  onNew: () => void;
}

/** The pages about one run. */
function RunPages(props: RunPagesProps) {
  const draft = useDraft('talk', props.runId);
  if (!draft) return null;
  return <OpenRun {...props} draft={draft} />;
}

type Opened = RunPagesProps & { draft: NonNullable<ReturnType<typeof useDraft<'talk'>>> };

function OpenRun({ page, runs, campaignId, choose, onNew, draft }: Opened) {
  const run = useRun(draft.document);
  const stale = run.plan.stale || draft.problems.length > 0;
  return (
    <DraftForm draft={draft}>
      <RunBar draft={draft} runs={runs} choose={choose} onNew={onNew} />
      <Standing typed={draft.problems} run={run} />
      {page === 'schedule' && <SchedulePage draft={draft} run={run} stale={stale} />}
      {page === 'talk' && <TalkPage draft={draft} run={run} stale={stale || run.placed.stale} />}
      {page === 'rules' && <RulesPage draft={draft} run={run} campaignId={campaignId} />}
      {page === 'rehearsals' && (
        <Suspense fallback={<p className="quiet-text">{t('common.loading')}</p>}>
          <RehearsalsPage draft={draft} run={run} campaignId={campaignId} stale={stale} />
        </Suspense>
      )}
      {page === 'overrun' && <OverrunPage draft={draft} run={run} />}
      {page === 'print' && (
        <Suspense fallback={<p className="quiet-text">{t('common.loading')}</p>}>
          <PrintPage draft={draft} run={run} />
        </Suspense>
      )}
    </DraftForm>
  );
}

/** Shown while a campaign holds no run. */
function NoRun({ onNew, possible }: { onNew: () => void; possible: boolean }) {
  return (
    <div className="page">
      <h2>{t('stage.none')}</h2>
      <p>{t(possible ? 'stage.none_text' : 'stage.no_plan')}</p>
      {possible && (
        <Button look="primary" icon="add" onPress={onNew}>
          {t('stage.new_run')}
        </Button>
      )}
    </div>
  );
}
