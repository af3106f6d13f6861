import { useEffect, useState } from 'react';
import { type Draft, type KeptFile, keepFile, readFile } from '../../../replica/index.ts';
import { DraftForm, IconButton, Panel, refusedFile, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { DropPlace, FileButton } from '../../grind/parts/drop-place.tsx';

/** Photographs of bed, cup and slurry, kept whole. */
export function PhotoPanel({ draft }: { draft: Draft<'trial'> }) {
  const [failure, setFailure] = useState<string | null>(null);
  const photographs = draft.body.photographs;
  const add = async (file: File): Promise<void> => {
    if (!file.type.startsWith('image/')) {
      setFailure(t('trials.photos.not_one', { name: file.name }));
      return;
    }
    const kept = await keepFile(file);
    if ('refused' in kept) return setFailure(refusedFile(file.name, kept));
    setFailure(null);
    if (photographs.some((one) => one.attachment === kept.attachment)) return;
    draft.change({ ...draft.body, photographs: [...photographs, { ...kept, caption: '' }] });
  };
  return (
    <Panel title={t('trials.photos.title')} fold="open">
      <DropPlace onFile={(file) => void add(file)}>
        <div className="buttons">
          <FileButton label={t('trials.photos.add')} accept="image/*" onFile={(file) => void add(file)} />
          <CameraButton onFile={(file) => void add(file)} />
        </div>
        <p className="quiet-text">{t('trials.photos.hint')}</p>
      </DropPlace>
      {failure && (
        <p className="plain-problem" role="alert">
          {failure}
        </p>
      )}
      <DraftForm draft={draft}>
        <ul className="photo-list">
          {photographs.map((photo, i) => (
            <li key={photo.attachment}>
              <Photograph photo={photo} alt={photo.caption || photo.name} />
              <TextAt path={['photographs', i, 'caption']} label={t('trials.photos.caption')} />
              <IconButton
                icon="close"
                label={t('trials.photos.remove', { name: photo.name })}
                onPress={() =>
                  draft.change({ ...draft.body, photographs: photographs.filter((_, k) => k !== i) })
                }
              />
            </li>
          ))}
        </ul>
      </DraftForm>
    </Panel>
  );
}

/** Opens the camera at once where there is one. */
function CameraButton({ onFile }: { onFile: (file: File) => void }) {
  return (
    <label className="grind-file button button-plain">
      <input
        type="file"
        accept="image/*"
        capture="environment"
        className="visually-hidden"
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = '';
          if (file) onFile(file);
        }}
      />
      <span>{t('trials.photos.camera')}</span>
    </label>
  );
}

function Photograph({ photo, alt }: { photo: KeptFile; alt: string }) {
  const [url, setUrl] = useState<string | null>(null);
  const [gone, setGone] = useState(false);
  const { attachment, media_type, name } = photo;
  useEffect(() => {
    let made: string | null = null;
    let over = false;
    void readFile({ attachment, media_type, name }).then((blob) => {
      if (over) return;
      if (!blob) return setGone(true);
      made = URL.createObjectURL(blob);
      setUrl(made);
    });
    return () => {
      over = true;
      if (made) URL.revokeObjectURL(made);
    };
  }, [attachment, media_type, name]);
  if (gone) return <p className="quiet-text">{t('trials.photos.gone')}</p>;
  return url ? <img src={url} alt={alt} /> : <span className="photo-wait" />;
}
