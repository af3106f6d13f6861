import type { Sizing } from '@pourline/core';
import { useRef } from 'react';
import type { Draft } from '../../../replica/index.ts';
import { Button, Fields, NumberAt } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useListener } from '../parts/use-listener.ts';
import { largestGrains, sheetBox } from './grain-kernels.ts';
import './picture.css';

export type PhotoData = Extract<Sizing['data'], { by: 'photo' }>;

/** Largest grains that are listed one by one. */
const LISTED = 10;

/** Grains of a photograph as they were kept, drawn as circles where they lay; a touch takes one out or back in. */
export function GrainSheet({ draft, data }: { draft: Draft<'sizing'>; data: PhotoData }) {
  const toggle = (i: number): void =>
    draft.change({
      ...draft.body,
      data: {
        ...data,
        grains: data.grains.map((grain, k) => (k === i ? { ...grain, counted: !grain.counted } : grain)),
      },
    });
  const drawing = useRef<SVGSVGElement>(null);
  useListener(drawing, 'click', (event) => {
    const of = (event.target as Element).getAttribute('data-grain');
    if (of !== null) toggle(Number(of));
  });
  const pixel = data.scale?.pixel_um ?? 1;
  const box = sheetBox(data.grains, pixel);
  const counted = data.grains.filter((grain) => grain.counted).length;
  return (
    <div className="grind-stack">
      <p className="quiet-text">
        {t('grind.grains.counted', { counted, all: data.grains.length })}
        {data.scale &&
          ` ${t('grind.grains.scale', { pixel: formatNumber(data.scale.pixel_um, 2), from: t(`grind.scale.${data.scale.from}`) })}`}
      </p>
      {data.scale && (
        <Fields>
          <NumberAt path={['data', 'scale', 'doubt_pct']} step={0.5} />
        </Fields>
      )}
      {box && (
        <svg
          ref={drawing}
          className="grain-sheet"
          viewBox={`${box.left} ${box.top} ${box.width} ${box.height}`}
          role="img"
          aria-label={t('grind.grains.drawing', { counted })}
        >
          {data.grains.map((grain, i) =>
            grain.x_px === null || grain.y_px === null ? null : (
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
      <h4>{t('grind.grains.largest')}</h4>
      <ul className="grain-list">
        {largestGrains(data.grains, LISTED).map(({ index, share }) => {
          const grain = data.grains[index]!;
          return (
            <li key={index}>
              <span>
                {formatNumber(grain.diameter_um)} µm
                <span className="quiet-text">
                  {' '}
                  {t('grind.grains.carries', { share: formatNumber(100 * share, 1) })}
                </span>
              </span>
              <Button look="quiet" onPress={() => toggle(index)}>
                {t(grain.counted ? 'grind.grains.take_out' : 'grind.grains.put_back')}
              </Button>
            </li>
          );
        })}
      </ul>
    </div>
  );
}
