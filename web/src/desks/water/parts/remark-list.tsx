import type { WaterRemark } from '@pourline/core';
import { Icon } from '../../../ui/index.ts';
import { remarkSentence, t } from '../../../words/index.ts';

/** What core has to say of a water, its making or a bottle: problems first, each with the word of its weight. */
export function RemarkList({ remarks }: { remarks: readonly WaterRemark[] }) {
  if (remarks.length === 0) return null;
  const sorted = LEVELS.flatMap((level) => remarks.filter((remark) => remark.level === level));
  return (
    <ul className="water-remarks">
      {sorted.map((remark) => (
        <li key={`${remark.code} ${remark.sentence}`} className={`water-remark water-remark-${remark.level}`}>
          {remark.level === 'note' ? <span className="water-remark-dot" /> : <Icon name="alert" />}
          <span>
            {remark.level !== 'note' && (
              <span className="visually-hidden">{t(`water.level.${remark.level}`)}: </span>
            )}
            {remarkSentence(remark)}
          </span>
        </li>
      ))}
    </ul>
  );
}

const LEVELS = ['problem', 'caution', 'note'] as const;
