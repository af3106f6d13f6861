import type { BrewBundle, Fit, LearnedBands } from '@pourline/core';
import { proxy, wrap } from 'comlink';
import { useEffect, useRef, useState } from 'react';
import { hrefOf } from '../../../shell/route.ts';
import { Button, Panel } from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';
import { fromShelf } from './fit-shelf.ts';
import type { FitWorker } from './fit-worker.ts';
import './learn.css';

/** On the desk of brews: what the trials of this coffee say of the plan, when they have been learned from. */
export default function LearnedPanel({ bundle }: { bundle: BrewBundle }) {
  const coffeeId = bundle.coffee.id;
  const [fit, setFit] = useState<Fit | null>(null);
  useEffect(() => {
    let over = false;
    void fromShelf(coffeeId).then((kept) => {
      if (!over) setFit(kept.fit);
    });
    return () => {
      over = true;
    };
  }, [coffeeId]);
  if (fit?.coffee_id !== coffeeId) return null;
  return (
    <Panel title={t('trials.learn.on_brew')} fold="open">
      <p>
        <a href={hrefOf('trials', 'learn')}>{t('trials.learn.calibrated', { count: fit.trials })}</a>
      </p>
      <Asked key={JSON.stringify(bundle)} fit={fit} bundle={bundle} />
    </Panel>
  );
}

const FIGURES = [
  ['beverage_g', 'g', 0],
  ['strength_pct', '%', 2],
  ['yield_pct', '%', 1],
  ['drawdown_s', '', 0],
] as const;

/** The bands are worked out when asked for: it takes a run of the engine for each of many draws. */
function Asked({ fit, bundle }: { fit: Fit; bundle: BrewBundle }) {
  const [bands, setBands] = useState<LearnedBands | null>(null);
  const [done, setDone] = useState<number | null>(null);
  const room = useRef<Worker | null>(null);
  useEffect(() => () => room.current?.terminate(), []);
  const ask = async (): Promise<void> => {
    setDone(0);
    const worker = new Worker(new URL('./fit-worker.ts', import.meta.url), { type: 'module' });
    room.current = worker;
    try {
      setBands(await wrap<FitWorker>(worker).predict(fit, bundle, proxy(setDone)));
    } finally {
      worker.terminate();
      setDone(null);
    }
  };
  if (done !== null)
    return <progress max={1} value={done} aria-label={t('trials.learn.asking')} className="learned-wait" />;
  if (!bands) return <Button onPress={() => void ask()}>{t('trials.learn.ask')}</Button>;
  return (
    <dl className="learn-diagnostics">
      {FIGURES.map(([key, unit, digits]) => {
        const { low, mid, high } = bands.next[key];
        const text = (value: number): string =>
          key === 'drawdown_s' ? formatClock(Math.round(value)) : formatNumber(value, digits);
        return (
          <div key={key} data-learned={key}>
            <dt>{t(`trials.compared.${key}`)}</dt>
            <dd>
              <b>{text(mid)}</b> <span className="unit">{unit}</span>{' '}
              <span className="quiet-text">
                {t('trials.learned.band', { low: text(low), high: text(high) })}
              </span>
            </dd>
          </div>
        );
      })}
    </dl>
  );
}
