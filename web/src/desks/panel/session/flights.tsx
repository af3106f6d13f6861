import type { HostView, TasterFlight } from '@pourline/core';
import { useState } from 'react';
import { Button, NumberInput, Panel } from '../../../ui/index.ts';
import { formatClock, formatMoment, t } from '../../../words/index.ts';
import type { Hosting } from './use-session.ts';

interface FlightsProps {
  hosting: Hosting;
  view: HostView;
  now: number;
}

/** Pouring flight by flight, and the windows that open after it. */
export function Flights({ hosting, view, now }: FlightsProps) {
  return (
    <Panel title={t('panel.run.pouring')}>
      <ol className="flights">
        {view.flights.map((flight) => (
          <Flight key={flight.flight} flight={flight} hosting={hosting} view={view} now={now} />
        ))}
      </ol>
    </Panel>
  );
}

function Flight({ flight, hosting, view, now }: FlightsProps & { flight: TasterFlight }) {
  const [celsius, setCelsius] = useState<number | string | null>(null);
  const poured = flight.poured_at !== null;
  const good = typeof celsius === 'number' && celsius >= -5 && celsius <= 101;
  return (
    <li className="flight" data-poured={poured || undefined}>
      <div className="flight-head">
        <h4>{t('panel.run.flight', { flight: flight.flight })}</h4>
        {poured ? (
          <span className="quiet-text">
            {t('panel.run.poured_at', { at: formatMoment(new Date(flight.poured_at ?? 0).toISOString()) })}
          </span>
        ) : (
          <Button
            look="primary"
            isDisabled={view.state !== 'tasting' || hosting.busy}
            onPress={() => void hosting.act({ do: 'pour', flight: flight.flight, at: null })}
          >
            {t('panel.run.pour')}
          </Button>
        )}
      </div>
      {poured && flight.windows.length > 0 && (
        <>
          <ul className="flight-windows">
            {flight.windows.map((window) => (
              <WindowLine key={window.window_id} window={window} view={view} now={now} />
            ))}
          </ul>
          {view.state === 'tasting' && (
            <div className="flight-measure">
              <NumberInput
                label={t('panel.run.measured')}
                value={celsius}
                unit="°C"
                onChange={setCelsius}
                problem={celsius === null || good ? undefined : t('panel.run.measured_wrong')}
              />
              <Button
                isDisabled={!good || hosting.busy}
                onPress={() => {
                  if (!good) return;
                  void hosting.act({
                    do: 'measure',
                    flight: flight.flight,
                    temperature_C: celsius,
                    at: null,
                  });
                  setCelsius(null);
                }}
              >
                {t('panel.run.measure')}
              </Button>
            </div>
          )}
        </>
      )}
    </li>
  );
}

interface WindowLineProps {
  window: TasterFlight['windows'][number];
  view: HostView;
  now: number;
}

function WindowLine({ window, view, now }: WindowLineProps) {
  const design = view.design.windows.find((w) => w.id === window.window_id);
  const { opens_at, closes_at } = window;
  const state =
    opens_at === null
      ? 'never'
      : now < opens_at
        ? 'before'
        : closes_at !== null && now >= closes_at
          ? 'after'
          : 'now';
  const words =
    state === 'before'
      ? t('panel.run.opens_in', { clock: formatClock(((opens_at ?? 0) - now) / 1_000) })
      : state === 'now'
        ? closes_at === null
          ? t('panel.run.open_now')
          : t('panel.run.closes_in', { clock: formatClock((closes_at - now) / 1_000) })
        : t(state === 'never' ? 'panel.design.never' : 'panel.run.over');
  return (
    <li data-state={state}>
      <strong>{design?.name ?? window.window_id}</strong>{' '}
      <span className="quiet-text">
        {design && t('panel.run.from_to', { from: design.from_C, to: design.to_C })}
      </span>{' '}
      <span>{words}</span>
    </li>
  );
}
