import { lazy, Suspense, useEffect, useRef } from 'react';
import { hrefOf } from '../../shell/route.ts';
import { t } from '../../words/index.ts';
import './style/panel.css';
import './style/chart.css';
import './style/session.css';
import './style/words.css';

/** Pages of the desk, in the order of the work. */
const PAGES = ['sessions', 'words', 'power', 'tables', 'tasters', 'tree'] as const;
type Page = (typeof PAGES)[number];

const isPage = (value: string | undefined): value is Page => PAGES.some((page) => page === value);

const SessionsPage = lazy(async () => ({
  default: (await import('./session/sessions-page.tsx')).SessionsPage,
}));
const DescribePage = lazy(async () => ({
  default: (await import('./describe/describe-page.tsx')).DescribePage,
}));
const TastersPage = lazy(async () => ({ default: (await import('./tasters/tasters-page.tsx')).TastersPage }));
const TreePage = lazy(async () => ({ default: (await import('./tree/tree-page.tsx')).TreePage }));
const PowerPage = lazy(async () => ({ default: (await import('./power/power-page.tsx')).PowerPage }));
const TablesPage = lazy(async () => ({ default: (await import('./tables/tables-page.tsx')).TablesPage }));

interface PanelDeskProps {
  campaignId: string;
  rest: readonly string[];
}

/** The desk of the panel: is it different, is it better, what do we taste, and will the judges find it? */
export default function PanelDesk({ campaignId, rest }: PanelDeskProps) {
  const page = isPage(rest[0]) ? rest[0] : 'sessions';
  const pages = useRef<HTMLElement>(null);
  // On a phone the row of pages scrolls; the one that is open stays in view.
  useEffect(() => {
    const open = page && pages.current?.querySelector('[aria-current]');
    open?.scrollIntoView({ block: 'nearest', inline: 'center' });
  }, [page]);
  return (
    <div className="panel-desk">
      <h1 className="visually-hidden">{t('panel.title')}</h1>
      <nav className="panel-pages" aria-label={t('panel.title')} ref={pages}>
        {PAGES.map((entry) => (
          <a
            key={entry}
            className="panel-page"
            href={hrefOf('panel', entry)}
            aria-current={entry === page ? 'page' : undefined}
          >
            {t(`panel.page.${entry}`)}
          </a>
        ))}
      </nav>
      <Suspense fallback={<p className="quiet-text">{t('common.loading')}</p>}>
        {page === 'sessions' && <SessionsPage campaignId={campaignId} chosen={rest[1]} step={rest[2]} />}
        {page === 'words' && <DescribePage campaignId={campaignId} chosen={rest[1]} />}
        {page === 'tasters' && <TastersPage />}
        {page === 'tree' && <TreePage campaignId={campaignId} chosen={rest[1]} />}
        {page === 'power' && <PowerPage />}
        {page === 'tables' && <TablesPage chosen={rest[1]} />}
      </Suspense>
    </div>
  );
}
