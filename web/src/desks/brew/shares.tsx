import type { BrewResult, Plan } from '@pourline/core';
import { formatNumber, t, tMaybe } from '../../words/index.ts';

/** What each pour brings to the cup: its water and the solids that this water carried. */
export function PourShares({ result, plan }: { result: BrewResult; plan: Plan }) {
  const number = (id: string): string => {
    const index = plan.pours.findIndex((pour) => pour.id === id);
    return index < 0 ? '–' : String(index + 1);
  };
  return (
    <table className="shares">
      <thead>
        <tr>
          <th scope="col">{t('brew.pour_number')}</th>
          <th scope="col">{t('brew.share_of_solids')}</th>
          <th scope="col">
            {t('brew.water_in_cup')} <span className="unit">g</span>
          </th>
          <th scope="col">
            {t('brew.contact')} <span className="unit">°C</span>
          </th>
          <th scope="col">
            {t('brew.bed_after')} <span className="unit">°C</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {result.pours.map((pour) => (
          <tr key={pour.pour_id}>
            <th scope="row">{number(pour.pour_id)}</th>
            <td>
              <Bar share={pour.solids_pct / 100} hue="solutes" />
              {formatNumber(pour.solids_pct)} %{' '}
              <span className="quiet-text">{formatNumber(pour.solids_g, 2)} g</span>
            </td>
            <td>
              {formatNumber(pour.water_in_cup_g)}{' '}
              <span className="quiet-text">/ {formatNumber(pour.water_g)}</span>
            </td>
            <td>{formatNumber(pour.contact_C)}</td>
            <td>{formatNumber(pour.bed_after_C)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** What the cup holds, by solute group, and how much of what the dose could give. */
export function Solutes({ result }: { result: BrewResult }) {
  return (
    <>
      <table className="shares">
        <thead>
          <tr>
            <th scope="col">{t('brew.solute')}</th>
            <th scope="col">{t('brew.extracted')}</th>
            <th scope="col">
              {t('brew.in_cup')} <span className="unit">mg</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {result.cup.solutes.map((solute) => (
            <tr key={solute.key}>
              <th scope="row">{tMaybe(`solute.${solute.key}`) ?? solute.key}</th>
              <td>
                <Bar share={solute.extracted_pct / 100} hue="solutes" />
                {formatNumber(solute.extracted_pct)} %
              </td>
              <td>{formatNumber(solute.beverage_mg)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="quiet-text">{t('brew.solutes_note')}</p>
    </>
  );
}

/** A bar as long as a share, 0–1. */
export function Bar({ share, hue }: { share: number; hue: 'solutes' | 'water' | 'heat' }) {
  const width = Math.min(100, Math.max(0, share * 100));
  return (
    <span className="bar" aria-hidden="true">
      <span className={`bar-fill bar-${hue}`} style={{ width: `${width}%` }} />
    </span>
  );
}
