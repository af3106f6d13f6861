import type { GrindMixSheet } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';

/** What to grind and to weigh for so many cups, part by part. */
export function WeighTable({ sheet, cups }: { sheet: GrindMixSheet; cups: number }) {
  const grams = (value: number): string => `${formatNumber(value, 2)} g`;
  return (
    <div className="table-scroll">
      <table className="grind-table weigh-table">
        <caption className="visually-hidden">{t('grind.mix.weigh')}</caption>
        <thead>
          <tr>
            <th scope="col">{t('grind.mix.column.part')}</th>
            <th scope="col">{t('grind.mix.column.beans')}</th>
            <th scope="col">{t('grind.mix.column.per_cup')}</th>
            <th scope="col">{t('grind.mix.column.share')}</th>
            <th scope="col">{t('grind.mix.column.away')}</th>
          </tr>
        </thead>
        <tbody>
          {sheet.parts.map((part) => (
            <tr key={part.name}>
              <th scope="row">{part.name}</th>
              <td className="weigh-main">
                {part.grindings > 1 ? `${part.grindings} × ` : ''}
                {grams(part.beans_g)}
              </td>
              <td className="weigh-main">{grams(part.per_cup_g)}</td>
              <td>{formatNumber(100 * part.share, 1)} %</td>
              <td>
                {t('grind.mix.away', {
                  sieved: formatNumber(part.sieved_out_g, 1),
                  lost: formatNumber(part.lost_g, 1),
                })}
              </td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">{t('grind.mix.together', { cups })}</th>
            <td>{grams(sheet.beans_g)}</td>
            <td>{grams(sheet.dose_g)}</td>
            <td colSpan={2}>{t('grind.mix.doubt', { points: formatNumber(sheet.share_doubt_pct, 1) })}</td>
          </tr>
        </tfoot>
      </table>
    </div>
  );
}
