import type { PlannedSet, SessionPlan, Tasting } from '@pourline/core';
import { t } from '../../../words/index.ts';
import { designOf, type PaperLine, paperLines } from './paper-kernels.ts';

interface BallotsProps {
  tasting: Tasting;
  plan: SessionPlan;
  names: Readonly<Record<string, string>>;
}

/** One ballot a seat: codes in order of tasting, room to answer, nothing that tells what is in a cup. */
export function Ballots({ tasting, plan, names }: BallotsProps) {
  const lines = paperLines(designOf(tasting), plan);
  const seats = [...new Set(lines.map(({ seat }) => seat))];
  return (
    <>
      {seats.map((seat) => (
        <section key={seat} className="ballot-page">
          <header className="ballot-head">
            <h2>{tasting.title === '' ? t('panel.paper.ballot') : tasting.title}</h2>
            <p>
              {t('panel.paper.seat', { seat })} · {t('panel.paper.name')}:{' '}
              {names[seat]?.trim() ? names[seat] : <span className="ballot-line" />}
            </p>
          </header>
          {tasting.instructions !== '' && <p>{tasting.instructions}</p>}
          <p className="ballot-question">{questionOf(tasting)}</p>
          <Legend tasting={tasting} />
          <table className="ballot-lines">
            <tbody>
              {lines
                .filter((line) => line.seat === seat)
                .map((line) => (
                  <BallotLine key={line.key} line={line} tasting={tasting} />
                ))}
            </tbody>
          </table>
          <p className="ballot-foot">{t('panel.paper.care')}</p>
        </section>
      ))}
    </>
  );
}

/** The question as it stands on paper. */
export function questionOf({ method }: Tasting): string {
  const attribute = 'attribute' in method ? method.attribute : '';
  return t(`panel.paper.question.${method.test}`, { attribute });
}

function Legend({ tasting: { method } }: { tasting: Tasting }) {
  if (method.test === 'check_all')
    return (
      <ol className="ballot-legend">
        {method.words.map(({ id, word }, i) => (
          <li key={id}>
            {i + 1} {word}
          </li>
        ))}
      </ol>
    );
  if (method.test === 'descriptors')
    return (
      <ul className="ballot-legend">
        {method.statements.map(({ id, name, options }) => (
          <li key={id}>
            {name}: {options.map((option, i) => `${i + 1} ${option}`).join(', ')}
          </li>
        ))}
      </ul>
    );
  if (method.test === 'intensity' || method.test === 'just_about_right')
    return (
      <ul className="ballot-legend">
        {method.attributes.map(({ id, name, low, high }) => (
          <li key={id}>
            {name}
            {low !== '' || high !== '' ? ` (${low} … ${high})` : ''}
          </li>
        ))}
      </ul>
    );
  return null;
}

const cupsOf = (set: PlannedSet): string[] => set.cups.filter((cup) => !cup.known).map(({ code }) => code);

function BallotLine({ line, tasting }: { line: PaperLine; tasting: Tasting }) {
  const { set, code, window_id } = line;
  const known = set.cups.find((cup) => cup.known)?.code;
  const window = tasting.windows.find(({ id }) => id === window_id);
  return (
    <tr>
      <td className="ballot-set">
        {set.set}
        {window && (
          <>
            <br />
            {t('panel.paper.window', { window: window.name, from: window.from_C, to: window.to_C })}
          </>
        )}
      </td>
      <td className="ballot-codes">
        {known !== undefined && (
          <span className="ballot-known">{t('panel.paper.known', { code: known })}</span>
        )}
        {(code === null ? cupsOf(set) : [code]).map((one) => (
          <span key={one} className="ballot-code">
            {one}
          </span>
        ))}
      </td>
      <td className="ballot-answer">
        <span className="ballot-line ballot-line-wide" />
      </td>
    </tr>
  );
}
