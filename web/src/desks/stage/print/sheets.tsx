import { CueCards } from './cue-cards.tsx';
import { JarSheet } from './jar-sheet.tsx';
import { JudgesCard } from './judges-card.tsx';
import type { Paper, Sheet } from './paper.ts';
import { RunSheet } from './run-sheet.tsx';
import type { SheetsOf } from './sheet-page.tsx';
import { TableMap } from './table-map.tsx';

interface SheetsProps {
  of: SheetsOf;
  sheets: readonly Sheet[];
  paper: Paper;
}

/** The chosen sheets, a page or more each. */
export function Sheets({ of, sheets, paper }: SheetsProps) {
  return (
    <div className={`sheet sheet-${paper}`}>
      {sheets.includes('card') && <CueCards of={of} />}
      {sheets.includes('run') && <RunSheet of={of} paper={paper} />}
      {sheets.includes('table') && <TableMap of={of} paper={paper} />}
      {sheets.includes('jars') && <JarSheet of={of} />}
      {sheets.includes('judges') && <JudgesCard of={of} />}
    </div>
  );
}
