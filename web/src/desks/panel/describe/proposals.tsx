import { type DescriptionProposal, sameWord, type WordCandidate } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { Button } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { ShareBar } from '../results/share-bars.tsx';
import { windowWords } from './said-panel.tsx';

interface ProposalsProps {
  draft: Draft<'description'>;
  proposal: DescriptionProposal;
}

/** For every word what to do with it, and a press that does it. */
export function Proposals({ draft, proposal }: ProposalsProps) {
  const { document } = draft;
  const say = (at: number, word: string | null): void =>
    draft.change({
      ...document,
      said:
        word === null
          ? document.said.filter((_, i) => i !== at)
          : document.said.map((said, i) => (i === at ? { ...said, word } : said)),
    });
  const state = (name: string, option: string): void =>
    draft.change({
      ...document,
      statements: document.statements.map((s) =>
        sameWord(s.name) === sameWord(name) ? { ...s, said: option } : s,
      ),
    });
  return (
    <ul className="proposals">
      {proposal.words.map(({ said, action, instead }, at) => (
        <li
          key={`${said.window} ${said.word} ${document.said[at]?.id ?? ''}`}
          className={`proposal proposal-${action}`}
        >
          <div className="proposal-head">
            <span className="quiet-text">{windowWords(said.window)}</span>
            <strong>{said.word}</strong>
            <span className="proposal-action">{t(`panel.describe.action.${action}`)}</span>
            {action !== 'keep' && <strong className="proposal-to">{instead?.word ?? ''}</strong>}
          </div>
          <Support candidate={said} />
          {instead && instead !== said && <Support candidate={instead} />}
          {action !== 'keep' && (
            <Button look="quiet" onPress={() => say(at, instead?.word ?? null)}>
              {instead
                ? t('panel.describe.say_instead', { word: instead.word })
                : t('panel.describe.say_not')}
            </Button>
          )}
        </li>
      ))}
      {proposal.statements.map(({ name, said, best, options, tasters }) => (
        <li key={name} className="proposal">
          <div className="proposal-head">
            <span className="quiet-text">{name}</span>
            <strong>{said}</strong>
            <span className="proposal-action">
              {t(
                sameWord(said) === sameWord(best)
                  ? 'panel.describe.action.keep'
                  : 'panel.describe.action.change',
              )}
            </span>
            {sameWord(said) !== sameWord(best) && <strong className="proposal-to">{best}</strong>}
          </div>
          {options
            .filter(({ agree, option }) => agree > 0 || sameWord(option) === sameWord(said))
            .map(({ option, agree, points }) => (
              <p key={option} className="support">
                <span>{option}</span>
                <ShareBar count={agree} of={tasters} />
                <span>
                  {t('panel.results.count_of', { count: agree, of: tasters })},{' '}
                  {t('panel.describe.points_of', { points: formatNumber(points.expected, 2) })}
                </span>
              </p>
            ))}
          {sameWord(said) !== sameWord(best) && (
            <Button look="quiet" onPress={() => state(name, best)}>
              {t('panel.describe.say_instead', { word: best })}
            </Button>
          )}
        </li>
      ))}
    </ul>
  );
}

/** How well a word is supported: found, near, and what it is worth. */
function Support({ candidate }: { candidate: WordCandidate }) {
  const { word, found, near, tasters, share_low, share_high, points, over_sessions } = candidate;
  return (
    <p className="support">
      <span>{word}</span>
      <ShareBar count={found} of={tasters} low={share_low} high={share_high} />
      <span>
        {t('panel.results.count_of', { count: found, of: tasters })}
        {near > 0 && `, ${t('panel.describe.near_of', { near })}`},{' '}
        {t('panel.describe.points_of', { points: formatNumber(points.expected, 2) })}
        {over_sessions &&
          `, ${t('panel.describe.over_sessions', {
            low: formatNumber(100 * over_sessions.low),
            high: formatNumber(100 * over_sessions.high),
          })}`}
      </span>
    </p>
  );
}
