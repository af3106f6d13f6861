import type { Tasting } from '@pourline/core';
import { lazy, Suspense } from 'react';
import { archiveDocument, createDocument, useDocuments, useDraft } from '../../../replica/index.ts';
import { go, hrefOf } from '../../../shell/route.ts';
import { Button, Menu, SelectInput } from '../../../ui/index.ts';
import { formatMoment, t } from '../../../words/index.ts';
import { ResultsPage } from '../results/results-page.tsx';
import { DesignPage } from './design-page.tsx';
import { methodOf } from './methods.ts';
import { RunPage } from './run-page.tsx';

/** Steps of one session. */
const STEPS = ['design', 'run', 'results', 'paper'] as const;
type Step = (typeof STEPS)[number];
const isStep = (value: string | undefined): value is Step => STEPS.some((step) => step === value);

const PaperPage = lazy(async () => ({ default: (await import('../paper/paper-page.tsx')).PaperPage }));

interface SessionsPageProps {
  campaignId: string;
  chosen: string | undefined;
  step: string | undefined;
}

/** Sessions of the campaign, and the one in view: set out, run, read. */
export function SessionsPage({ campaignId, chosen, step }: SessionsPageProps) {
  const tastings = useDocuments('tasting');
  const tasting = tastings.find(({ id }) => id === chosen) ?? newest(tastings);
  const make = async (): Promise<void> => {
    const samples = [
      { id: 'c1', name: t('panel.design.new_sample', { number: 1 }) },
      { id: 'c2', name: t('panel.design.new_sample', { number: 2 }) },
    ];
    const made = await createDocument(
      'tasting',
      {
        name: t('panel.session.new_name', { number: tastings.length + 1 }),
        method: methodOf('triangle', samples),
        samples,
      },
      campaignId,
    );
    if (made.ok) go('panel', 'sessions', made.value.id, 'design');
  };
  if (!tasting)
    return (
      <div className="panel-stack panel-lead">
        <h2>{t('panel.session.none')}</h2>
        <p>{t('panel.session.none_text')}</p>
        <div className="buttons">
          <Button look="primary" icon="add" onPress={() => void make()}>
            {t('panel.session.new')}
          </Button>
        </div>
      </div>
    );
  return (
    <div className="panel-stack">
      <div className="session-bar">
        <SelectInput
          label={t('panel.session.choice')}
          value={tasting.id}
          options={tastings.map((one) => ({ value: one.id, label: one.name, detail: whenOf(one) }))}
          onChange={(id) => go('panel', 'sessions', id)}
        />
        <div className="buttons">
          <Button icon="add" onPress={() => void make()}>
            {t('panel.session.new')}
          </Button>
          <SessionMenu tasting={tasting} campaignId={campaignId} />
        </div>
      </div>
      <Session
        key={tasting.id}
        id={tasting.id}
        step={isStep(step) ? step : tasting.run ? 'results' : 'design'}
      />
    </div>
  );
}

const whenOf = ({ run }: Tasting): string => (run ? formatMoment(run.closed_at) : t('panel.session.not_run'));

/** The one that was closed last, else any. */
const newest = (tastings: readonly Tasting[]): Tasting | undefined =>
  [...tastings].sort((a, b) => (b.run?.closed_at ?? '').localeCompare(a.run?.closed_at ?? ''))[0];

/** The same session once more, not run yet. */
async function again(tasting: Tasting, campaignId: string): Promise<void> {
  const { kind: _, version: __, id: ___, campaign_id: ____, run: _____, ...body } = tasting;
  const name = t('common.copy_of', { name: tasting.name }).slice(0, 120);
  const made = await createDocument('tasting', { ...body, name, run: null }, campaignId);
  if (made.ok) go('panel', 'sessions', made.value.id, 'design');
}

function SessionMenu({ tasting, campaignId }: { tasting: Tasting; campaignId: string }) {
  return (
    <Menu
      label={t('panel.session.more')}
      trigger={<Button look="quiet">{t('panel.session.more')}</Button>}
      entries={[
        {
          key: 'copy',
          icon: 'copy',
          label: t('common.duplicate'),
          onChoose: () => void again(tasting, campaignId),
        },
        {
          key: 'archive',
          icon: 'archive',
          label: t('common.archive'),
          onChoose: () => void archiveDocument(tasting.id).then(() => go('panel', 'sessions')),
        },
      ]}
    />
  );
}

function Session({ id, step }: { id: string; step: Step }) {
  const draft = useDraft('tasting', id);
  if (!draft) return null;
  const tasting = draft.document;
  return (
    <>
      <nav className="session-steps" aria-label={t('panel.session.steps')}>
        {STEPS.map((entry) => (
          <a
            key={entry}
            className="session-step"
            href={hrefOf('panel', 'sessions', id, entry)}
            aria-current={entry === step ? 'step' : undefined}
          >
            {t(`panel.step.${entry}`)}
          </a>
        ))}
      </nav>
      {step === 'design' && <DesignPage draft={draft} />}
      {step === 'run' && (
        <RunPage tasting={tasting} onResults={() => go('panel', 'sessions', id, 'results')} />
      )}
      {step === 'results' && <ResultsPage tasting={tasting} />}
      {step === 'paper' && (
        <Suspense fallback={<p className="quiet-text">{t('common.loading')}</p>}>
          <PaperPage draft={draft} />
        </Suspense>
      )}
    </>
  );
}
