import type { Finding, Firmness } from '@pourline/core';
import { remarkSentence, t } from '../../../words/index.ts';
import { numbered } from './numbered.ts';

/** Shapes that stand for how firm a finding is: full, half, empty, crossed. A word says the same. */
const SHAPES: Readonly<Record<Firmness, string>> = {
  clear: 'M10 3a7 7 0 100 14 7 7 0 000-14z',
  maybe: 'M10 3a7 7 0 000 14z',
  not_shown: '',
  cannot: 'M5 5l10 10M15 5L5 15',
  note: 'M10 9v5M10 6.2h.01',
  caution: 'M10 6v5M10 14h.01',
};

/** The mark of a finding. */
export function FirmnessMark({ firmness }: { firmness: Firmness }) {
  return (
    <svg className={`firmness firmness-${firmness}`} viewBox="0 0 20 20" aria-hidden="true" focusable="false">
      {firmness === 'caution' ? (
        <path className="firmness-rim" d="M10 2.5l8 14.5H2z" />
      ) : (
        <circle className="firmness-rim" cx="10" cy="10" r="7" />
      )}
      <path className="firmness-inner" d={SHAPES[firmness]} />
    </svg>
  );
}

/** What results mean, the firmest first as core gives them, each with a mark and the word for it. */
export function FindingList({ findings, live = false }: { findings: readonly Finding[]; live?: boolean }) {
  return (
    <ul className="findings" {...(live ? { 'aria-live': 'polite' as const } : {})}>
      {numbered(findings).map(({ at, of: found }) => (
        <li key={at} className={`finding finding-${found.firmness}`}>
          <FirmnessMark firmness={found.firmness} />
          <FindingText found={found} />
        </li>
      ))}
    </ul>
  );
}

/** The word for how firm it is, once: many a sentence begins with it. */
function FindingText({ found }: { found: Finding }) {
  const sentence = remarkSentence(found);
  const word = found.firmness === 'note' ? '' : t(`panel.firmness.${found.firmness}`);
  const begins = sentence.startsWith(word.replace(/\.$/, ''));
  return (
    <p>
      {!begins && <strong>{word} </strong>}
      {sentence}
    </p>
  );
}
