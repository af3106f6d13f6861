import type { WordCandidate } from '@pourline/core';
import { useState } from 'react';
import type { Draft } from '../../../replica/index.ts';
import { Button } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { ShareBar } from '../results/share-bars.tsx';
import { freeId } from '../session/methods.ts';
import type { WindowWords } from './describe-kernels.ts';
import { windowWords } from './said-panel.tsx';

const FEW = 8;

/** Everything that was found at each temperature, with its support, best first; a press says it. */
export function Candidates({
  draft,
  windows,
}: {
  draft: Draft<'description'>;
  windows: readonly WindowWords[];
}) {
  const [all, setAll] = useState<string | null>(null);
  const { document } = draft;
  const add = ({ window, word }: WordCandidate): void =>
    draft.change({
      ...document,
      said: [...document.said, { id: freeId('w', document.said), window, word }],
    });
  return (
    <>
      {windows.map(({ window, tasters, agreement, candidates }) => (
        <section key={window} className="candidates">
          <h4>
            {windowWords(window)}{' '}
            <span className="quiet-text">
              {t('panel.describe.tasters_of', { tasters })}
              {agreement !== null &&
                `, ${t('panel.describe.agreement', { share: formatNumber(100 * agreement) })}`}
            </span>
          </h4>
          <ul className="bars">
            {(all === window ? candidates : candidates.slice(0, FEW)).map((candidate) => (
              <li key={candidate.word}>
                <span className="bars-name">
                  {candidate.word}{' '}
                  <span className="quiet-text">{t(`panel.describe.breadth.${candidate.breadth}`)}</span>
                </span>
                <ShareBar
                  count={candidate.found}
                  of={candidate.tasters}
                  low={candidate.share_low}
                  high={candidate.share_high}
                />
                <span className="bars-count">
                  {t('panel.results.count_of', { count: candidate.found, of: candidate.tasters })},{' '}
                  {t('panel.describe.points_of', { points: formatNumber(candidate.points.expected, 2) })}
                </span>
                <Button look="quiet" onPress={() => add(candidate)}>
                  {t('panel.describe.say')}
                </Button>
              </li>
            ))}
          </ul>
          {candidates.length > FEW && all !== window && (
            <Button look="quiet" onPress={() => setAll(window)}>
              {t('panel.describe.all_words', { count: candidates.length })}
            </Button>
          )}
        </section>
      ))}
    </>
  );
}
