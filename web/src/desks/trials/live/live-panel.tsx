import { compileLinePattern, proposeLinePattern, type SerialLine } from '@pourline/core';
import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { type Draft, useDocuments } from '../../../replica/index.ts';
import { Button, Fields, Notice, NumberInput, SelectInput, TextInput } from '../../../ui/index.ts';
import { formatClock, formatNumber, problemSentence, t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { type BytePort, hasSerial, openSerial, PORT_EVENT } from './byte-port.ts';
import { type LiveState, leftBehind, makeLive } from './live-store.ts';
import './live.css';

interface LivePanelProps {
  draft: Draft<'trial'>;
  /** Takes what was recorded as if it had been opened as a file. */
  onRecorded: (file: File) => void;
}

const PLAIN: SerialLine = {
  baud: 9_600,
  data_bits: 8,
  stop_bits: 1,
  parity: 'none',
  pattern: '',
  unit: 'g',
  ask: '',
};

/** Lines as an instrument prints them, read live and kept as a recording. */
export function LivePanel({ draft, onRecorded }: LivePanelProps) {
  const [live] = useState(makeLive);
  const state = useSyncExternalStore(live.subscribe, live.get);
  const [line, setLine] = useKept<SerialLine>('trials-line', PLAIN);
  const [left, setLeft] = useState(leftBehind);
  const [failure, setFailure] = useState<string | null>(null);
  const now = useRef(line);
  now.current = line;
  useEffect(() => {
    const taken = (event: Event): void => {
      void live.listen((event as CustomEvent<BytePort>).detail, now.current);
    };
    addEventListener(PORT_EVENT, taken);
    return () => {
      removeEventListener(PORT_EVENT, taken);
      void live.stop();
    };
  }, [live]);
  const connect = async (): Promise<void> => {
    setFailure(null);
    try {
      const port = await openSerial(line);
      if (port) void live.listen(port, line);
    } catch (reason) {
      setFailure(reason instanceof Error ? reason.message : String(reason));
    }
  };
  const hand = (text: string): void => {
    const stamp = new Date().toISOString().slice(0, 16).replaceAll(':', '-');
    const name = `${draft.document.name.slice(0, 40)} ${stamp}.csv`;
    onRecorded(new File([text], name, { type: 'text/csv' }));
    live.forget();
    setLeft(null);
  };
  const take = async (): Promise<void> => {
    await live.stop();
    const text = live.table();
    if (text !== '') hand(text);
  };
  return (
    <div className="live">
      {left && state.rows === 0 && (
        <Notice
          actions={
            <>
              <Button onPress={() => hand(left)}>{t('trials.live.left_take')}</Button>
              <Button
                look="quiet"
                onPress={() => {
                  live.forget();
                  setLeft(null);
                }}
              >
                {t('trials.live.left_drop')}
              </Button>
            </>
          }
        >
          {t('trials.live.left')}
        </Notice>
      )}
      {!hasSerial() && <p className="quiet-text live-missing">{t('trials.live.no_serial')}</p>}
      <LineSettings line={line} change={setLine} lines={state.lines} />
      <div className="buttons">
        {state.listening ? (
          <>
            <Button look="primary" onPress={() => void take()} isDisabled={state.rows === 0}>
              {t('trials.live.take')}
            </Button>
            <Button onPress={live.zero}>{t('trials.live.zero')}</Button>
          </>
        ) : (
          <>
            {hasSerial() && (
              <Button look="primary" onPress={() => void connect()}>
                {t('trials.live.connect')}
              </Button>
            )}
            {state.rows > 0 && <Button onPress={() => void take()}>{t('trials.live.take')}</Button>}
          </>
        )}
      </div>
      {(state.listening || state.rows > 0) && <Now state={state} />}
      {(failure ?? state.failure) && (
        <p className="plain-problem" role="alert">
          {t('trials.live.failed', { detail: failure ?? state.failure ?? '' })}
        </p>
      )}
    </div>
  );
}

/** What is read just now, in letters that are read from across the table. */
function Now({ state }: { state: LiveState }) {
  const { mass_g, temperature_C, elapsed_s, rows, missed, last_missed, stable } = state;
  return (
    <div className="live-now">
      <span className="live-clock">{formatClock(elapsed_s, 1)}</span>
      {mass_g !== null && (
        <b className="live-figure" data-live="mass">
          {formatNumber(mass_g, 1)} <span className="unit">g</span>
        </b>
      )}
      {temperature_C !== null && (
        <b className="live-figure">
          {formatNumber(temperature_C, 1)} <span className="unit">°C</span>
        </b>
      )}
      {stable === false && <span className="quiet-text">{t('trials.live.moving')}</span>}
      <span className="quiet-text" data-live="rows">
        {t('trials.live.rows', { count: rows })}
      </span>
      {missed > 0 && (
        <span className="quiet-text">{t('trials.live.missed', { count: missed, line: last_missed })}</span>
      )}
    </div>
  );
}

interface LineSettingsProps {
  line: SerialLine;
  change: (part: Partial<SerialLine>) => void;
  lines: readonly string[];
}

/** How the instrument speaks: from its document, or set here. */
function LineSettings({ line, change, lines }: LineSettingsProps) {
  const instruments = useDocuments('instrument').filter(({ serial }) => serial !== null);
  const compiled = compileLinePattern(line.pattern);
  const problem = compiled.ok ? undefined : compiled.problems.map(problemSentence).join(' ');
  return (
    <div className="live-settings">
      {instruments.length > 0 && (
        <SelectInput
          label={t('trials.live.like')}
          value={null}
          options={instruments.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={(id) => change(instruments.find((one) => one.id === id)?.serial ?? {})}
        />
      )}
      <Fields>
        <NumberInput
          label={t('trials.live.baud')}
          value={line.baud}
          onChange={(baud) => {
            if (typeof baud === 'number') change({ baud });
          }}
        />
        <TextInput label={t('trials.live.unit')} value={line.unit} onChange={(unit) => change({ unit })} />
        <TextInput
          label={t('trials.live.pattern')}
          value={line.pattern}
          placeholder={t('trials.live.pattern_plain')}
          problem={problem}
          onChange={(pattern) => change({ pattern })}
        />
      </Fields>
      <details className="mapping-more">
        <summary>{t('trials.live.more')}</summary>
        <Fields>
          <SelectInput
            label={t('trials.live.parity')}
            value={line.parity}
            options={(['none', 'even', 'odd'] as const).map((value) => ({
              value,
              label: t(`trials.live.parity.${value}`),
            }))}
            onChange={(parity) => change({ parity: parity as SerialLine['parity'] })}
          />
          <SelectInput
            label={t('trials.live.data_bits')}
            value={String(line.data_bits)}
            options={['7', '8'].map((value) => ({ value, label: value }))}
            onChange={(bits) => change({ data_bits: bits === '7' ? 7 : 8 })}
          />
          <TextInput label={t('trials.live.ask')} value={line.ask} onChange={(ask) => change({ ask })} />
        </Fields>
        <p className="quiet-text">{t('trials.live.pattern_hint')}</p>
        {lines.length > 0 && (
          <>
            <pre className="live-lines">{lines.join('\n')}</pre>
            <Button onPress={() => change({ pattern: proposeLinePattern(lines) })}>
              {t('trials.live.propose')}
            </Button>
          </>
        )}
      </details>
    </div>
  );
}
