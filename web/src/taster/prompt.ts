/** Whether this phone beeps; kept for the next time. */
export const soundOn = (): boolean => {
  try {
    return localStorage.getItem('pourline.taste.sound') !== 'off';
  } catch {
    return true;
  }
};

/** Sets whether this phone beeps. */
export function setSound(on: boolean): void {
  try {
    localStorage.setItem('pourline.taste.sound', on ? 'on' : 'off');
  } catch {
    // Without storage it holds for this page only by being asked again.
  }
}

let audio: AudioContext | null = null;

/** A browser lets a page sound only after a touch: called by the first button that is pressed. */
export function readySound(): void {
  try {
    audio ??= new AudioContext();
    void audio.resume();
  } catch {
    audio = null;
  }
}

/** A short double beep and a shake, where the phone allows them. */
export function prompt(): void {
  navigator.vibrate?.([180, 90, 180]);
  if (audio?.state !== 'running' || !soundOn()) return;
  for (const [at, hertz] of [
    [0, 660],
    [0.22, 880],
  ] as const) {
    const tone = audio.createOscillator();
    const volume = audio.createGain();
    tone.frequency.value = hertz;
    volume.gain.setValueAtTime(0.15, audio.currentTime + at);
    volume.gain.exponentialRampToValueAtTime(0.001, audio.currentTime + at + 0.18);
    tone.connect(volume).connect(audio.destination);
    tone.start(audio.currentTime + at);
    tone.stop(audio.currentTime + at + 0.2);
  }
}

/** Keeps the screen on while it may; a plain page on a local network is not given that right. */
export async function keepAwake(): Promise<void> {
  try {
    await navigator.wakeLock?.request('screen');
  } catch {
    // The screen then goes dark as the phone is set.
  }
}
