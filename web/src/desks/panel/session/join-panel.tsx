import type { HostView } from '@pourline/core';
import { useState } from 'react';
import { Button, Choice, Panel } from '../../../ui/index.ts';
import { formatClock, t } from '../../../words/index.ts';
import { QrPicture } from './qr.tsx';
import { useServerNow } from './use-server-now.ts';
import type { Hosting } from './use-session.ts';

/** The link that a picture holds: the code stands behind the hash, which no server ever sees. */
export const joinLink = (address: string, code: string): string =>
  `${address}#code=${encodeURIComponent(code)}`;

/** How tasters come in: a picture for the camera, an address and a code to type. */
export function JoinPanel({ hosting, view }: { hosting: Hosting; view: HostView }) {
  const now = useServerNow(hosting.offset_ms);
  const { join } = view;
  const [chosen, choose] = useState<string | null>(null);
  if (join === null)
    return (
      <Panel title={t('panel.run.join')}>
        <p>{t('panel.run.join_closed')}</p>
        <div className="buttons">
          <Button onPress={() => void hosting.act({ do: 'new_code' })}>{t('panel.run.new_code')}</Button>
        </div>
      </Panel>
    );
  const address = join.addresses.find((a) => a === chosen) ?? join.addresses[0] ?? `${location.origin}/taste`;
  return (
    <Panel title={t('panel.run.join')}>
      <div className="join">
        <QrPicture address={joinLink(address, join.code)} />
        <div className="join-words">
          <p className="quiet-text">{t('panel.run.join_at')}</p>
          <p className="join-address">{address}</p>
          <p className="quiet-text">{t('panel.run.code')}</p>
          <p className="join-code">{join.code}</p>
          <p className="quiet-text">
            {t('panel.run.until', { clock: formatClock(Math.max(0, join.until - now) / 1_000) })}
          </p>
          {view.refused_joins > 0 && (
            <p className="plain-problem">{t('panel.run.refused', { count: view.refused_joins })}</p>
          )}
        </div>
      </div>
      {join.addresses.length > 1 && (
        <Choice
          label={t('panel.run.address')}
          value={address}
          options={join.addresses.map((value) => ({ value, label: new URL(value).host }))}
          onChange={choose}
        />
      )}
      <div className="buttons">
        <Button look="quiet" onPress={() => void hosting.act({ do: 'new_code' })}>
          {t('panel.run.new_code')}
        </Button>
        <Button look="quiet" onPress={() => void hosting.act({ do: 'stop_joining' })}>
          {t('panel.run.stop_joining')}
        </Button>
      </div>
    </Panel>
  );
}
