import type { Quantity } from '@pourline/core';
import { Button, Notice, Panel, useForm } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { spreadText } from '../parts/figures.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { termName } from '../parts/terms.ts';
import { litresOf, overrun } from './kernels.ts';
import type { Making } from './use-making.ts';

const ROWS: readonly { of: Quantity; unit: string }[] = [
  { of: 'hardness', unit: 'mg/L CaCO₃' },
  { of: 'alkalinity', unit: 'mg/L CaCO₃' },
  { of: 'calcium', unit: 'mg/L' },
  { of: 'magnesium', unit: 'mg/L' },
  { of: 'sodium', unit: 'mg/L' },
  { of: 'potassium', unit: 'mg/L' },
  { of: 'chloride', unit: 'mg/L' },
  { of: 'sulfate', unit: 'mg/L' },
  { of: 'ion_sum', unit: 'mg/L' },
];

/** What the water is with the amounts that really went in, beside what the sheet makes. */
export function MadePanel({ making }: { making: Making }) {
  const { sheet, made, given } = making;
  const changed = Object.keys(given).length > 0;
  const rows = ROWS.filter(({ of }) => (made.figures.quantities[of]?.value ?? 0) > 0.05);
  return (
    <Panel title={t(changed ? 'making.made' : 'making.will_be')}>
      {changed && <Overrun making={making} />}
      <table className="making-figures">
        <thead>
          <tr>
            <th scope="col">{t('making.figure')}</th>
            {changed && <th scope="col">{t('making.asked')}</th>}
            <th scope="col">{t(changed ? 'making.now' : 'making.value')}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ of, unit }) => (
            <tr key={of}>
              <th scope="row">
                {termName(of)} <small>{unit}</small>
              </th>
              {changed && <td>{formatNumber(sheet.figures.quantities[of]?.value ?? 0, 1)}</td>}
              <td>{spreadText(made.figures.quantities[of])}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="quiet-text making-small">{t('making.spread_text')}</p>
      {changed && made.remarks.length > 0 && <RemarkList remarks={made.remarks} />}
    </Panel>
  );
}

/** A dose that ran over is no loss: a larger batch has room for it. */
function Overrun({ making: { sheet, given } }: { making: Making }) {
  const { set } = useForm();
  const over = overrun(sheet, given);
  if (!over) return null;
  return (
    <Notice
      actions={
        <Button onPress={() => set(['batch_g'], Math.round(over.batch_g))}>{t('making.make_more')}</Button>
      }
    >
      {t('making.overrun', {
        name: over.name,
        percent: formatNumber(over.percent, 1),
        litres: formatNumber(litresOf(over.batch_g), 2),
      })}
    </Notice>
  );
}
