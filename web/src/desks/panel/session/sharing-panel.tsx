import type { Sharing } from '@pourline/core';
import { useCallback, useEffect, useState } from 'react';
import { Button, Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { numbered } from '../parts/numbered.ts';
import { setSharing, sharing, type Told } from './host-wire.ts';

/** Whether phones on this network can reach the taster's page, who else can, and how to stop it. */
export function SharingPanel() {
  const [state, setState] = useState<Sharing | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const take = useCallback((told: Told<Sharing>): void => {
    if (told.is === 'ok') setState(told.value);
    setRefusal(told.is === 'refused' ? told.sentence : told.is === 'away' ? t('panel.run.away') : null);
  }, []);
  useEffect(() => {
    let stale = false;
    void sharing().then((told) => {
      if (!stale) take(told);
    });
    return () => {
      stale = true;
    };
  }, [take]);
  return (
    <Panel title={t('panel.share.title')}>
      {refusal !== null && <p className="plain-problem">{refusal}</p>}
      {state && (
        <>
          <p>
            <strong>{t(state.shared ? 'panel.share.on' : 'panel.share.off')}</strong>
          </p>
          {numbered(state.says).map(({ at, of }) => (
            <p key={at}>{of}</p>
          ))}
          <div className="buttons">
            <Button
              look={state.shared ? 'alert' : 'plain'}
              onPress={() => void setSharing(!state.shared).then(take)}
            >
              {t(state.shared ? 'panel.share.stop' : 'panel.share.start')}
            </Button>
          </div>
        </>
      )}
    </Panel>
  );
}
