import { useState } from 'react';
import { useClashes } from '../replica/index.ts';
import { Button, Notice } from '../ui/index.ts';
import { t } from '../words/index.ts';
import { ClashWindow, nameOf } from './clash-window.tsx';

/** Tells that two versions wait for a choice, wherever the person is in the app. */
export function ClashNotices() {
  const clashes = useClashes();
  const [open, setOpen] = useState(false);
  const first = clashes[0];
  if (!first) return null;
  const text =
    first.reason === 'refused' && clashes.length === 1
      ? t('clash.refused_notice', { name: nameOf(first) })
      : t('clash.notice', { count: clashes.length, name: nameOf(first) });
  return (
    <>
      <Notice
        tone="alert"
        actions={
          <Button look="primary" onPress={() => setOpen(true)}>
            {t('clash.choose')}
          </Button>
        }
      >
        {text}
      </Notice>
      {open && <ClashWindow key={first.clash_id} clash={first} onClose={() => setOpen(false)} />}
    </>
  );
}
