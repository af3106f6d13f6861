import type { Blend } from '@pourline/core';
import {
  archiveDocument,
  createDocument,
  type Draft,
  duplicateDocument,
  useDocuments,
  useDraft,
} from '../../../replica/index.ts';
import { go } from '../../../shell/route.ts';
import { Button, DraftForm, IconButton, Notice, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { SteadySelect } from '../../water/parts/steady-select.tsx';
import { MixDesk } from './mix-desk.tsx';

interface MixPageProps {
  campaignId: string;
  chosen: string | undefined;
}

/** Mixes of grinds: which parts, for how many cups, and what the cup makes of them. */
export function MixPage({ campaignId, chosen }: MixPageProps) {
  const blends = useDocuments('blend');
  const grinders = useDocuments('grinder');
  const open = blends.find(({ id }) => id === chosen) ?? blends[0] ?? null;
  const make = async (): Promise<void> => {
    const grinder = grinders[0];
    if (!grinder) return;
    const settings = [grinder.settings.at(-1)!, grinder.settings[0]!];
    const parts = settings.map((setting, i) => ({
      id: `part-${i + 1}`,
      grinder_id: grinder.id,
      setting_id: setting.id,
      share: i === 0 ? 0.75 : 0.25,
    }));
    const name = t('grind.mix.new_name', { number: blends.length + 1 });
    const made = await createDocument('blend', { name, parts, dose_g: 15, cups: 3 }, campaignId);
    if (made.ok) go('grind', 'mix', made.value.id);
  };
  if (grinders.length === 0) return <p className="quiet-text">{t('grind.mix.no_grinder')}</p>;
  if (!open)
    return (
      <div className="grind-stack grind-bar">
        <p>{t('grind.mix.none')}</p>
        <div>
          <Button look="primary" icon="add" onPress={() => void make()}>
            {t('grind.mix.new')}
          </Button>
        </div>
      </div>
    );
  return <OpenMix key={open.id} id={open.id} blends={blends} onNew={() => void make()} />;
}

interface OpenMixProps {
  id: string;
  blends: readonly Blend[];
  onNew: () => void;
}

function OpenMix({ id, blends, onNew }: OpenMixProps) {
  const draft = useDraft('blend', id);
  if (!draft) return null;
  return (
    <DraftForm draft={draft}>
      <div className="grind-editor">
        <MixBar draft={draft} blends={blends} onNew={onNew} />
        {draft.problems.length > 0 && <Notice tone="alert">{t('grind.sizing.not_saved')}</Notice>}
        <MixDesk draft={draft} />
      </div>
    </DraftForm>
  );
}

interface MixBarProps {
  draft: Draft<'blend'>;
  blends: readonly Blend[];
  onNew: () => void;
}

function MixBar({ draft, blends, onNew }: MixBarProps) {
  const { id, name } = draft.document;
  const copy = async (): Promise<void> => {
    const made = await duplicateDocument(id, t('common.copy_of', { name }));
    if (made) go('grind', 'mix', made.id);
  };
  const archive = async (): Promise<void> => {
    await archiveDocument(id);
    go('grind', 'mix');
  };
  return (
    <header className="grind-head grind-head-wide">
      <SteadySelect
        label={t('grind.mix.choice')}
        value={id}
        options={blends.map((blend) => ({ value: blend.id, label: blend.name }))}
        onChange={(next) => go('grind', 'mix', next)}
      />
      <TextAt path={['name']} />
      <div className="buttons">
        <Button icon="add" onPress={onNew}>
          {t('grind.mix.new')}
        </Button>
        <IconButton icon="undo" label={t('common.undo')} onPress={draft.undo} isDisabled={!draft.canUndo} />
        <IconButton icon="redo" label={t('common.redo')} onPress={draft.redo} isDisabled={!draft.canRedo} />
        <IconButton icon="copy" label={t('common.duplicate')} onPress={() => void copy()} />
        <IconButton icon="archive" label={t('common.archive')} onPress={() => void archive()} />
      </div>
    </header>
  );
}
