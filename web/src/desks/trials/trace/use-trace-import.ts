import type { Plan, TraceMapping, TracePreview } from '@pourline/core';
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { KeptFile } from '../../../replica/index.ts';
import type { TraceFound } from './found.ts';
import { openTraceRoom } from './trace-room.ts';

/** A recording on its way into a trial. */
export interface TraceImport {
  /** The file on the bench and where it is kept; null when there is none. */
  readonly file: { blob: Blob; kept: KeptFile } | null;
  readonly preview: TracePreview | null;
  readonly mapping: TraceMapping | null;
  readonly found: TraceFound | null;
  /** Share read, 0–1; null when nothing is under way. */
  readonly done: number | null;
  readonly failure: string | null;
  open(blob: Blob, kept: KeptFile, as?: TraceMapping | null): void;
  /** Reads it otherwise. */
  map(mapping: TraceMapping): void;
  stop(): void;
  clear(): void;
}

type State = Pick<TraceImport, 'file' | 'preview' | 'mapping' | 'found' | 'done' | 'failure'>;
const NOTHING: State = {
  file: null,
  preview: null,
  mapping: null,
  found: null,
  done: null,
  failure: null,
};

/** Something of the file can be read as it is mapped. */
export const readable = (mapping: TraceMapping, preview: TracePreview): boolean =>
  !preview.remarks.some(({ level }) => level === 'problem') &&
  mapping.columns.some(({ use }) => use !== 'time' && use !== 'skip');

/** Keeps one file on the bench: looked at, mapped by the person, read in a worker after every change. */
export function useTraceImport(plan: Plan | null): TraceImport {
  const [room] = useState(openTraceRoom);
  const [state, setState] = useState<State>(NOTHING);
  const turn = useRef(0);
  const now = useRef(state);
  now.current = state;
  const against = useRef(plan);
  against.current = plan;
  useEffect(() => () => room.close(), [room]);

  const read = useCallback(
    async (blob: Blob, mapping: TraceMapping) => {
      const mine = ++turn.current;
      const put = (part: Partial<State>): void => {
        if (turn.current === mine) setState((kept) => ({ ...kept, ...part }));
      };
      put({ mapping, done: 0, failure: null });
      try {
        const found = await room.read(blob, mapping, against.current, (done) => put({ done }));
        put({ done: null, ...(found ? { found } : {}) });
      } catch (reason) {
        put({ done: null, failure: reason instanceof Error ? reason.message : String(reason) });
      }
    },
    [room],
  );
  const open = useCallback(
    async (blob: Blob, kept: KeptFile, as: TraceMapping | null) => {
      const mine = ++turn.current;
      setState({ ...NOTHING, file: { blob, kept }, done: 0 });
      try {
        const preview = await room.look(blob);
        if (turn.current !== mine) return;
        const mapping = as ?? preview.mapping;
        setState((was) => ({ ...was, preview, mapping, done: null }));
        if (readable(mapping, preview)) await read(blob, mapping);
      } catch (reason) {
        if (turn.current === mine)
          setState((was) => ({
            ...was,
            done: null,
            failure: reason instanceof Error ? reason.message : String(reason),
          }));
      }
    },
    [room, read],
  );
  return useMemo(
    () => ({
      ...state,
      open: (blob, kept, as = null) => void open(blob, kept, as),
      map: (mapping) => {
        const { file, preview } = now.current;
        if (!file || !preview) return;
        if (readable(mapping, preview)) void read(file.blob, mapping);
        else setState((was) => ({ ...was, mapping, found: null }));
      },
      stop: () => {
        room.stop();
        setState((was) => ({ ...was, done: null }));
      },
      clear: () => {
        turn.current++;
        room.close();
        setState(NOTHING);
      },
    }),
    [state, open, read, room],
  );
}
