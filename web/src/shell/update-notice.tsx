import { registerSW } from 'virtual:pwa-register';
import { useEffect, useState } from 'react';
import { Button, Notice } from '../ui/index.ts';
import { t } from '../words/index.ts';

/**
 * Registers the service worker that opens the app without a network, and offers a newer version when there is one.
 * Never reloads by itself: nobody wants a new version in the middle of a brew.
 */
export function UpdateNotice() {
  const [update, setUpdate] = useState<(() => void) | null>(null);
  useEffect(() => {
    const load = registerSW({
      onNeedRefresh: () => setUpdate(() => () => void load(true)),
    });
  }, []);
  if (!update) return null;
  return (
    <Notice
      actions={
        <>
          <Button look="primary" onPress={update}>
            {t('update.load')}
          </Button>
          <Button look="quiet" onPress={() => setUpdate(null)}>
            {t('update.later')}
          </Button>
        </>
      }
    >
      {t('update.ready')}
    </Notice>
  );
}
