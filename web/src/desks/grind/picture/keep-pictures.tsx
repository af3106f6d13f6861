import { photoData } from '@pourline/core';
import { useState } from 'react';
import { keepFile } from '../../../replica/index.ts';
import { Button, CheckInput, refusedFile, TextInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import type { PhotoData } from './grain-sheet.tsx';
import type { SetAside } from './set-aside.tsx';

interface KeepPicturesProps {
  pictures: readonly SetAside[];
  /** Keeps the measurement; says why not, or null. */
  keep: (name: string, data: PhotoData) => Promise<string | null>;
}

const MEGABYTE = 1e6;

/** Keeps the grains of all pictures as one measurement, and the pictures with it when wanted. */
export function KeepPictures({ pictures, keep }: KeepPicturesProps) {
  const [name, setName] = useState(() => pictures[0]!.file.name.replace(/\.\w+$/, '').slice(0, 120));
  const [whole, setWhole] = useState(true);
  const [refused, setRefused] = useState<string | null>(null);
  const bytes = pictures.reduce((sum, { file }) => sum + file.size, 0);
  const data = photoData(pictures.map((one) => ({ ...one, file: fileOf(one.file, null) })));
  if (!data) return null;
  const keepAll = async (): Promise<void> => {
    const kept = await Promise.all(pictures.map(async ({ file }) => (whole ? keepFile(file) : null)));
    for (const [i, one] of kept.entries())
      if (one && 'refused' in one) return setRefused(refusedFile(pictures[i]!.file.name, one));
    const withFiles = photoData(
      pictures.map((one, i) => {
        const file = kept[i];
        return { ...one, file: fileOf(one.file, file && 'attachment' in file ? file.attachment : null) };
      }),
    );
    setRefused(withFiles && (await keep(name, withFiles)));
  };
  return (
    <div className="grind-keep">
      <TextInput label={t('field.name')} value={name} onChange={setName} problem={refused ?? undefined} />
      <CheckInput
        label={t('grind.picture.keep_whole', { size: formatNumber(bytes / MEGABYTE, 1) })}
        value={whole}
        onChange={setWhole}
      />
      <Button look="primary" onPress={() => void keepAll()}>
        {t('grind.import.keep')}
      </Button>
    </div>
  );
}

const fileOf = (file: File, attachment: string | null) => ({
  name: file.name.slice(-200),
  media_type: file.type.slice(0, 120),
  attachment,
});
