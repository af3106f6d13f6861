import type { AnyDocument, Checked, SaltForm } from '@pourline/core';
import { useState } from 'react';
import { archiveDocument, duplicateDocument, useDocuments, useDraft } from '../../../replica/index.ts';
import { go, hrefOf } from '../../../shell/route.ts';
import { Button, Icon, IconButton } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import '../../shelf/shelf.css';
import { printedForm } from '../parts/formula.ts';
import { ConcentrateEditor } from './concentrate-editor.tsx';
import { FormPicker } from './form-picker.tsx';
import { SaltEditor } from './salt-editor.tsx';
import { addConcentrate, addJar, addWater, STOCK_KINDS, type StockKind } from './stock-kinds.ts';
import { WaterEditor } from './water-editor.tsx';

const EDITORS = { salt: SaltEditor, concentrate: ConcentrateEditor, water: WaterEditor } as const;

interface StockPageProps {
  kind: StockKind;
  chosen: string | undefined;
  campaignId: string;
}

/** Jars, bottles and waters that stand ready: a list by kind, and the editor of the one chosen. */
export function StockPage({ kind, chosen, campaignId }: StockPageProps) {
  const documents: readonly AnyDocument[] = useDocuments(kind);
  const [picking, setPicking] = useState(false);
  const open = documents.find(({ id }) => id === chosen);
  const put = async (made: Promise<Checked<AnyDocument>>): Promise<void> => {
    const result = await made;
    setPicking(false);
    if (result.ok) go('water', 'shelf', kind, result.value.id);
  };
  const choose = (form: SaltForm): void =>
    void put(kind === 'salt' ? addJar(form, campaignId) : addConcentrate(form, campaignId));
  const add = (): void => {
    if (kind === 'water') void put(addWater(campaignId));
    else setPicking(true);
  };
  return (
    <div className="stock">
      <nav className="stock-kinds" aria-label={t('water.page.shelf')}>
        {STOCK_KINDS.map((entry) => (
          <a
            key={entry}
            className="stock-kind"
            href={hrefOf('water', 'shelf', entry)}
            aria-current={entry === kind ? 'true' : undefined}
          >
            {t(`water.stock.${entry}s`)}
          </a>
        ))}
      </nav>
      <div className={open ? 'shelf-pair shelf-pair-open' : 'shelf-pair'}>
        <div className="shelf-list">
          {documents.length === 0 && <p className="quiet-text">{t('shelf.none')}</p>}
          <ul>
            {documents.map((document) => (
              <li key={document.id}>
                <a
                  className="shelf-link stock-link"
                  href={hrefOf('water', 'shelf', kind, document.id)}
                  aria-current={document.id === open?.id ? 'true' : undefined}
                >
                  <span>{document.name}</span>
                  <span className="stock-detail">{detailOf(document)}</span>
                </a>
              </li>
            ))}
          </ul>
          <Button icon="add" onPress={add}>
            {t(`water.stock.add_${kind}`)}
          </Button>
          <FormPicker
            open={picking}
            title={t(`water.stock.add_${kind}`)}
            onClose={() => setPicking(false)}
            onChoose={choose}
          />
        </div>
        <div className="shelf-open">
          {open ? (
            <Editor key={open.id} kind={kind} document={open} />
          ) : (
            <p className="shelf-choose quiet-text">{t('shelf.choose')}</p>
          )}
        </div>
      </div>
    </div>
  );
}

function detailOf(document: AnyDocument): string {
  if (document.kind === 'salt')
    return document.amount_g === null
      ? printedForm(document)
      : `${printedForm(document)} · ${formatNumber(document.amount_g)} g`;
  if (document.kind === 'concentrate')
    return [
      document.parts.map(printedForm).join(' + '),
      document.left_g === null ? '' : `${formatNumber(document.left_g)} g`,
      document.made_on ?? '',
    ]
      .filter(Boolean)
      .join(' · ');
  return '';
}

function Editor({ kind, document }: { kind: StockKind; document: AnyDocument }) {
  const draft = useDraft(kind, document.id);
  const Fields = EDITORS[kind];
  if (!draft) return null;
  const copy = async (): Promise<void> => {
    const made = await duplicateDocument(document.id, t('common.copy_of', { name: document.name }));
    if (made) go('water', 'shelf', kind, made.id);
  };
  const archive = async (): Promise<void> => {
    await archiveDocument(document.id);
    go('water', 'shelf', kind);
  };
  return (
    <article className="shelf-editor">
      <header className="shelf-editor-head">
        <a
          className="shelf-back button button-quiet"
          href={hrefOf('water', 'shelf', kind)}
          aria-label={t('shelf.back')}
        >
          <Icon name="left" />
          {t(`water.stock.${kind}s`)}
        </a>
        <h2>{draft.document.name}</h2>
        <div className="shelf-tools">
          <IconButton icon="undo" label={t('common.undo')} onPress={draft.undo} isDisabled={!draft.canUndo} />
          <IconButton icon="redo" label={t('common.redo')} onPress={draft.redo} isDisabled={!draft.canRedo} />
          <IconButton icon="copy" label={t('common.duplicate')} onPress={() => void copy()} />
          <IconButton icon="archive" label={t('common.archive')} onPress={() => void archive()} />
        </div>
      </header>
      <Fields id={document.id} />
    </article>
  );
}
