import { proxy } from 'comlink';
import { useCallback, useEffect, useRef, useState } from 'react';
import type { DialAnswer, DialQuestion } from '../room/dial-question.ts';
import { type GrindRoom, openGrindRoom } from '../room/room.ts';

export interface DialWork {
  answer: DialAnswer | null;
  /** Share done, 0–1; null while nothing runs. */
  done: number | null;
  failure: string | null;
  ask(question: DialQuestion): void;
  /** Ends what runs at once; the last answer stays. */
  stop(): void;
}

/** Asks long questions in a worker of their own, which is ended to stop them. */
export function useDialQuestion(): DialWork {
  const room = useRef<GrindRoom | null>(null);
  const [answer, setAnswer] = useState<DialAnswer | null>(null);
  const [done, setDone] = useState<number | null>(null);
  const [failure, setFailure] = useState<string | null>(null);
  const close = useCallback((): void => {
    room.current?.worker.terminate();
    room.current = null;
  }, []);
  useEffect(() => close, [close]);
  return {
    answer,
    done,
    failure,
    ask(question) {
      close();
      const mine = openGrindRoom();
      room.current = mine;
      setDone(0);
      setFailure(null);
      const report = (share: number): void => {
        if (room.current === mine) setDone(share);
      };
      mine.remote
        .dial(question, proxy(report))
        .then((found) => {
          if (room.current === mine) setAnswer(found);
        })
        .catch((reason: unknown) => {
          if (room.current === mine) setFailure(reason instanceof Error ? reason.message : String(reason));
        })
        .finally(() => {
          if (room.current !== mine) return;
          setDone(null);
          close();
        });
    },
    stop() {
      close();
      setDone(null);
    },
  };
}
