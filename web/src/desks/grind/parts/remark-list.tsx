import type { GrindRemark, PhotoRemark } from '@pourline/core';
import { Icon } from '../../../ui/index.ts';
import { remarkSentence, t } from '../../../words/index.ts';

type Level = GrindRemark['level'];
const LEVELS: readonly Level[] = ['problem', 'caution', 'note'];
const OF_PHOTO: Readonly<Record<PhotoRemark['weight'], Level>> = {
  stop: 'problem',
  doubt: 'caution',
  note: 'note',
};

/** A remark of a photograph with the level it has among the others. */
export const ofPhoto = ({ code, weight, values, sentence }: PhotoRemark): GrindRemark => ({
  level: OF_PHOTO[weight],
  code: `photo_${code}`,
  values,
  sentence,
});

/** The remark in the language in use. */
const said = ({ terms = {}, ...remark }: GrindRemark): string =>
  remarkSentence({
    ...remark,
    terms: Object.fromEntries(Object.entries(terms).map(([name, term]) => [name, [term]])),
  });

/** What core has to say of a measurement, a mix or a grinder: problems first, each with the word of its weight. */
export function RemarkList({ remarks }: { remarks: readonly GrindRemark[] }) {
  if (remarks.length === 0) return null;
  const sorted = LEVELS.flatMap((level) => remarks.filter((remark) => remark.level === level));
  return (
    <ul className="grind-remarks">
      {sorted.map((remark) => (
        <li key={`${remark.code} ${remark.sentence}`} className={`grind-remark grind-remark-${remark.level}`}>
          {remark.level === 'note' ? <span className="grind-remark-dot" /> : <Icon name="alert" />}
          <span>
            {remark.level !== 'note' && (
              <span className="visually-hidden">{t(`grind.level.${remark.level}`)}: </span>
            )}
            {said(remark)}
          </span>
        </li>
      ))}
    </ul>
  );
}
