import type { BrewResult } from '@pourline/core';
import { t } from '../../words/index.ts';
import { figureText } from './cup-panel.tsx';
import { MAIN_FIGURES } from './figures.ts';

/** The cup in one line, kept in view over the strip where the cup panel lies below it. */
export function Summary({ result, stale }: { result: BrewResult | null; stale: boolean }) {
  if (!result) return <div className="brew-summary" aria-hidden="true" />;
  return (
    <div className="brew-summary" aria-hidden="true" data-stale={stale || undefined}>
      {MAIN_FIGURES.map((figure) => (
        <span key={figure.key}>
          <small>{t(figure.label)}</small>
          <b>{figureText(figure, figure.of(result))}</b>
        </span>
      ))}
    </div>
  );
}
