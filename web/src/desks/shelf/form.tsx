import type { Kind } from '@pourline/core';
import type { ReactNode } from 'react';
import { type Draft, useDraft } from '../../replica/index.ts';
import { DraftForm, getAt, problemAt, TextAt } from '../../ui/index.ts';
import { problemSentence, t } from '../../words/index.ts';
import './shelf.css';

interface ShelfFormProps<K extends Kind> {
  kind: K;
  id: string;
  children: (draft: Draft<K>) => ReactNode;
}

/**
 * The editor of one document: its name, its own fields, its notes, and a line that says when it is not saved because
 * something is wrong.
 */
export function ShelfForm<K extends Kind>({ kind, id, children }: ShelfFormProps<K>) {
  const draft = useDraft(kind, id);
  if (!draft) return <p className="quiet-text">{t('shelf.gone')}</p>;
  return (
    <DraftForm draft={draft}>
      <div className="shelf-form">
        <TextAt path={['name']} />
        {children(draft)}
        <TextAt path={['notes']} long />
        {draft.problems.length > 0 && <Unsaved draft={draft} />}
      </div>
    </DraftForm>
  );
}

function Unsaved<K extends Kind>({ draft }: { draft: Draft<K> }) {
  const whole = problemAt(draft.problems, []);
  const lists = draft.problems.filter(
    (problem) => typeof problem.path.at(-1) === 'string' && Array.isArray(getAt(draft.body, problem.path)),
  );
  return (
    <div role="status" className="shelf-unsaved">
      <p>{t('shelf.not_saved')}</p>
      {whole && <p>{whole}</p>}
      {lists.map((problem) => (
        <p key={problem.path.join('/')}>{problemSentence(problem)}</p>
      ))}
    </div>
  );
}

/** A heading over some of the fields. */
export function Part({ title, aside, children }: { title: string; aside?: ReactNode; children: ReactNode }) {
  return (
    <section className="shelf-part">
      <header className="shelf-part-head">
        <h3>{title}</h3>
        {aside}
      </header>
      {children}
    </section>
  );
}
