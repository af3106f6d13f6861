import { type PlainAnswer, PROTOCOLS, type Protocol, type SessionTable } from '@pourline/core';
import { t } from '../../../words/index.ts';
import { CountChart } from './count-chart.tsx';
import { RankChart } from './rank-chart.tsx';
import { ScoreChart, type ScoreDot } from './score-chart.tsx';
import { ShareBars } from './share-bars.tsx';
import { TemporalChart } from './temporal-chart.tsx';

interface Ballot {
  cup: string;
  words: readonly string[];
}

/** The drawing of a result, where there is one for its kind. */
export function ResultDrawing({ table, answer }: { table: SessionTable; answer: PlainAnswer }) {
  const { input, kind } = table;
  const { figures } = answer;
  switch (kind) {
    case 'difference':
    case 'similarity': {
      const { correct, answers, protocol } = input as {
        correct: number;
        answers: number;
        protocol: Protocol;
      };
      return (
        <CountChart
          correct={correct}
          answers={answers}
          guess={PROTOCOLS[protocol].guess}
          critical={kind === 'difference' ? ((figures.critical ?? null) as number | null) : null}
        />
      );
    }
    case 'preference': {
      const { first, second } = input as { first: number; second: number };
      return (
        <CountChart
          correct={Math.max(first, second)}
          answers={first + second}
          guess={0.5}
          critical={(figures.critical ?? null) as number | null}
        />
      );
    }
    case 'ranking':
      return (
        <RankChart
          cups={input.cups as string[]}
          rank_sums={figures.rank_sums as number[]}
          tasters={figures.tasters as number}
          least_difference={figures.least_difference as number}
        />
      );
    case 'scores':
      return <ScoreChart scores={input.scores as ScoreDot[]} />;
    case 'words':
      return <WordBars cups={input.cups as string[]} ballots={input.ballots as Ballot[]} />;
    case 'temporal':
      return <TemporalChart figures={figures} end_s={input.end_s as number} />;
    default:
      return null;
  }
}

/** Words by cup: how many tasters ticked each, most first. */
function WordBars({ cups, ballots }: { cups: readonly string[]; ballots: readonly Ballot[] }) {
  return (
    <div className="bars-cups">
      {cups.map((cup) => {
        const own = ballots.filter((b) => b.cup === cup);
        const words = [...new Set(own.flatMap((b) => b.words))];
        const rows = words
          .map((name) => ({ name, count: own.filter((b) => b.words.includes(name)).length, of: own.length }))
          .sort((a, b) => b.count - a.count || a.name.localeCompare(b.name))
          .slice(0, 14);
        return (
          <section key={cup}>
            <h4>{cup}</h4>
            {rows.length === 0 ? (
              <p className="quiet-text">{t('panel.results.no_words')}</p>
            ) : (
              <ShareBars rows={rows} label={cup} />
            )}
          </section>
        );
      })}
    </div>
  );
}
