import type { DesignedConcentrate, WantedWater } from '@pourline/core';
import { Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { plainText } from '../parts/figures.ts';
import { printedForm } from '../parts/formula.ts';
import { RemarkList } from '../parts/remark-list.tsx';

interface BottleProps {
  bottle: DesignedConcentrate;
  waters: readonly WantedWater[];
}

/** One bottle to be made: what goes in, how many containers it fills, what each water takes, and whether it stays clear. */
export function Bottle({ bottle, waters }: BottleProps) {
  const { recipe, volume_mL, bottles, doses, remarks, concentrate } = bottle;
  const title = recipe.parts.map(({ form }) => printedForm(form)).join(' + ');
  return (
    <Panel title={title}>
      <table className="recipe">
        <caption className="visually-hidden">{recipe.name}</caption>
        <tbody>
          {recipe.parts.map(({ form, grams }) => (
            <tr key={printedForm(form)}>
              <td className="recipe-amount">{plainText(grams, 3)} g</td>
              <th scope="row">{printedForm(form)}</th>
            </tr>
          ))}
          <tr className="recipe-main">
            <td className="recipe-amount">{formatNumber(recipe.water_g)} g</td>
            <th scope="row">
              {t('water.bottles.purified')}
              <span className="recipe-detail">
                {t('water.bottles.volume', {
                  volume: formatNumber(volume_mL),
                  bottles,
                  density: formatNumber(concentrate.density, 3),
                })}
              </span>
            </th>
          </tr>
        </tbody>
      </table>
      <ul className="bottle-doses">
        {doses
          .filter(({ grams }) => grams > 0)
          .map(({ water_id, grams, mL }) => (
            <li key={water_id}>
              <span>{waters.find(({ id }) => id === water_id)?.name ?? '–'}</span>
              <span>
                {concentrate.given_by === 'syringe' ? `${plainText(mL, 2)} mL` : `${plainText(grams, 2)} g`}
              </span>
            </li>
          ))}
      </ul>
      <RemarkList remarks={remarks} />
    </Panel>
  );
}
