import type { Tasted, Trial } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { NumberInput, Panel, problemAt, TextInput } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { useTypedWords } from './use-typed-words.ts';

const MOMENTS = ['hot', 'warm', 'cold'] as const;

/** How the cup was, hot, warm and cold; what a person likes is learned from here. */
export function TastedPanel({ draft }: { draft: Draft<'trial'> }) {
  return (
    <Panel title={t('trials.tasted.title')} fold="open">
      <p className="quiet-text">{t('trials.tasted.hint')}</p>
      {MOMENTS.map((when) => (
        <TastedRow key={when} draft={draft} when={when} />
      ))}
    </Panel>
  );
}

function TastedRow({ draft, when }: { draft: Draft<'trial'>; when: Tasted['when'] }) {
  const list = draft.body.tasted;
  const index = list.findIndex((one) => one.when === when);
  const now = index < 0 ? null : list[index]!;
  const change = (part: Partial<Record<keyof Tasted, unknown>>): void => {
    const blank: Tasted = { when, temperature_C: null, liking: null, words: [], by: '', blind: false };
    const next = { ...(now ?? blank), ...part } as Tasted;
    const empty = next.liking === null && next.words.length === 0 && next.temperature_C === null;
    const rest = list.filter((_, i) => i !== index);
    draft.change({ ...draft.body, tasted: empty ? rest : insert(list, index, next) } as Trial);
  };
  const [words, setWords] = useTypedWords(now?.words ?? [], (next) => change({ words: next }));
  return (
    <div className="tasted-row">
      <NumberInput
        label={t(`trials.tasted.liking.${when}`)}
        value={now?.liking ?? null}
        unit="/ 10"
        problem={problemAt(draft.problems, ['tasted', index, 'liking'])}
        onChange={(value) => change({ liking: value })}
      />
      <TextInput
        label={t('trials.tasted.words')}
        value={words}
        placeholder={t('trials.tasted.words_hint')}
        problem={problemAt(draft.problems, ['tasted', index, 'words'])}
        onChange={setWords}
      />
    </div>
  );
}

const insert = (list: readonly Tasted[], index: number, next: Tasted): Tasted[] =>
  index < 0 ? [...list, next] : list.map((one, i) => (i === index ? next : one));
