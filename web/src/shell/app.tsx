import { lazy, Suspense, useState } from 'react';
import { useCampaign } from '../replica/index.ts';
import { t, useLocale } from '../words/index.ts';
import { Boundary } from './boundary.tsx';
import { ClashNotices } from './clash-notices.tsx';
import { EmptyPage } from './empty-page.tsx';
import { Header } from './header.tsx';
import { LocalNotice } from './local-notice.tsx';
import { routeOf, useRoute } from './route.ts';
import { UpdateNotice } from './update-notice.tsx';
import { type Window, Windows } from './windows.tsx';

const LOAD = {
  brew: () => import('../desks/brew/brew-desk.tsx'),
  water: () => import('../desks/water/water-desk.tsx'),
  grind: () => import('../desks/grind/grind-desk.tsx'),
  trials: () => import('../desks/trials/trials-desk.tsx'),
  panel: () => import('../desks/panel/panel-desk.tsx'),
  stage: () => import('../desks/stage/stage-desk.tsx'),
  shelf: () => import('../desks/shelf/shelf-desk.tsx'),
} as const;
const BrewDesk = lazy(LOAD.brew);
const WaterDesk = lazy(LOAD.water);
const GrindDesk = lazy(LOAD.grind);
const TrialsDesk = lazy(LOAD.trials);
const PanelDesk = lazy(LOAD.panel);
const StageDesk = lazy(LOAD.stage);
const ShelfDesk = lazy(LOAD.shelf);

/** Fetches the desk in the address while the replica is still opening. */
export function preloadDesk(): void {
  void LOAD[routeOf(location.hash).desk]();
}

/** The frame: header, notices, one desk, and the windows that the menu opens. */
export function App() {
  const locale = useLocale();
  const { campaignId } = useCampaign();
  const { desk, rest } = useRoute();
  const [window, setWindow] = useState<Window | null>(null);
  return (
    <div className="app" key={locale}>
      <button type="button" className="skip" onClick={() => document.getElementById('desk')?.focus()}>
        {t('shell.skip')}
      </button>
      <Header desk={desk} onOpen={setWindow} />
      <div className="notices">
        <UpdateNotice />
        <LocalNotice onExport={() => setWindow('export')} />
        <ClashNotices />
      </div>
      <main id="desk" tabIndex={-1} className="desk">
        {campaignId === null ? (
          <EmptyPage onOpen={setWindow} />
        ) : (
          <Boundary key={`${desk} ${campaignId}`}>
            <Suspense fallback={<p className="desk-wait">{t('common.loading')}</p>}>
              {desk === 'brew' && <BrewDesk campaignId={campaignId} />}
              {desk === 'water' && <WaterDesk campaignId={campaignId} rest={rest} />}
              {desk === 'grind' && <GrindDesk campaignId={campaignId} rest={rest} />}
              {desk === 'trials' && <TrialsDesk campaignId={campaignId} rest={rest} />}
              {desk === 'panel' && <PanelDesk campaignId={campaignId} rest={rest} />}
              {desk === 'stage' && <StageDesk campaignId={campaignId} rest={rest} />}
              {desk === 'shelf' && <ShelfDesk rest={rest} />}
            </Suspense>
          </Boundary>
        )}
      </main>
      <Windows open={window} onClose={() => setWindow(null)} />
    </div>
  );
}
