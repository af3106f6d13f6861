import type { Contest } from '@pourline/core';
import { createDocument, type Draft, useDraft } from '../../../replica/index.ts';
import { Button, DraftForm, Notice } from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';
import { newContest } from '../parts/new-documents.ts';
import type { Run } from '../room/use-run.ts';
import { CheckPanel } from './check-panel.tsx';
import { ChoicesPanel } from './choices-panel.tsx';
import { FactsPanel } from './facts-panel.tsx';
import { MarksPanel } from './marks-panel.tsx';
import { PenaltyPanel } from './penalty-panel.tsx';
import { RulingsPanel } from './rulings-panel.tsx';
import { TimersPanel } from './timers-panel.tsx';

interface RulesPageProps {
  draft: Draft<'talk'>;
  run: Run;
  campaignId: string;
}

/** Rules of the contest as typed, the run held against them, and choices in points. */
export function RulesPage({ draft, run, campaignId }: RulesPageProps) {
  const contest = useDraft('contest', draft.body.contest_id);
  const make = async (): Promise<void> => {
    const made = await createDocument('contest', newContest(t('stage.rules.new_name')), campaignId);
    if (made.ok) draft.change({ ...draft.body, contest_id: made.value.id });
  };
  if (!contest)
    return (
      <div className="page">
        <h2>{t('stage.rules.none')}</h2>
        <p>{t('stage.rules.none_text')}</p>
        <Button look="primary" icon="add" onPress={() => void make()}>
          {t('stage.rules.new')}
        </Button>
      </div>
    );
  return (
    <div className="stage-pair">
      <div className="stage-column">
        <DraftForm draft={contest}>
          {contest.problems.length > 0 && (
            <Notice tone="alert">
              <ul className="plain-list">
                {contest.problems.slice(0, 5).map((problem) => (
                  <li key={`${problem.path.join('/')} ${problem.code}`}>{problemSentence(problem)}</li>
                ))}
              </ul>
            </Notice>
          )}
          <TimersPanel />
          <RulingsPanel draft={contest} />
          <MarksPanel draft={contest} />
          <PenaltyPanel draft={contest} />
        </DraftForm>
        <div className="buttons">
          <Button icon="add" onPress={() => void make()}>
            {t('stage.rules.new')}
          </Button>
        </div>
      </div>
      <div className="stage-column">
        <CheckPanel run={run} />
        <DraftForm draft={draft}>
          <FactsPanel draft={draft} />
          <ChoicesPanel draft={draft} contest={contest.document as Contest} run={run} />
        </DraftForm>
      </div>
    </div>
  );
}
