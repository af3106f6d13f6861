import { STARTING_WORDS, sameWord, type TastingWord } from '@pourline/core';
import { useRef, useState } from 'react';
import { createDocument, type Draft, useDocuments, useDraft } from '../../../replica/index.ts';
import { go } from '../../../shell/route.ts';
import { Button, DraftForm, IconButton, Panel, SelectInput, TextAt } from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';
import { numbered } from '../parts/numbered.ts';
import { addUnder, inTreeOrder, moveUnder, removeWord, renameWord } from './tree-kernels.ts';

/** The panel's own words, in a tree from wide to narrow. */
export function TreePage({ campaignId, chosen }: { campaignId: string; chosen: string | undefined }) {
  const trees = useDocuments('words');
  const tree = trees.find(({ id }) => id === chosen) ?? trees[0];
  const make = async (): Promise<void> => {
    const made = await createDocument(
      'words',
      {
        name: t('panel.tree.new_name', { number: trees.length + 1 }),
        words: STARTING_WORDS.map((w) => ({ ...w })),
      },
      campaignId,
    );
    if (made.ok) go('panel', 'tree', made.value.id);
  };
  return (
    <div className="panel-stack">
      <div className="session-bar">
        {tree ? (
          <SelectInput
            label={t('panel.tree.choice')}
            value={tree.id}
            options={trees.map(({ id, name, words }) => ({
              value: id,
              label: name,
              detail: t('panel.tree.count', { count: words.length }),
            }))}
            onChange={(id) => go('panel', 'tree', id)}
          />
        ) : (
          <p>{t('panel.tree.none')}</p>
        )}
        <div className="buttons">
          <Button icon="add" onPress={() => void make()}>
            {t('panel.tree.new')}
          </Button>
        </div>
      </div>
      {tree && <Tree key={tree.id} id={tree.id} />}
    </div>
  );
}

function Tree({ id }: { id: string }) {
  const draft = useDraft('words', id);
  if (!draft) return null;
  return (
    <DraftForm draft={draft}>
      <Panel title={t('panel.tree.title')}>
        <TextAt path={['name']} />
        <p className="quiet-text">{t('panel.tree.text')}</p>
        {draft.problems.length > 0 && (
          <ul className="panel-problems">
            {numbered(draft.problems.slice(0, 8)).map(({ at, of }) => (
              <li key={at}>{problemSentence(of)}</li>
            ))}
          </ul>
        )}
        <WordRows draft={draft} />
      </Panel>
    </DraftForm>
  );
}

function WordRows({ draft }: { draft: Draft<'words'> }) {
  const ground = useRef<HTMLUListElement>(null);
  // A list of all words in every row would be tens of thousands of options; only the row that is touched has them.
  const [touched, touch] = useState<number | null>(null);
  // What stands on screen may be half typed; the order follows it all the same.
  const words: readonly TastingWord[] = draft.body.words;
  const rows = inTreeOrder(words);
  const put = (next: readonly TastingWord[]): void => draft.change({ ...draft.body, words: [...next] });
  const focus = (at: number): void => {
    requestAnimationFrame(() => ground.current?.querySelector<HTMLElement>(`[data-word="${at}"]`)?.focus());
  };
  return (
    <ul className="tree" ref={ground}>
      {rows.map(({ at, depth, word, parent }) => (
        <li key={at} className={`tree-row tree-depth-${Math.min(depth, 4)}`}>
          <input
            className="typed-cell tree-word"
            data-word={at}
            aria-label={t('panel.tree.word', { word })}
            value={word}
            autoComplete="off"
            maxLength={60}
            onChange={(event) => put(renameWord(words, at, event.target.value))}
            onKeyDown={(event) => {
              if (event.key !== 'Enter') return;
              event.preventDefault();
              put(addUnder(words, parent, t('panel.tree.new_word')));
              focus(words.length);
            }}
          />
          <select
            className="typed-cell tree-parent"
            aria-label={t('panel.tree.parent_of', { word })}
            value={words.find((w) => parent !== null && sameWord(w.word) === sameWord(parent))?.word ?? ''}
            onFocus={() => touch(at)}
            onPointerDown={() => touch(at)}
            onChange={(event) =>
              put(moveUnder(words, at, event.target.value === '' ? null : event.target.value))
            }
          >
            <option value="">{t('panel.tree.top')}</option>
            {(touched === at
              ? words.filter((w) => sameWord(w.word) !== sameWord(word))
              : words.filter((w) => parent !== null && sameWord(w.word) === sameWord(parent))
            ).map((w) => (
              <option key={w.word} value={w.word}>
                {w.word}
              </option>
            ))}
          </select>
          <IconButton
            icon="add"
            label={t('panel.tree.add_under', { word })}
            onPress={() => {
              put(addUnder(words, word, t('panel.tree.new_word')));
              focus(words.length);
            }}
          />
          <IconButton
            icon="close"
            label={t('panel.tree.remove', { word })}
            onPress={() => put(removeWord(words, at))}
          />
        </li>
      ))}
    </ul>
  );
}
