import { lazy, Suspense, useEffect, useRef } from 'react';
import { hrefOf } from '../../shell/route.ts';
import { t } from '../../words/index.ts';
import { ListPage } from './list/list-page.tsx';
import './style/trials.css';

/** Pages of the desk, in the order of the work. A trial that is logged has its id in the address. */
const PAGES = ['list', 'log', 'compare', 'learn', 'design', 'instruments'] as const;
type Page = (typeof PAGES)[number];

const isPage = (value: string | undefined): value is Page => PAGES.some((page) => page === value);

const LogPage = lazy(async () => ({ default: (await import('./log/log-page.tsx')).LogPage }));
const ComparePage = lazy(async () => ({ default: (await import('./compare/compare-page.tsx')).ComparePage }));
const LearnPage = lazy(async () => ({ default: (await import('./learn/learn-page.tsx')).LearnPage }));
const DesignPage = lazy(async () => ({ default: (await import('./design/design-page.tsx')).DesignPage }));
const InstrumentsPage = lazy(async () => ({
  default: (await import('./instruments/instruments-page.tsx')).InstrumentsPage,
}));

interface TrialsDeskProps {
  campaignId: string;
  rest: readonly string[];
}

/** The desk of trials: what happened, and what does it teach? */
export default function TrialsDesk({ campaignId, rest }: TrialsDeskProps) {
  const page = isPage(rest[0]) ? rest[0] : 'list';
  const pages = useRef<HTMLElement>(null);
  // On a phone the row of pages scrolls; the one that is open stays in view.
  useEffect(() => {
    const open = page && pages.current?.querySelector('[aria-current]');
    open?.scrollIntoView({ block: 'nearest', inline: 'center' });
  }, [page]);
  return (
    <div className="trials">
      <h1 className="visually-hidden">{t('trials.title')}</h1>
      <nav className="trials-pages" aria-label={t('trials.title')} ref={pages}>
        {PAGES.map((entry) => (
          <a
            key={entry}
            className="trials-page"
            href={hrefOf('trials', entry)}
            aria-current={entry === page ? 'page' : undefined}
          >
            {t(`trials.page.${entry}`)}
          </a>
        ))}
      </nav>
      <Suspense fallback={<p className="quiet-text">{t('common.loading')}</p>}>
        {page === 'list' && <ListPage campaignId={campaignId} />}
        {page === 'log' && <LogPage campaignId={campaignId} chosen={rest[1]} />}
        {page === 'compare' && <ComparePage first={rest[1]} second={rest[2]} />}
        {page === 'learn' && <LearnPage />}
        {page === 'design' && <DesignPage campaignId={campaignId} />}
        {page === 'instruments' && <InstrumentsPage campaignId={campaignId} chosen={rest[1]} />}
      </Suspense>
    </div>
  );
}
