import { useEffect, useState } from 'react';
import { createDocument, personName, setPersonName, useCampaign } from '../replica/index.ts';
import { Button, Choice, DateInput, Dialog, TextInput } from '../ui/index.ts';
import { problemSentence, t } from '../words/index.ts';
import { ArchivedWindow } from './archived-window.tsx';
import { ExportWindow } from './export-window.tsx';
import { ImportWindow } from './import-window.tsx';
import { THEMES, useThemeChoice } from './theme.ts';

/** Windows that the menu opens. */
export type Window = 'export' | 'import' | 'new-campaign' | 'archived' | 'theme' | 'person';

/** The one window that is open, if any. */
export function Windows({ open, onClose }: { open: Window | null; onClose: () => void }) {
  return (
    <>
      <ExportWindow open={open === 'export'} onClose={onClose} />
      <ImportWindow open={open === 'import'} onClose={onClose} />
      <NewCampaignWindow open={open === 'new-campaign'} onClose={onClose} />
      <ArchivedWindow open={open === 'archived'} onClose={onClose} />
      <ThemeWindow open={open === 'theme'} onClose={onClose} />
      <PersonWindow open={open === 'person'} onClose={onClose} />
    </>
  );
}

interface WindowProps {
  open: boolean;
  onClose: () => void;
}

function NewCampaignWindow({ open, onClose }: WindowProps) {
  const { select } = useCampaign();
  const [name, setName] = useState(t('campaign.name_default'));
  const [date, setDate] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | undefined>();
  const start = async (): Promise<void> => {
    const made = await createDocument('campaign', { name, contest_date: date });
    if (!made.ok) return setProblem(made.problems.map(problemSentence).join(' '));
    select(made.value.id);
    setProblem(undefined);
    onClose();
  };
  return (
    <Dialog
      open={open}
      onClose={onClose}
      title={t('campaign.new_title')}
      actions={
        <>
          <Button look="quiet" onPress={onClose}>
            {t('common.cancel')}
          </Button>
          <Button look="primary" onPress={() => void start()}>
            {t('campaign.start')}
          </Button>
        </>
      }
    >
      <TextInput label={t('field.name')} value={name} onChange={setName} problem={problem} />
      <DateInput
        label={t('field.contest_date')}
        value={date}
        onChange={setDate}
        hint={t('common.optional')}
      />
    </Dialog>
  );
}

function ThemeWindow({ open, onClose }: WindowProps) {
  const [theme, setTheme] = useThemeChoice();
  return (
    <Dialog open={open} onClose={onClose} title={t('theme.title')}>
      <Choice
        label={t('theme.title')}
        hideLabel
        value={theme}
        onChange={setTheme}
        options={THEMES.map(({ key, icon }) => ({ value: key, icon, label: t(`theme.${key}`) }))}
      />
    </Dialog>
  );
}

function PersonWindow({ open, onClose }: WindowProps) {
  const [name, setName] = useState(personName);
  useEffect(() => {
    if (open) setName(personName());
  }, [open]);
  const keep = (): void => {
    setPersonName(name.slice(0, 80));
    onClose();
  };
  return (
    <Dialog
      open={open}
      onClose={onClose}
      title={t('person.title')}
      actions={
        <Button look="primary" onPress={keep}>
          {t('common.save')}
        </Button>
      }
    >
      <p className="quiet-text">{t('person.text')}</p>
      <TextInput label={t('field.name')} value={name} onChange={setName} />
    </Dialog>
  );
}
