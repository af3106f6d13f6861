import type { Fit, Surprise, TrialLesson } from '@pourline/core';
import { useState } from 'react';
import { hrefOf } from '../../../shell/route.ts';
import { Button } from '../../../ui/index.ts';
import { formatMoment, formatNumber, t } from '../../../words/index.ts';
import { parameterName } from './parameter-table.tsx';

/** Shown at first; the rest on demand. */
const FIRST = 12;
/** From so many deviations on a figure is worth a word. */
const ODD = 2;

/** What each trial taught: the most telling first, with what it moved and what in it was a surprise. */
export function LessonTable({ fit }: { fit: Fit }) {
  const [all, setAll] = useState(false);
  const sorted = [...fit.lessons].sort((a, b) => b.bits - a.bits);
  const shown = all ? sorted : sorted.slice(0, FIRST);
  const most = sorted[0]?.bits ?? 1;
  return (
    <div className="table-scroll">
      <table className="learn-table">
        <thead>
          <tr>
            <th scope="col">{t('trials.lesson.trial')}</th>
            <th scope="col">{t('trials.lesson.bits')}</th>
            <th scope="col">{t('trials.lesson.moved')}</th>
            <th scope="col">{t('trials.lesson.surprise')}</th>
          </tr>
        </thead>
        <tbody>
          {shown.map((lesson) => (
            <tr key={lesson.trial_id}>
              <th scope="row">
                <a href={hrefOf('trials', 'log', lesson.trial_id)}>{lesson.name}</a>
                <span className="quiet-text learn-band">{formatMoment(lesson.brewed_at)}</span>
              </th>
              <td>
                {formatNumber(lesson.bits, 2)}
                <svg className="lesson-bar" viewBox="0 0 80 8" aria-hidden="true">
                  <rect width={Math.max(1, (80 * lesson.bits) / Math.max(1e-9, most))} height={8} />
                </svg>
              </td>
              <td>{movedText(lesson, fit)}</td>
              <td>
                <Surprises figures={lesson.figures} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {sorted.length > FIRST && !all && (
        <Button look="quiet" onPress={() => setAll(true)}>
          {t('trials.lesson.all', { count: sorted.length })}
        </Button>
      )}
      <p className="quiet-text">{t('trials.lesson.note')}</p>
    </div>
  );
}

function movedText(lesson: TrialLesson, fit: Fit): string {
  const [first] = lesson.shifts;
  const parameter = first && fit.parameters.find(({ id }) => id === first.id);
  if (!first || !parameter || Math.abs(first.shift) < 0.1) return t('trials.lesson.nothing');
  return t('trials.lesson.shift', {
    name: parameterName(parameter),
    shift: formatNumber(Math.abs(first.shift), 1),
  });
}

function Surprises({ figures }: { figures: readonly Surprise[] }) {
  const odd = figures.filter(({ distance }) => Math.abs(distance) >= ODD);
  if (odd.length === 0) return <span className="quiet-text">{t('trials.lesson.expected')}</span>;
  return (
    <ul>
      {odd.map((figure) => {
        const digits = figure.unit === '%' ? 2 : figure.unit === 's' ? 0 : 1;
        return (
          <li key={`${figure.channel} ${figure.where} ${figure.measured}`}>
            {t('trials.lesson.odd', {
              figure: t(`trials.channel.${figure.channel}`),
              measured: formatNumber(figure.measured, digits),
              low: formatNumber(figure.expected.low, digits),
              high: formatNumber(figure.expected.high, digits),
              unit: figure.unit,
            })}
          </li>
        );
      })}
    </ul>
  );
}
