import { APERTURES, apertureTolerance, PRINCIPAL_APERTURES } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';

/** Openings of the standard with their mesh number and how far a sieve may be off. */
export function ApertureTable() {
  return (
    <details className="grind-more">
      <summary>{t('grind.guide.openings')}</summary>
      <p className="quiet-text">{t('grind.guide.openings_text')}</p>
      <div className="table-scroll">
        <table className="grind-table">
          <thead>
            <tr>
              <th scope="col">{t('field.aperture_um')}, µm</th>
              <th scope="col">{t('grind.guide.mesh')}</th>
              <th scope="col">{t('grind.guide.tolerance')}</th>
            </tr>
          </thead>
          <tbody>
            {APERTURES.map(({ aperture_um, mesh }) => (
              <tr key={aperture_um} data-principal={PRINCIPAL_APERTURES.includes(aperture_um) || undefined}>
                <th scope="row">
                  {aperture_um}
                  {PRINCIPAL_APERTURES.includes(aperture_um) && ` ${t('grind.guide.principal')}`}
                </th>
                <td>{mesh}</td>
                <td>± {formatNumber(apertureTolerance(aperture_um * 1e-6) * 1e6, 1)} µm</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
