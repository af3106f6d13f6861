import { type RunTalk, type Talk, titleOf } from '@pourline/core';
import { Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

/** What could be left out, cheapest first, with what that saves. */
export function CutList({ talk, placed }: { talk: Talk; placed: RunTalk }) {
  const { cuts, needed_cuts } = placed.placed;
  const name = (id: string): string => {
    const segment = talk.segments.find((entry) => entry.id === id);
    return segment ? titleOf(segment) : id;
  };
  return (
    <Panel title={t('stage.cuts.title')}>
      {cuts.length === 0 ? (
        <p className="quiet-text">{t('stage.cuts.none')}</p>
      ) : (
        <table className="stage-table">
          <thead>
            <tr>
              <th scope="col">{t('stage.cuts.piece')}</th>
              <th scope="col">{t('stage.cuts.saves')}</th>
              <th scope="col">{t('stage.cuts.points')}</th>
            </tr>
          </thead>
          <tbody>
            {cuts.map(({ id, saves_s, points }) => (
              <tr key={id} data-needed={needed_cuts?.includes(id) || undefined}>
                <td>
                  {name(id)}
                  {needed_cuts?.includes(id) && <span className="stage-less">{t('stage.cuts.needed')}</span>}
                </td>
                <td>{t('stage.seconds', { seconds: formatNumber(saves_s, 1) })}</td>
                <td>{formatNumber(points, 2)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </Panel>
  );
}
