import type { Bands, BrewResult, Plan } from '@pourline/core';
import { memo } from 'react';
import type { Prediction } from '../../engine/predictor.ts';
import { Icon, Panel } from '../../ui/index.ts';
import { formatClock, formatNumber, formatWithUnit, remarkSentence, t } from '../../words/index.ts';
import { Evenness } from './evenness.tsx';
import { depthKey, type Figure, MAIN_FIGURES, MORE_FIGURES } from './figures.ts';
import { KettlePanel } from './kettle-panel.tsx';
import { NumbersBehind } from './numbers-behind.tsx';
import { ServingPanels } from './serving-panel.tsx';
import { PourShares, Solutes } from './shares.tsx';

interface CupPanelProps {
  prediction: Prediction;
  /** The same, but lagging behind a finger: for all that is heavier to draw than the main figures. */
  lagging: Prediction;
  plan: Plan;
  /** Problems stand in the way of any prediction. */
  blocked: boolean;
  onMoment: (time_s: number) => void;
}

/** What will be in the cup. */
export function CupPanel({ prediction, lagging, plan, blocked, onMoment }: CupPanelProps) {
  const { result, bands, bandsDone, stale } = prediction;
  if (!result)
    return (
      <Panel title={t('brew.cup')}>
        <p className="quiet-text">
          {blocked ? t('brew.no_cup') : (prediction.failure ?? t('common.loading'))}
        </p>
      </Panel>
    );
  return (
    <div className="cup" data-stale={stale || undefined}>
      <Panel title={t('brew.cup')} aside={<Trust result={result} />}>
        <dl className="main-figures">
          {MAIN_FIGURES.map((figure) => (
            <MainFigure key={figure.key} figure={figure} result={result} bands={bands} />
          ))}
        </dl>
        <p className="band-note">
          {bandsDone === null
            ? bands
              ? t('brew.bands_note')
              : '\u00a0'
            : t('brew.bands_working', { done: Math.round(bandsDone * 100) })}
        </p>
        {lagging.result ? (
          <MoreOfTheCup result={lagging.result} bands={lagging.bands} onMoment={onMoment} />
        ) : null}
      </Panel>
      {lagging.result ? <Parts result={lagging.result} plan={plan} /> : null}
    </div>
  );
}

interface MoreProps {
  result: BrewResult;
  bands: Bands | null;
  onMoment: (time_s: number) => void;
}

const MoreOfTheCup = memo(function MoreOfTheCup({ result, bands, onMoment }: MoreProps) {
  return (
    <>
      <Remarks result={result} onMoment={onMoment} />
      <div className="more-figures">
        {MORE_FIGURES.filter((figure) => figure.of(result) !== null).map((figure) => (
          <FigureRow key={figure.key} figure={figure} result={result} bands={bands} onMoment={onMoment} />
        ))}
      </div>
    </>
  );
});

const Parts = memo(function Parts({ result, plan }: { result: BrewResult; plan: Plan }) {
  return (
    <>
      <ServingPanels result={result} />
      <KettlePanel result={result} plan={plan} />
      <Panel title={t('brew.by_pour')} fold="open">
        <PourShares result={result} plan={plan} />
      </Panel>
      <Panel title={t('brew.by_solute')} fold="open">
        <Solutes result={result} />
      </Panel>
      <Panel title={t('brew.evenness')} fold="open">
        <Evenness result={result} />
      </Panel>
      <Panel title={t('brew.numbers')} fold="closed">
        <NumbersBehind result={result} />
      </Panel>
    </>
  );
});

function Trust({ result }: { result: BrewResult }) {
  return (
    <span className="trust">
      {result.calibrated_trials === 0
        ? t('brew.trust_none')
        : t('brew.trust', { count: result.calibrated_trials })}
    </span>
  );
}

/** A value of a figure as text, with its unit; `more` decimals than usual where two are set side by side. */
export function figureText(figure: Figure, value: number | null, unit = true, more = 0): string {
  if (value === null) return '–';
  if (figure.clock) return formatClock(Math.round(value));
  if (figure.key === 'ratio') return `1 : ${formatNumber(value, figure.digits + more)}`;
  return unit
    ? formatWithUnit(value, figure.unit, figure.digits + more)
    : formatNumber(value, figure.digits + more);
}

function bandText(figure: Figure, bands: Bands | null): string | null {
  const band = bands && figure.band?.(bands);
  if (!band || !Number.isFinite(band.low) || !Number.isFinite(band.high)) return null;
  return t('brew.band', {
    low: figureText(figure, band.low, false),
    high: figureText(figure, band.high, false),
  });
}

function MainFigure(props: { figure: Figure; result: BrewResult; bands: Bands | null }) {
  const { figure, result, bands } = props;
  const value = figure.of(result);
  return (
    <div className="main-figure" data-figure={figure.key} data-words={value === null || undefined}>
      <dt>{t(figure.label)}</dt>
      <dd>
        <span className="figure-value">
          {figureText(figure, value, false)}
          {figure.unit && value !== null ? <span className="unit">{figure.unit}</span> : null}
        </span>
        <span className="figure-band">
          {value === null ? t('brew.never') : (bandText(figure, bands) ?? '\u00a0')}
        </span>
        <details className="why">
          <summary>
            <span className="visually-hidden">{t('brew.why', { name: t(figure.label) })}</span>
            <span aria-hidden="true">{t('brew.why_short')}</span>
          </summary>
          <p>{t(figure.why)}</p>
        </details>
      </dd>
    </div>
  );
}

interface FigureRowProps {
  figure: Figure;
  result: BrewResult;
  bands: Bands | null;
  onMoment: (time_s: number) => void;
}

/** A figure in one line; opened, it says where it comes from. */
function FigureRow({ figure, result, bands, onMoment }: FigureRowProps) {
  const at = figure.at?.(result) ?? null;
  const band = bandText(figure, bands);
  return (
    <details className="figure-row" data-figure={figure.key}>
      <summary>
        <Icon name="right" />
        <span className="figure-name">{t(figure.label)}</span>
        <span className="figure-value">
          {figureText(figure, figure.of(result))}
          {band ? <span className="figure-band">{band}</span> : null}
        </span>
      </summary>
      <p>{t(figure.why)}</p>
      {at !== null && !figure.clock ? (
        <button type="button" className="jump" onClick={() => onMoment(at)}>
          {figure.key === 'lowest'
            ? t('brew.at_where', { at: formatClock(at), where: t(depthKey(result.cup.lowest_bed_depth)) })
            : t('brew.at', { at: formatClock(at) })}
        </button>
      ) : null}
    </details>
  );
}

function Remarks({ result, onMoment }: { result: BrewResult; onMoment: (time_s: number) => void }) {
  if (result.remarks.length === 0) return null;
  return (
    <ul className="remarks" aria-label={t('brew.remarks')}>
      {result.remarks.map((remark) => {
        const sentence = remarkSentence(remark);
        const { at_s } = remark;
        return (
          <li key={sentence} data-level={remark.level}>
            <Icon name={remark.level === 'note' ? 'right' : 'alert'} />
            <span>
              <span className="visually-hidden">{t(`brew.level.${remark.level}`)}: </span>
              {at_s === null ? (
                sentence
              ) : (
                <button type="button" className="jump" onClick={() => onMoment(at_s)}>
                  {sentence}
                </button>
              )}
            </span>
          </li>
        );
      })}
    </ul>
  );
}
