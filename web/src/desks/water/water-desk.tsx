import type { Mix } from '@pourline/core';
import { lazy, Suspense, useEffect, useRef } from 'react';
import { createDocument, useDocuments } from '../../replica/index.ts';
import { go, hrefOf } from '../../shell/route.ts';
import { Button } from '../../ui/index.ts';
import { t } from '../../words/index.ts';
import { BottlesPage } from './bottles/bottles-page.tsx';
import { ComparePage } from './compare/compare-page.tsx';
import { LabelPage } from './label/label-page.tsx';
import { OrderPage } from './order/order-page.tsx';
import { HardnessUnits } from './parts/hardness-unit.tsx';
import { firstOrder } from './parts/new-order.ts';
import { OrderChoice } from './parts/order-choice.tsx';
import { rememberOrder, useOrderChoice } from './parts/use-order-choice.ts';
import { isStockKind } from './shelf/stock-kinds.ts';
import { StockPage } from './shelf/stock-page.tsx';
import './style/index.css';

/** Pages of the desk, in the order of the work; those about an order carry its id in the address. */
const PAGES = ['order', 'bottles', 'table', 'compare', 'shelf', 'label'] as const;
type Page = (typeof PAGES)[number];

const isPage = (value: string | undefined): value is Page => PAGES.some((page) => page === value);
const ofOrder = (page: Page): boolean => page === 'order' || page === 'bottles' || page === 'table';

/** Fetched when it is first needed: paper and check-offs are for another moment than planning. */
const MakingPage = lazy(async () => ({ default: (await import('./making/index.ts')).MakingPage }));

interface WaterDeskProps {
  campaignId: string;
  rest: readonly string[];
}

/** The desk of waters: how do I make this water, here, with this balance? */
export default function WaterDesk({ campaignId, rest }: WaterDeskProps) {
  const page = isPage(rest[0]) ? rest[0] : 'order';
  const { orderId, orders } = useOrderChoice(ofOrder(page) ? rest[1] : undefined);
  const waters = useDocuments('water');
  const salts = useDocuments('salt');
  const concentrates = useDocuments('concentrate');
  const choose = (id: string): void => {
    rememberOrder(id);
    go('water', ofOrder(page) ? page : 'order', id);
  };
  const make = async (): Promise<void> => {
    const name = t('water.order.new_name', { number: orders.length + 1 });
    const body = firstOrder(name, t('water.new_water', { number: 1 }), { waters, salts, concentrates });
    const made = await createDocument('mix', body, campaignId);
    if (made.ok) choose(made.value.id);
  };
  const onNew = (): void => void make();
  const pages = useRef<HTMLElement>(null);
  // On a phone the row of pages scrolls; the one that is open stays in view.
  useEffect(() => {
    const open = page && pages.current?.querySelector('[aria-current]');
    open?.scrollIntoView({ block: 'nearest', inline: 'center' });
  }, [page]);
  return (
    <HardnessUnits>
      <div className="water">
        <h1 className="visually-hidden">{t('water.title')}</h1>
        <nav className="water-pages" aria-label={t('water.title')} ref={pages}>
          {PAGES.map((entry) => (
            <a
              key={entry}
              className="water-page"
              href={
                ofOrder(entry) && orderId !== null ? hrefOf('water', entry, orderId) : hrefOf('water', entry)
              }
              aria-current={entry === page ? 'page' : undefined}
            >
              {t(`water.page.${entry}`)}
            </a>
          ))}
        </nav>
        {ofOrder(page) &&
          (orderId === null ? (
            <NoOrder onNew={onNew} />
          ) : (
            <OrderPages
              key={`${page} ${orderId}`}
              page={page}
              orderId={orderId}
              orders={orders}
              campaignId={campaignId}
              choose={choose}
              onNew={onNew}
            />
          ))}
        {page === 'compare' && <ComparePage orderId={orderId} />}
        {page === 'shelf' && (
          <StockPage
            kind={isStockKind(rest[1]) ? rest[1] : 'salt'}
            chosen={rest[2]}
            campaignId={campaignId}
          />
        )}
        {page === 'label' && <LabelPage campaignId={campaignId} />}
      </div>
    </HardnessUnits>
  );
}

interface OrderPagesProps {
  page: Page;
  orderId: string;
  orders: readonly Mix[];
  campaignId: string;
  choose: (id: string) => void;
  onNew: () => void;
}

/** The pages about one order. */
function OrderPages({ page, onNew, ...of }: OrderPagesProps) {
  if (page === 'order') return <OrderPage {...of} onNew={onNew} />;
  if (page === 'bottles') return <BottlesPage {...of} />;
  return (
    <>
      <OrderChoice orderId={of.orderId} orders={of.orders} choose={of.choose} />
      <Suspense fallback={<p className="quiet-text">{t('common.loading')}</p>}>
        <MakingPage orderId={of.orderId} />
      </Suspense>
    </>
  );
}

/** Shown while a campaign holds no order. */
function NoOrder({ onNew }: { onNew: () => void }) {
  return (
    <div className="page">
      <h2>{t('water.order.none')}</h2>
      <p>{t('water.order.none_text')}</p>
      <Button look="primary" icon="add" onPress={onNew}>
        {t('water.order.new')}
      </Button>
    </div>
  );
}
