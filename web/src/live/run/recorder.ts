import type { RunLog } from '../store/run-log.ts';

/** How a recording stands. */
export type Recording = 'off' | 'asking' | 'on' | 'refused' | 'none' | 'unavailable' | 'failed';

/** Seconds of sound in one piece: that much is lost at most when the page is killed. */
const PIECE_MS = 2_000;
const TYPES = ['audio/webm;codecs=opus', 'audio/mp4', 'audio/ogg;codecs=opus'];

/**
 * Records the room, piece by piece, into this browser's own database. Nothing of it is ever sent anywhere. The returned function ends it once the last
 * piece is kept.
 */
export function record(
  log: RunLog,
  run_id: string,
  nowS: () => number,
  tell: (recording: Recording) => void,
): () => Promise<void> {
  let stopped = false;
  let finish: (() => Promise<void>) | null = null;
  if (!navigator.mediaDevices?.getUserMedia || typeof MediaRecorder === 'undefined') {
    tell('unavailable');
    return async () => {};
  }
  tell('asking');
  void begin();
  return async () => {
    stopped = true;
    await finish?.();
    tell('off');
  };

  async function begin(): Promise<void> {
    try {
      const stream = await navigator.mediaDevices.getUserMedia({ audio: true });
      const take = Math.max(-1, ...(await log.sounds(run_id)).map((sound) => sound.take)) + 1;
      finish = keepPieces(stream, take);
      tell('on');
      if (stopped) await finish();
    } catch (reason) {
      const name = reason instanceof DOMException ? reason.name : '';
      tell(
        name === 'NotAllowedError' || name === 'SecurityError'
          ? 'refused'
          : name === 'NotFoundError'
            ? 'none'
            : 'failed',
      );
    }
  }

  function keepPieces(stream: MediaStream, take: number): () => Promise<void> {
    const mimeType = TYPES.find((type) => MediaRecorder.isTypeSupported(type));
    const recorder = new MediaRecorder(stream, mimeType ? { mimeType } : {});
    const from_s = Math.max(-600, nowS());
    let piece = 0;
    let kept: Promise<unknown> = Promise.resolve();
    recorder.ondataavailable = ({ data }) => {
      if (data.size === 0) return;
      const n = piece++;
      kept = kept
        .then(async () => {
          const sound = { run_id, take, piece: n, media_type: recorder.mimeType, from_s };
          await log.keepSound({ ...sound, data: await data.arrayBuffer() });
        })
        .catch(() => tell('failed'));
    };
    recorder.onerror = () => tell('failed');
    recorder.start(PIECE_MS);
    return async () => {
      if (recorder.state !== 'inactive')
        await new Promise<void>((done) => {
          recorder.onstop = () => done();
          recorder.stop();
        });
      for (const track of stream.getTracks()) track.stop();
      await kept;
    };
  }
}
