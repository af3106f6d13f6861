import type { Sizing } from '@pourline/core';
import { archiveDocument, type Draft, duplicateDocument, useDraft } from '../../../replica/index.ts';
import { go } from '../../../shell/route.ts';
import { DraftForm, IconButton, Notice, Panel, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { GrainSheet } from '../picture/grain-sheet.tsx';
import type { Known } from '../room/analyst.ts';
import { Circumstances } from './circumstances.tsx';
import { FigureTable } from './figure-table.tsx';
import { FitPanel } from './fit-panel.tsx';
import { IntoGrinder } from './into-grinder.tsx';
import { SieveForm } from './sieve-form.tsx';
import { TableView } from './table-view.tsx';

/** One measurement: its figures, what was measured, and how. */
export function SizingEditor({ id, known }: { id: string; known: Known | undefined }) {
  const draft = useDraft('sizing', id);
  if (!draft) return <p className="quiet-text">{t('grind.sizing.gone')}</p>;
  const analysis = known?.analysis ?? null;
  return (
    <DraftForm draft={draft}>
      <article className="grind-editor">
        <Head draft={draft} />
        {draft.problems.length > 0 && <Notice tone="alert">{t('grind.sizing.not_saved')}</Notice>}
        <div className="grind-pair">
          <Panel title={t('grind.sizing.figures')}>
            <div data-stale={known?.stale || undefined} className="grind-stack">
              {analysis ? (
                <FigureTable analysis={analysis} spread={known?.spread === true} />
              ) : (
                <p className="quiet-text">{t(known ? 'grind.sizing.no_figures' : 'common.loading')}</p>
              )}
              <RemarkList remarks={known?.remarks ?? []} />
            </div>
          </Panel>
          <div className="grind-column">
            <Panel title={t(`grind.by.${draft.document.data.by}`)}>
              <Raw draft={draft} />
            </Panel>
            <Panel title={t('grind.sizing.circumstances')}>
              <Circumstances draft={draft} />
            </Panel>
            <Panel title={t('grind.sizing.fit')} fold="closed">
              <FitPanel analysis={analysis} />
            </Panel>
            {analysis && draft.document.grinder_id && (
              <Panel title={t('grind.into.title')} fold="closed">
                <IntoGrinder sizing={draft.document} analysis={analysis} />
              </Panel>
            )}
            <TextAt path={['notes']} long />
          </div>
        </div>
      </article>
    </DraftForm>
  );
}

/** The raw data as they were entered. Figures may be anything that was typed; the kind of data never changes. */
function Raw({ draft }: { draft: Draft<'sizing'> }) {
  const data: Sizing['data'] = draft.body.data;
  if (data.by === 'sieves') return <SieveForm draft={draft} data={data} />;
  if (data.by === 'table') return <TableView data={data} />;
  return <GrainSheet draft={draft} data={data} />;
}

function Head({ draft }: { draft: Draft<'sizing'> }) {
  const { id, name } = draft.document;
  const copy = async (): Promise<void> => {
    const made = await duplicateDocument(id, t('common.copy_of', { name }));
    if (made) go('grind', 'sizes', made.id);
  };
  const archive = async (): Promise<void> => {
    await archiveDocument(id);
    go('grind', 'sizes');
  };
  return (
    <header className="grind-head">
      <TextAt path={['name']} />
      <div className="buttons">
        <IconButton icon="undo" label={t('common.undo')} onPress={draft.undo} isDisabled={!draft.canUndo} />
        <IconButton icon="redo" label={t('common.redo')} onPress={draft.redo} isDisabled={!draft.canRedo} />
        <IconButton icon="copy" label={t('common.duplicate')} onPress={() => void copy()} />
        <IconButton icon="archive" label={t('common.archive')} onPress={() => void archive()} />
      </div>
    </header>
  );
}
