import type { LiveRun, LiveWay } from '@pourline/core';
import { formatClock, formatNumber, listed, t } from '../../words/index.ts';
import type { LateAnswer } from '../run/late-desk.ts';
import { cueName } from './cue-words.ts';
import { PressNow } from './press-now.tsx';

interface LatePanelProps {
  run: LiveRun;
  answer: LateAnswer | null;
  onChoose: (way: LiveWay, mono_ms: number) => void;
  onClose: () => void;
}

/** Ways to choose from: late, nobody reads more than three. */
const MOST = 3;

/** What to pour, cut or skip from here, each with what it costs; the person chooses. */
export function LatePanel({ run, answer, onChoose, onClose }: LatePanelProps) {
  return (
    <section
      className="live-late"
      aria-label={t('live.late.title')}
      data-took={answer ? Math.round(answer.took_ms) : undefined}
    >
      <div className="live-late-head">
        <h2>{t('live.late.title')}</h2>
        <PressNow className="live-key" onPress={onClose}>
          {t('live.late.close')}
        </PressNow>
      </div>
      {!answer && <p className="live-late-wait">{t('live.late.wait')}</p>}
      <div className="live-ways">
        {answer?.ways.slice(0, MOST).map((way) => (
          <PressNow
            key={way.left_out_ids.join(' ') || 'all'}
            className="live-way"
            onPress={(at) => onChoose(way, at)}
            data-way={way.left_out_ids.join(' ') || 'all'}
          >
            <span className="live-way-what">
              {way.left_out.length === 0
                ? t('live.late.keep')
                : t('live.late.leave', { what: listed(way.left_out) })}
            </span>
            <span className="live-way-how">{wayDetail(way, run)}</span>
            <span className="live-way-points">
              {way.disqualified
                ? t('live.late.stopped')
                : t('live.late.points', { points: formatNumber(way.points, way.points % 1 === 0 ? 0 : 1) })}
            </span>
          </PressNow>
        ))}
      </div>
      {run.penalty === null && <p className="live-late-wait">{t('live.late.no_penalty')}</p>}
      {run.expendable.length === 0 && <p className="live-late-wait">{t('live.late.no_cuts')}</p>}
    </section>
  );
}

/** When it ends, what comes first, and which wait it breaks. */
function wayDetail(way: LiveWay, run: LiveRun): string {
  const first = way.starts.map(({ cue_id, at_s }) => ({
    at_s,
    cue: run.cues.find(({ id }) => id === cue_id),
  }))[0];
  const parts = [
    way.over_s > 0
      ? t('live.late.ends_over', { ends: formatClock(way.ends_s), over: formatNumber(Math.ceil(way.over_s)) })
      : t('live.late.ends', { ends: formatClock(way.ends_s) }),
  ];
  if (first?.cue)
    parts.push(t('live.late.first', { what: cueName(first.cue, run.cues), at: formatClock(first.at_s) }));
  const broken = way.broken[0];
  const cue = broken && run.cues.find(({ id }) => id === broken.to);
  if (cue)
    parts.push(
      t('live.late.broken', { what: cueName(cue, run.cues), by: formatNumber(Math.ceil(broken.by_s)) }),
    );
  return parts.join(' ');
}
