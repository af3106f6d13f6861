import type { ExpectedReading, Verdict } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';
import { bandPlaces } from './kernels.ts';

/** The band of readings that are taken, what is expected with its spread, and what was read. */
export function MeterBand({
  expected,
  shown,
  verdict,
}: {
  expected: ExpectedReading;
  shown: number | null;
  verdict: Verdict;
}) {
  const places = bandPlaces(expected, shown);
  if (!places || !expected.accept || !expected.reading) return null;
  const x = (share: number): number => 8 + 304 * share;
  const digits = expected.reading.value < 20 ? 1 : 0;
  const text = (value: number): string => formatNumber(value, digits);
  return (
    <svg
      className="making-band"
      viewBox="0 0 320 74"
      role="img"
      aria-label={t('making.band', {
        low: text(expected.accept.low),
        high: text(expected.accept.high),
        unit: expected.unit,
      })}
    >
      <line className="making-band-line" x1="8" x2="312" y1="40" y2="40" />
      <rect
        className="making-band-accept"
        x={x(places.low)}
        width={x(places.high) - x(places.low)}
        y="30"
        height="20"
        rx="3"
      />
      <line
        className="making-band-spread"
        x1={x(places.spread[0])}
        x2={x(places.spread[1])}
        y1="40"
        y2="40"
      />
      <line
        className="making-band-expected"
        x1={x(places.expected)}
        x2={x(places.expected)}
        y1="31"
        y2="49"
      />
      <text x={x(places.low)} y="66" textAnchor="middle">
        {text(expected.accept.low)}
      </text>
      <text x={x(places.high)} y="66" textAnchor="middle">
        {text(expected.accept.high)}
      </text>
      {places.shown !== null && (
        <g className="making-band-shown" data-verdict={verdict === 'as expected' ? 'good' : 'off'}>
          <path d={`M${x(places.shown)} 30l-7 -11h14z`} />
          <text x={x(places.shown)} y="14" textAnchor="middle">
            {formatNumber(shown, digits)}
          </text>
        </g>
      )}
    </svg>
  );
}
