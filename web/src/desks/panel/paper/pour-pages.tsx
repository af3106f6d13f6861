import type { PourSheetLine, SessionPlan, Tasting } from '@pourline/core';
import { t } from '../../../words/index.ts';
import { PourSheet } from '../session/pour-sheet.tsx';

/** The pour sheet in print, for the one who pours and never speaks to the tasters. */
export function PourPages({ tasting, lines }: { tasting: Tasting; lines: readonly PourSheetLine[] }) {
  return (
    <section className="ballot-page">
      <header className="ballot-head">
        <h2>{t('panel.paper.pour_head', { name: tasting.name })}</h2>
        <p>{t('panel.paper.pour_text')}</p>
      </header>
      <PourSheet lines={lines} />
    </section>
  );
}

/** Codes to cut out and stick on cups: by seat and set, so that a tray is made in one go. */
export function CodeLabels({ plan }: { plan: SessionPlan }) {
  return (
    <section className="ballot-page">
      <ul className="code-labels">
        {plan.sets.flatMap(({ seat, set, cups }) =>
          cups.map(({ code }) => (
            <li key={code} className="code-label">
              <strong>{code}</strong>
              <span>{t('panel.paper.label', { seat, set })}</span>
            </li>
          )),
        )}
      </ul>
    </section>
  );
}
