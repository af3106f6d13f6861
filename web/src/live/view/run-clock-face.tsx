import type { Look } from '@pourline/core';
import { formatClock, formatNumber, t } from '../../words/index.ts';

interface RunClockFaceProps {
  now_s: number;
  look: Look;
  limit_s: number;
}

/** Time of the run in figures that are read from across the room, and how it stands with the limit. */
export function RunClockFace({ now_s, look, limit_s }: RunClockFaceProps) {
  const counting = now_s < 0;
  const whole = Math.floor(now_s);
  const left = limit_s - now_s;
  return (
    <header className="live-head" data-counting={counting ? 'yes' : undefined}>
      <p className="live-clock" role="timer" data-now={now_s.toFixed(3)}>
        {counting ? `−${Math.ceil(-now_s)}` : formatClock(whole)}
      </p>
      <div className="live-standing">
        <p data-tone={left < 0 ? 'alert' : undefined}>
          {left >= 0
            ? t('live.left', { left: formatClock(Math.ceil(left)), limit: formatClock(limit_s) })
            : t('live.over', { over: formatClock(Math.floor(-left)), limit: formatClock(limit_s) })}
        </p>
        <p data-tone={look.over_s > 0.5 ? 'alert' : undefined}>
          {look.over_s > 0.5
            ? t('live.ends_over', {
                ends: formatClock(Math.round(look.ends_s)),
                over: formatNumber(Math.ceil(look.over_s)),
              })
            : t('live.ends', { ends: formatClock(Math.round(look.ends_s)) })}
        </p>
      </div>
    </header>
  );
}
