import type { TraceRemark } from '@pourline/core';
import { Icon } from '../../../ui/index.ts';
import { formatClock, remarkSentence, t } from '../../../words/index.ts';

const LEVELS = ['problem', 'caution', 'note'] as const;

/** What core says of a recording: problems first, each with the word of its weight and the moment it concerns. */
export function TraceRemarks({ remarks }: { remarks: readonly TraceRemark[] }) {
  if (remarks.length === 0) return null;
  const sorted = LEVELS.flatMap((level) => remarks.filter((remark) => remark.level === level));
  return (
    <ul className="trace-remarks">
      {sorted.map((remark) => (
        <li key={`${remark.code} ${remark.at_s} ${remark.sentence}`} data-level={remark.level}>
          {remark.level === 'note' ? <span className="trace-dot" /> : <Icon name="alert" />}
          <span>
            {remark.level !== 'note' && (
              <span className="visually-hidden">{t(`trials.level.${remark.level}`)}: </span>
            )}
            {remark.at_s !== null && <b>{formatClock(remark.at_s)} </b>}
            {remarkSentence(remark)}
          </span>
        </li>
      ))}
    </ul>
  );
}
