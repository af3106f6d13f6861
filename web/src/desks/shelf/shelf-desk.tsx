import type { AnyDocument } from '@pourline/core';
import { archiveDocument, useCampaign, useDocuments, useDraft } from '../../replica/index.ts';
import { go, hrefOf } from '../../shell/route.ts';
import { Button, Icon, IconButton } from '../../ui/index.ts';
import { t } from '../../words/index.ts';
import { addToShelf, copyOnShelf } from './new-documents.ts';
import { PanelFor, SHELF_KINDS, type ShelfKind } from './panel-for.tsx';
import './shelf.css';

const isShelfKind = (value: string | undefined): value is ShelfKind =>
  SHELF_KINDS.some((kind) => kind === value);

/** Everything a brew is made with: a list by kind, and the editor of the one chosen. */
export default function ShelfDesk({ rest }: { rest: readonly string[] }) {
  const kind = isShelfKind(rest[0]) ? rest[0] : 'coffee';
  return (
    <div className="shelf">
      <h1 className="visually-hidden">{t('shelf.title')}</h1>
      <nav className="shelf-kinds" aria-label={t('shelf.title')}>
        {SHELF_KINDS.map((entry) => (
          <a
            key={entry}
            className="shelf-kind"
            href={hrefOf('shelf', entry)}
            aria-current={entry === kind ? 'true' : undefined}
          >
            {t(`shelf.${entry}`)}
          </a>
        ))}
      </nav>
      {kind === 'campaign' ? <OwnCampaign /> : <Entries key={kind} kind={kind} chosen={rest[1]} />}
    </div>
  );
}

function OwnCampaign() {
  const { campaignId } = useCampaign();
  if (campaignId === null) return null;
  return (
    <div className="shelf-only">
      <Editor kind="campaign" id={campaignId} />
    </div>
  );
}

interface EntriesProps {
  kind: Exclude<ShelfKind, 'campaign'>;
  chosen: string | undefined;
}

function Entries({ kind, chosen }: EntriesProps) {
  const documents: readonly AnyDocument[] = useDocuments(kind);
  const { campaignId } = useCampaign();
  const open = documents.find((document) => document.id === chosen);
  const add = async (): Promise<void> => {
    if (campaignId === null) return;
    const made = await addToShelf(kind, campaignId);
    if (made.ok) go('shelf', kind, made.value.id);
  };
  return (
    <div className={open ? 'shelf-pair shelf-pair-open' : 'shelf-pair'}>
      <div className="shelf-list">
        {documents.length === 0 && <p className="quiet-text">{t('shelf.none')}</p>}
        <ul>
          {documents.map((document) => (
            <li key={document.id}>
              <a
                className="shelf-link"
                href={hrefOf('shelf', kind, document.id)}
                aria-current={document.id === open?.id ? 'true' : undefined}
              >
                {document.name}
              </a>
            </li>
          ))}
        </ul>
        <Button icon="add" onPress={() => void add()}>
          {t(`shelf.add.${kind}`)}
        </Button>
      </div>
      <div className="shelf-open">
        {open ? (
          <Editor key={open.id} kind={kind} id={open.id} />
        ) : (
          <p className="shelf-choose quiet-text">{t('shelf.choose')}</p>
        )}
      </div>
    </div>
  );
}

function Editor({ kind, id }: { kind: ShelfKind; id: string }) {
  const draft = useDraft(kind, id);
  if (!draft) return <p className="quiet-text">{t('shelf.gone')}</p>;
  const document = draft.document as AnyDocument;
  const copy = async (): Promise<void> => {
    const made = await copyOnShelf(document);
    if (made) go('shelf', kind, made.id);
  };
  const archive = async (): Promise<void> => {
    await archiveDocument(id);
    go('shelf', kind);
  };
  return (
    <article className="shelf-editor">
      <header className="shelf-editor-head">
        {kind !== 'campaign' && (
          <a
            className="shelf-back button button-quiet"
            href={hrefOf('shelf', kind)}
            aria-label={t('shelf.back')}
          >
            <Icon name="left" />
            {t(`shelf.${kind}`)}
          </a>
        )}
        <h2>{document.name}</h2>
        <div className="shelf-tools">
          <IconButton icon="undo" label={t('common.undo')} onPress={draft.undo} isDisabled={!draft.canUndo} />
          <IconButton icon="redo" label={t('common.redo')} onPress={draft.redo} isDisabled={!draft.canRedo} />
          {kind !== 'campaign' && (
            <>
              <IconButton icon="copy" label={t('common.duplicate')} onPress={() => void copy()} />
              <IconButton icon="archive" label={t('common.archive')} onPress={() => void archive()} />
            </>
          )}
        </div>
      </header>
      <PanelFor kind={kind} id={id} />
    </article>
  );
}
