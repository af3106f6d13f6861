import type { Checked, ReadText, Sizing, SizingData } from '@pourline/core';
import { useState } from 'react';
import { go } from '../../../shell/route.ts';
import { Button, Fields, type Option, SelectInput, TextInput } from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { DropPlace, FileButton } from '../parts/drop-place.tsx';
import { endOptions, ofOptions, weightingOptions } from '../parts/options.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import { theGrindRoom } from '../room/room.ts';
import { useAnswer } from '../room/use-answer.ts';
import { keepSizing, type likeLast } from './new-sizing.ts';
import { TableRows } from './table-view.tsx';
import { type Cells, cellsOf, columnNames, twoColumns } from './text-columns.ts';

interface Pasted {
  text: string;
  name: string;
}

interface TableImportProps {
  campaignId: string;
  like: ReturnType<typeof likeLast>;
}

type Taken = Partial<Pick<Extract<SizingData, { by: 'table' }>, 'of' | 'sizes' | 'weighting'>>;

const read = ({ text, name }: Pasted): Promise<Checked<ReadText>> => theGrindRoom().remote.read(text, name);

/** A table pasted, dropped or opened: what is read of it, with the choice to read it otherwise, before it is kept. */
export function TableImport({ campaignId, like }: TableImportProps) {
  const [pasted, paste] = useKept<Pasted>('grind-pasted', { text: '', name: '' });
  const [columns, setColumns] = useState<{ size: number; value: number } | null>(null);
  const [taken, take] = useState<Taken>({});
  const cells = cellsOf(pasted.text);
  const asked = columns && cells ? twoColumns(cells, columns.size, columns.value) : pasted.text;
  const blank = pasted.text.trim() === '';
  const { output, failure } = useAnswer(read, blank ? null : { text: asked, name: pasted.name });
  const put = (text: string, name: string): void => {
    setColumns(null);
    take({});
    paste({ text, name });
  };
  const open = (file: File): void => {
    void file.text().then((text) => put(text, file.name));
  };
  return (
    <div className="grind-stack">
      <p className="quiet-text">{t('grind.import.text')}</p>
      <DropPlace onFile={open} onText={(text) => put(text, '')}>
        <TextInput
          label={t('grind.import.paste')}
          long
          value={pasted.text}
          placeholder={t('grind.import.example')}
          onChange={(text) => put(text, pasted.name)}
        />
        <FileButton label={t('grind.import.file')} accept=".csv,.tsv,.txt,text/*" onFile={open} />
      </DropPlace>
      {!blank && failure && <p className="plain-problem">{failure}</p>}
      {!blank && output && !output.ok && (
        <ul className="grind-problems" role="alert">
          {output.problems.slice(0, 8).map((problem) => (
            <li key={problem.sentence} className="plain-problem">
              {problemSentence(problem)}
            </li>
          ))}
        </ul>
      )}
      {!blank && cells && <ColumnChoice cells={cells} chosen={columns} onChoose={setColumns} />}
      {!blank && output?.ok && (
        <Preview
          read={output.value}
          pasted={pasted}
          taken={taken}
          take={take}
          keep={async (name, data) => {
            const kept = await keepSizing(name, data, like, campaignId);
            if (!kept.ok) return kept.problems.map(problemSentence).join(' ');
            put('', '');
            go('grind', 'sizes', kept.value.id);
            return null;
          }}
        />
      )}
    </div>
  );
}

interface ColumnChoiceProps {
  cells: Cells;
  chosen: { size: number; value: number } | null;
  onChoose: (columns: { size: number; value: number } | null) => void;
}

const BY_ITSELF = 'auto';

/** Which column holds sizes and which shares, when it was guessed wrong. */
function ColumnChoice({ cells, chosen, onChoose }: ColumnChoiceProps) {
  const names = columnNames(cells, (number) => t('grind.import.column', { number }));
  if (names.length < 3) return null;
  const options = names.map((label, k) => ({ value: String(k), label }));
  const choose = (which: 'size' | 'value') => (key: string) =>
    onChoose(key === BY_ITSELF ? null : { size: 0, value: 1, ...chosen, [which]: Number(key) });
  return (
    <Fields>
      {(['size', 'value'] as const).map((which) => (
        <SelectInput
          key={which}
          label={t(`grind.import.${which}_column`)}
          value={chosen ? String(chosen[which]) : BY_ITSELF}
          options={[{ value: BY_ITSELF, label: t('grind.import.by_itself') }, ...options]}
          onChange={choose(which)}
        />
      ))}
    </Fields>
  );
}

interface PreviewProps {
  read: ReadText;
  pasted: Pasted;
  taken: Taken;
  take: (taken: Taken) => void;
  /** Gives a sentence when it could not be kept. */
  keep: (name: string, data: Sizing['data']) => Promise<string | null>;
}

function Preview({ read, pasted, taken, take, keep }: PreviewProps) {
  const [name, setName] = useState<string | null>(null);
  const [refused, setRefused] = useState<string | null>(null);
  const data: SizingData =
    read.data.by === 'table'
      ? {
          ...read.data,
          ...taken,
          file: { name: pasted.name, text: pasted.text.slice(0, 200_000), attachment: null },
        }
      : read.data;
  const shown = name ?? (pasted.name.replace(/\.\w+$/, '') || t('grind.import.new_name'));
  const choice = (field: keyof Taken, options: Option[]) => (
    <SelectInput
      label={t(`grind.import.${field}`)}
      value={data.by === 'table' ? data[field] : null}
      options={options}
      onChange={(value) => take({ ...taken, [field]: value })}
    />
  );
  return (
    <div className="grind-stack">
      <RemarkList remarks={read.notes} />
      {data.by === 'table' ? (
        <>
          <Fields>
            {choice('of', ofOptions())}
            {data.of === 'class' && choice('sizes', endOptions())}
            {choice('weighting', weightingOptions())}
          </Fields>
          <TableRows rows={data.rows} />
        </>
      ) : (
        <p>{t('grind.import.stack_found')}</p>
      )}
      <div className="grind-keep">
        <TextInput label={t('field.name')} value={shown} onChange={setName} />
        <Button look="primary" onPress={() => void keep(shown, data).then(setRefused)}>
          {t('grind.import.keep')}
        </Button>
      </div>
      {refused && <p className="plain-problem">{refused}</p>}
    </div>
  );
}
