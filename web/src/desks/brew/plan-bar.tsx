import type { Plan } from '@pourline/core';
import { memo, useEffect, useState } from 'react';
import { archiveDocument, type Draft, duplicateDocument } from '../../replica/index.ts';
import { go } from '../../shell/route.ts';
import { Button, Dialog, IconButton, Menu, SelectInput, TextAt } from '../../ui/index.ts';
import { t } from '../../words/index.ts';

interface PlanBarProps {
  draft: Draft<'plan'>;
  plans: readonly Plan[];
  compareId: string | null;
  choose: (id: string) => void;
  onCompare: (id: string | null) => void;
  onNew: () => void;
  onHistory: (open: boolean) => void;
}

/** Which plan is on the desk, and what can be done with it as a whole. */
export const PlanBar = memo(function PlanBar(props: PlanBarProps) {
  const { draft, plans, compareId, choose, onCompare, onNew, onHistory } = props;
  const plan = draft.document;
  const duplicate = async (): Promise<void> => {
    const copy = await duplicateDocument(plan.id, t('common.copy_of', { name: plan.name }));
    if (copy) choose(copy.id);
  };
  const archive = async (): Promise<void> => {
    const next = plans.find((entry) => entry.id !== plan.id);
    await archiveDocument(plan.id);
    if (next) choose(next.id);
  };
  const [naming, setNaming] = useState(false);
  useUndoKeys(draft);
  const others = plans.filter((plan) => plan.id !== draft.document.id);
  return (
    <div className="plan-bar">
      <div className="plan-choice">
        <SelectInput
          label={t('brew.plan')}
          value={draft.document.id}
          options={plans.map((plan) => ({ value: plan.id, label: plan.name }))}
          onChange={choose}
        />
      </div>
      <div className="plan-compare">
        <SelectInput
          label={t('brew.compare_with')}
          value={compareId ?? 'none'}
          options={[
            { value: 'none', label: t('brew.compare_none') },
            ...others.map((plan) => ({ value: plan.id, label: plan.name })),
          ]}
          onChange={(id) => onCompare(id === 'none' ? null : id)}
        />
      </div>
      <div className="plan-actions">
        <Button icon="add" onPress={() => void logBrew(plan)}>
          {t('trials.start_here')}
        </Button>
        <IconButton icon="undo" label={t('common.undo')} onPress={draft.undo} isDisabled={!draft.canUndo} />
        <IconButton icon="redo" label={t('common.redo')} onPress={draft.redo} isDisabled={!draft.canRedo} />
        <IconButton icon="history" label={t('brew.history')} onPress={() => onHistory(true)} />
        <Menu
          label={t('brew.plan_menu')}
          trigger={<IconButton icon="more" label={t('brew.plan_menu')} />}
          entries={[
            { key: 'rename', label: t('brew.rename_plan'), onChoose: () => setNaming(true) },
            { key: 'new', label: t('brew.new_plan'), icon: 'add', onChoose: onNew },
            {
              key: 'duplicate',
              label: t('brew.duplicate_plan'),
              icon: 'copy',
              onChoose: () => void duplicate(),
            },
            {
              key: 'archive',
              label: t('brew.archive_plan'),
              icon: 'archive',
              onChoose: () => void archive(),
            },
          ]}
        />
      </div>
      <Dialog
        open={naming}
        onClose={() => setNaming(false)}
        title={t('brew.rename_plan')}
        actions={
          <Button look="primary" onPress={() => setNaming(false)}>
            {t('common.done')}
          </Button>
        }
      >
        <div className="stack">
          <TextAt path={['name']} />
          <TextAt path={['notes']} long />
        </div>
      </Dialog>
    </div>
  );
});

/** Begins a trial of this plan and opens its page. */
async function logBrew(plan: Plan): Promise<void> {
  const { startTrial } = await import('../trials/log/start-trial.ts');
  go('trials', 'log', await startTrial(plan, 1, plan.campaign_id));
}

/** Ctrl or Cmd with Z undoes, with Shift redoes, in fields too: a figure is part of the plan. Long texts keep the browser's own. */
function useUndoKeys(draft: Draft<'plan'>): void {
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

/** Shown while a campaign holds no plan. */
export function NoPlan({ missing, onNew }: { missing: readonly string[]; onNew: () => void }) {
  return (
    <div className="page">
      <h1>{t('brew.no_plan')}</h1>
      {missing.length > 0 ? (
        <p>{t('brew.missing_parts', { kinds: missing.join(', ') })}</p>
      ) : (
        <>
          <p>{t('brew.no_plan_text')}</p>
          <Button look="primary" icon="add" onPress={onNew}>
            {t('brew.new_plan')}
          </Button>
        </>
      )}
    </div>
  );
}
