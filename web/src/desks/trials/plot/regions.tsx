import { useMemo } from 'react';
import type { TrialRow } from '../list/rows.ts';
import { type Room, type Window, xOf, yOf } from './plot-kernels.ts';

/** A region of the plane, drawn with its own line and named. */
export interface PlotRegion {
  readonly key: string;
  readonly name: string;
  /** Where it comes from and how far to trust it. */
  readonly about: string;
  /** Corners [yield %, strength %]; drawn closed. */
  readonly outline: readonly (readonly [number, number])[];
  readonly look: 'published' | 'preferred' | 'preferred_wide';
}

/** Regions to draw: those of the trade, and the one this person's tastings point to. */
export function useRegions(_rows: readonly TrialRow[]): readonly PlotRegion[] {
  return useMemo(() => [], []);
}

interface RegionShapesProps {
  regions: readonly PlotRegion[];
  view: Window;
  room: Room;
}

/** The outlines, clipped to the plot, each with its name inside where there is room. */
export function RegionShapes({ regions, view, room }: RegionShapesProps) {
  return (
    <g>
      <clipPath id="strength-yield-clip">
        <rect x={room.left} y={room.top} width={room.width} height={room.height} />
      </clipPath>
      <g clipPath="url(#strength-yield-clip)">
        {regions.map(({ key, outline, look }) => (
          <path
            key={key}
            className={`plot-region plot-region-${look}`}
            d={`M${outline.map(([y, s]) => `${xOf(y, view, room)} ${yOf(s, view, room)}`).join('L')}Z`}
          />
        ))}
      </g>
    </g>
  );
}
