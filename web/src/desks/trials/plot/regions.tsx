import { CUP_REGIONS } from '@pourline/core';
import { useMemo } from 'react';
import { t, tMaybe } from '../../../words/index.ts';
import { type Room, type Window, xOf, yOf } from './plot-kernels.ts';

/** A region of the plane, drawn with its own line and named. */
export interface PlotRegion {
  readonly key: string;
  readonly name: string;
  /** Where it comes from and how far to trust it. */
  readonly about: string;
  /** Corners [yield %, strength %]; drawn closed. */
  readonly outline: readonly (readonly [number, number])[];
}

/** Regions to draw: those of the trade, as core has them. */
export function useRegions(): readonly PlotRegion[] {
  return useMemo(
    () =>
      CUP_REGIONS.map(
        ({ key, strength_pct: [s0, s1], yield_pct: [y0, y1], name, standing }): PlotRegion => ({
          key,
          name: tMaybe(`trials.region.${key}`) ?? name,
          about: t(standing === 'from memory' ? 'trials.region.from_memory' : 'trials.region.common'),
          outline: [
            [y0, s0],
            [y1, s0],
            [y1, s1],
            [y0, s1],
          ],
        }),
      ),
    [],
  );
}

interface RegionShapesProps {
  regions: readonly PlotRegion[];
  view: Window;
  room: Room;
}

/** Dashes by which outlines of the trade are told apart; the legend shows the same. */
export const REGION_DASHES = ['6 4', '2 3', '10 3 2 3', '1 5'] as const;

/** The outlines, clipped to the plot. */
export function RegionShapes({ regions, view, room }: RegionShapesProps) {
  return (
    <g>
      <clipPath id="strength-yield-clip">
        <rect x={room.left} y={room.top} width={room.width} height={room.height} />
      </clipPath>
      <g clipPath="url(#strength-yield-clip)">
        {regions.map(({ key, outline }, i) => (
          <path
            key={key}
            className="plot-region"
            strokeDasharray={REGION_DASHES[i % REGION_DASHES.length]}
            d={`M${outline.map(([y, s]) => `${xOf(y, view, room)} ${yOf(s, view, room)}`).join('L')}Z`}
          />
        ))}
      </g>
    </g>
  );
}

/** What each outline is, with the line it is drawn by. */
export function RegionLegend({ regions }: { regions: readonly PlotRegion[] }) {
  return (
    <ul className="region-legend">
      {regions.map(({ key, name, about }, i) => (
        <li key={key}>
          <svg viewBox="0 0 30 14" aria-hidden="true">
            <rect
              className="plot-region"
              x={1}
              y={1}
              width={28}
              height={12}
              strokeDasharray={REGION_DASHES[i % REGION_DASHES.length]}
            />
          </svg>
          <span>
            {name} <span className="quiet-text">{about}</span>
          </span>
        </li>
      ))}
    </ul>
  );
}
