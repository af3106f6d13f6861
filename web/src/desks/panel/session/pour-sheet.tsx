import type { PourSheetLine } from '@pourline/core';
import { useState } from 'react';
import { Button, Dialog } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { pourSheet } from './host-wire.ts';

interface PourSheetWindowProps {
  sessionId: string;
  open: boolean;
  onClose: () => void;
}

/** The pour sheet, behind a second press: whoever looks is not blind, and that is written down. */
export function PourSheetWindow({ sessionId, open, onClose }: PourSheetWindowProps) {
  const [lines, setLines] = useState<readonly PourSheetLine[] | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const look = async (): Promise<void> => {
    const told = await pourSheet(sessionId);
    if (told.is === 'ok') setLines(told.value.lines);
    setRefusal(told.is === 'refused' ? told.sentence : told.is === 'away' ? t('panel.run.away') : null);
  };
  return (
    <Dialog
      open={open}
      wide
      title={t('panel.pour.title')}
      onClose={() => {
        setLines(null);
        onClose();
      }}
    >
      {refusal !== null && <p className="plain-problem">{refusal}</p>}
      {lines === null ? (
        <>
          <p>{t('panel.pour.warning')}</p>
          <div className="buttons">
            <Button look="primary" onPress={() => void look()}>
              {t('panel.pour.look')}
            </Button>
          </div>
        </>
      ) : (
        <PourSheet lines={lines} />
      )}
    </Dialog>
  );
}

/** What goes into which cup: one sample at a time, its codes by seat. */
export function PourSheet({ lines }: { lines: readonly PourSheetLine[] }) {
  const flights = [...new Set(lines.map((line) => line.flight))];
  return (
    <>
      {flights.map((flight) => (
        <section key={flight} className="pour-flight">
          <h3>{t('panel.run.flight', { flight })}</h3>
          {lines
            .filter((line) => line.flight === flight && line.cups.length > 0)
            .map((line) => (
              <div key={line.sample_id} className="pour-line">
                <h4>{t('panel.pour.into', { sample: line.sample, count: line.cups.length })}</h4>
                <ul className="pour-codes">
                  {line.cups.map((cup) => (
                    <li key={cup.code}>
                      <span className="pour-code">{cup.code}</span>
                      <span className="quiet-text">
                        {t('panel.pour.place', { seat: cup.seat, place: cup.place })}
                        {cup.taster === '' ? '' : ` ${cup.taster}`}
                        {cup.known ? ` · ${t('panel.pour.known')}` : ''}
                      </span>
                    </li>
                  ))}
                </ul>
              </div>
            ))}
        </section>
      ))}
    </>
  );
}
