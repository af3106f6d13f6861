import { Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { percentText, plainText } from '../parts/figures.ts';
import type { Verdict } from './bottle-verdicts.ts';

/** Weigh it straight in, or make a concentrate? For every salt of every water, both ways with what the balance leaves open. */
export function VerdictTable({ verdicts }: { verdicts: readonly Verdict[] }) {
  if (verdicts.length === 0) return null;
  return (
    <Panel title={t('water.verdict.title')}>
      <p className="quiet-text">{t('water.verdict.text')}</p>
      <div className="table-scroll">
        <table className="water-table">
          <thead>
            <tr>
              <th scope="col">{t('water.verdict.salt')}</th>
              <th scope="col">{t('water.verdict.grams')}</th>
              <th scope="col">{t('water.verdict.straight')}</th>
              <th scope="col">{t('water.verdict.through')}</th>
              <th scope="col" className="verdict">
                {t('water.verdict.advice')}
              </th>
            </tr>
          </thead>
          <tbody>
            {verdicts.map(({ water, salt, of }) => (
              <tr key={`${water} ${salt}`}>
                <th scope="row">
                  {salt} <span className="quiet-text">{water}</span>
                </th>
                <td>{plainText(of.grams, 3)} g</td>
                <td>± {percentText(2 * of.straight)}</td>
                <td>± {percentText(2 * of.through)}</td>
                <td className="verdict">
                  {t(`water.verdict.${of.advice}`)}
                  {of.advice === 'concentrate' && (
                    <span className="recipe-detail">
                      {t('water.verdict.batch', { kg: formatNumber(of.batch_for_straight_g / 1000, 1) })}
                    </span>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Panel>
  );
}
