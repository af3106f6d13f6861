import type { SaidAgainstTasted } from '@pourline/core';
import { t } from '../../../words/index.ts';
import { windowWords } from './said-panel.tsx';

/** Full, half and empty: found, near, missed. */
const MARKS = { found: '●', near: '◐', missed: '○' } as const;

/** Said against tasted: for every word what each taster had instead. */
export function AgainstTable({ rows }: { rows: readonly SaidAgainstTasted[] }) {
  const tasters = [...new Set(rows.flatMap((row) => row.tasters.map(({ taster }) => taster)))];
  if (rows.length === 0) return <p className="quiet-text">{t('panel.describe.nothing_said')}</p>;
  return (
    <>
      <div className="table-scroll">
        <table className="panel-table against">
          <thead>
            <tr>
              <th scope="col">{t('panel.describe.said_word')}</th>
              {tasters.map((taster) => (
                <th key={taster} scope="col">
                  {taster}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={`${row.window} ${row.word}`}>
                <th scope="row">
                  {row.word} <span className="quiet-text">{windowWords(row.window)}</span>
                </th>
                {tasters.map((taster) => {
                  const own = row.tasters.find((one) => one.taster === taster);
                  return (
                    <td key={taster}>
                      {own ? (
                        <>
                          <span className="against-mark" aria-hidden="true">
                            {MARKS[own.outcome]}
                          </span>
                          <span className="visually-hidden">
                            {t(`panel.describe.outcome.${own.outcome}`)}:{' '}
                          </span>{' '}
                          {own.tasted.join(', ') || '–'}
                        </>
                      ) : (
                        '–'
                      )}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet-text">
        {(['found', 'near', 'missed'] as const)
          .map((outcome) => `${MARKS[outcome]} ${t(`panel.describe.outcome.${outcome}`)}`)
          .join('   ')}
      </p>
    </>
  );
}
