import type { AnyDocument } from '@pourline/core';
import { archiveCampaign, archiveDocument, useArchived } from '../replica/index.ts';
import { Button, Dialog } from '../ui/index.ts';
import { t } from '../words/index.ts';

/** What was put out of sight, and the way back. */
export function ArchivedWindow({ open, onClose }: { open: boolean; onClose: () => void }) {
  const { campaigns, documents } = useArchived();
  return (
    <Dialog open={open} onClose={onClose} title={t('archived.title')}>
      {campaigns.length + documents.length === 0 && <p className="quiet-text">{t('archived.none')}</p>}
      <List
        title={t('archived.campaigns')}
        documents={campaigns}
        onRestore={(document) => void archiveCampaign(document.id, false)}
      />
      <List
        title={t('archived.documents')}
        documents={documents}
        onRestore={(document) => void archiveDocument(document.id, false)}
      />
    </Dialog>
  );
}

interface ListProps {
  title: string;
  documents: readonly AnyDocument[];
  onRestore: (document: AnyDocument) => void;
}

function List({ title, documents, onRestore }: ListProps) {
  if (documents.length === 0) return null;
  return (
    <section>
      <h3>{title}</h3>
      <ul className="rows">
        {documents.map((document) => (
          <li key={document.id} className="row">
            <span className="row-main">{document.name}</span>
            <span className="quiet-text">{t(`kind.${document.kind}`)}</span>
            <Button
              onPress={() => onRestore(document)}
              aria-label={`${t('common.restore')}: ${document.name}`}
            >
              {t('common.restore')}
            </Button>
          </li>
        ))}
      </ul>
    </section>
  );
}
