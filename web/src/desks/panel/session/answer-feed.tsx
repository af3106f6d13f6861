import type { HostAnswer, HostView } from '@pourline/core';
import { Panel } from '../../../ui/index.ts';
import { formatMoment, listed, t } from '../../../words/index.ts';

const SHOWN = 30;

/** What an answer says, in codes and words, never whether it is right. */
export function answerWords(answer: HostAnswer['answer']): string {
  switch (answer.test) {
    case 'tetrad':
      return answer.group.join(' + ');
    case 'a_not_a':
      return t(answer.same ? 'panel.answer.same' : 'panel.answer.other');
    case 'ranking':
      return answer.order.map((place) => place.join(' = ')).join(' > ');
    case 'preference':
      return answer.code ?? t('panel.answer.no_preference');
    case 'intensity':
      return answer.scores.map(({ score }) => score).join(' · ');
    case 'check_all':
      return t('panel.answer.ticked', { count: answer.ticked.length });
    case 'just_about_right':
      return answer.levels.map(({ level }) => (level > 0 ? `+${level}` : String(level))).join(' · ');
    case 'descriptors':
      return answer.words.length > 0
        ? listed(answer.words)
        : answer.statements.map(({ option }) => option).join(' · ') || t('panel.answer.nothing');
    case 'temporal':
      return t('panel.answer.taps', { count: answer.clicks.length });
    default:
      return answer.code;
  }
}

/** Answers as they arrive, newest first. */
export function AnswerFeed({ view }: { view: HostView }) {
  const names = new Map(view.seats.map((s) => [s.seat, s.name ?? String(s.seat)]));
  const windows = new Map(view.design.windows.map((w) => [w.id, w.name]));
  const sorted = [...view.answers].sort((a, b) => b.at - a.at || b.answer_id.localeCompare(a.answer_id));
  return (
    <Panel title={t('panel.run.answers')}>
      {sorted.length === 0 && <p className="quiet-text">{t('panel.run.no_answers')}</p>}
      <ol className="feed" aria-live="polite">
        {sorted.slice(0, SHOWN).map((given) => (
          <li key={given.answer_id} data-answer={given.answer_id}>
            <span className="feed-who">{names.get(given.seat)}</span>
            <span>
              {given.code !== null && <span className="feed-code">{given.code}: </span>}
              {answerWords(given.answer)}
              {given.window_id !== null && (
                <span className="quiet-text"> {windows.get(given.window_id) ?? ''}</span>
              )}
              {given.outside && <span className="quiet-text"> · {t('panel.answer.outside')}</span>}
            </span>
            <time className="quiet-text" dateTime={new Date(given.at).toISOString()}>
              {formatMoment(new Date(given.at).toISOString()).split(', ').at(-1)}
            </time>
          </li>
        ))}
      </ol>
    </Panel>
  );
}
