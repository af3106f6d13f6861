import type { Plan, TraceMapping, Trial } from '@pourline/core';
import { lazy, Suspense, useEffect, useMemo, useState } from 'react';
import { type Draft, keepFile, readFile } from '../../../replica/index.ts';
import { Button, CheckInput, IconButton, NumberInput, Panel, refusedFile } from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';
import { DropPlace, FileButton } from '../../grind/parts/drop-place.tsx';
import { MappingTable } from './mapping-table.tsx';
import { PourList } from './pour-list.tsx';
import { type Taken, takeInto, withFound } from './take-into.ts';
import { TraceRemarks } from './trace-remarks.tsx';
import { readable, type TraceImport, useTraceImport } from './use-trace-import.ts';
import './trace.css';

/** Fetched when it is opened: few brews have a balance on a cable. */
const LivePanel = lazy(async () => ({ default: (await import('../live/live-panel.tsx')).LivePanel }));

interface TracePanelProps {
  draft: Draft<'trial'>;
  plan: Plan | null;
  /** The trial as it would be with what was found, for the strip; null when nothing is on the bench. */
  onPreview: (trial: Trial | null) => void;
}

/** Recordings of the brew: files from any instrument, and lines as they come over a cable. */
export function TracePanel({ draft, plan, onPreview }: TracePanelProps) {
  const bench = useTraceImport(plan);
  const [failure, setFailure] = useState<string | null>(null);
  const [live, setLive] = useState(false);
  const open = async (file: File): Promise<void> => {
    const kept = await keepFile(file);
    if ('refused' in kept) return setFailure(refusedFile(file.name, kept));
    setFailure(null);
    const { traces } = draft.body;
    // Whatever becomes of it, the file as it came stays with the trial.
    if (!traces.some((one) => one.attachment === kept.attachment))
      draft.change({ ...draft.body, traces: [...traces, { ...kept, zero_s: 0, read_as: '' }] });
    bench.open(file, kept);
  };
  return (
    <Panel title={t('trials.trace.title')}>
      <DropPlace onFile={(file) => void open(file)}>
        <div className="buttons">
          <FileButton
            label={t('trials.trace.open')}
            accept=".csv,.tsv,.txt,.log,text/*"
            onFile={(file) => void open(file)}
          />
          <Button onPress={() => setLive(!live)}>{t(live ? 'trials.live.close' : 'trials.live.open')}</Button>
        </div>
        <p className="quiet-text">{t('trials.trace.hint')}</p>
      </DropPlace>
      {live && (
        <Suspense fallback={<p className="quiet-text">{t('common.loading')}</p>}>
          <LivePanel draft={draft} onRecorded={(file) => void open(file)} />
        </Suspense>
      )}
      {failure && (
        <p className="plain-problem" role="alert">
          {failure}
        </p>
      )}
      {bench.file && <Bench draft={draft} bench={bench} onPreview={onPreview} />}
      <KeptTraces draft={draft} bench={bench} />
    </Panel>
  );
}

interface BenchProps {
  draft: Draft<'trial'>;
  bench: TraceImport;
  onPreview: (trial: Trial | null) => void;
}

const TAKE_ALL: Taken = { pours: true, courses: true, water: true, beverage: true, drawdown: true };

/** The file under way: how it is read, what was found in it, and taking that into the trial. */
function Bench({ draft, bench, onPreview }: BenchProps) {
  const { preview, mapping, found, done, file } = bench;
  const [taken, take] = useState<Taken>(TAKE_ALL);
  const [shift, setShift] = useState<unknown>(null);
  const moved = typeof shift === 'number' ? shift : 0;
  const trial = draft.document;
  const shown = useMemo(
    () => (found ? withFound(trial, found, taken, moved) : null),
    [trial, found, taken, moved],
  );
  useEffect(() => {
    onPreview(shown);
    return () => onPreview(null);
  }, [shown, onPreview]);
  const keep = (): void => {
    if (!found || !mapping || !file) return;
    draft.change(takeInto(draft.body, { found, taken, shift_s: moved, mapping, kept: file.kept }));
    bench.clear();
  };
  const blocked = preview !== null && mapping !== null && !readable(mapping, preview);
  return (
    <div className="trace-bench">
      <header className="trace-bench-head">
        <h4>{file?.kept.name}</h4>
        <IconButton icon="close" label={t('trials.trace.close')} onPress={bench.clear} />
      </header>
      {done !== null && (
        <div className="trace-progress">
          <progress max={1} value={done} aria-label={t('trials.trace.reading')} />
          <span>{t('trials.trace.done', { percent: Math.round(100 * done) })}</span>
          <Button onPress={bench.stop}>{t('trials.trace.stop')}</Button>
        </div>
      )}
      {bench.failure && (
        <p className="plain-problem" role="alert">
          {t('trials.trace.failed', { detail: bench.failure })}
        </p>
      )}
      {preview && <TraceRemarks remarks={preview.remarks} />}
      {blocked && <p className="quiet-text">{t('trials.trace.kept_anyway')}</p>}
      {preview && mapping && mapping.columns.length > 0 && (
        <MappingTable preview={preview} mapping={mapping} onChange={bench.map} />
      )}
      {found && (
        <>
          <p className="trace-facts">
            {t('trials.trace.facts', {
              rows: formatNumber(found.rows, 0),
              length: formatClock(found.length_s),
              pours: found.poured.length,
              water: formatNumber(found.total_g, 1),
            })}
          </p>
          <TraceRemarks remarks={found.remarks} />
          <PourList found={found} />
          <fieldset className="trace-take">
            <legend>{t('trials.trace.take')}</legend>
            {(Object.keys(TAKE_ALL) as (keyof Taken)[])
              .filter((key) => offered(key, found))
              .map((key) => (
                <CheckInput
                  key={key}
                  label={takeLabel(key, found)}
                  value={taken[key]}
                  onChange={(on) => take({ ...taken, [key]: on })}
                />
              ))}
            <div className="trace-shift">
              <NumberInput
                label={t('trials.trace.shift')}
                value={shift}
                unit="s"
                step={0.5}
                placeholder="0"
                hint={t('trials.trace.shift_hint', { at: formatClock(found.zero_s, 1) })}
                onChange={setShift}
              />
            </div>
          </fieldset>
          <div className="buttons">
            <Button look="primary" onPress={keep} isDisabled={found.courses.length === 0}>
              {t('trials.trace.keep')}
            </Button>
          </div>
        </>
      )}
    </div>
  );
}

type Found = NonNullable<TraceImport['found']>;

function offered(key: keyof Taken, found: Found): boolean {
  if (key === 'pours') return found.poured.length > 0;
  if (key === 'water') return found.total_g !== null;
  if (key === 'beverage') return found.drip !== null;
  if (key === 'drawdown') return found.drip !== null && found.drip.drawdown_s !== null;
  return found.courses.length > 0;
}

const takeLabel = (key: keyof Taken, found: Found): string =>
  t(`trials.trace.take.${key}`, {
    value:
      key === 'water'
        ? formatNumber(found.total_g, 1)
        : key === 'beverage'
          ? formatNumber(found.drip?.beverage_g, 1)
          : key === 'drawdown'
            ? formatClock(found.drip?.drawdown_s)
            : '',
    count: key === 'pours' ? found.poured.length : found.courses.length,
  });

/** Files that stay with the trial, to be read again or fetched as they came. */
function KeptTraces({ draft, bench }: { draft: Draft<'trial'>; bench: TraceImport }) {
  const [gone, setGone] = useState<string | null>(null);
  const { traces } = draft.body;
  const again = async (i: number): Promise<void> => {
    const kept = traces[i]!;
    const blob = await readFile(kept);
    if (!blob) return setGone(kept.name);
    setGone(null);
    bench.open(blob, kept, mappingOf(kept.read_as));
  };
  const save = async (i: number): Promise<void> => {
    const kept = traces[i]!;
    const blob = await readFile(kept);
    if (!blob) return setGone(kept.name);
    const url = URL.createObjectURL(blob);
    const link = Object.assign(document.createElement('a'), { href: url, download: kept.name });
    link.click();
    URL.revokeObjectURL(url);
  };
  if (traces.length === 0) return null;
  return (
    <div className="trace-kept">
      <h4>{t('trials.trace.kept')}</h4>
      <ul>
        {traces.map((trace, i) => (
          <li key={trace.attachment}>
            <span>
              {trace.name}
              {trace.read_as === '' && <span className="quiet-text"> {t('trials.trace.not_read')}</span>}
            </span>
            <Button look="quiet" onPress={() => void again(i)}>
              {t('trials.trace.again')}
            </Button>
            <Button look="quiet" onPress={() => void save(i)}>
              {t('trials.trace.save')}
            </Button>
            <IconButton
              icon="close"
              label={t('trials.trace.remove', { name: trace.name })}
              onPress={() => draft.change({ ...draft.body, traces: traces.filter((_, k) => k !== i) })}
            />
          </li>
        ))}
      </ul>
      {gone && <p className="plain-problem">{t('trials.trace.gone', { name: gone })}</p>}
    </div>
  );
}

function mappingOf(text: string): TraceMapping | null {
  try {
    const found: unknown = JSON.parse(text);
    return typeof found === 'object' && found !== null && 'columns' in found ? (found as TraceMapping) : null;
  } catch {
    return null;
  }
}
