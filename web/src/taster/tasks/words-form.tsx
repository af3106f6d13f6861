import type { TastingAnswer } from '@pourline/core';
import { useState } from 'react';
import { Big } from '../parts.tsx';
import { say } from '../words.ts';
import type { FormProps } from './task-form.tsx';

interface Given {
  words: string[];
  statements: Record<string, string>;
}

const same = (word: string): string => word.trim().toLowerCase();

/** Words from the tree, wide or narrow, found by walking or by typing, and a few statements. */
export function WordsForm({ task, form, onChange }: FormProps<'descriptors'>) {
  const given = (form as Given | undefined) ?? { words: [], statements: {} };
  const [at, setAt] = useState<string | null>(null);
  const [typed, type] = useState('');
  const full = given.words.length >= task.most;
  const give = (next: Given): void => onChange(next, answerOf(next, task.statements));
  const has = (word: string): boolean => given.words.some((w) => same(w) === same(word));
  const toggle = (word: string): void => {
    if (has(word)) give({ ...given, words: given.words.filter((w) => same(w) !== same(word)) });
    else if (!full) give({ ...given, words: [...given.words, word.trim()] });
  };
  const under = (parent: string | null) =>
    task.words.filter((w) =>
      w.parent === null ? parent === null : parent !== null && same(w.parent) === same(parent),
    );
  const search = same(typed);
  const found = search === '' ? [] : task.words.filter((w) => same(w.word).includes(search)).slice(0, 12);
  const own =
    task.own_words && search !== '' && !task.words.some((w) => same(w.word) === search)
      ? typed.trim().slice(0, 60)
      : null;
  return (
    <fieldset className="task">
      <legend>{say('task.descriptors')}</legend>
      <p className="quiet">{say('task.descriptors_most', { most: task.most })}</p>
      <div className="chosen" aria-live="polite">
        <span className="quiet">{say('task.chosen')}: </span>
        {given.words.length === 0 && <span className="quiet">{say('task.none_chosen')}</span>}
        {given.words.map((word) => (
          <button
            key={same(word)}
            type="button"
            className="chip-chosen"
            aria-label={say('task.remove', { word })}
            onClick={() => toggle(word)}
          >
            {word} ×
          </button>
        ))}
      </div>
      <input
        className="line-input"
        type="search"
        aria-label={say('task.search')}
        placeholder={say('task.search')}
        value={typed}
        autoComplete="off"
        maxLength={60}
        onChange={(event) => type(event.target.value)}
      />
      {search === '' ? (
        <Branch
          at={at}
          words={under(at)}
          narrower={(word) => under(word).length > 0}
          has={has}
          full={full}
          onWord={toggle}
          onGo={setAt}
          wider={at === null ? null : (task.words.find((w) => same(w.word) === same(at))?.parent ?? null)}
        />
      ) : (
        <div className="chips">
          {found.map(({ word }) => (
            <Big key={word} pressed={has(word)} disabled={full && !has(word)} onPress={() => toggle(word)}>
              {word}
            </Big>
          ))}
          {own !== null && (
            <Big disabled={full || has(own)} onPress={() => toggle(own)}>
              {say('task.own', { word: own })}
            </Big>
          )}
        </div>
      )}
      {task.statements.map(({ id, name, options }) => (
        <fieldset key={id} className="line">
          <legend>{name}</legend>
          <div className="chips">
            {options.map((option) => (
              <Big
                key={option}
                pressed={given.statements[id] === option}
                onPress={() => give({ ...given, statements: { ...given.statements, [id]: option } })}
              >
                {option}
              </Big>
            ))}
          </div>
        </fieldset>
      ))}
    </fieldset>
  );
}

/** Whole once there is a word or every statement is given; a cup in which nothing was found needs the statements. */
function answerOf({ words, statements }: Given, asked: readonly { id: string }[]): TastingAnswer | null {
  const given = asked.flatMap(({ id }) =>
    statements[id] === undefined ? [] : [{ id, option: statements[id] }],
  );
  if (given.length < asked.length || (words.length === 0 && asked.length === 0)) return null;
  return { test: 'descriptors', words, statements: given };
}

interface BranchProps {
  at: string | null;
  wider: string | null;
  words: readonly { word: string }[];
  narrower: (word: string) => boolean;
  has: (word: string) => boolean;
  full: boolean;
  onWord: (word: string) => void;
  onGo: (word: string | null) => void;
}

/** One place of the tree: the word itself, and the words under it. */
function Branch({ at, wider, words, narrower, has, full, onWord, onGo }: BranchProps) {
  return (
    <>
      {at !== null && (
        <div className="branch">
          <Big look="quiet" onPress={() => onGo(wider)}>
            ‹ {wider ?? say('task.up')}
          </Big>
          <Big pressed={has(at)} disabled={full && !has(at)} onPress={() => onWord(at)}>
            {say('task.wider', { word: at })}
          </Big>
        </div>
      )}
      <div className="chips">
        {words.map(({ word }) =>
          narrower(word) ? (
            <Big key={word} onPress={() => onGo(word)}>
              {word} ›
            </Big>
          ) : (
            <Big key={word} pressed={has(word)} disabled={full && !has(word)} onPress={() => onWord(word)}>
              {word}
            </Big>
          ),
        )}
      </div>
    </>
  );
}
