import { t } from '../../../words/index.ts';
import type { SheetsOf } from './sheet-page.tsx';

/** What lies before the judges: the brewer's own words, numbers filled in. */
export function JudgesCard({ of }: { of: SheetsOf }) {
  const lines = of.placed.card.text.split('\n');
  const [title, ...rest] = lines;
  return (
    <section className="sheet-page sheet-of-judges">
      <h2>{title?.trim() || of.coffeeName}</h2>
      <hr />
      <div className="sheet-words">
        {lines.length === 1 && title === '' ? (
          <p className="sheet-note">{t('stage.sheet.no_card')}</p>
        ) : (
          rest
            .map((line, i) => ({ key: `${i} ${line}`, line }))
            .map(({ key, line }) => <p key={key}>{line}</p>)
        )}
      </div>
    </section>
  );
}
