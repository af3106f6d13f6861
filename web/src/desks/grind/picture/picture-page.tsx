import {
  type PhotoGrain,
  type PhotoMeasurement,
  type PhotoOptions,
  rescalePhoto,
  summarisePhotos,
} from '@pourline/core';
import { useEffect, useMemo, useRef, useState } from 'react';
import { go } from '../../../shell/route.ts';
import { Button, Choice, Panel } from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';
import { DropPlace, FileButton } from '../parts/drop-place.tsx';
import { ofPhoto, RemarkList } from '../parts/remark-list.tsx';
import { openPhotoRoom, type PhotoRoom } from '../photo/photo-room.ts';
import { keepSizing, type likeLast } from '../sizes/new-sizing.ts';
import { KeepPictures } from './keep-pictures.tsx';
import { PictureStage } from './picture-stage.tsx';
import { FIRST_SCALE, type ScaleDraft, ScaleForm, scaleOf } from './scale-form.tsx';
import { type SetAside, SetAsideList } from './set-aside.tsx';
import { SummaryList } from './summary-list.tsx';
import './picture.css';

/** As many as a measurement holds. */
const MOST_PICTURES = 12;

interface Picture {
  file: File;
  url: string;
  width: number;
  height: number;
}

interface PicturePageProps {
  campaignId: string;
  like: ReturnType<typeof likeLast>;
}

/** A room for photographs of its own, closed with the page. */
function usePhotoRoom(): PhotoRoom {
  const [room] = useState(openPhotoRoom);
  useEffect(() => () => room.close(), [room]);
  return room;
}

/**
 * From photographs to a measurement: open one, give the scale, measure, take wrong grains out; set it aside for another of the
 * same grounds, or keep all.
 */
export function PicturePage({ campaignId, like }: PicturePageProps) {
  const room = usePhotoRoom();
  const [picture, setPicture] = useState<Picture | null>(null);
  const [scale, setScale] = useState<ScaleDraft>(FIRST_SCALE);
  const [grains, setGrains] = useState<'dark' | 'light'>('dark');
  const [found, setFound] = useState<PhotoMeasurement | null>(null);
  const [erased, setErased] = useState<ReadonlySet<number>>(new Set());
  const [aside, setAside] = useState<readonly SetAside[]>([]);
  const [done, setDone] = useState<number | null>(null);
  const [failure, setFailure] = useState<string | null>(null);
  const nextEnd = useRef<'from' | 'to'>('from');
  const chosen = scaleOf(scale);
  const measured = useMemo(() => rescaled(found, scale), [found, scale]);
  const all = useMemo(
    () =>
      measured && picture ? [...aside, { file: picture.file, measurement: measured, erased }] : [...aside],
    [aside, measured, erased, picture],
  );
  const summary = useMemo(() => summarisePhotos(all), [all]);
  useEffect(() => () => URL.revokeObjectURL(picture?.url ?? ''), [picture]);

  const open = async (file: File): Promise<void> => {
    room.stop();
    try {
      const bitmap = await createImageBitmap(file);
      const { width, height } = bitmap;
      bitmap.close();
      setPicture({ file, url: URL.createObjectURL(file), width, height });
      setFound(null);
      setErased(new Set());
      setFailure(null);
      setScale((now) => ({ ...now, from: null, to: null, near: null }));
    } catch {
      setFailure(t('grind.picture.unreadable', { name: file.name }));
    }
  };
  const measure = async (): Promise<void> => {
    if (!picture) return;
    setDone(0);
    setFailure(null);
    try {
      const options: PhotoOptions = { scale: chosen, grains };
      const result = await room.measure(picture.file, options, setDone);
      if (result) {
        setFound(result);
        setErased(new Set());
      }
    } catch (reason) {
      setFailure(reason instanceof Error ? reason.message : String(reason));
    }
    setDone(null);
  };
  const openNext = async (file: File): Promise<void> => {
    setAside(all);
    await open(file);
  };
  const toggle = ({ id }: PhotoGrain): void => {
    const next = new Set(erased);
    if (!next.delete(id)) next.add(id);
    setErased(next);
  };
  const point = (at: { x_px: number; y_px: number }): void => {
    if (scale.by === 'coin') {
      setScale({ ...scale, near: at });
      return;
    }
    setScale({ ...scale, [nextEnd.current]: at });
    nextEnd.current = nextEnd.current === 'from' ? 'to' : 'from';
  };
  const placing = scale.by === 'ruler' ? !scale.from || !scale.to : scale.by === 'coin' && !scale.near;
  return (
    <Panel title={t('grind.picture.title')}>
      <DropPlace onFile={(file) => void open(file)}>
        <p className="quiet-text">{t('grind.picture.text')}</p>
        <FileButton
          label={t(picture ? 'grind.picture.other' : 'grind.picture.open')}
          accept="image/*"
          onFile={(file) => void open(file)}
        />
        {failure && <p className="plain-problem">{failure}</p>}
      </DropPlace>
      {picture && (
        <div className="picture-pair">
          <PictureStage
            url={picture.url}
            size={picture}
            measurement={measured}
            erased={erased}
            scale={scale}
            placing={placing}
            onPoint={point}
            onGrain={toggle}
          />
          <div className="grind-stack">
            <ScaleForm draft={scale} change={(part) => setScale({ ...scale, ...part })} />
            {placing && (
              <p role="status">{t(`grind.picture.touch.${scale.by === 'coin' ? 'coin' : 'ruler'}`)}</p>
            )}
            <div className="buttons">
              {scale.by === 'ruler' && scale.from && (
                <Button look="quiet" onPress={() => setScale({ ...scale, from: null, to: null })}>
                  {t('grind.picture.points_again')}
                </Button>
              )}
              {scale.by === 'coin' && scale.near && (
                <Button look="quiet" onPress={() => setScale({ ...scale, near: null })}>
                  {t('grind.picture.points_again')}
                </Button>
              )}
            </div>
            <Choice
              label={t('grind.picture.grains')}
              value={grains}
              options={[
                { value: 'dark', label: t('grind.picture.dark') },
                { value: 'light', label: t('grind.picture.light') },
              ]}
              onChange={setGrains}
            />
            <Measuring
              done={done}
              onMeasure={() => void measure()}
              onStop={room.stop}
              again={found !== null}
            />
            {(measured || summary) && (
              <RemarkList
                remarks={[...(measured?.remarks ?? []), ...(summary?.remarks ?? [])].map(ofPhoto)}
              />
            )}
            {summary && (
              <SummaryList
                summary={summary}
                erased={all.reduce((sum, one) => sum + one.erased.size, 0)}
                pictures={all.length}
              />
            )}
            {all.length > 0 && (
              <>
                <SetAsideList
                  aside={aside}
                  full={all.length >= MOST_PICTURES}
                  takeOut={(file) => setAside(aside.filter((one) => one.file !== file))}
                  openNext={measured ? (file) => void openNext(file) : null}
                />
                <KeepPictures
                  pictures={all}
                  keep={async (name, data) => {
                    const kept = await keepSizing(name, data, like, campaignId);
                    if (!kept.ok) return kept.problems.map(problemSentence).join(' ');
                    go('grind', 'sizes', kept.value.id);
                    return null;
                  }}
                />
              </>
            )}
          </div>
        </div>
      )}
    </Panel>
  );
}

/** A scale given by hand holds at once, without the picture; one found in the picture holds as it was found. */
function rescaled(found: PhotoMeasurement | null, draft: ScaleDraft): PhotoMeasurement | null {
  const scale = scaleOf(draft);
  if (!found || !scale || (scale.by !== 'pixel' && scale.by !== 'ruler')) return found;
  return rescalePhoto(found, scale);
}

interface MeasuringProps {
  done: number | null;
  again: boolean;
  onMeasure: () => void;
  onStop: () => void;
}

function Measuring({ done, again, onMeasure, onStop }: MeasuringProps) {
  if (done === null)
    return (
      <div className="buttons">
        <Button look="primary" onPress={onMeasure}>
          {t(again ? 'grind.picture.measure_again' : 'grind.picture.measure')}
        </Button>
      </div>
    );
  return (
    <div className="picture-progress">
      <progress max={1} value={done} aria-label={t('grind.picture.working')} />
      <span>{t('grind.picture.done', { percent: Math.round(100 * done) })}</span>
      <Button onPress={onStop}>{t('grind.picture.stop')}</Button>
    </div>
  );
}
