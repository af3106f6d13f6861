import type { RunTimes } from '@pourline/core';
import { cueName } from '../../../live/view/cue-words.ts';
import { formatClock, formatWithUnit, t } from '../../../words/index.ts';
import { ghostLanes } from './kernels/ghosts.ts';

interface GhostStripProps {
  runs: readonly RunTimes[];
  /** Numbers by run id, as in the list. */
  numbers: ReadonlyMap<string, number>;
}

const percent = (share: number): string => `${(100 * share).toFixed(3)}%`;

/** The plan on its time axis, and under each of its tracks what every chosen run made of it, the newest strongest. */
export function GhostStrip({ runs, numbers }: GhostStripProps) {
  const { lanes, to_s } = ghostLanes(runs);
  const cues = runs.at(-1)?.cues.map(({ cue }) => cue) ?? [];
  const step = [15, 30, 60, 120, 300].find((s) => to_s / s <= 9) ?? 600;
  const marks = Array.from({ length: Math.floor(to_s / step) + 1 }, (_, i) => i * step);
  return (
    <figure className="ghosts" aria-label={t('rehearsal.ghosts')}>
      <div className="ghosts-ruler" aria-hidden="true">
        {marks.map((at) => (
          <span key={at} style={{ left: percent(at / to_s) }}>
            {formatClock(at)}
          </span>
        ))}
      </div>
      {lanes.map(({ brewer, planned, runs: rows }) => (
        <div key={brewer ?? 'voice'} className="ghosts-lane">
          <span className="ghosts-name">
            {brewer === null ? t('live.voice') : t('live.brewer', { number: brewer })}
          </span>
          <div className="ghosts-tracks">
            <div className="ghosts-track ghosts-planned">
              {planned.map(({ cue, from, width }) => (
                <span
                  key={cue.id}
                  className="ghosts-bar"
                  data-kind={cue.what}
                  style={{ left: percent(from), width: percent(width) }}
                  title={`${cueName(cue, cues)}: ${formatClock(cue.at_s)}`}
                />
              ))}
            </div>
            {rows.map(({ id, bars }, i) => (
              <div key={id} className="ghosts-track" data-newest={i === rows.length - 1 ? 'yes' : undefined}>
                <span className="ghosts-number">{numbers.get(id)}</span>
                {bars.map(({ cue, from, width, late_s }) => (
                  <span
                    key={cue.id}
                    className="ghosts-bar"
                    data-kind={cue.what}
                    style={{ left: percent(from), width: percent(width) }}
                    title={t('rehearsal.ghost', {
                      number: numbers.get(id) ?? 0,
                      what: cueName(cue, cues),
                      late: `${late_s > 0 ? '+' : ''}${formatWithUnit(late_s, 's', 1)}`,
                    })}
                  />
                ))}
              </div>
            ))}
          </div>
        </div>
      ))}
      <figcaption className="quiet-text">{t('rehearsal.ghosts_read')}</figcaption>
    </figure>
  );
}
