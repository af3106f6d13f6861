import { lazy, Suspense, useEffect, useRef } from 'react';
import { hrefOf } from '../../shell/route.ts';
import { t } from '../../words/index.ts';
import { SizesPage } from './sizes/sizes-page.tsx';
import './style/grind.css';

/** Pages of the desk, in the order of the work. */
const PAGES = ['sizes', 'mix', 'grinder', 'guide'] as const;
type Page = (typeof PAGES)[number];

const isPage = (value: string | undefined): value is Page => PAGES.some((page) => page === value);

const MixPage = lazy(async () => ({ default: (await import('./mix/mix-page.tsx')).MixPage }));
const GrinderPage = lazy(async () => ({ default: (await import('./grinder/grinder-page.tsx')).GrinderPage }));
const GuidePage = lazy(async () => ({ default: (await import('./guide/guide-page.tsx')).GuidePage }));

interface GrindDeskProps {
  campaignId: string;
  rest: readonly string[];
}

/** The desk of grinds: what is really in the cup of grounds? */
export default function GrindDesk({ campaignId, rest }: GrindDeskProps) {
  const page = isPage(rest[0]) ? rest[0] : 'sizes';
  const pages = useRef<HTMLElement>(null);
  // On a phone the row of pages scrolls; the one that is open stays in view.
  useEffect(() => {
    const open = page && pages.current?.querySelector('[aria-current]');
    open?.scrollIntoView({ block: 'nearest', inline: 'center' });
  }, [page]);
  return (
    <div className="grind">
      <h1 className="visually-hidden">{t('grind.title')}</h1>
      <nav className="grind-pages" aria-label={t('grind.title')} ref={pages}>
        {PAGES.map((entry) => (
          <a
            key={entry}
            className="grind-page"
            href={hrefOf('grind', entry)}
            aria-current={entry === page ? 'page' : undefined}
          >
            {t(`grind.page.${entry}`)}
          </a>
        ))}
      </nav>
      <Suspense fallback={<p className="quiet-text">{t('common.loading')}</p>}>
        {page === 'sizes' && <SizesPage campaignId={campaignId} chosen={rest[1]} />}
        {page === 'mix' && <MixPage campaignId={campaignId} chosen={rest[1]} />}
        {page === 'grinder' && <GrinderPage chosen={rest[1]} />}
        {page === 'guide' && <GuidePage />}
      </Suspense>
    </div>
  );
}
