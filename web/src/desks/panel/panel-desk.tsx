import { lazy, Suspense, useEffect, useRef } from 'react';
import { hrefOf } from '../../shell/route.ts';
import { t } from '../../words/index.ts';
import './style/panel.css';
import './style/chart.css';

/** Pages of the desk, in the order of the work. */
const PAGES = ['power', 'tables'] as const;
type Page = (typeof PAGES)[number];

const isPage = (value: string | undefined): value is Page => PAGES.some((page) => page === value);

const PowerPage = lazy(async () => ({ default: (await import('./power/power-page.tsx')).PowerPage }));
const TablesPage = lazy(async () => ({ default: (await import('./tables/tables-page.tsx')).TablesPage }));

interface PanelDeskProps {
  campaignId: string;
  rest: readonly string[];
}

/** The desk of the panel: is it different, is it better, what do we taste, and will the judges find it? */
export default function PanelDesk({ rest }: PanelDeskProps) {
  const page = isPage(rest[0]) ? rest[0] : 'power';
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
        {page === 'power' && <PowerPage />}
        {page === 'tables' && <TablesPage chosen={rest[1]} />}
      </Suspense>
    </div>
  );
}
