import type { Description } from '@pourline/core';
import { useMemo } from 'react';
import { createDocument, useDocument, useDocuments, useDraft, useLookup } from '../../../replica/index.ts';
import { go } from '../../../shell/route.ts';
import { Button, DraftForm, Panel, SelectInput, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { FindingList } from '../parts/finding-list.tsx';
import { useDescribed } from '../room/use-panel.ts';
import { AgainstTable } from './against-table.tsx';
import { Candidates } from './candidates.tsx';
import { priceOf, questionOf, sourcesOf, windowNames } from './describe-kernels.ts';
import { IntoTalk } from './into-talk.tsx';
import { OffsetsPanel } from './offsets-panel.tsx';
import { PointsPanel } from './points-panel.tsx';
import { Proposals } from './proposals.tsx';
import { SaidPanel } from './said-panel.tsx';
import { SourcesPanel } from './sources-panel.tsx';
import { Worth } from './worth.tsx';

interface DescribePageProps {
  campaignId: string;
  chosen: string | undefined;
}

/** What do I say, and will the judges find it? */
export function DescribePage({ campaignId, chosen }: DescribePageProps) {
  const descriptions = useDocuments('description');
  const tastings = useDocuments('tasting');
  const description = descriptions.find(({ id }) => id === chosen) ?? descriptions[0];
  const make = async (): Promise<void> => {
    const source = tastings.find(({ run }) => run?.method.test === 'descriptors');
    const sample = source?.run?.samples[0];
    const made = await createDocument(
      'description',
      {
        name: t('panel.describe.new_name', { number: descriptions.length + 1 }),
        sources: source && sample ? [{ tasting_id: source.id, sample_id: sample.id }] : [],
      },
      campaignId,
    );
    if (made.ok) go('panel', 'words', made.value.id);
  };
  if (!description)
    return (
      <div className="panel-stack panel-lead">
        <h2>{t('panel.describe.none')}</h2>
        <p>{t('panel.describe.none_text')}</p>
        <div className="buttons">
          <Button look="primary" icon="add" onPress={() => void make()}>
            {t('panel.describe.new')}
          </Button>
        </div>
      </div>
    );
  return (
    <div className="panel-stack">
      <div className="session-bar">
        <SelectInput
          label={t('panel.describe.choice')}
          value={description.id}
          options={descriptions.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={(id) => go('panel', 'words', id)}
        />
        <div className="buttons">
          <Button icon="add" onPress={() => void make()}>
            {t('panel.describe.new')}
          </Button>
        </div>
      </div>
      <Weighed key={description.id} id={description.id} />
    </div>
  );
}

function Weighed({ id }: { id: string }) {
  const draft = useDraft('description', id);
  const lookup = useLookup();
  const description: Description | null = draft?.document ?? null;
  const contest = useDocument('contest', description?.contest_id ?? null);
  const question = useMemo(
    () => (description ? questionOf(description, lookup, contest) : null),
    [description, lookup, contest],
  );
  const { output, stale } = useDescribed(question);
  if (!draft || !description) return null;
  const sources = sourcesOf(description, lookup);
  const windows = windowNames(sources);
  const price = priceOf(description, contest);
  return (
    <DraftForm draft={draft}>
      <div className="panel-two panel-two-even">
        <div className="panel-column">
          <Panel title={t('panel.describe.said')}>
            <TextAt path={['name']} />
            <SaidPanel draft={draft} windows={windows} sources={sources} />
          </Panel>
          <SourcesPanel draft={draft} sources={sources} />
          <PointsPanel draft={draft} contest={contest} price={price} />
          <OffsetsPanel draft={draft} sources={sources} />
        </div>
        <div className="panel-column" data-stale={stale || undefined}>
          {output && (
            <>
              <Panel title={t('panel.describe.worth')}>
                <Worth proposal={output.proposal} price={price} contest={contest} />
              </Panel>
              <Panel title={t('panel.describe.proposal')}>
                <Proposals draft={draft} proposal={output.proposal} />
              </Panel>
              <Panel title={t('panel.describe.reasons')}>
                <FindingList findings={output.proposal.findings} live />
              </Panel>
              <Panel title={t('panel.describe.against')}>
                <AgainstTable rows={output.said_against} />
              </Panel>
              <Panel title={t('panel.describe.found')}>
                <Candidates draft={draft} windows={output.windows} />
              </Panel>
              <IntoTalk description={description} proposal={output.proposal} sources={sources} />
            </>
          )}
        </div>
      </div>
    </DraftForm>
  );
}
