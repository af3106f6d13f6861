/** Prints a plain table: first column left, the others right. */
export function printTable(
  title: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
): void {
  const all = [head, ...rows];
  const widths = head.map((_, c) => Math.max(...all.map((row) => (row[c] ?? '').length)));
  const line = (row: readonly string[]) =>
    widths
      .map((w, c) => (c === 0 ? (row[c] ?? '').padEnd(w) : (row[c] ?? '').padStart(w)))
      .join('  ')
      .trimEnd();
  console.log(`\n${title}\n${line(head)}\n${widths.map((w) => '-'.repeat(w)).join('  ')}`);
  for (const row of rows) console.log(line(row));
}
