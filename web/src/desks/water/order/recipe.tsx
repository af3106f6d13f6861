import { amountWords, type Dose, type WeighSheet } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';
import { percentText, plainText } from '../parts/figures.ts';

/** What goes into one batch: doses in the order of the shelf, and the water that fills it up. */
export function Recipe({ sheet }: { sheet: WeighSheet }) {
  const { main, doses, batch_g } = sheet;
  return (
    <table className="recipe">
      <caption className="visually-hidden">
        {t('water.recipe.title', { name: sheet.name, grams: formatNumber(batch_g) })}
      </caption>
      <thead className="visually-hidden">
        <tr>
          <th scope="col">{t('water.recipe.amount')}</th>
          <th scope="col">{t('water.recipe.what')}</th>
        </tr>
      </thead>
      <tbody>
        {doses.map((dose) => (
          <DoseRow key={dose.item_id} dose={dose} />
        ))}
        <tr className="recipe-main">
          <td className="recipe-amount">{formatNumber(main.grams, main.grams < 100 ? 1 : 0)} g</td>
          <th scope="row">
            {main.name}
            <span className="recipe-detail">
              {t('water.recipe.fill', { grams: formatNumber(batch_g) })}
              {sheet.price > 0 && ` · ${t('water.recipe.price', { price: formatNumber(sheet.price, 2) })}`}
            </span>
          </th>
        </tr>
      </tbody>
    </table>
  );
}

function DoseRow({ dose }: { dose: Dose }) {
  const { steps, step_words, exact_g, grams, uncertainty, mL } = dose;
  const exact = mL === null ? exact_g : (exact_g * mL) / grams;
  return (
    <tr>
      <td className="recipe-amount">{amountWords(dose)}</td>
      <th scope="row">
        {dose.name}
        <span className="recipe-detail">
          {step_words === 'a drop'
            ? t('water.recipe.drops', { grams: plainText(grams, 3) })
            : t('water.recipe.steps', { steps, step: step_words })}
          {' · '}
          {t('water.recipe.exact', { amount: plainText(exact, 4), unit: mL === null ? 'g' : 'mL' })}
          {' · '}
          {t('water.recipe.spread', { percent: percentText(2 * uncertainty) })}
        </span>
      </th>
    </tr>
  );
}
