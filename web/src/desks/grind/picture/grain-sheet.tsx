import type { Sizing } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { Button } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { largestGrains } from './grain-kernels.ts';
import { KeptPicture } from './kept-picture.tsx';
import './picture.css';

export type PhotoData = Extract<Sizing['data'], { by: 'photo' }>;

/** Largest grains that are listed one by one. */
const LISTED = 10;

/** Grains of photographs as they were kept, picture by picture; a touch takes one out or back in. */
export function GrainSheet({ draft, data }: { draft: Draft<'sizing'>; data: PhotoData }) {
  const toggle = (i: number): void =>
    draft.change({
      ...draft.body,
      data: {
        ...data,
        grains: data.grains.map((grain, k) => (k === i ? { ...grain, counted: !grain.counted } : grain)),
      },
    });
  const counted = data.grains.filter((grain) => grain.counted).length;
  return (
    <div className="grind-stack">
      <p className="quiet-text">{t('grind.grains.counted', { counted, all: data.grains.length })}</p>
      {data.pictures.map((_, k) => (
        // Pictures never change their order.
        <KeptPicture key={['picture', k].join('/')} data={data} picture={k} toggle={toggle} />
      ))}
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
