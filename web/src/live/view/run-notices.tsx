import { useEffect, useState } from 'react';
import { formatNumber, t } from '../../words/index.ts';
import type { LiveRunner, RunView } from '../run/live-runner.ts';
import type { Recording } from '../run/recorder.ts';
import type { Awake } from '../run/wake-lock.ts';
import { PressNow } from './press-now.tsx';

interface RunNoticesProps {
  runner: LiveRunner;
  view: RunView;
  awake: Awake;
  recording: Recording;
}

/** How long a notice that asks nothing stays [ms]. */
const STAYS_MS = 8_000;

/** What has to be known in mid-run: taps that are not on disk, a clock that jumped, a page that was away, a screen that may go dark. */
export function RunNotices({ runner, view, awake, recording }: RunNoticesProps) {
  const [settled, setSettled] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(true), STAYS_MS);
    return () => clearTimeout(timer);
  }, []);
  const { trouble, jump, resumed } = view;
  return (
    <div className="live-notices" role="status">
      {trouble !== null && <p data-tone="alert">{t('live.trouble', { detail: trouble })}</p>}
      {jump && (
        <div className="live-jump">
          <p>
            {t(`live.jump.${jump.taken_as}`, { seconds: formatNumber(Math.abs(jump.shift_ms) / 1_000, 1) })}
          </p>
          <PressNow className="live-key" onPress={() => void runner.settleJump(null)}>
            {t('live.jump.right')}
          </PressNow>
          {jump.shift_ms > 0 && (
            <PressNow
              className="live-key"
              onPress={() => void runner.settleJump(jump.taken_as === 'slept' ? 'set' : 'slept')}
            >
              {t(jump.taken_as === 'slept' ? 'live.jump.do_not' : 'live.jump.do')}
            </PressNow>
          )}
        </div>
      )}
      {!settled && resumed && (
        <p>
          {t(resumed.set_back ? 'live.resumed_back' : 'live.resumed', {
            seconds: formatNumber(resumed.away_s, 1),
          })}
        </p>
      )}
      {!settled && (awake === 'unavailable' || awake === 'refused') && <p>{t(`live.awake.${awake}`)}</p>}
      {!settled &&
        (recording === 'refused' ||
          recording === 'none' ||
          recording === 'failed' ||
          recording === 'unavailable') && <p>{t(`live.recording.${recording}`)}</p>}
    </div>
  );
}
