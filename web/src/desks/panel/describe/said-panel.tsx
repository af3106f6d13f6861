import { type Description, NO_WINDOW, type TastedSource } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { Button, IconButton, OptionAt, SelectInput, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { freeId } from '../session/methods.ts';

interface SaidPanelProps {
  draft: Draft<'description'>;
  /** Windows of what was tasted. */
  windows: readonly string[];
  sources: readonly TastedSource[];
}

/** A window's name as it is shown. */
export const windowWords = (window: string): string =>
  window === NO_WINDOW ? t('panel.describe.any_window') : window;

/** Words and statements as they will be said. */
export function SaidPanel({ draft, windows, sources }: SaidPanelProps) {
  const { document } = draft;
  const put = (part: Partial<Description>): void => draft.change({ ...document, ...part });
  const options = [...new Set([...windows, ...document.said.map((s) => s.window)])];
  const asked = sources
    .flatMap(({ tasting }) =>
      tasting.run.method.test === 'descriptors' ? tasting.run.method.statements : [],
    )
    .filter((s, i, all) => all.findIndex((o) => o.name === s.name) === i);
  const open = asked.filter((s) => !document.statements.some((d) => d.name === s.name));
  return (
    <>
      {document.said.map((said, i) => (
        <div key={said.id} className="said-row">
          <OptionAt
            path={['said', i, 'window']}
            label={t('panel.design.window')}
            hideLabel={i > 0}
            options={options.map((value) => ({ value, label: windowWords(value) }))}
          />
          <TextAt path={['said', i, 'word']} label={t('panel.describe.word')} hideLabel={i > 0} />
          <IconButton
            icon="close"
            label={t('panel.describe.remove_word', { word: said.word })}
            onPress={() => put({ said: document.said.filter((_, k) => k !== i) })}
          />
        </div>
      ))}
      <div className="buttons">
        <Button
          look="quiet"
          icon="add"
          onPress={() =>
            put({
              said: [
                ...document.said,
                {
                  id: freeId('w', document.said),
                  window: options[0] ?? 'Hot',
                  word: t('panel.describe.new_word'),
                },
              ],
            })
          }
        >
          {t('panel.describe.add_word')}
        </Button>
      </div>
      {document.statements.map((statement, i) => (
        <div key={statement.id} className="said-row">
          <SelectInput
            label={statement.name}
            value={statement.said}
            options={(asked.find((s) => s.name === statement.name)?.options ?? [statement.said]).map(
              (value) => ({
                value,
                label: value,
              }),
            )}
            onChange={(value) =>
              put({
                statements: document.statements.map((s, k) => (k === i ? { ...s, said: value } : s)),
              })
            }
          />
          <IconButton
            icon="close"
            label={t('panel.describe.remove_word', { word: statement.name })}
            onPress={() => put({ statements: document.statements.filter((_, k) => k !== i) })}
          />
        </div>
      ))}
      {open.length > 0 && (
        <div className="buttons">
          {open.map((statement) => (
            <Button
              key={statement.id}
              look="quiet"
              icon="add"
              onPress={() =>
                put({
                  statements: [
                    ...document.statements,
                    {
                      id: freeId('s', document.statements),
                      name: statement.name,
                      said: statement.options[0]!,
                      points: { exact: 2, one_step: 1, further: 0 },
                    },
                  ],
                })
              }
            >
              {t('panel.describe.add_statement', { name: statement.name })}
            </Button>
          ))}
        </div>
      )}
    </>
  );
}
