import { useEffect, useState } from 'react';
import { type Exported, exportCampaign, useCampaign } from '../replica/index.ts';
import { Button, Dialog } from '../ui/index.ts';
import { t } from '../words/index.ts';

/** Makes the archive and hands it to the browser as a file. */
export function ExportWindow({ open, onClose }: { open: boolean; onClose: () => void }) {
  const { campaignId } = useCampaign();
  const [exported, setExported] = useState<Exported | null>(null);
  useEffect(() => {
    if (!open || campaignId === null) return;
    let stale = false;
    setExported(null);
    void exportCampaign(campaignId).then((made) => {
      if (stale) return;
      handOver(made);
      setExported(made);
    });
    return () => {
      stale = true;
    };
  }, [open, campaignId]);
  return (
    <Dialog
      open={open}
      onClose={onClose}
      title={t('menu.export')}
      actions={
        <Button look="primary" onPress={onClose}>
          {t('common.done')}
        </Button>
      }
    >
      {exported ? (
        <>
          <p role="status">{t('export.done', { count: exported.documents, file: exported.file })}</p>
          {!exported.complete && <p className="quiet-text">{t('export.without_files')}</p>}
        </>
      ) : (
        <p role="status">{t('common.loading')}</p>
      )}
    </Dialog>
  );
}

function handOver({ file, text }: Exported): void {
  const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = file;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
