import { type BedVisit, type BrewResult, bedVisits } from '@pourline/core';
import { useMemo } from 'react';
import { NumberInput } from '../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../words/index.ts';
import { depthKey } from './figures.ts';

/** How near counts as near [K]. */
const TOLERANCE_K = 2;
const NONE: readonly BedVisit[] = [];

/** Visits of the bed to a temperature; empty while none is asked for. */
export function useVisits(result: BrewResult | null, asked: unknown) {
  return useMemo(
    () =>
      result && typeof asked === 'number' && Number.isFinite(asked)
        ? bedVisits(result.trace, asked, TOLERANCE_K)
        : { visits: NONE, nearest: null },
    [result, asked],
  );
}

interface BedQuestionProps {
  asked: number | string | null;
  found: ReturnType<typeof useVisits>;
  onAsk: (value: number | string | null) => void;
  onMoment: (time_s: number) => void;
}

/** Where and when is the bed near a temperature? */
export function BedQuestion({ asked, found, onAsk, onMoment }: BedQuestionProps) {
  const { visits, nearest } = found;
  const number = typeof asked === 'number';
  return (
    <div className="bed-question">
      <NumberInput
        label={t('brew.bed_question')}
        hint={t('brew.bed_tolerance', { tolerance: TOLERANCE_K })}
        unit="°C"
        value={asked}
        onChange={onAsk}
        problem={
          typeof asked === 'string'
            ? t('common.not_a_number', { field: t('brew.bed_question'), value: asked })
            : undefined
        }
      />
      {number && visits.length > 0 ? (
        <ul className="visits">
          {visits.slice(0, 6).map((visit) => (
            <li key={`${visit.from_s} ${visit.depth_from}`}>
              <button
                type="button"
                className="jump"
                onClick={() => onMoment((visit.from_s + visit.to_s) / 2)}
              >
                {t('brew.visit', {
                  from: formatClock(visit.from_s),
                  to: formatClock(visit.to_s),
                  where: placeOf(visit),
                })}
              </button>
            </li>
          ))}
        </ul>
      ) : null}
      {number && visits.length > 6 ? (
        <p className="quiet-text">{t('brew.visits_more', { count: visits.length - 6 })}</p>
      ) : null}
      {number && visits.length === 0 ? (
        <p className="visits-none">
          {nearest ? (
            <button type="button" className="jump" onClick={() => onMoment(nearest.at_s)}>
              {t('brew.visits_none', {
                celsius: formatNumber(nearest.temperature_C, 1),
                at: formatClock(nearest.at_s),
                where: t(depthKey(nearest.depth)),
              })}
            </button>
          ) : (
            t('brew.visits_dry')
          )}
        </p>
      ) : null}
    </div>
  );
}

/** The depth range of a visit in words. */
function placeOf(visit: BedVisit): string {
  if (visit.depth_from < 0.05 && visit.depth_to > 0.95) return t('brew.depth.all');
  const from = t(depthKey(visit.depth_from));
  const to = t(depthKey(visit.depth_to));
  return from === to ? from : t('brew.depth.range', { from, to });
}
