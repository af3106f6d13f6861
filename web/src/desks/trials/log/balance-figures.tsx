import type { Lookup, Plan, Trial } from '@pourline/core';
import { useMemo } from 'react';
import { formatNumber, remarkSentence, t, tMaybe } from '../../../words/index.ts';
import { type BalanceRow, balanceOf } from '../parts/balance.ts';

interface BalanceFiguresProps {
  trial: Trial;
  plan: Plan | null;
  lookup: Lookup;
}

/** Where the grams went: strength, yield and held liquid, each with what it may be off and why. */
export function BalanceFigures({ trial, plan, lookup }: BalanceFiguresProps) {
  const { rows, remarks } = useMemo(() => balanceOf(trial, plan, lookup), [trial, plan, lookup]);
  if (rows.length === 0) return <p className="quiet-text">{t('trials.balance.none')}</p>;
  return (
    <div className="balance" aria-live="polite">
      <dl>
        {rows.map((row) => (
          <Figure key={row.key} row={row} />
        ))}
      </dl>
      {remarks.length > 0 && (
        <ul className="balance-remarks">
          {remarks.map((remark) => (
            <li key={remark.sentence} data-level={remark.level}>
              {remarkSentence(remark)}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** Causes that make up less than this share of the doubt are not named. */
const SMALL = 0.02;

function Figure({ row }: { row: BalanceRow }) {
  const { key, figure, unit, digits } = row;
  const causes = figure.causes.filter(({ share }) => share >= SMALL);
  return (
    <div data-figure={key}>
      <dt>{t(`trials.balance.${key}`)}</dt>
      <dd>
        <span className="balance-value">{formatNumber(figure.value, digits)}</span>
        {figure.uncertainty > 0.05 * 10 ** -digits && (
          <span className="balance-spread"> ± {formatNumber(figure.uncertainty, digits + 1)}</span>
        )}
        {unit && <span className="unit"> {unit}</span>}
        {causes.length > 0 && (
          <details className="balance-why">
            <summary>{t('trials.balance.why')}</summary>
            <ul>
              {causes.map(({ cause, share }) => (
                <li key={cause}>
                  {t('trials.balance.cause', {
                    cause: tMaybe(`trials.cause.${cause}`) ?? cause,
                    share: Math.round(100 * share),
                  })}
                </li>
              ))}
            </ul>
          </details>
        )}
      </dd>
    </div>
  );
}
