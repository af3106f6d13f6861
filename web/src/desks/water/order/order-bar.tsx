import type { Mix } from '@pourline/core';
import { useEffect, useState } from 'react';
import { archiveDocument, type Draft, duplicateDocument } from '../../../replica/index.ts';
import { Button, Dialog, IconButton, Menu, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { HardnessUnitChoice } from '../parts/hardness-unit.tsx';
import { OrderSelect } from '../parts/order-choice.tsx';

interface OrderBarProps {
  draft: Draft<'mix'>;
  orders: readonly Mix[];
  choose: (id: string) => void;
  onNew: () => void;
}

/** Which order is on the desk, and what can be done with it as a whole. */
export function OrderBar({ draft, orders, choose, onNew }: OrderBarProps) {
  const order = draft.document;
  const [naming, setNaming] = useState(false);
  useUndoKeys(draft);
  const duplicate = async (): Promise<void> => {
    const copy = await duplicateDocument(order.id, t('common.copy_of', { name: order.name }));
    if (copy) choose(copy.id);
  };
  const archive = async (): Promise<void> => {
    const next = orders.find(({ id }) => id !== order.id);
    await archiveDocument(order.id);
    if (next) choose(next.id);
  };
  return (
    <div className="order-bar">
      <OrderSelect orderId={order.id} orders={orders} choose={choose} />
      <HardnessUnitChoice />
      <div className="order-actions">
        <IconButton icon="undo" label={t('common.undo')} onPress={draft.undo} isDisabled={!draft.canUndo} />
        <IconButton icon="redo" label={t('common.redo')} onPress={draft.redo} isDisabled={!draft.canRedo} />
        <Menu
          label={t('water.order.menu')}
          trigger={<IconButton icon="more" label={t('water.order.menu')} />}
          entries={[
            { key: 'rename', label: t('water.order.rename'), onChoose: () => setNaming(true) },
            { key: 'new', label: t('water.order.new'), icon: 'add', onChoose: onNew },
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
        title={t('water.order.rename')}
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

/** Ctrl or Cmd with Z undoes, with Shift redoes, in fields too: a figure is part of the order. */
function useUndoKeys(draft: Draft<'mix'>): void {
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
