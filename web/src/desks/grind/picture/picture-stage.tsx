import type { PhotoGrain, PhotoMeasurement } from '@pourline/core';
import { memo, useRef, useState } from 'react';
import { Choice } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { useListener } from '../parts/use-listener.ts';
import { grainAt, outlinePath } from './grain-kernels.ts';
import type { ScaleDraft } from './scale-form.tsx';

interface PictureStageProps {
  url: string;
  size: { width: number; height: number };
  measurement: PhotoMeasurement | null;
  erased: ReadonlySet<number>;
  scale: ScaleDraft;
  /** A touch means a point of the scale instead of a grain. */
  placing: boolean;
  onPoint: (point: { x_px: number; y_px: number }) => void;
  onGrain: (grain: PhotoGrain) => void;
}

/** How near a finger must come to the middle of a grain [px on the screen]. */
const REACH = 22;

/** The picture with the outlines found over it; a touch takes a grain out or back in, or sets a point of the scale. */
export function PictureStage(props: PictureStageProps) {
  const { url, size, measurement, erased, scale, placing, onPoint, onGrain } = props;
  const [zoom, setZoom] = useState<'1' | '2' | '4'>('1');
  const drawing = useRef<SVGSVGElement>(null);
  useListener(drawing, 'click', (event, svg) => {
    const box = svg.getBoundingClientRect();
    const perPixel = size.width / box.width;
    const x = (event.clientX - box.left) * perPixel;
    const y = (event.clientY - box.top) * perPixel;
    if (placing) return onPoint({ x_px: Math.round(x), y_px: Math.round(y) });
    const grain = measurement && grainAt(measurement.grains, x, y, REACH * perPixel);
    if (grain) onGrain(grain);
  });
  return (
    <div className="grind-stack">
      <Choice
        label={t('grind.picture.zoom')}
        value={zoom}
        options={(['1', '2', '4'] as const).map((value) => ({ value, label: `${value} ×` }))}
        onChange={setZoom}
      />
      <div className="picture-scroll">
        <div className="picture" data-zoom={zoom}>
          <img src={url} alt={t('grind.picture.alt')} draggable={false} />
          <svg
            ref={drawing}
            viewBox={`0 0 ${size.width} ${size.height}`}
            role="img"
            aria-label={t('grind.picture.overlay', { count: measurement?.grains.length ?? 0 })}
          >
            {measurement && <Outlines grains={measurement.grains} erased={erased} />}
            <ScalePoints scale={scale} width={size.width} />
          </svg>
        </div>
      </div>
    </div>
  );
}

const Outlines = memo(function Outlines({
  grains,
  erased,
}: {
  grains: readonly PhotoGrain[];
  erased: ReadonlySet<number>;
}) {
  return (
    <>
      {grains.map((grain) => (
        <path
          key={grain.id}
          className="outline"
          data-out={grain.left_out !== null || erased.has(grain.id) || undefined}
          data-small={grain.small || undefined}
          d={outlinePath(grain.outline_px)}
        />
      ))}
    </>
  );
});

function ScalePoints({ scale, width }: { scale: ScaleDraft; width: number }) {
  const points = scale.by === 'ruler' ? [scale.from, scale.to] : scale.by === 'coin' ? [scale.near] : [];
  const arm = width / 60;
  const there = points.filter((point) => point !== null);
  return (
    <g className="scale-points">
      {there.length === 2 && (
        <line x1={there[0]!.x_px} y1={there[0]!.y_px} x2={there[1]!.x_px} y2={there[1]!.y_px} />
      )}
      {there.map(({ x_px, y_px }) => (
        <path
          key={`${x_px} ${y_px}`}
          d={`M${x_px - arm} ${y_px}h${2 * arm}M${x_px} ${y_px - arm}v${2 * arm}`}
        />
      ))}
    </g>
  );
}
