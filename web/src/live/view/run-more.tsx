import type { RunState } from '@pourline/core';
import { useState } from 'react';
import { useThemeChoice } from '../../shell/theme.ts';
import { formatNumber, t } from '../../words/index.ts';
import type { LiveLayout } from '../kernels/layout.ts';
import type { LiveRunner } from '../run/live-runner.ts';
import type { Recording } from '../run/recorder.ts';
import type { Awake } from '../run/wake-lock.ts';
import { PressNow } from './press-now.tsx';
import { player } from './use-beat.ts';

interface RunMoreProps {
  runner: LiveRunner;
  state: RunState;
  sounds: boolean;
  onSounds: (on: boolean) => void;
  awake: Awake;
  recording: Recording;
  layout: LiveLayout;
  onClose: () => void;
}

/** What is rarely needed in a run, out of the way of wet fingers: hands-free, sounds, light or dark, skipping, ending. */
export function RunMore(props: RunMoreProps) {
  const { runner, state, sounds, onSounds, awake, recording, layout, onClose } = props;
  const [theme, setTheme] = useThemeChoice();
  const [ending, setEnding] = useState(false);
  const dark = theme === 'dark' || (theme === 'system' && document.documentElement.dataset.theme === 'dark');
  const free = state.mode === 'cues';
  return (
    <section className="live-more" aria-label={t('live.more')}>
      <PressNow
        className="live-key"
        pressed={free}
        data-key="free"
        onPress={(at) => void runner.setMode(free ? 'tap' : 'cues', at)}
      >
        {t(free ? 'live.free_on' : 'live.free_off')}
      </PressNow>
      <PressNow
        className="live-key"
        pressed={sounds}
        onPress={() => {
          if (!sounds) void player.open();
          onSounds(!sounds);
        }}
      >
        {t(sounds ? 'live.sound_on' : 'live.sound_off')}
      </PressNow>
      <PressNow className="live-key" onPress={() => setTheme(dark ? 'light' : 'dark')}>
        {t(dark ? 'live.to_light' : 'live.to_dark')}
      </PressNow>
      <PressNow
        className="live-key live-key-alert"
        data-key="end"
        onPress={(at) => {
          if (ending) void runner.end('stopped', at);
          else setEnding(true);
        }}
      >
        {t(ending ? 'live.end_sure' : 'live.end')}
      </PressNow>
      <PressNow className="live-key" onPress={onClose}>
        {t('live.late.close')}
      </PressNow>
      <p className="live-facts">
        {t(`live.awake.${awake}`)} {recording !== 'off' && t(`live.recording.${recording}`)}{' '}
        {t('live.letters', { arcmin: formatNumber(layout.arcmin) })}
        {layout.too_small && ` ${t('live.too_small')}`}
      </p>
    </section>
  );
}
