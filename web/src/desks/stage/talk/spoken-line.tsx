import type { SpokenText, SpokenValue, Truth } from '@pourline/core';
import { Icon, type IconName } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

const MARK: Readonly<Record<Truth, IconName>> = {
  true: 'check',
  within_spread: 'check',
  false: 'alert',
  out_of_date: 'history',
  unknown: 'alert',
};

/** Every number of a text with its source, and whether it is still true. */
export function SpokenLine({ spoken }: { spoken: SpokenText }) {
  if (spoken.values.length === 0 && spoken.loose.length === 0) return null;
  // The same number may be said twice.
  const said = spoken.values.map((value, i) => ({ key: `${i} ${value.written}`, value }));
  return (
    <ul className="stage-numbers" aria-label={t('stage.numbers.title')}>
      {said.map(({ key, value }) => (
        <li key={key} className={`stage-number stage-number-${value.truth}`}>
          <Icon name={MARK[value.truth]} />
          <span>
            <strong>{value.shown}</strong> {t(`stage.truth.${value.truth}`)}: {behind(value)}
          </span>
        </li>
      ))}
      {spoken.loose.length > 0 && (
        <li className="stage-number stage-number-loose">
          <Icon name="remove" />
          <span>{t('stage.numbers.loose', { numbers: spoken.loose.join(', ') })}</span>
        </li>
      )}
    </ul>
  );
}

function behind({ source, from, now, shown, name, also }: SpokenValue): string {
  if (source === null) return t('stage.numbers.nothing', { name });
  const said = t('stage.numbers.from', {
    source: t(`stage.source.${source}`),
    from: from ?? '',
    now: now !== null && String(now) !== shown ? formatNumber(now, digitsOf(now)) : shown,
  });
  const other = also[0];
  if (!other) return said;
  return t('stage.numbers.also', {
    said,
    source: t(`stage.source.${other.source}`),
    value: formatNumber(other.value, digitsOf(other.value)),
  });
}

/** Decimals that show three or four figures. */
export const digitsOf = (value: number): number =>
  Number.isInteger(value) ? 0 : Math.abs(value) >= 100 ? 1 : 2;
