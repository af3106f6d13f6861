import { useState } from 'react';
import { useDocuments } from '../../replica/index.ts';
import { Button, Dialog, OptionAt, type Path } from '../../ui/index.ts';
import { fieldLabel, t } from '../../words/index.ts';
import { PanelFor } from '../shelf/index.ts';

const PARTS = [
  { kind: 'coffee', field: 'coffee_id' },
  { kind: 'setup', field: 'setup_id' },
  { kind: 'venue', field: 'venue_id' },
] as const;

type Open = { kind: 'coffee' | 'setup' | 'venue' | 'water' | 'grinder'; id: string } | null;

interface WithPanelProps {
  ids: { coffee_id: string; setup_id: string; venue_id: string };
  waters: readonly { id: string; name: string }[];
  grinders: readonly { id: string; name: string }[];
}

/** What the brew is made with, each with its editor in a window. */
export function WithPanel({ ids, waters, grinders }: WithPanelProps) {
  const [open, setOpen] = useState<Open>(null);
  return (
    <div className="stack">
      {PARTS.map(({ kind, field }) => (
        <Picker key={kind} kind={kind} path={[field]} onEdit={() => setOpen({ kind, id: ids[field] })} />
      ))}
      <div className="with-used">
        {waters.map((water) => (
          <Button key={water.id} look="quiet" onPress={() => setOpen({ kind: 'water', id: water.id })}>
            {t('brew.edit_this', { name: water.name })}
          </Button>
        ))}
        {grinders.map((grinder) => (
          <Button key={grinder.id} look="quiet" onPress={() => setOpen({ kind: 'grinder', id: grinder.id })}>
            {t('brew.edit_this', { name: grinder.name })}
          </Button>
        ))}
      </div>
      <Dialog
        open={open !== null}
        onClose={() => setOpen(null)}
        title={open ? t(`kind.${open.kind}`) : ''}
        wide
      >
        {open ? <PanelFor kind={open.kind} id={open.id} /> : null}
      </Dialog>
    </div>
  );
}

function Picker(props: { kind: 'coffee' | 'setup' | 'venue'; path: Path; onEdit: () => void }) {
  const { kind, path, onEdit } = props;
  const documents = useDocuments(kind);
  return (
    <div className="with-row">
      <OptionAt path={path} options={documents.map((entry) => ({ value: entry.id, label: entry.name }))} />
      <Button look="quiet" onPress={onEdit} aria-label={`${t('brew.edit')}: ${fieldLabel(path)}`}>
        {t('brew.edit')}
      </Button>
    </div>
  );
}
