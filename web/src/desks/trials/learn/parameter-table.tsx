import type { Band, Fit, LearnedParameter } from '@pourline/core';
import { formatNumber, t, tMaybe } from '../../../words/index.ts';

/** Name of a parameter in words: what, and of which setup or grinder. */
export function parameterName({ kind, name, of }: LearnedParameter): string {
  const word = tMaybe(`trials.learned.${name}`) ?? name;
  if (kind === 'noise') return t('trials.learned.noise', { name: tMaybe(`trials.channel.${name}`) ?? name });
  if (kind === 'between') return t('trials.learned.between', { name: word });
  return of ? t('trials.learned.of', { name: word, of: of.name }) : word;
}

const digitsOf = ({ prior, unit }: LearnedParameter): number =>
  unit === '%' ? 1 : prior.high - prior.low > 10 ? 1 : prior.high - prior.low > 0.5 ? 2 : 3;

const bandText = (band: Band, digits: number): string =>
  t('trials.learned.band', { low: formatNumber(band.low, digits), high: formatNumber(band.high, digits) });

/** Every parameter with what was believed of it before and after, as figures and drawn. */
export function ParameterTable({ parameters }: { parameters: readonly LearnedParameter[] }) {
  return (
    <div className="table-scroll">
      <table className="learn-table">
        <thead>
          <tr>
            <th scope="col">{t('trials.learned.what')}</th>
            <th scope="col">{t('trials.learned.before')}</th>
            <th scope="col">{t('trials.learned.after')}</th>
            <th scope="col">{t('trials.learned.drawn')}</th>
            <th scope="col">{t('trials.learned.verdict')}</th>
          </tr>
        </thead>
        <tbody>
          {parameters.map((parameter) => {
            const digits = digitsOf(parameter);
            const { posterior, prior, unit, verdict, id } = parameter;
            return (
              <tr key={id} data-parameter={id}>
                <th scope="row">{parameterName(parameter)}</th>
                <td>
                  {bandText(prior, digits)} <span className="unit">{unit}</span>
                </td>
                <td>
                  <b>{formatNumber(posterior.mid, digits)}</b> <span className="unit">{unit}</span>
                  <span className="quiet-text learn-band">{bandText(posterior, digits)}</span>
                </td>
                <td>
                  <Bands parameter={parameter} />
                </td>
                <td>
                  <span className="learn-verdict" data-verdict={verdict}>
                    {t(`trials.learned.verdict.${verdict}`)}
                  </span>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

/** The band before, hollow, and the band after, filled, over one scale. */
function Bands({ parameter }: { parameter: LearnedParameter }) {
  const { prior, posterior } = parameter;
  const low = Math.min(prior.low, posterior.low);
  const high = Math.max(prior.high, posterior.high);
  const x = (value: number): number => 2 + (136 * (value - low)) / Math.max(1e-12, high - low);
  return (
    <svg className="learn-bands" viewBox="0 0 140 24" aria-hidden="true">
      <rect
        className="prior"
        x={x(prior.low)}
        y={3}
        width={Math.max(1, x(prior.high) - x(prior.low))}
        height={18}
      />
      <rect
        className="posterior"
        x={x(posterior.low)}
        y={7}
        width={Math.max(2, x(posterior.high) - x(posterior.low))}
        height={10}
      />
      <path className="middle" d={`M${x(posterior.mid)} 4V20`} />
    </svg>
  );
}

/** How far the computation itself can be trusted, for those who ask. */
export function DiagnosticsList({ fit }: { fit: Fit }) {
  const { rounds, engine_runs, surrogate_error, sampler } = fit.diagnostics;
  const rows: [string, string][] = [
    [t('trials.learn.diagnostics.rounds'), formatNumber(rounds, 0)],
    [t('trials.learn.diagnostics.runs'), formatNumber(engine_runs, 0)],
    [t('trials.learn.diagnostics.surrogate'), formatNumber(surrogate_error, 2)],
    [t('trials.learn.diagnostics.r_hat'), formatNumber(sampler.r_hat, 3)],
    [t('trials.learn.diagnostics.effective'), formatNumber(sampler.effective, 0)],
    [t('trials.learn.diagnostics.width_ratio'), formatNumber(sampler.width_ratio, 2)],
  ];
  return (
    <dl className="learn-diagnostics">
      {rows.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
