import type { ColumnFigures } from './roles.ts';
import type { ColumnUse, TraceUnit } from './types.ts';

/** A brew is poured from about 20 g to 2 kg: which unit makes a largest figure fall among these. */
function massUnit({ values, whole }: ColumnFigures): TraceUnit {
  const high = Math.max(0, ...values.map(Math.abs));
  if (high > 2_000_000) return 'mg/10';
  if (high > 60_000) return 'mg';
  if (high > 2_500 && whole) return 'g/10';
  if (high > 0 && high < 3 && !whole) return 'kg';
  return 'g';
}

function timeUnit({ values, clock, date }: ColumnFigures): TraceUnit {
  if (date) return 'date';
  if (clock) return 'clock';
  const high = Math.max(0, ...values);
  if (high > 1e11) return 'epoch_ms';
  if (high > 1e8) return 'epoch_s';
  const steps = values.slice(1).map((v, i) => Math.abs(v - values[i]!));
  const step = steps.toSorted((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
  // Nobody waits half a minute between two rows of a brew.
  return step >= 20 ? 'ms' : 's';
}

function temperatureUnit({ values, whole }: ColumnFigures): TraceUnit {
  const high = Math.max(0, ...values);
  const low = Math.min(1e9, ...values);
  if (high > 400 && whole) return 'C/10';
  if (low > 273 && high < 380) return 'K';
  return high > 106 ? 'F' : 'C';
}

/** The unit that makes figures without one those of a brew. */
export function unitFromFigures(use: ColumnUse, figures: ColumnFigures): TraceUnit | null {
  if (use === 'time') return timeUnit(figures);
  if (use === 'poured' || use === 'beverage') return massUnit(figures);
  return use === 'temperature' ? temperatureUnit(figures) : null;
}

/** Whether a unit can belong to a use at all. */
export function unitFits(use: ColumnUse, unit: TraceUnit): boolean {
  const time = ['s', 'ms', 'min', 'h', 'clock', 'date', 'epoch_s', 'epoch_ms'].includes(unit);
  const temperature = ['C', 'F', 'K', 'C/10'].includes(unit);
  if (use === 'time') return time;
  if (use === 'temperature') return temperature;
  return (use === 'poured' || use === 'beverage') && !time && !temperature;
}
