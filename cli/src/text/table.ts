/**
 * Lines of a plain table. The first column is set left, the others right.
 * @param rows Cells; the first row is the head. An empty head row is left out.
 */
export function table(rows: readonly (readonly string[])[]): string[] {
  const columns = Math.max(...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, c) =>
    Math.max(...rows.map((row) => (row[c] ?? '').length)),
  );
  const line = (row: readonly string[]) =>
    widths
      .map((width, c) => (c === 0 ? (row[c] ?? '').padEnd(width) : (row[c] ?? '').padStart(width)))
      .join('  ')
      .trimEnd();
  const [head, ...body] = rows;
  const lines = body.map(line);
  if (!head || head.every((cell) => cell === '')) return lines;
  return [line(head), widths.map((width) => '-'.repeat(width)).join('  '), ...lines];
}

/** A number with fixed decimals, or a dash when there is none. */
export const fixed = (value: number | null | undefined, decimals: number): string =>
  value === null || value === undefined || !Number.isFinite(value) ? '–' : value.toFixed(decimals);
