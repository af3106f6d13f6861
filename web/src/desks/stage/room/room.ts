import { type Remote, wrap } from 'comlink';
import type { StageWorker } from './worker.ts';

type Far = Remote<StageWorker>;

const open = (): Far =>
  wrap<StageWorker>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }));

let schedules: Far | null = null;
let talks: Far | null = null;

/** Where schedules are searched; opened on first use. */
export const scheduleRoom = (): Far => (schedules ??= open());

/** Where talks are placed: a room of its own, so that a long search never keeps whoever types waiting. */
export const talkRoom = (): Far => (talks ??= open());
