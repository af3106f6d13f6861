import { useEffect, useRef } from 'react';
import type { SyncState } from '../replica/index.ts';
import { archiveCampaign, useCampaign, useSync } from '../replica/index.ts';
import { Button, IconButton, Menu, type MenuEntry } from '../ui/index.ts';
import { t } from '../words/index.ts';
import { DESKS, type Desk, hrefOf } from './route.ts';
import { THEMES, useThemeChoice } from './theme.ts';
import type { Window } from './windows.tsx';

/** Which campaign, which desk, whether it is saved, and the menu. */
export function Header({ desk, onOpen }: { desk: Desk; onOpen: (window: Window) => void }) {
  const desks = useRef<HTMLElement>(null);
  // On a phone the row of desks scrolls; the one that is open stays in view.
  useEffect(() => {
    const open = desk && desks.current?.querySelector('[aria-current]');
    open?.scrollIntoView({ block: 'nearest', inline: 'center' });
  }, [desk]);
  return (
    <header className="header">
      <Mark />
      <CampaignSwitcher onOpen={onOpen} />
      <nav className="desks" aria-label={t('shell.desks')} ref={desks}>
        {DESKS.map((key) => (
          <a
            key={key}
            href={hrefOf(key)}
            className="desk-link"
            aria-current={key === desk ? 'page' : undefined}
          >
            {t(`shell.desk.${key}`)}
          </a>
        ))}
      </nav>
      <SyncStatus />
      <div className="header-end">
        <ThemeMenu />
        <MainMenu onOpen={onOpen} />
      </div>
    </header>
  );
}

function Mark() {
  return (
    <a className="mark" href={hrefOf('brew')} aria-label={t('shell.app')}>
      <svg viewBox="0 0 28 28" aria-hidden="true" focusable="false">
        <path className="mark-line" d="M2.5 24h23" />
        <path className="mark-pours" d="M3.5 19.5h2.2l2-4.5h3.6l2-4.5h3.6l2-4.5h5.6" />
      </svg>
      <span className="mark-word">{t('shell.app')}</span>
    </a>
  );
}

function CampaignSwitcher({ onOpen }: { onOpen: (window: Window) => void }) {
  const { campaign, campaigns, select } = useCampaign();
  if (!campaign) return <div />;
  const entries: MenuEntry[] = campaigns.map((entry) => ({
    key: entry.id,
    label: entry.name,
    ...(entry.id === campaign.id ? { icon: 'check' as const } : {}),
    ...(entry.demo ? { detail: t('demo.mark') } : {}),
    onChoose: () => select(entry.id),
  }));
  entries.push({
    key: 'new',
    label: t('menu.new_campaign'),
    icon: 'add',
    onChoose: () => onOpen('new-campaign'),
  });
  return (
    <div className="campaign">
      <Menu
        label={t('shell.campaign')}
        entries={entries}
        trigger={
          <Button look="quiet">
            <span className="visually-hidden">{t('shell.campaign')}: </span>
            <span className="campaign-name">{campaign.name}</span>
          </Button>
        }
      />
      {campaign.demo && <DemoMark campaignId={campaign.id} />}
    </div>
  );
}

function DemoMark({ campaignId }: { campaignId: string }) {
  return (
    <span className="demo" title={t('demo.explained')}>
      <span className="demo-word">{t('demo.mark')}</span>
      <IconButton icon="close" label={t('demo.remove')} onPress={() => void archiveCampaign(campaignId)} />
    </span>
  );
}

function SyncStatus() {
  const sync = useSync();
  return (
    <p className={`sync sync-${sync.state}`} role="status">
      <span className="sync-dot" aria-hidden="true" />
      <span className="sync-long">{syncWords(sync)}</span>
      <span className="sync-short" aria-hidden="true">
        {syncWordsShort(sync)}
      </span>
    </p>
  );
}

function syncWords(sync: SyncState): string {
  switch (sync.state) {
    case 'sending':
      return t('sync.sending', { waiting: sync.waiting });
    case 'offline':
      return t('sync.offline', { waiting: sync.waiting });
    default:
      return t(`sync.${sync.state}`);
  }
}

function syncWordsShort(sync: SyncState): string {
  if (sync.state === 'offline') return t('sync.offline_short', { waiting: sync.waiting });
  if (sync.state === 'local') return t('sync.local_short');
  return syncWords(sync);
}

/** On a phone the same choice is in the menu. */
function ThemeMenu() {
  const [theme, setTheme] = useThemeChoice();
  const icon = THEMES.find((entry) => entry.key === theme)?.icon ?? 'system';
  return (
    <div className="theme">
      <Menu
        label={t('theme.title')}
        trigger={<IconButton icon={icon} label={`${t('theme.title')}: ${t(`theme.${theme}`)}`} />}
        entries={THEMES.map((entry) => ({
          key: entry.key,
          icon: entry.icon,
          label: t(`theme.${entry.key}`),
          onChoose: () => setTheme(entry.key),
        }))}
      />
    </div>
  );
}

function MainMenu({ onOpen }: { onOpen: (window: Window) => void }) {
  const { campaign } = useCampaign();
  return (
    <Menu
      label={t('shell.menu')}
      trigger={<IconButton icon="menu" label={t('shell.menu')} />}
      entries={[
        {
          key: 'export',
          label: t('menu.export'),
          icon: 'export',
          disabled: campaign === null,
          onChoose: () => onOpen('export'),
        },
        { key: 'import', label: t('menu.import'), icon: 'import', onChoose: () => onOpen('import') },
        { key: 'new', label: t('menu.new_campaign'), icon: 'add', onChoose: () => onOpen('new-campaign') },
        { key: 'archived', label: t('menu.archived'), icon: 'archive', onChoose: () => onOpen('archived') },
        { key: 'theme', label: t('menu.theme'), icon: 'system', onChoose: () => onOpen('theme') },
        ...(campaign?.demo
          ? [
              {
                key: 'demo',
                label: t('demo.remove'),
                icon: 'close' as const,
                onChoose: () => void archiveCampaign(campaign.id),
              },
            ]
          : []),
        { key: 'person', label: t('menu.person'), icon: 'person', onChoose: () => onOpen('person') },
      ]}
    />
  );
}
