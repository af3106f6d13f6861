import type { StageAnswer } from '@pourline/core';
import { figureLines } from './panel.ts';

/** What each tone is called at the beginning of a line; a good remark and a plain note need no mark. */
const MARKS: Readonly<Record<string, string>> = {
  impossible: 'not possible: ',
  watch: 'mind: ',
  ask: 'ask: ',
  nearest: 'nearest: ',
};

/** Remarks as sentences, then the figures behind them. */
export function stageText({ figures, remarks }: StageAnswer): string {
  const said = remarks.map(({ tone, sentence }) => `${MARKS[tone] ?? ''}${sentence}`);
  const lines = figureLines(figures);
  return `${[...said, ...(said.length > 0 && lines.length > 0 ? [''] : []), ...lines].join('\n')}\n`;
}
