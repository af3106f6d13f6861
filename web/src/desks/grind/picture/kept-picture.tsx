import { useEffect, useRef, useState } from 'react';
import { readFile } from '../../../replica/index.ts';
import { Button, Fields, NumberAt } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useListener } from '../parts/use-listener.ts';
import { sheetBox } from './grain-kernels.ts';
import type { PhotoData } from './grain-sheet.tsx';

interface KeptPictureProps {
  data: PhotoData;
  /** Which of its pictures. */
  picture: number;
  /** Takes a grain out or back in, by its place among all. */
  toggle: (index: number) => void;
}

/** A picture behind the grains: where it can be seen, and how large it is. */
interface Shown {
  url: string;
  width: number;
  height: number;
}

/** One picture of a measurement: its scale, its grains as circles where they lay, and the photograph itself when it was kept. */
export function KeptPicture({ data, picture, toggle }: KeptPictureProps) {
  const { file, scale } = data.pictures[picture]!;
  const { shown, away, show } = useShown(file);
  const drawing = useRef<SVGSVGElement>(null);
  useListener(drawing, 'click', (event) => {
    const of = (event.target as Element).getAttribute('data-grain');
    if (of !== null) toggle(Number(of));
  });
  const pixel = scale?.pixel_um ?? 1;
  const own = data.grains.filter((grain) => grain.picture === picture);
  const box = shown ? { left: 0, top: 0, ...shown } : sheetBox(own, pixel);
  const counted = own.filter((grain) => grain.counted).length;
  return (
    <section className="grind-stack">
      <p className="quiet-text">
        {t('grind.grains.picture', { number: picture + 1, name: file?.name ?? t('grind.grains.unnamed') })}
        {scale &&
          `. ${t('grind.grains.scale', { pixel: formatNumber(scale.pixel_um, 2), from: t(`grind.scale.${scale.from}`) })}`}
      </p>
      {scale && (
        <Fields>
          <NumberAt path={['data', 'pictures', picture, 'scale', 'doubt_pct']} step={0.5} />
        </Fields>
      )}
      {file?.attachment && !shown && (
        <div className="buttons">
          <Button onPress={show}>{t('grind.grains.show')}</Button>
        </div>
      )}
      {away && <p className="plain-problem">{t('grind.grains.away')}</p>}
      {box && (
        <svg
          ref={drawing}
          className="grain-sheet"
          data-over={shown !== null || undefined}
          viewBox={`${box.left} ${box.top} ${box.width} ${box.height}`}
          role="img"
          aria-label={t('grind.grains.drawing', { counted })}
        >
          {shown && <image href={shown.url} width={shown.width} height={shown.height} />}
          {data.grains.map((grain, i) =>
            grain.picture !== picture || grain.x_px === null || grain.y_px === null ? null : (
              <circle
                // Grains never change their order.
                key={['grain', i].join('/')}
                data-grain={i}
                className="grain"
                data-out={!grain.counted || undefined}
                cx={grain.x_px}
                cy={grain.y_px}
                r={Math.max(2, grain.diameter_um / pixel / 2)}
              />
            ),
          )}
        </svg>
      )}
    </section>
  );
}

/** The kept photograph, read when it is asked for. */
function useShown(file: PhotoData['pictures'][number]['file']) {
  const [shown, setShown] = useState<Shown | null>(null);
  const [away, setAway] = useState(false);
  useEffect(() => () => URL.revokeObjectURL(shown?.url ?? ''), [shown]);
  const show = async (): Promise<void> => {
    const { attachment, ...rest } = file ?? { attachment: null };
    const blob = attachment && 'name' in rest ? await readFile({ attachment, ...rest }) : null;
    setAway(!blob);
    if (!blob) return;
    const { width, height } = await createImageBitmap(blob);
    setShown({ url: URL.createObjectURL(blob), width, height });
  };
  return { shown, away, show: () => void show() };
}
