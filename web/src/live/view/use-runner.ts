import { useEffect, useState, useSyncExternalStore } from 'react';
import { openLog } from '../keep-run.ts';
import { LiveRunner, type RunView } from '../run/live-runner.ts';
import { type Hold, holdRun } from '../store/run-lock.ts';
import type { RunLog } from '../store/run-log.ts';

/** A run on its way from disk. */
export type Opened =
  | { stands: 'opening' }
  | { stands: 'elsewhere'; take: () => void }
  | { stands: 'missing' }
  | { stands: 'trouble'; detail: string }
  | { stands: 'open'; runner: LiveRunner; log: RunLog };

/** Opens a run for this page alone. */
export function useRunner(run_id: string): Opened {
  const [opened, setOpened] = useState<Opened>({ stands: 'opening' });
  const [take, setTake] = useState(0);
  useEffect(() => {
    let gone = false;
    let runner: LiveRunner | null = null;
    const open = async (): Promise<void> => {
      try {
        const log = await openLog();
        const made = await LiveRunner.open(log, run_id);
        if (gone) return made?.close();
        runner = made;
        setOpened(made ? { stands: 'open', runner: made, log } : { stands: 'missing' });
      } catch (reason) {
        if (!gone)
          setOpened({ stands: 'trouble', detail: reason instanceof Error ? reason.message : String(reason) });
      }
    };
    const letGo = holdRun(
      run_id,
      (hold: Hold) => {
        if (gone) return;
        if (hold === 'held') void open();
        else {
          runner?.close();
          runner = null;
          setOpened({ stands: 'elsewhere', take: () => setTake((n) => n + 1) });
        }
      },
      take > 0,
    );
    return () => {
      gone = true;
      runner?.close();
      letGo();
    };
  }, [run_id, take]);
  return opened;
}

/** The run as it stands; drawn again with every change. */
export const useRunView = (runner: LiveRunner): RunView =>
  useSyncExternalStore(runner.subscribe, runner.view);
