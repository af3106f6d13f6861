import type { FigureName, SizeAnalysis } from '@pourline/core';
import type { Key } from '../../../words/index.ts';

/** How a figure of sizes is shown. */
export interface FigureLook {
  readonly name: FigureName;
  readonly label: Key;
  readonly why: Key;
  readonly unit: string;
  readonly digits: number;
}

const look = (name: FigureName, unit: string, digits: number): FigureLook => ({
  name,
  label: `grind.figure.${name}`,
  why: `grind.why.${name}`,
  unit,
  digits,
});

/** All figures, in the order they are shown. */
export const FIGURES: readonly FigureLook[] = [
  look('d10_um', 'µm', 0),
  look('d50_um', 'µm', 0),
  look('d90_um', 'µm', 0),
  look('span', '', 2),
  look('d43_um', 'µm', 0),
  look('d32_um', 'µm', 0),
  look('fines_pct', '%', 1),
  look('surface_m2_kg', 'm²/kg', 1),
  look('broken_pct', '%', 1),
];

export interface ShownFigure {
  value: number | null;
  band: { low: number; high: number } | null;
  /** Which of the two it is taken from. */
  from: 'fitted' | 'measured';
}

/** A figure of an analysis: as measured where it could be, else from the fit. */
export function figureOf(analysis: SizeAnalysis, name: FigureName): ShownFigure {
  const { measured, fitted } = analysis;
  if (measured.figures[name] !== null || !fitted)
    return { value: measured.figures[name], band: measured.bands[name], from: 'measured' };
  return { value: fitted.figures[name], band: fitted.bands[name], from: 'fitted' };
}
