import { go } from '../../../shell/route.ts';

/** Puts a table into the page of statistics and goes there; what stood there before is replaced. */
export function openTable(kind: string, input: unknown): void {
  try {
    localStorage.setItem(`pourline.desk.panel.table.${kind}`, JSON.stringify({ input }));
  } catch {
    // Without storage the page opens with what it had.
  }
  go('panel', 'tables', kind);
}
