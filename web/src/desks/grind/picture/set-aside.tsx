import type { PhotoMeasurement } from '@pourline/core';
import { Button } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { FileButton } from '../parts/drop-place.tsx';

/** A photograph that was measured and counts, while another of the same grounds is on the stage. */
export interface SetAside {
  file: File;
  measurement: PhotoMeasurement;
  erased: ReadonlySet<number>;
}

interface SetAsideListProps {
  aside: readonly SetAside[];
  /** No further picture fits. */
  full: boolean;
  takeOut: (file: File) => void;
  /** Null while the picture on the stage is not measured. */
  openNext: ((file: File) => void) | null;
}

/** The pictures that count together with the one on the stage, and the way to the next. */
export function SetAsideList({ aside, full, takeOut, openNext }: SetAsideListProps) {
  return (
    <section className="grind-stack" aria-label={t('grind.picture.together')}>
      {aside.length > 0 && (
        <ul className="grain-list">
          {aside.map(({ file, measurement, erased }) => (
            <li key={`${file.name} ${file.lastModified} ${file.size}`}>
              <span>
                {file.name}{' '}
                <span className="quiet-text">
                  {t('grind.picture.counted', {
                    count: measurement.grains.filter((g) => g.left_out === null && !erased.has(g.id)).length,
                    erased: erased.size,
                  })}
                </span>
              </span>
              <Button look="quiet" onPress={() => takeOut(file)}>
                {t('grind.picture.take_out', { name: file.name })}
              </Button>
            </li>
          ))}
        </ul>
      )}
      {full && <p className="quiet-text">{t('grind.picture.full', { count: aside.length + 1 })}</p>}
      {!full && openNext && (
        <>
          <p className="quiet-text">{t('grind.picture.more_text')}</p>
          <FileButton label={t('grind.picture.more')} accept="image/*" onFile={openNext} />
        </>
      )}
    </section>
  );
}
