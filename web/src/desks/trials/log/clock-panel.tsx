import { useEffect, useRef } from 'react';
import type { Draft } from '../../../replica/index.ts';
import { Button, Panel } from '../../../ui/index.ts';
import { formatClock, t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';

/** Seconds on a clock that was started at `from` [ms], to the tenth. */
export const elapsed_s = (from: number, now: number): number => Math.round((now - from) / 100) / 10;

/** The clock of the brew under way; it outlives a reload. */
export function useBrewClock(key: string): {
  from: number | null;
  start: () => void;
  clear: () => void;
} {
  const [clock, keep] = useKept<{ of: string; from: number }>('trials-clock', { of: '', from: 0 });
  return {
    from: clock.of === key && clock.from > 0 ? clock.from : null,
    start: () => keep({ of: key, from: Date.now() }),
    clear: () => keep({ of: '', from: 0 }),
  };
}

/** Starts with the first drop of water; every other button writes the moment it is pressed into the trial. */
export function ClockPanel({ draft }: { draft: Draft<'trial'> }) {
  const { id, event } = draft.document;
  const { from, start, clear } = useBrewClock(event?.id ?? id);
  const stamp = (field: 'drawdown_s' | 'end_s'): void => {
    if (from !== null) draft.change({ ...draft.body, [field]: elapsed_s(from, Date.now()) });
  };
  const temperature = (): void => {
    if (from === null) return;
    const detail = elapsed_s(from, Date.now());
    dispatchEvent(new CustomEvent<number>('trials:temperature-now', { detail }));
  };
  return (
    <Panel title={t('trials.clock.title')} fold={from === null ? 'closed' : 'open'}>
      <div className="clock">
        <ClockFace from={from} />
        {from === null ? (
          <Button look="primary" onPress={start}>
            {t('trials.clock.start')}
          </Button>
        ) : (
          <>
            <Button onPress={temperature}>{t('trials.clock.temperature')}</Button>
            <Button onPress={() => stamp('drawdown_s')}>{t('trials.clock.drawdown')}</Button>
            <Button onPress={() => stamp('end_s')}>{t('trials.clock.end')}</Button>
            <Button look="quiet" onPress={clear}>
              {t('trials.clock.clear')}
            </Button>
          </>
        )}
      </div>
      <p className="quiet-text">{t('trials.clock.hint')}</p>
    </Panel>
  );
}

/** Runs without rendering anything. */
function ClockFace({ from }: { from: number | null }) {
  const face = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    const draw = (): void => {
      if (face.current)
        face.current.textContent = formatClock(from === null ? 0 : elapsed_s(from, Date.now()), 1);
    };
    draw();
    if (from === null) return;
    const timer = setInterval(draw, 100);
    return () => clearInterval(timer);
  }, [from]);
  return (
    <span className="clock-face" role="timer" aria-label={t('trials.clock.title')}>
      <span ref={face} />
    </span>
  );
}
