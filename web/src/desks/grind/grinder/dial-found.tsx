import type { GrindBand } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';

/** A setting with its width, and how sure it is to be on the dial at all. */
export function DialFound({ dial, onScale }: { dial: GrindBand; onScale?: number }) {
  return (
    <p className="dial-answer" role="status">
      <strong>{formatNumber(dial.mid, 1)}</strong>{' '}
      <span>{t('grind.spread', { low: formatNumber(dial.low, 1), high: formatNumber(dial.high, 1) })}</span>
      {onScale !== undefined && onScale < 0.95 && (
        <span className="quiet-text">
          {' '}
          {t('grind.ask.on_scale', { percent: formatNumber(100 * onScale) })}
        </span>
      )}
    </p>
  );
}
