import { formatNumber, formatWithUnit, t } from '../../../words/index.ts';
import { brewerName, SheetPage, type SheetsOf } from './sheet-page.tsx';

/** Jars to be weighed in: what each must hold, for which brewer, and room for what it does hold. */
export function JarSheet({ of }: { of: SheetsOf }) {
  const { jars, dose_g, retention_g, target_g, tolerance_g } = of.jars;
  return (
    <SheetPage name="jars" of={of} title={t('stage.sheet.jars')} note={of.coffeeName}>
      <p>
        {t('stage.sheet.jar_sum', {
          dose: formatNumber(dose_g, 1),
          retention: formatNumber(retention_g, 2),
          target: formatNumber(target_g, 2),
          tolerance: formatNumber(tolerance_g, 2),
        })}
      </p>
      {jars.length === 0 ? (
        <p>{t('stage.sheet.no_jars')}</p>
      ) : (
        <table className="sheet-table">
          <thead>
            <tr>
              <th scope="col">{t('stage.jars.jar')}</th>
              <th scope="col">{t('stage.actions.brewer')}</th>
              <th scope="col">{t('stage.jars.weighed')}</th>
              <th scope="col">{t('stage.sheet.right')}</th>
            </tr>
          </thead>
          <tbody>
            {jars.map(({ id, name, brewer, weighed_g, verdict }) => (
              <tr key={id}>
                <td>{name}</td>
                <td>{brewer === null ? t('stage.jars.spare') : brewerName(brewer)}</td>
                <td>
                  {weighed_g === null ? <span className="sheet-blank" /> : formatWithUnit(weighed_g, 'g', 2)}
                </td>
                <td>
                  {verdict === 'not_weighed' ? <span className="sheet-box" /> : t(`stage.jars.${verdict}`)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </SheetPage>
  );
}
