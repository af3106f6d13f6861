import type { SizeAnalysis } from '@pourline/core';
import { Fields, NumberAt, OptionAt } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { modelOptions } from '../parts/options.ts';

/** Which curve is fitted, how well each did, and what counts as fines. */
export function FitPanel({ analysis }: { analysis: SizeAnalysis | null }) {
  return (
    <div className="grind-stack">
      <Fields>
        <OptionAt path={['model']} options={modelOptions()} />
        <NumberAt path={['fines_limit_um']} step={10} />
      </Fields>
      {analysis && analysis.fits.length > 0 && (
        <table className="grind-table">
          <thead>
            <tr>
              <th scope="col">{t('grind.fit.curve')}</th>
              <th scope="col">{t('grind.fit.weight')}</th>
              <th scope="col">{t('grind.fit.miss')}</th>
              <th scope="col">{t('grind.fit.parameters')}</th>
            </tr>
          </thead>
          <tbody>
            {analysis.fits.map((fit) => (
              <tr key={fit.name} data-taken={fit.name === analysis.fitted?.name || undefined}>
                <th scope="row">{t(`grind.model.${fit.name}`)}</th>
                <td>{formatNumber(100 * fit.weight, 0)} %</td>
                <td>{formatNumber(fit.miss_pct, 1)} %</td>
                <td>{parameterText(fit.parameters)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {analysis && (
        <p className="quiet-text">
          {t('grind.fit.worth', { grains: formatNumber(analysis.effective_grains) })}
        </p>
      )}
    </div>
  );
}

function parameterText(parameters: SizeAnalysis['fits'][number]['parameters']): string {
  if (parameters.family === 'weibull')
    return t('grind.fit.weibull', {
      scale: formatNumber(parameters.scale_um),
      shape: formatNumber(parameters.shape, 2),
    });
  return parameters.modes
    .map(({ share, median_um, gsd }) =>
      t('grind.fit.mode', {
        share: formatNumber(100 * share, 1),
        median: formatNumber(median_um),
        gsd: formatNumber(gsd, 2),
      }),
    )
    .join(' + ');
}
