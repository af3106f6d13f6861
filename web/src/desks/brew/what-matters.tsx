import type { BrewBundle, MatterInput, MatterTargetKey, WhatMatters } from '@pourline/core';
import { memo, useEffect, useState, useSyncExternalStore } from 'react';
import { makeMatters, mattersInWorker } from '../../engine/matters.ts';
import { Button, Choice, Panel } from '../../ui/index.ts';
import { formatWithUnit, t, tMaybe } from '../../words/index.ts';
import { type MatterRow, matterRows } from './what-matters-rows.ts';

/** Rows of each kind before the rest is asked for. */
const SHORT = { hand: 8, engine: 5 } as const;

/** What moves this plan's figures most. Nothing is computed until it is asked for. */
export const WhatMattersPanel = memo(function WhatMattersPanel({ bundle }: { bundle: BrewBundle | null }) {
  const [store] = useState(() => makeMatters(mattersInWorker));
  useEffect(() => store.stop, [store]);
  const { result, bundle: studied, done, failure } = useSyncExternalStore(store.subscribe, store.get);
  const [target, setTarget] = useState<MatterTargetKey>('strength');
  const stale = result !== null && done === null && JSON.stringify(studied) !== JSON.stringify(bundle);
  return (
    <Panel title={t('brew.matters')} fold="closed">
      <div className="matters">
        <p className="quiet-text">{t('brew.matters_text')}</p>
        <div className="matters-work">
          {done === null ? (
            <Button
              look={result ? 'plain' : 'primary'}
              isDisabled={bundle === null}
              onPress={() => bundle && store.start(bundle)}
            >
              {t(result ? 'brew.matters_again' : 'brew.matters_start')}
            </Button>
          ) : (
            <>
              <Button onPress={store.stop}>{t('brew.matters_stop')}</Button>
              <Working done={done} />
            </>
          )}
          {stale ? <p className="matters-stale">{t('brew.matters_stale')}</p> : null}
          {failure ? <p className="plain-problem">{t('brew.failed', { detail: failure })}</p> : null}
        </div>
        {result ? (
          <div className="matters-found" data-stale={stale || undefined}>
            <Choice
              label={t('brew.matters_of')}
              hideLabel
              value={target}
              options={result.targets.map(({ key }) => ({
                value: key,
                label: t(`brew.matters_target.${key}`),
              }))}
              onChange={setTarget}
            />
            <Found key={target} result={result} target={target} />
          </div>
        ) : null}
      </div>
    </Panel>
  );
});

function Working({ done }: { done: number }) {
  const percent = Math.round(done * 100);
  return (
    <span className="matters-progress">
      <progress max={100} value={percent} aria-label={t('brew.matters')} />
      <span>{t('brew.matters_working', { done: percent })}</span>
    </span>
  );
}

function Found({ result, target: key }: { result: WhatMatters; target: MatterTargetKey }) {
  const target = result.targets.find((one) => one.key === key);
  if (!target || target.effects.length === 0) return <p className="quiet-text">{t('brew.matters_none')}</p>;
  return (
    <>
      <Rows title={t('brew.matters_hands')} kind="hand" rows={matterRows(result, target, 'hand')} />
      <Rows title={t('brew.matters_unknown')} kind="engine" rows={matterRows(result, target, 'engine')} />
      <p className="quiet-text">{t('brew.matters_reading')}</p>
      <p className="quiet-text">
        {t('brew.matters_runs', { runs: result.runs, rounds: result.trajectories })}
      </p>
    </>
  );
}

function Rows({ title, kind, rows }: { title: string; kind: MatterInput['kind']; rows: MatterRow[] }) {
  const [whole, setWhole] = useState(false);
  const shown = whole ? rows : rows.slice(0, SHORT[kind]);
  return (
    <section className="matters-rows">
      <h4>{title}</h4>
      {rows.length === 0 ? <p className="quiet-text">{t('brew.matters_none')}</p> : null}
      <ol>
        {shown.map((row) => (
          <li key={row.input.id} data-input={row.input.id}>
            <span className="matters-name">{nameOf(row.input)}</span>
            <span className="matters-effect">{effectText(row)}</span>
            <EffectBar row={row} />
          </li>
        ))}
      </ol>
      {rows.length > shown.length ? (
        <Button look="quiet" onPress={() => setWhole(true)}>
          {t('brew.matters_more', { count: rows.length - shown.length })}
        </Button>
      ) : null}
    </section>
  );
}

/** A knob's step or a constant in the catalogue's words; what no catalogue knows keeps core's own. */
export function nameOf(input: MatterInput): string {
  if (input.step) return tMaybe(`brew.step.${input.name}`, input.step.values) ?? input.step.phrase;
  if (input.solute !== null) {
    const solute = tMaybe(`solute.${input.solute}`) ?? input.solute;
    return tMaybe(`brew.constant_of.${input.name}`, { solute }) ?? `${solute}: ${input.meaning}`;
  }
  return tMaybe(`brew.constant.${input.name}`) ?? input.meaning;
}

/** `−0.06 %`, `0.06 % either way`, or `0.00 %` without a sign. */
function effectText({ change, unit, digits, eitherWay }: MatterRow): string {
  const size = formatWithUnit(Math.abs(change), unit, digits);
  if (eitherWay) return t('brew.matters_either', { size });
  if (Math.abs(change) < 0.5 * 10 ** -digits) return size;
  return `${change < 0 ? '−' : '+'}${size}`;
}

const percent = (x: number): string => `${(x * 100).toFixed(2)}%`;

/** A bar from the middle: to the right what raises the figure, to the left what lowers it; striped to both sides when either may be. */
function EffectBar({ row: { to, line, eitherWay } }: { row: MatterRow }) {
  const left = eitherWay ? -to : Math.min(0, to);
  const right = eitherWay ? to : Math.max(0, to);
  const place = (from: number, until: number) => ({
    left: percent((1 + from) / 2),
    width: percent((until - from) / 2),
  });
  return (
    <span className="matters-bar" aria-hidden="true">
      <span className="matters-fill" data-either={eitherWay || undefined} style={place(left, right)} />
      <span className="matters-line" style={place(line[0], line[1])} />
    </span>
  );
}
