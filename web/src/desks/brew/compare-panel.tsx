import type { BrewResult } from '@pourline/core';
import { Panel } from '../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../words/index.ts';
import { figureText } from './cup-panel.tsx';
import { ALL_FIGURES, type Figure } from './figures.ts';

interface ComparePanelProps {
  names: readonly [string, string];
  result: BrewResult;
  other: BrewResult | null;
}

/** Two plans side by side, figure by figure, with their differences. */
export function ComparePanel({ names, result, other }: ComparePanelProps) {
  return (
    <Panel title={t('brew.side_by_side')}>
      {other ? (
        <table className="compare">
          <thead>
            <tr>
              <th>
                <span className="visually-hidden">{t('brew.figure')}</span>
              </th>
              <th scope="col">{names[0]}</th>
              <th scope="col">{names[1]}</th>
              <th scope="col">{t('brew.difference')}</th>
            </tr>
          </thead>
          <tbody>
            {ALL_FIGURES.filter((figure) => figure.of(result) !== null || figure.of(other) !== null).map(
              (figure) => (
                <tr key={figure.key}>
                  <th scope="row">{t(figure.label)}</th>
                  <td>{figureText(figure, figure.of(result), true, more(figure))}</td>
                  <td>{figureText(figure, figure.of(other), true, more(figure))}</td>
                  <td>{difference(figure, figure.of(result), figure.of(other))}</td>
                </tr>
              ),
            )}
          </tbody>
        </table>
      ) : (
        <p className="quiet-text">{t('common.loading')}</p>
      )}
    </Panel>
  );
}

/** Whole grams and degrees would round a difference away. */
const more = (figure: Figure): number => (figure.digits === 0 && !figure.clock ? 1 : 0);

/** This plan less the other, with its sign. */
function difference(figure: Figure, mine: number | null, theirs: number | null): string {
  if (mine === null || theirs === null) return '–';
  const by = mine - theirs;
  if (figure.clock) return `${sign(Math.round(by))}${formatClock(Math.abs(Math.round(by)))}`;
  const text = formatNumber(Math.abs(by), figure.digits + more(figure));
  return `${Number(text.replace(/[^\d]/g, '')) === 0 ? '' : sign(by)}${text}`;
}

const sign = (value: number): string => (value > 0 ? '+' : value < 0 ? '−' : '');
