import type { Water, WeighSheet } from '@pourline/core';
import { useState } from 'react';
import { Button, Dialog, Notice, SelectInput, TextInput } from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';
import { savedAs } from '../parts/pour-waters.ts';
import { saveWater } from './save-water.ts';

interface SaveWindowProps {
  open: boolean;
  onClose: () => void;
  sheet: WeighSheet;
  orderName: string;
  baseIds: readonly string[];
  waters: readonly Water[];
  campaignId: string;
}

/** Asks where a solved water goes: a new place on the shelf, or over a water that is there. */
export function SaveWindow(props: SaveWindowProps) {
  return (
    <Dialog open={props.open} onClose={props.onClose} title={t('water.save.title')}>
      {props.open && <SaveForm {...props} />}
    </Dialog>
  );
}

const NEW = 'new';

function SaveForm({ onClose, sheet, orderName, baseIds, waters, campaignId }: SaveWindowProps) {
  const [name, setName] = useState(sheet.name);
  const [over, setOver] = useState(() => savedAs(sheet.name, waters, baseIds)?.id ?? NEW);
  const [problem, setProblem] = useState<string>();
  const allowed = waters.filter(({ id }) => !baseIds.includes(id));
  const save = async (): Promise<void> => {
    const there = allowed.find(({ id }) => id === over) ?? null;
    const saved = await saveWater(sheet, orderName, name, there, campaignId);
    if (saved.ok) onClose();
    else setProblem(saved.problems.map(problemSentence).join(' '));
  };
  return (
    <>
      <p>{t('water.save.text')}</p>
      <TextInput label={t('field.name')} value={name} onChange={setName} problem={problem} />
      <SelectInput
        label={t('water.save.where')}
        value={over}
        options={[
          { value: NEW, label: t('water.save.as_new') },
          ...allowed.map((water) => ({ value: water.id, label: t('water.save.over', { name: water.name }) })),
        ]}
        onChange={setOver}
      />
      {over !== NEW && <Notice>{t('water.save.over_hint')}</Notice>}
      <div className="buttons">
        <Button look="primary" onPress={() => void save()} isDisabled={name.trim() === ''}>
          {t('common.save')}
        </Button>
        <Button onPress={onClose}>{t('common.cancel')}</Button>
      </div>
    </>
  );
}
