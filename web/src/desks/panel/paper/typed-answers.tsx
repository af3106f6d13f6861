import type { SessionDesign, SessionPlan } from '@pourline/core';
import { type KeyboardEvent, useRef, useState } from 'react';
import { v7 } from 'uuid';
import type { Draft } from '../../../replica/index.ts';
import { go } from '../../../shell/route.ts';
import { Button, Panel } from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';
import { type PaperLine, paperLines, problemsOf, readLine, runOfPaper, type Typed } from './paper-kernels.ts';

interface TypedAnswersProps {
  draft: Draft<'tasting'>;
  design: SessionDesign;
  plan: SessionPlan;
  typed: Typed;
  type: (part: Partial<Typed>) => void;
}

/** Typing ballots in: one line an answer, Enter goes on; wrong lines say what would be right and are kept as typed. */
export function TypedAnswers({ draft, design, plan, typed, type }: TypedAnswersProps) {
  const ground = useRef<HTMLDivElement>(null);
  const [sure, setSure] = useState(false);
  const lines = paperLines(design, plan);
  const seats = [...new Set(lines.map(({ seat }) => seat))];
  const states = lines.map((line) => stateOf(design, plan, line, typed.answers[line.key] ?? ''));
  const good = states.filter(({ is }) => is === 'good').length;
  const move = (event: KeyboardEvent, at: number): void => {
    const step = event.key === 'Enter' || event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
    if (step === 0) return;
    event.preventDefault();
    ground.current?.querySelector<HTMLElement>(`[data-line="${at + step}"]`)?.focus();
  };
  const keep = async (): Promise<void> => {
    const run = runOfPaper(design, plan, typed, new Date().toISOString(), v7);
    draft.change({ ...draft.document, run });
    go('panel', 'sessions', draft.document.id, 'results');
  };
  return (
    <Panel title={t('panel.paper.typed')}>
      <p className="quiet-text">{t(`panel.paper.how.${design.method.test}`)}</p>
      <div className="typed" ref={ground}>
        {seats.map((seat) => (
          <fieldset key={seat} className="line-set">
            <legend>
              <label>
                {t('panel.paper.seat', { seat })}{' '}
                <input
                  className="typed-cell typed-name"
                  aria-label={t('panel.paper.name_of', { seat })}
                  placeholder={t('panel.paper.name')}
                  value={typed.names[seat] ?? ''}
                  maxLength={60}
                  autoComplete="off"
                  onChange={(event) => type({ names: { ...typed.names, [seat]: event.target.value } })}
                />
              </label>
            </legend>
            <table className="typed-table">
              <tbody>
                {lines.map((line, at) =>
                  line.seat === seat ? (
                    <tr key={line.key}>
                      <th scope="row">
                        {line.set.set}{' '}
                        <span className="feed-code">
                          {line.code ??
                            line.set.cups
                              .filter((c) => !c.known)
                              .map((c) => c.code)
                              .join(' ')}
                        </span>{' '}
                        <span className="quiet-text">
                          {design.windows.find(({ id }) => id === line.window_id)?.name ?? ''}
                        </span>
                      </th>
                      <td>
                        <input
                          className="typed-cell"
                          data-line={at}
                          aria-label={t('panel.paper.answer_of', { seat, set: line.set.set })}
                          aria-invalid={states[at]?.is === 'wrong' || undefined}
                          value={typed.answers[line.key] ?? ''}
                          autoComplete="off"
                          onKeyDown={(event) => move(event, at)}
                          onChange={(event) =>
                            type({ answers: { ...typed.answers, [line.key]: event.target.value } })
                          }
                        />
                      </td>
                      <td className="typed-state">
                        {states[at]?.is === 'good' && <span>✓</span>}
                        {states[at]?.is === 'wrong' && (
                          <span className="plain-problem">{states[at]?.says}</span>
                        )}
                      </td>
                    </tr>
                  ) : null,
                )}
              </tbody>
            </table>
          </fieldset>
        ))}
      </div>
      <p>{t('panel.paper.count', { good, all: lines.length })}</p>
      <div className="buttons">
        {sure ? (
          <>
            <Button look="primary" onPress={() => void keep()}>
              {t('panel.paper.keep_yes')}
            </Button>
            <Button look="quiet" onPress={() => setSure(false)}>
              {t('common.cancel')}
            </Button>
          </>
        ) : (
          <Button isDisabled={good === 0} onPress={() => setSure(true)}>
            {t('panel.paper.keep')}
          </Button>
        )}
      </div>
    </Panel>
  );
}

type LineState = { is: 'empty' | 'good' } | { is: 'wrong'; says: string };

function stateOf(design: SessionDesign, plan: SessionPlan, line: PaperLine, text: string): LineState {
  if (text.trim() === '') return { is: 'empty' };
  const answer = readLine(design, text);
  if (!answer) return { is: 'wrong', says: t(`panel.paper.how.${design.method.test}`) };
  const problems = problemsOf(design, plan, line, answer);
  return problems.length === 0
    ? { is: 'good' }
    : { is: 'wrong', says: problems.map(problemSentence).join(' ') };
}
