import { useState } from 'react';
import { useSync } from '../replica/index.ts';
import { Button, Notice } from '../ui/index.ts';
import { t } from '../words/index.ts';

const KEY = 'pourline.local-notice';

/** Says once, plainly, that this browser is the only place that holds the work. The header keeps saying it in short. */
export function LocalNotice({ onExport }: { onExport: () => void }) {
  const sync = useSync();
  const [read, setRead] = useState(() => localStorage.getItem(KEY) !== null);
  if (sync.state !== 'local' || read) return null;
  const dismiss = (): void => {
    localStorage.setItem(KEY, 'read');
    setRead(true);
  };
  return (
    <Notice
      actions={
        <>
          <Button onPress={onExport}>{t('sync.export_now')}</Button>
          <Button look="quiet" onPress={dismiss}>
            {t('sync.dismiss')}
          </Button>
        </>
      }
    >
      {t('sync.local_explained')}
    </Notice>
  );
}
