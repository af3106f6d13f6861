import type { Talk } from '@pourline/core';
import { useEffect, useState } from 'react';
import { archiveDocument, type Draft, duplicateDocument, useDocuments } from '../../../replica/index.ts';
import { Button, Dialog, IconButton, Menu, OptionAt, SelectInput, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';

interface RunBarProps {
  draft: Draft<'talk'>;
  runs: readonly Talk[];
  choose: (id: string) => void;
  onNew: () => void;
}

/** Which run is on the desk, what it brews, by whose rules and where. */
export function RunBar({ draft, runs, choose, onNew }: RunBarProps) {
  const run = draft.document;
  const [naming, setNaming] = useState(false);
  const plans = useDocuments('plan');
  useUndoKeys(draft);
  const duplicate = async (): Promise<void> => {
    const copy = await duplicateDocument(run.id, t('common.copy_of', { name: run.name }));
    if (copy) choose(copy.id);
  };
  const archive = async (): Promise<void> => {
    const next = runs.find(({ id }) => id !== run.id);
    await archiveDocument(run.id);
    if (next) choose(next.id);
  };
  const options = (list: readonly { id: string; name: string }[]) =>
    list.map(({ id, name }) => ({ value: id, label: name }));
  return (
    <div className="stage-bar">
      <SelectInput label={t('stage.run')} value={run.id} options={options(runs)} onChange={choose} />
      <OptionAt path={['plan_id']} label={t('stage.plan')} options={options(plans)} />
      <IdOrNone
        draft={draft}
        field="contest_id"
        kind="contest"
        label={t('stage.contest')}
        none={t('stage.no_contest')}
      />
      <IdOrNone
        draft={draft}
        field="venue_id"
        kind="venue"
        label={t('stage.venue')}
        none={t('stage.plan_venue')}
      />
      <div className="stage-actions">
        <IconButton icon="undo" label={t('common.undo')} onPress={draft.undo} isDisabled={!draft.canUndo} />
        <IconButton icon="redo" label={t('common.redo')} onPress={draft.redo} isDisabled={!draft.canRedo} />
        <Menu
          label={t('stage.menu')}
          trigger={<IconButton icon="more" label={t('stage.menu')} />}
          entries={[
            { key: 'rename', label: t('stage.rename'), onChoose: () => setNaming(true) },
            { key: 'new', label: t('stage.new_run'), icon: 'add', onChoose: onNew },
            {
              key: 'duplicate',
              label: t('common.duplicate'),
              icon: 'copy',
              onChoose: () => void duplicate(),
            },
            { key: 'archive', label: t('common.archive'), icon: 'archive', onChoose: () => void archive() },
          ]}
        />
      </div>
      <Dialog
        open={naming}
        onClose={() => setNaming(false)}
        title={t('stage.rename')}
        actions={
          <Button look="primary" onPress={() => setNaming(false)}>
            {t('common.done')}
          </Button>
        }
      >
        <TextAt path={['name']} />
        <TextAt path={['notes']} long />
      </Dialog>
    </div>
  );
}

interface IdOrNoneProps {
  draft: Draft<'talk'>;
  field: 'contest_id' | 'venue_id';
  kind: 'contest' | 'venue';
  label: string;
  none: string;
}

const NONE = 'none';

/** One of the documents of a kind, or none of them. */
function IdOrNone({ draft, field, kind, label, none }: IdOrNoneProps) {
  const documents = useDocuments(kind);
  return (
    <SelectInput
      label={label}
      value={draft.body[field] ?? NONE}
      options={[
        { value: NONE, label: none },
        ...documents.map(({ id, name }) => ({ value: id, label: name })),
      ]}
      onChange={(id) => draft.change({ ...draft.body, [field]: id === NONE ? null : id })}
    />
  );
}

/** Ctrl or Cmd with Z undoes, with Shift redoes; in a text, the text's own undo comes first. */
function useUndoKeys(draft: Draft<'talk'>): void {
  useEffect(() => {
    const keys = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z' || event.altKey) return;
      const target = event.target as HTMLElement | null;
      if (target?.closest('textarea, [role="dialog"]')) return;
      event.preventDefault();
      if (event.shiftKey) draft.redo();
      else draft.undo();
    };
    addEventListener('keydown', keys);
    return () => removeEventListener('keydown', keys);
  }, [draft]);
}
