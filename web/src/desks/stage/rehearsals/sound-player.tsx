import type { Rehearsal, RunTimes } from '@pourline/core';
import { useEffect, useRef, useState } from 'react';
import { openLog } from '../../../live/keep-run.ts';
import type { StoredSound } from '../../../live/store/db.ts';
import { cueName } from '../../../live/view/cue-words.ts';
import { Button } from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';

interface SoundPlayerProps {
  run: Rehearsal;
  times: RunTimes;
}

/** The recording of a run, as far as it is in this browser: heard from any lap, saved to a file, thrown away. */
export function SoundPlayer({ run, times }: SoundPlayerProps) {
  const [takes, setTakes] = useState<readonly Take[] | null>(null);
  const [playing, setPlaying] = useState(false);
  const [trouble, setTrouble] = useState<string | null>(null);
  const sound = useRef<{ context: AudioContext; source: AudioBufferSourceNode } | null>(null);
  const stop = (): void => {
    sound.current?.source.stop();
    void sound.current?.context.close();
    sound.current = null;
    setPlaying(false);
  };
  useEffect(() => {
    let gone = false;
    openLog()
      .then((log) => log.sounds(run.id))
      .then((pieces) => !gone && setTakes(takesOf(pieces)))
      .catch(() => !gone && setTakes([]));
    return () => {
      gone = true;
      sound.current?.source.stop();
      void sound.current?.context.close();
      sound.current = null;
    };
  }, [run.id]);
  if (!takes || takes.length === 0)
    return run.sound ? <p className="quiet-text">{t('rehearsal.sound_elsewhere')}</p> : null;
  const play = async (at_s: number): Promise<void> => {
    stop();
    const take = takes.findLast(({ from_s }) => from_s <= at_s) ?? takes[0]!;
    try {
      const context = new AudioContext();
      const source = context.createBufferSource();
      source.buffer = await context.decodeAudioData(await take.blob.arrayBuffer());
      source.connect(context.destination);
      source.onended = () => setPlaying(false);
      source.start(0, Math.max(0, at_s - take.from_s));
      sound.current = { context, source };
      setPlaying(true);
      setTrouble(null);
    } catch (reason) {
      setTrouble(
        t('rehearsal.sound_unreadable', {
          detail: reason instanceof Error ? reason.message : String(reason),
        }),
      );
    }
  };
  const drop = async (): Promise<void> => {
    stop();
    await (await openLog()).dropSounds(run.id);
    setTakes([]);
  };
  const size = takes.reduce((sum, { blob }) => sum + blob.size, 0);
  const all = times.cues.map(({ cue }) => cue);
  return (
    <div className="rehearsal-sound">
      <p>{t('rehearsal.sound', { size: formatNumber(size / 1e6, 1), takes: takes.length })}</p>
      <div className="buttons">
        <Button onPress={() => (playing ? stop() : void play(takes[0]!.from_s))}>
          {t(playing ? 'rehearsal.sound_stop' : 'rehearsal.sound_play')}
        </Button>
        <Button look="quiet" icon="export" onPress={() => saveFile(takes, run.name)}>
          {t('rehearsal.sound_save')}
        </Button>
        <Button look="alert" onPress={() => void drop()}>
          {t('rehearsal.sound_drop')}
        </Button>
      </div>
      {trouble && (
        <p className="field-problem" role="alert">
          {trouble}
        </p>
      )}
      <div className="buttons">
        {times.cues
          .filter(({ began_s }) => began_s !== null)
          .map(({ cue, began_s }) => (
            <Button key={cue.id} look="quiet" onPress={() => void play(began_s!)}>
              {t('rehearsal.sound_from', { at: formatClock(began_s), what: cueName(cue, all) })}
            </Button>
          ))}
      </div>
    </div>
  );
}

interface Take {
  take: number;
  from_s: number;
  blob: Blob;
}

function takesOf(pieces: readonly StoredSound[]): Take[] {
  const numbers = [...new Set(pieces.map(({ take }) => take))].sort((a, b) => a - b);
  return numbers.map((take) => {
    const own = pieces.filter((piece) => piece.take === take).sort((a, b) => a.piece - b.piece);
    return {
      take,
      from_s: own[0]!.from_s,
      blob: new Blob(
        own.map(({ data }) => data),
        { type: own[0]!.media_type },
      ),
    };
  });
}

/** Every take as a file; the browser asks where to. */
function saveFile(takes: readonly Take[], name: string): void {
  for (const { take, blob } of takes) {
    const link = document.createElement('a');
    const ending = blob.type.includes('mp4') ? 'm4a' : blob.type.includes('ogg') ? 'ogg' : 'webm';
    link.href = URL.createObjectURL(blob);
    link.download = `${name.replaceAll(/[^\p{L}\p{N}]+/gu, '-')}-${take + 1}.${ending}`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  }
}
