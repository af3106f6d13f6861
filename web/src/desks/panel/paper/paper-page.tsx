import { pourSheetOf, type SessionPlan, type Tasting } from '@pourline/core';
import { useMemo, useState } from 'react';
import { createPortal } from 'react-dom';
import type { Draft } from '../../../replica/index.ts';
import { Button, CheckInput, Choice, Panel } from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { numbered } from '../parts/numbered.ts';
import { Ballots } from './ballots.tsx';
import { designOf, drawSeeds, paperPlan, type Typed } from './paper-kernels.ts';
import { CodeLabels, PourPages } from './pour-pages.tsx';
import { TypedAnswers } from './typed-answers.tsx';
import './paper.css';

const PAPERS = ['a4', 'letter'] as const;

/** A panel on paper: ballots, pour sheet and labels in print; answers typed in afterwards. Codes stay in this browser until the session is kept. */
export function PaperPage({ draft }: { draft: Draft<'tasting'> }) {
  const tasting = draft.document;
  const first = useMemo<Typed>(
    () => ({
      started: false,
      seeds: drawSeeds(),
      names: {},
      answers: {},
      opened_at: new Date().toISOString(),
    }),
    [],
  );
  const [typed, type] = useKept<Typed>(`desk.panel.paper.${tasting.id}`, first);
  if (tasting.run !== null) return <p className="panel-lead">{t('panel.paper.was_run')}</p>;
  return typed.started ? (
    <Started draft={draft} typed={typed} type={type} />
  ) : (
    <Panel title={t('panel.paper.title')}>
      <p>{t('panel.paper.text')}</p>
      <div className="buttons">
        <Button
          look="primary"
          onPress={() => type({ ...first, started: true, opened_at: new Date().toISOString() })}
        >
          {t('panel.paper.start')}
        </Button>
      </div>
    </Panel>
  );
}

interface StartedProps {
  draft: Draft<'tasting'>;
  typed: Typed;
  type: (part: Partial<Typed>) => void;
}

function Started({ draft, typed, type }: StartedProps) {
  const tasting = draft.document;
  const design = useMemo(() => designOf(tasting), [tasting]);
  const plan = useMemo(() => paperPlan(design, typed.seeds), [design, typed.seeds]);
  if (!plan.ok)
    return (
      <ul className="panel-problems">
        {numbered(plan.problems).map(({ at, of }) => (
          <li key={at}>{problemSentence(of)}</li>
        ))}
      </ul>
    );
  return (
    <>
      <Printing tasting={tasting} plan={plan.value} names={typed.names} />
      <TypedAnswers draft={draft} design={design} plan={plan.value} typed={typed} type={type} />
    </>
  );
}

interface PrintingProps {
  tasting: Tasting;
  plan: SessionPlan;
  names: Readonly<Record<string, string>>;
}

function Printing({ tasting, plan, names }: PrintingProps) {
  const [wanted, want] = useKept('desk.panel.print', {
    paper: 'a4',
    ballots: true,
    pour: false,
    labels: false,
  });
  const [shown, show] = useState(false);
  const paper = PAPERS.find((p) => p === wanted.paper) ?? 'a4';
  const named = new Map(Object.entries(names).map(([seat, name]) => [Number(seat), { name }]));
  const pages = (
    <div className={`ballot-paper ballot-paper-${paper}`}>
      {wanted.ballots && <Ballots tasting={tasting} plan={plan} names={names} />}
      {wanted.pour && <PourPages tasting={tasting} lines={pourSheetOf(designOf(tasting), plan, named)} />}
      {wanted.labels && <CodeLabels plan={plan} />}
    </div>
  );
  return (
    <Panel title={t('panel.paper.print_title')}>
      <div className="paper-tools">
        <Choice
          label={t('panel.paper.size')}
          value={paper}
          options={PAPERS.map((value) => ({ value, label: t(`panel.paper.size.${value}`) }))}
          onChange={(next) => want({ paper: next })}
        />
        <CheckInput
          label={t('panel.paper.ballots')}
          value={wanted.ballots}
          onChange={(ballots) => want({ ballots })}
        />
        <CheckInput label={t('panel.paper.pour')} value={wanted.pour} onChange={(pour) => want({ pour })} />
        <CheckInput
          label={t('panel.paper.labels')}
          value={wanted.labels}
          onChange={(labels) => want({ labels })}
        />
        <div className="buttons">
          <Button onPress={() => show(!shown)}>{t(shown ? 'panel.paper.hide' : 'panel.paper.show')}</Button>
          <Button look="primary" icon="export" onPress={() => print()}>
            {t('panel.paper.print')}
          </Button>
        </div>
      </div>
      {wanted.pour && <p className="quiet-text">{t('panel.pour.warning_paper')}</p>}
      {shown && (
        <section className="ballot-preview" aria-label={t('panel.paper.preview')}>
          {pages}
        </section>
      )}
      {createPortal(<div className="ballot-root">{pages}</div>, document.body)}
    </Panel>
  );
}
