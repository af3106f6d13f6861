import type { Cue } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';
import { paperClock, SheetPage, type SheetsOf } from './sheet-page.tsx';

/** Two cards to be learned: when each brewer is touched, and what is said from when. */
export function CueCards({ of }: { of: SheetsOf }) {
  const hands = of.cues.filter(({ what }) => what !== 'say');
  const brewers = [...new Set(hands.map(({ brewer }) => brewer))]
    .filter((b) => b !== null)
    .sort((a, b) => a - b);
  const rows = matrixOf(hands);
  const said = of.cues.filter(({ what }) => what === 'say');
  return (
    <>
      <SheetPage
        name="card"
        of={of}
        title={t('stage.sheet.hands_card')}
        note={t('stage.sheet.limit', { limit: paperClock(of.plan.limit_s) })}
      >
        <table className="sheet-matrix">
          <thead>
            <tr>
              <th scope="col">{t('stage.sheet.do')}</th>
              {brewers.map((brewer) => (
                <th scope="col" key={brewer}>
                  {brewer}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ key, name, scale, byBrewer }) => (
              <tr key={key}>
                <th scope="row">
                  {name}
                  {scale !== null && <span> {t('stage.sheet.to', { grams: formatNumber(scale) })}</span>}
                </th>
                {brewers.map((brewer) => (
                  <td key={brewer}>{paperClock(byBrewer.get(brewer) ?? null)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
        <p className="sheet-note">
          {t('stage.sheet.latest', { latest: paperClock(of.plan.schedule.latest_first_pour_s) })}
        </p>
      </SheetPage>
      <SheetPage name="card" of={of} title={t('stage.sheet.words_card')}>
        {said.length === 0 ? (
          <p>{t('stage.sheet.nothing_said')}</p>
        ) : (
          <ol className="sheet-cues">
            {said.map(({ id, at_s, title, text }) => (
              <li key={id}>
                <span>{paperClock(at_s)}</span>
                <span>
                  <strong>{title}</strong>
                  {text !== '' && text !== title && <em>{firstWords(text)}</em>}
                </span>
              </li>
            ))}
          </ol>
        )}
      </SheetPage>
    </>
  );
}

interface MatrixRow {
  key: string;
  name: string;
  /** What the scale shows after it [g]. */
  scale: number | null;
  byBrewer: Map<number, number>;
}

/** Cues of the hands by what they are, brewer by brewer; the n-th of a kind stands in its own row. */
export function matrixOf(hands: readonly Cue[]): MatrixRow[] {
  const rows = new Map<string, MatrixRow & { first: number }>();
  const seen = new Map<string, number>();
  for (const { what, brewer, at_s, scale_g } of hands) {
    if (brewer === null) continue;
    const count = (seen.get(`${brewer} ${what}`) ?? 0) + 1;
    seen.set(`${brewer} ${what}`, count);
    const key = `${what} ${count}`;
    const row = rows.get(key) ?? {
      key,
      name: nameOf(what, count),
      scale: scale_g,
      byBrewer: new Map<number, number>(),
      first: at_s,
    };
    row.byBrewer.set(brewer, at_s);
    rows.set(key, row);
  }
  return [...rows.values()].sort((a, b) => a.first - b.first);
}

function nameOf(what: Cue['what'], count: number): string {
  if (what === 'pour') return t('stage.pour_number', { number: count });
  if (what === 'stir' || what === 'swirl' || what === 'decant' || what === 'serve')
    return t(`stage.what.${what}`);
  return what;
}

/** The words to begin with: enough to fall into the sentence. */
function firstWords(text: string): string {
  const spaced = text.trim().split(/\s+/);
  const cut = spaced.length > 3 ? spaced.slice(0, 7).join(' ') : text.trim().slice(0, 24);
  return cut.length < text.trim().length ? `${cut} …` : cut;
}
