import { GOOD_ARCMIN, inOrder, LEAST_ARCMIN, plannedEnd, typeSize_mm, WET_TARGET_MM } from '@pourline/core';
import { useState } from 'react';
import { Button, CheckInput, Choice } from '../../ui/index.ts';
import { formatClock, formatNumber, formatWithUnit, t } from '../../words/index.ts';
import type { LiveRunner } from '../run/live-runner.ts';
import { canVibrate } from '../run/vibration.ts';
import type { RunSettings } from '../store/db.ts';
import { cueGrams, cueName } from './cue-words.ts';
import { GlassSettings } from './glass-settings.tsx';
import { PressNow } from './press-now.tsx';
import { player } from './use-beat.ts';
import type { GlassChoice } from './use-glass.ts';

interface ReadyScreenProps {
  runner: LiveRunner;
  settings: RunSettings;
  onSettings: (settings: RunSettings) => void;
  glass: GlassChoice;
  onGlass: (glass: GlassChoice) => void;
  onStart: (mono_ms: number) => void;
}

/** Seconds before the clock starts that may be chosen. */
const COUNT_INS = ['0', '3', '5', '10'] as const;

/** Before the run: what is coming, how it is to be followed, and the start. */
export function ReadyScreen({ runner, settings, onSettings, glass, onGlass, onStart }: ReadyScreenProps) {
  const { run } = runner.stored;
  const [silent, setSilent] = useState(false);
  const first = inOrder(run.cues)[0];
  const set = (change: Partial<RunSettings>): void => onSettings({ ...settings, ...change });
  const hear = async (): Promise<void> => {
    const open = await player.open();
    setSilent(!open);
    if (open) player.try();
  };
  return (
    <div className="live-ready">
      <header className="live-ready-head">
        <a className="live-back" href="#/stage/rehearsals">
          {t('live.back')}
        </a>
        <h1>{runner.stored.name || run.title}</h1>
        <p>
          {t('live.ready.about', {
            brewers: run.brewers,
            count: run.cues.length,
            ends: formatClock(Math.round(plannedEnd(run.cues))),
            limit: formatClock(run.limit_s),
          })}
        </p>
        {first && (
          <p className="live-first">
            {t(first.water_g === null ? 'live.ready.first' : 'live.ready.first_pour', {
              what: cueName(first, run.cues),
              grams: first.water_g === null ? '' : cueGrams(first.water_g),
              at: formatClock(first.at_s),
            })}
          </p>
        )}
      </header>
      <div className="live-choices">
        <Choice
          label={t('live.ready.mode')}
          value={settings.mode}
          options={[
            { value: 'tap', label: t('live.ready.tap') },
            { value: 'cues', label: t('live.ready.cues') },
          ]}
          onChange={(mode) => set({ mode })}
        />
        <Choice
          label={t('live.ready.count_in')}
          value={String(settings.count_in_s)}
          options={COUNT_INS.map((seconds) => ({
            value: seconds,
            label: seconds === '0' ? t('live.ready.at_once') : formatWithUnit(Number(seconds), 's'),
          }))}
          onChange={(seconds) => set({ count_in_s: Number(seconds) })}
        />
        <div className="live-pair">
          <CheckInput
            label={t('live.ready.sounds')}
            value={settings.sounds}
            onChange={(sounds) => set({ sounds })}
          />
          {settings.sounds && (
            <Button look="quiet" onPress={() => void hear()}>
              {t('live.ready.hear')}
            </Button>
          )}
        </div>
        {silent && <p className="live-quiet">{t('live.ready.silent')}</p>}
        {canVibrate() && (
          <CheckInput
            label={t('live.ready.vibration')}
            value={settings.vibration}
            onChange={(vibration) => set({ vibration })}
          />
        )}
        <CheckInput
          label={t('live.ready.record')}
          value={settings.recording}
          onChange={(recording) => set({ recording })}
        />
        {settings.recording && <p className="live-quiet">{t('live.ready.record_kept')}</p>}
      </div>
      <GlassSettings glass={glass} onGlass={onGlass} />
      <p className="live-quiet">
        {t('live.ready.sizes', {
          distance: formatNumber(glass.distance_m, 1),
          letters: formatNumber(typeSize_mm(LEAST_ARCMIN, glass.distance_m), 0),
          good: formatNumber(typeSize_mm(GOOD_ARCMIN, glass.distance_m), 0),
          least: LEAST_ARCMIN,
          aim: GOOD_ARCMIN,
          target: WET_TARGET_MM,
        })}
      </p>
      <p className="live-quiet">{t('live.ready.caution')}</p>
      <div className="live-start-bar">
        <PressNow className="live-tap live-start" onPress={onStart} data-key="start">
          <span className="live-tap-what">{t('live.start')}</span>
          <span className="live-tap-how">
            {settings.count_in_s > 0
              ? t('live.start_in', { seconds: settings.count_in_s })
              : t('live.start_now')}
          </span>
        </PressNow>
      </div>
    </div>
  );
}
