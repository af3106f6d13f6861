import type { Lookup, Plan, Trial } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';
import { balanceOf } from '../parts/balance.ts';

interface BalanceFiguresProps {
  trial: Trial;
  plan: Plan | null;
  lookup: Lookup;
}

/** Where the grams went: strength, yield and held liquid, each with what it may be off. */
export function BalanceFigures({ trial, plan, lookup }: BalanceFiguresProps) {
  const { rows, remarks } = balanceOf(trial, plan, lookup);
  return (
    <div className="balance" aria-live="polite">
      <dl>
        {rows.map(({ key, value, u, unit, digits }) => (
          <div key={key} data-figure={key}>
            <dt>{t(`trials.balance.${key}`)}</dt>
            <dd>
              <span className="balance-value">{formatNumber(value, digits)}</span>
              {u !== null && <span className="balance-spread"> ± {formatNumber(u, digits)}</span>}
              {value !== null && <span className="unit"> {unit}</span>}
            </dd>
          </div>
        ))}
      </dl>
      {remarks.length > 0 && (
        <ul className="balance-remarks">
          {remarks.map((remark) => (
            <li key={remark}>{remark}</li>
          ))}
        </ul>
      )}
    </div>
  );
}
