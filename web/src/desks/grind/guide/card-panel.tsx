import { CARD_PITCHES_mm, cardSvg, checkLineLength } from '@pourline/core';
import { useEffect, useMemo, useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import { Button, Choice, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

/** The calibration card in true size: to look at, and to print. */
export function CardPanel() {
  const [pitch, setPitch] = useState<number>(60);
  const [printing, setPrinting] = useState(false);
  const source = useMemo(
    () =>
      `data:image/svg+xml,${encodeURIComponent(
        cardSvg(
          { pitch_mm: pitch },
          { check: t('grind.card.check', { length: '{length}' }), hint: t('grind.card.hint') },
        ),
      )}`,
    [pitch],
  );
  return (
    <Panel title={t('grind.card.title')}>
      <p>{t('grind.card.text')}</p>
      <Choice
        label={t('grind.scale.pitch')}
        value={String(pitch)}
        options={CARD_PITCHES_mm.map((mm) => ({ value: String(mm), label: `${mm} mm` }))}
        onChange={(value) => setPitch(Number(value))}
      />
      <p className="quiet-text">{t(`grind.card.for.${pitch}` as 'grind.card.for.60')}</p>
      <img className="card-preview" src={source} alt={t('grind.card.alt', { pitch })} />
      <p className="quiet-text">
        {t('grind.card.measure', { length: formatNumber(checkLineLength({ pitch_mm: pitch }), 0) })}
      </p>
      <div>
        <Button look="primary" icon="export" onPress={() => setPrinting(true)}>
          {t('grind.card.print')}
        </Button>
      </div>
      {printing && <PrintedCard source={source} onDone={() => setPrinting(false)} />}
    </Panel>
  );
}

/** The card alone on the paper, while the print window is open. */
function PrintedCard({ source, onDone }: { source: string; onDone: () => void }) {
  const picture = useRef<HTMLImageElement>(null);
  const done = useRef(onDone);
  done.current = onDone;
  useEffect(() => {
    const over = (): void => done.current();
    addEventListener('afterprint', over);
    // Drawn first: a printer does not wait for a picture.
    void picture.current?.decode().then(
      () => print(),
      () => over(),
    );
    return () => removeEventListener('afterprint', over);
  }, []);
  return createPortal(
    <div className="card-root">
      <img ref={picture} src={source} alt={t('grind.card.title')} />
    </div>,
    document.body,
  );
}
