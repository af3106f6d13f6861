/** One line of a lane: a mark and its value at each column; NaN leaves a gap. */
export interface Series {
  mark: string;
  values: readonly number[];
}

export interface Lane {
  name: string;
  unit: string;
  /** Height in rows of text. */
  rows: number;
  series: readonly Series[];
  /** Fills the space under the first series. */
  filled?: boolean;
  /** Lower end of the scale; the smallest value when not given. */
  from?: number;
}

const GUTTER = 16;

/** Value of a trace at a moment, between its grid points on a straight line; NaN outside the grid or beside a gap. */
export function valueAt(times: ArrayLike<number>, values: ArrayLike<number>, t: number): number {
  const last = times.length - 1;
  if (last < 0 || t < times[0]! || t > times[last]!) return Number.NaN;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle]! <= t) low = middle;
    else high = middle;
  }
  const span = times[high]! - times[low]!;
  if (span <= 0) return values[high]!;
  const w = (t - times[low]!) / span;
  if (w === 0) return values[low]!;
  return values[low]! * (1 - w) + values[high]! * w;
}

/** Moments in the middle of each of `columns` equal parts of `0 … end` [s]. */
export const columnTimes = (end: number, columns: number): number[] =>
  Array.from({ length: columns }, (_, c) => ((c + 0.5) * end) / columns);

function scaleOf(lane: Lane): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const { values } of lane.series)
    for (const value of values) {
      if (Number.isNaN(value)) continue;
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  if (low > high) return [0, 1];
  if (lane.from !== undefined) low = lane.from;
  return high - low < 1e-9 ? [low, low + 1] : [low, high];
}

/** Lines of one lane: its scale at the left, its series as marks. */
export function drawLane(lane: Lane): string[] {
  const [low, high] = scaleOf(lane);
  const columns = lane.series[0]?.values.length ?? 0;
  const grid = Array.from({ length: lane.rows }, () => Array<string>(columns).fill(' '));
  lane.series.forEach(({ mark, values }, s) => {
    values.forEach((value, c) => {
      if (Number.isNaN(value)) return;
      const level = Math.round(((value - low) / (high - low)) * (lane.rows - 1));
      const top = lane.rows - 1 - Math.min(lane.rows - 1, Math.max(0, level));
      if (lane.filled && s === 0) {
        if (value - low > (high - low) * 1e-3) for (let r = top; r < lane.rows; r++) grid[r]![c] = mark;
      } else grid[top]![c] = mark;
    });
  });
  const decimals = high - low >= 20 ? 0 : 1;
  return grid.map((cells, r) => {
    const label = r === 0 ? high.toFixed(decimals) : r === lane.rows - 1 ? low.toFixed(decimals) : '';
    const title = r === 0 ? lane.name : r === 1 ? lane.unit : '';
    return `${title.padEnd(GUTTER - 7)}${label.padStart(5)} |${cells.join('')}`.trimEnd();
  });
}

/** A round step so that `end` holds about one label for each 12 columns. */
function tickStep(end: number, columns: number): number {
  const wanted = (end / columns) * 12;
  return [1, 2, 5, 10, 15, 20, 30, 60, 120, 300, 600, 1200].find((step) => step >= wanted) ?? 1800;
}

/** The time axis: a ruler and its labels [s]. */
export function drawAxis(end: number, columns: number): string[] {
  const ruler = Array<string>(columns).fill('-');
  const labels = Array<string>(columns + 6).fill(' ');
  for (let t = 0; t <= end; t += tickStep(end, columns)) {
    const c = Math.min(columns - 1, Math.floor((t / end) * columns));
    ruler[c] = '+';
    [...String(t)].forEach((digit, i) => {
      labels[c + i] = digit;
    });
  }
  const pad = ' '.repeat(GUTTER - 1);
  return [`${pad}+${ruler.join('')}`, `${' '.repeat(GUTTER - 3)}s  ${labels.join('')}`.trimEnd()];
}

/** A lane of things with a beginning and an end, each written inside its bar: pours, stirs, the lift. */
export function drawBars(
  name: string,
  bars: readonly { from: number; to: number; label: string }[],
  end: number,
  columns: number,
): string {
  const cells = Array<string>(columns).fill(' ');
  for (const { from, to, label } of bars) {
    const first = Math.min(columns - 1, Math.max(0, Math.floor((from / end) * columns)));
    const last = Math.min(columns - 1, Math.max(first, Math.ceil((to / end) * columns) - 1));
    for (let c = first; c <= last; c++) cells[c] = '=';
    [...label].forEach((letter, i) => {
      if (first + i < columns) cells[first + i] = letter;
    });
  }
  return `${name.padEnd(GUTTER - 1)}|${cells.join('')}`.trimEnd();
}
