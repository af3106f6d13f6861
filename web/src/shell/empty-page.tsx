import { useSync } from '../replica/index.ts';
import { Button } from '../ui/index.ts';
import { t } from '../words/index.ts';
import type { Window } from './windows.tsx';

/** What stands where the desks would be while there is no campaign. */
export function EmptyPage({ onOpen }: { onOpen: (window: Window) => void }) {
  const sync = useSync();
  if (sync.state === 'starting') return <p className="desk-wait">{t('shell.opening')}</p>;
  return (
    <div className="page">
      <h1>{t('empty.title')}</h1>
      <p>{t('empty.text')}</p>
      <div className="buttons">
        <Button look="primary" icon="add" onPress={() => onOpen('new-campaign')}>
          {t('menu.new_campaign')}
        </Button>
        <Button icon="import" onPress={() => onOpen('import')}>
          {t('menu.import')}
        </Button>
        <Button look="quiet" icon="archive" onPress={() => onOpen('archived')}>
          {t('menu.archived')}
        </Button>
      </div>
    </div>
  );
}
