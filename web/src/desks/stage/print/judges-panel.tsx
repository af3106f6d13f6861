import { useRef } from 'react';
import type { Draft } from '../../../replica/index.ts';
import { Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import type { Run } from '../room/use-run.ts';
import { SpokenLine } from '../talk/spoken-line.tsx';
import { ValueMenu } from '../talk/value-menu.tsx';

/** The words of the judges' card. */
export function JudgesPanel({ draft, run }: { draft: Draft<'talk'>; run: Run }) {
  const { body } = draft;
  const area = useRef<HTMLTextAreaElement>(null);
  const set = (judges_card: string): void => draft.change({ ...body, judges_card });
  const insert = (reference: string): void => {
    const at = area.current?.selectionStart ?? body.judges_card.length;
    set(`${body.judges_card.slice(0, at)}${reference}${body.judges_card.slice(at)}`);
    area.current?.focus();
  };
  return (
    <Panel title={t('stage.judges.title')}>
      <p className="quiet-text">{t('stage.judges.text')}</p>
      <textarea
        ref={area}
        className="stage-piece-text"
        rows={6}
        aria-label={t('stage.judges.words')}
        value={body.judges_card}
        onChange={(event) => set(event.target.value)}
      />
      {run.placed.output && <SpokenLine spoken={run.placed.output.card} />}
      <div className="buttons">
        <ValueMenu values={run.plan.output?.values ?? []} onChoose={insert} />
      </div>
    </Panel>
  );
}
