import { type Batch, type JudgedReading, type MeterScale, readMeter } from '@pourline/core';
import { useMemo } from 'react';
import { Icon, NumberAt, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { MeterBand } from './meter-band.tsx';
import type { Making } from './use-making.ts';

/** Most explanations that are listed; more would not help anybody at the table. */
const MOST = 4;

/** What the meter should say of this water, what it said, and what follows from that. */
export function MeterPanel({ making, batch }: { making: Making; batch: Batch }) {
  const { meter_shows: shown, sample_C } = batch;
  const read = useMemo(
    () => readMeter(making.order, making.made, shown ?? Number.NaN, sample_C),
    [making, shown, sample_C],
  );
  const { expected } = read;
  const { scale } = making.order.instruments.meter;
  return (
    <Panel title={t('making.meter')}>
      <p>
        {expected.reading ? (
          <>
            {t('making.should_show', { celsius: formatNumber(sample_C, 1), scale: scaleWords(scale) })}{' '}
            <b className="making-expected">
              {formatNumber(expected.reading.value, expected.reading.value < 20 ? 1 : 0)} {expected.unit}
            </b>
          </>
        ) : (
          t('making.too_hot')
        )}
      </p>
      <div className="making-read">
        <NumberAt path={['meter_shows']} label={t('making.shows')} unit={expected.unit} nullable />
        <NumberAt path={['sample_C']} label={t('making.sample')} />
      </div>
      <MeterBand expected={expected} shown={shown} verdict={read.verdict} />
      {shown !== null && <Verdict read={read} shown={shown} />}
      <p className="quiet-text making-small">{t('making.band_text')}</p>
    </Panel>
  );
}

/** A scale as it is printed on meters. */
export const scaleWords = (scale: MeterScale): string =>
  scale.by === 'factor'
    ? t('making.scale.factor', { factor: formatNumber(scale.factor, 2) })
    : t(`making.scale.${scale.by}`);

function Verdict({ read, shown }: { read: JudgedReading; shown: number }) {
  const { verdict, expected, mistakes, scales, uncompensated } = read;
  if (verdict === 'too hot to read') return null;
  const good = verdict === 'as expected';
  const off = expected.reading ? shown / expected.reading.value - 1 : 0;
  return (
    <div className="making-verdict" data-verdict={good ? 'good' : 'off'} role="status">
      <p className="making-verdict-word">
        <Icon name={good ? 'check' : 'alert'} />
        <b>{t(good ? 'making.accept' : off < 0 ? 'making.too_low' : 'making.too_high')}</b>
        <span>
          {t('making.off_by', { percent: `${off < 0 ? '−' : '+'}${formatNumber(Math.abs(100 * off), 1)}` })}
        </span>
      </p>
      {!good && <p>{t('making.flag_text')}</p>}
      {scales.length > 0 && <p>{t('making.other_scale', { scale: scales.map(scaleWords).join(' / ') })}</p>}
      {uncompensated && <p>{t('making.uncompensated')}</p>}
      {mistakes.length > 0 && (
        <>
          <p>{t(good ? 'making.not_ruled_out' : 'making.would_explain')}</p>
          <RemarkList remarks={mistakes.slice(0, MOST).map(({ remark }) => remark)} />
        </>
      )}
      {!good && mistakes.length === 0 && scales.length === 0 && !uncompensated && (
        <p>{t('making.unexplained')}</p>
      )}
    </div>
  );
}
