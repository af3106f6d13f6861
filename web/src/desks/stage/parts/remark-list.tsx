import type { RemarkTone, StageRemark } from '@pourline/core';
import { Icon } from '../../../ui/index.ts';
import { remarkSentence, t } from '../../../words/index.ts';

const ORDER: readonly RemarkTone[] = ['impossible', 'ask', 'watch', 'nearest', 'good', 'note'];
const ALERTING: readonly RemarkTone[] = ['impossible', 'watch', 'ask'];

/** A remark of the stage in the language in use. */
export const saidOnStage = ({ code, values, sentence }: StageRemark): string =>
  remarkSentence({ code: `stage_${code}`, values, sentence });

/** What core has to say of a run: what is not possible first, each with a mark and the word of its weight. */
export function RemarkList({ remarks }: { remarks: readonly StageRemark[] }) {
  if (remarks.length === 0) return null;
  const seen = new Set<string>();
  const sorted = ORDER.flatMap((tone) => remarks.filter((remark) => remark.tone === tone)).filter(
    (remark) => {
      const first = !seen.has(remark.sentence);
      seen.add(remark.sentence);
      return first;
    },
  );
  return (
    <ul className="stage-remarks">
      {sorted.map((remark) => (
        <li key={`${remark.code} ${remark.sentence}`} className={`stage-remark stage-remark-${remark.tone}`}>
          {ALERTING.includes(remark.tone) ? (
            <Icon name="alert" />
          ) : (
            <Icon name={remark.tone === 'nearest' ? 'right' : remark.tone === 'good' ? 'check' : 'remove'} />
          )}
          <span>
            <span className="visually-hidden">{t(`stage.tone.${remark.tone}`)}: </span>
            {saidOnStage(remark)}
          </span>
        </li>
      ))}
    </ul>
  );
}
