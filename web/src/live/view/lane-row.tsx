import type { Cue, LaneNow } from '@pourline/core';
import { formatNumber, t } from '../../words/index.ts';
import type { LiveLayout } from '../kernels/layout.ts';
import { countdown, cueDetail, cueGrams, cueName, cueWord } from './cue-words.ts';
import { PressNow } from './press-now.tsx';

interface LaneRowProps {
  lane: LaneNow;
  cues: readonly Cue[];
  /** Its tap is on the way to disk. */
  writing: boolean;
  /** The next of all lanes. */
  first: boolean;
  layout: Pick<LiveLayout, 'figure_px' | 'what_px'>;
  onTap: (cue_id: string, mono_ms: number) => void;
}

/** Seconds before its moment from which something is shown as close; a choice: as long as the count-in and a breath. */
const CLOSE_S = 5;

/** One brewer, or the voice: what is under way, what comes next, how much, and when. A touch takes what comes next as begun. */
export function LaneRow({ lane, cues, writing, first, layout, onTap }: LaneRowProps) {
  const { doing, next, brewer } = lane;
  const coming = next ? next.in_s : Number.POSITIVE_INFINITY;
  // What is under way is shown until the next thing is close.
  const shown = doing && coming > CLOSE_S ? doing.cue : next?.cue;
  const now = shown !== undefined && shown === doing?.cue;
  const tone = now
    ? 'doing'
    : !next
      ? 'done'
      : coming < -2
        ? 'late'
        : coming <= CLOSE_S
          ? 'close'
          : 'waiting';
  const name = brewer === null ? t('live.voice') : t('live.brewer', { number: brewer });
  const count = !shown
    ? ''
    : now
      ? countdown(doing!.left_s)
      : coming < 0
        ? `+${formatNumber(Math.floor(-coming))}`
        : countdown(coming);
  const said = !shown
    ? t('live.lane_done', { name })
    : t(now ? 'live.lane_now' : coming < 0 ? 'live.lane_late' : 'live.lane_next', {
        name,
        action: cueName(shown, cues),
        seconds: Math.abs(Math.round(now ? doing!.left_s : coming)),
      });
  return (
    <PressNow
      className="live-row"
      label={said}
      disabled={!next || writing}
      onPress={(at) => next && onTap(next.cue.id, at)}
      data-tone={tone}
      data-kind={shown?.what ?? 'none'}
      data-cue={shown?.id ?? ''}
      data-first={first ? 'yes' : undefined}
    >
      {now && shown.takes_s > 0 && (
        <span className="live-fill" style={{ transform: `scaleX(${1 - doing!.left_s / shown.takes_s})` }} />
      )}
      <span className="live-badge" aria-hidden="true">
        {brewer ?? <VoiceMark />}
      </span>
      <span className="live-what">
        {shown && shown.water_g !== null ? (
          <span className="live-figure">
            {cueGrams(shown.water_g)}
            <span className="live-unit">{t('live.unit.g')}</span>
          </span>
        ) : (
          <span className="live-figure" style={{ fontSize: wordSize(shown ? cueWord(shown) : '✓', layout) }}>
            {shown ? cueWord(shown) : '✓'}
          </span>
        )}
        <span className="live-detail">{shown ? cueDetail(shown, cues) : t('live.all_done')}</span>
      </span>
      <span className="live-count">
        <span className="live-seconds" data-long={count.length > 3 ? 'yes' : undefined}>
          {count}
        </span>
        <span className="live-detail">
          {writing ? t('live.writing') : shown ? t(`live.tone.${tone}`) : ''}
        </span>
      </span>
    </PressNow>
  );
}

/** Size of a word [px] that fits beside badge and count; letters of this typeface are about 0.54 of its size wide. */
const wordSize = (word: string, { figure_px, what_px }: Pick<LiveLayout, 'figure_px' | 'what_px'>): number =>
  Math.floor(Math.min(figure_px, what_px / (0.54 * Math.max(1, word.length))));

function VoiceMark() {
  return (
    <svg viewBox="0 0 20 20" className="live-voice" aria-hidden="true" focusable="false">
      <path d="M3 5.5h14v8H9l-3.5 3v-3H3z" />
    </svg>
  );
}
