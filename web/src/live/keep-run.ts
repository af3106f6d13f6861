import { saveDocument } from '../replica/index.ts';
import { phaseOf, rehearsalOfRun } from './kernels/rehearsal-of-run.ts';
import { liveDatabase } from './store/db.ts';
import { RunLog } from './store/run-log.ts';

/** The log of this browser. */
export const openLog = async (): Promise<RunLog> => new RunLog(await liveDatabase());

/**
 * Turns an ended run into a document of the campaign. The recording stays where it is. The replica must be open.
 * @throws Error when the run cannot be read as a document; it then stays in the log as it is
 */
export async function keepRun(run_id: string): Promise<boolean> {
  const log = await openLog();
  const stored = await log.run(run_id);
  if (!stored) return false;
  const events = await log.events(run_id);
  const made = rehearsalOfRun(stored, events, await log.sounds(run_id));
  if (!made.ok) throw new Error(made.problems.map(({ sentence }) => sentence).join(' '));
  await saveDocument(made.value);
  await log.close(run_id, 'kept');
  return true;
}

/** Keeps every run that has ended and is not a document yet; what cannot be kept waits. */
export async function keepEndedRuns(): Promise<number> {
  const log = await openLog();
  let kept = 0;
  for (const stored of await log.runs()) {
    if (stored.closed !== null) continue;
    const events = await log.events(stored.run_id);
    if (phaseOf(stored, events) !== 'ended') continue;
    if (await keepRun(stored.run_id).catch(() => false)) kept++;
  }
  return kept;
}

/** Runs that were prepared or begun and neither ended nor thrown away, newest first. */
export async function unfinishedRuns() {
  const log = await openLog();
  const open = (await log.runs()).filter(({ closed }) => closed === null);
  const rows = await Promise.all(
    open.map(async (stored) => ({ stored, phase: phaseOf(stored, await log.events(stored.run_id)) })),
  );
  return rows.filter(({ phase }) => phase !== 'ended');
}
