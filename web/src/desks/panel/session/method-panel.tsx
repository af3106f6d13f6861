import type { TastingMethod } from '@pourline/core';
import { type Draft, useDocuments } from '../../../replica/index.ts';
import { Choice, Fields, NumberAt, OptionAt, SelectInput, TextAt, TextInput } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { Sheet } from '../parts/sheet.tsx';
import { freeId, methodOf, TESTS } from './methods.ts';

type Of<T extends TastingMethod['test']> = Extract<TastingMethod, { test: T }>;

/** What is asked, and what that kind of question needs to know. */
export function MethodPanel({ draft }: { draft: Draft<'tasting'> }) {
  const { document } = draft;
  const { method, samples } = document;
  const trees = useDocuments('words');
  const options = samples.map(({ id, name }) => ({ value: id, label: name }));
  const put = (next: TastingMethod): void => draft.change({ ...document, method: next });
  return (
    <>
      <SelectInput
        label={t('panel.design.asked')}
        value={method.test}
        options={TESTS.map((test) => ({
          value: test,
          label: t(`panel.test.${test}`),
          detail: t(`panel.test_about.${test}`),
        }))}
        onChange={(value) => {
          const test = TESTS.find((known) => known === value);
          if (test && test !== method.test) put(methodOf(test, samples, trees[0]?.words));
        }}
      />
      {'attribute' in method && <TextAt path={['method', 'attribute']} label={t('panel.design.attribute')} />}
      {method.test === 'three_afc' && (
        <OptionAt path={['method', 'stronger_id']} label={t('panel.design.stronger')} options={options} />
      )}
      {method.test === 'paired' && (
        <SelectInput
          label={t('panel.design.stronger_known')}
          value={method.stronger_id ?? ''}
          options={[{ value: '', label: t('panel.design.open_direction') }, ...options]}
          onChange={(id) => put({ ...method, stronger_id: id === '' ? null : id })}
        />
      )}
      {method.test === 'a_not_a' && (
        <Fields>
          <OptionAt path={['method', 'known_id']} label={t('panel.design.known')} options={options} />
          <NumberAt path={['method', 'each']} label={t('panel.design.each')} />
        </Fields>
      )}
      {(method.test === 'ranking' || method.test === 'preference') && (
        <TiesChoice ties={method.ties} onChange={(ties) => put({ ...method, ties })} />
      )}
      {(method.test === 'intensity' || method.test === 'just_about_right') && (
        <AttributeList method={method} put={put} />
      )}
      {(method.test === 'check_all' || method.test === 'temporal') && <WordList method={method} put={put} />}
      {method.test === 'descriptors' && <TreeChoice method={method} put={put} />}
    </>
  );
}

function TiesChoice({ ties, onChange }: { ties: boolean; onChange: (ties: boolean) => void }) {
  return (
    <Choice
      label={t('panel.design.ties')}
      value={ties ? 'yes' : 'no'}
      options={[
        { value: 'yes', label: t('common.yes') },
        { value: 'no', label: t('common.no') },
      ]}
      onChange={(value) => onChange(value === 'yes')}
    />
  );
}

interface ListProps<T extends TastingMethod['test']> {
  method: Of<T>;
  put: (method: TastingMethod) => void;
}

const TEXT = { is: 'text' } as const;

function AttributeList({ method, put }: ListProps<'intensity' | 'just_about_right'>) {
  return (
    <>
      <fieldset className="line-set">
        <legend>{t('panel.design.attributes')}</legend>
        <Sheet
          label={t('panel.design.attributes')}
          columns={[
            { key: 'name', shape: TEXT, title: t('panel.design.attribute') },
            { key: 'low', shape: TEXT, title: t('panel.design.low_end') },
            { key: 'high', shape: TEXT, title: t('panel.design.high_end') },
          ]}
          rows={method.attributes}
          onChange={(rows) =>
            put({
              ...method,
              attributes: rows.map((row) => ({
                id: typeof row.id === 'string' ? row.id : freeId('a', method.attributes),
                name: String(row.name ?? ''),
                low: String(row.low ?? ''),
                high: String(row.high ?? ''),
              })),
            })
          }
        />
      </fieldset>
      {method.test === 'intensity' && (
        <Fields>
          <NumberAt path={['method', 'scale', 'min']} label={t('panel.design.scale_from')} />
          <NumberAt path={['method', 'scale', 'max']} label={t('panel.design.scale_to')} />
          <NumberAt path={['method', 'scale', 'step']} label={t('panel.design.scale_step')} step={0.5} />
        </Fields>
      )}
    </>
  );
}

function WordList({ method, put }: ListProps<'check_all' | 'temporal'>) {
  return (
    <>
      <TextInput
        label={t('panel.design.words')}
        hint={t('panel.design.words_hint')}
        long
        value={method.words.map(({ word }) => word).join('\n')}
        onChange={(text) => {
          const words = text.split('\n').map((word, i) => ({ id: method.words[i]?.id ?? `w${i + 1}`, word }));
          put({ ...method, words });
        }}
      />
      {method.test === 'temporal' && (
        <>
          <Choice
            label={t('panel.design.mode')}
            value={method.mode}
            options={[
              { value: 'ticks', label: t('panel.design.mode.ticks') },
              { value: 'dominant', label: t('panel.design.mode.dominant') },
            ]}
            onChange={(mode) => put({ ...method, mode })}
          />
          <Fields>
            <NumberAt path={['method', 'lasts_s']} label={t('panel.design.lasts')} step={5} />
          </Fields>
        </>
      )}
    </>
  );
}

function TreeChoice({ method, put }: ListProps<'descriptors'>) {
  const trees = useDocuments('words');
  return (
    <>
      <p>{t('panel.design.tree_of', { count: method.words.length })}</p>
      {trees.length > 0 && (
        <SelectInput
          label={t('panel.design.tree_take')}
          value={null}
          options={trees.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={(id) => {
            const tree = trees.find((one) => one.id === id);
            if (tree) put({ ...method, words: tree.words });
          }}
        />
      )}
      <Fields>
        <NumberAt path={['method', 'most']} label={t('panel.design.most')} />
      </Fields>
      <fieldset className="line-set">
        <legend>{t('panel.design.statements')}</legend>
        <Sheet
          label={t('panel.design.statements')}
          columns={[
            { key: 'name', shape: TEXT, title: t('panel.design.statement') },
            { key: 'options', shape: { is: 'list', numbers: false }, title: t('panel.design.options') },
          ]}
          rows={method.statements}
          onChange={(rows) =>
            put({
              ...method,
              statements: rows.map((row) => ({
                id: typeof row.id === 'string' ? row.id : freeId('s', method.statements),
                name: String(row.name ?? ''),
                options: Array.isArray(row.options) ? row.options.map(String) : [],
              })),
            })
          }
        />
      </fieldset>
    </>
  );
}
