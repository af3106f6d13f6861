import { useId } from 'react';
import { formatNumber, t } from '../../words/index.ts';
import type { GlassChoice } from './use-glass.ts';

interface GlassSettingsProps {
  glass: GlassChoice;
  onGlass: (glass: GlassChoice) => void;
}

/** Width of a card of format ID-1 [mm] (ISO/IEC 7810). */
const CARD_MM = 85.6;

/** How large this glass is and from how far it is read; letters and buttons follow. */
export function GlassSettings({ glass, onGlass }: GlassSettingsProps) {
  const [size, distance] = [useId(), useId()];
  return (
    <details className="live-glass">
      <summary>{t(glass.measured ? 'live.glass.measured' : 'live.glass.guessed')}</summary>
      <p>{t('live.glass.hold')}</p>
      <div className="live-card" style={{ width: CARD_MM * glass.px_per_mm }} />
      <label htmlFor={size}>{t('live.glass.size')}</label>
      <input
        id={size}
        type="range"
        min={2.5}
        max={9}
        step={0.02}
        value={glass.px_per_mm}
        onChange={(event) => onGlass({ ...glass, px_per_mm: Number(event.target.value), measured: true })}
      />
      <label htmlFor={distance}>
        {t('live.glass.distance', { distance: formatNumber(glass.distance_m, 1) })}
      </label>
      <input
        id={distance}
        type="range"
        min={0.5}
        max={4}
        step={0.1}
        value={glass.distance_m}
        onChange={(event) => onGlass({ ...glass, distance_m: Number(event.target.value) })}
      />
    </details>
  );
}
