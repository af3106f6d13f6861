import { ionsOf, type Mix, type Problem } from '@pourline/core';
import { useWaters } from '../../../engine/use-waters.ts';
import { newLocalId, useDocuments, useDraft } from '../../../replica/index.ts';
import { Button, DraftForm, Notice } from '../../../ui/index.ts';
import { problemSentence, remarkSentence, t } from '../../../words/index.ts';
import { layoutIons, sharedScale } from '../parts/ion-layout.ts';
import { newWanted } from '../parts/new-order.ts';
import { remarksElsewhere } from '../parts/remark-places.ts';
import { useKept } from '../parts/use-kept.ts';
import { useOnShelf } from '../parts/use-on-shelf.ts';
import { useGathered } from '../parts/use-order-choice.ts';
import { useStable, useSteady } from '../parts/use-stable.ts';
import { BrewPanel } from './brew-panel.tsx';
import { InstrumentsPanel } from './instruments-panel.tsx';
import { MistakesPanel } from './mistakes-panel.tsx';
import { OrderBar } from './order-bar.tsx';
import { SourcePanel } from './source-panel.tsx';
import { WantedPanel } from './wanted-panel.tsx';

/** Most waters an order may hold; the schema's own limit. */
const MOST_WATERS = 8;
const NONE: readonly [] = [];

interface OrderPageProps {
  orderId: string;
  orders: readonly Mix[];
  campaignId: string;
  choose: (id: string) => void;
  onNew: () => void;
}

/** An order of waters: what is asked, how it is made from the shelf, what comes of it, and the way into a plan. */
export function OrderPage({ orderId, orders, campaignId, choose, onNew }: OrderPageProps) {
  const draft = useDraft('mix', orderId);
  const waters = useStable(useDocuments('water'));
  const typed = draft?.body;
  const bases = useOnShelf('water', typed?.bases.map(({ water_id }) => water_id) ?? NONE);
  const salts = useOnShelf('salt', typed?.salt_ids ?? NONE);
  const concentrates = useOnShelf('concentrate', typed?.concentrate_ids ?? NONE);
  const { order, problems } = useGathered(draft?.document ?? null);
  const made = useWaters(order);
  const [kept, keep] = useKept('water-plan', { planId: null as string | null });
  const change = useSteady((part: Partial<Mix>) => draft?.change({ ...draft.body, ...part }));
  const instruments = useSteady((next: Mix['instruments']) => change({ instruments: next }));
  const onPlan = useSteady((planId: string) => keep({ planId }));
  const onMasses = useSteady((poured: ReadonlyMap<string, number>) => {
    if (draft)
      change({ waters: draft.body.waters.map((of) => ({ ...of, poured_g: poured.get(of.id) ?? null })) });
  });
  if (!draft) return null;
  const { body } = draft;
  const answers = made.input?.waters.some(({ id }) => body.waters.some((water) => water.id === id));
  const solved = answers ? made.output?.solved : undefined;
  const stale = made.stale || draft.problems.length > 0;
  const sheets = solved?.sheets ?? [];
  const scale =
    sheets.length > 0 ? sharedScale(sheets.map((s) => layoutIons(ionsOf(s.composition)))) : undefined;
  const about = body.waters.map(({ id }) => id);
  const add = (): void => {
    const id = newLocalId('water', body.waters);
    const name = t('water.new_water', { number: body.waters.length + 1 });
    const fresh = newWanted(id, name, body.waters.at(-1)?.batch_g);
    draft.change({ ...body, waters: [...body.waters, fresh] });
  };
  return (
    <DraftForm draft={draft}>
      <div className="order">
        <OrderBar draft={draft} orders={orders} choose={choose} onNew={onNew} />
        <Standing problems={[...draft.problems, ...problems]} failure={made.failure} />
        {remarksElsewhere(solved?.remarks ?? [], about).map((remark) => (
          <Notice key={remark.sentence} tone={remark.level === 'problem' ? 'alert' : 'note'}>
            {remarkSentence(remark)}
          </Notice>
        ))}
        {body.waters.map((water, index) => (
          <WantedPanel
            key={water.id}
            draft={draft}
            index={index}
            water={water}
            sheet={sheets.find(({ water_id }) => water_id === water.id)}
            remarks={solved?.remarks ?? []}
            stale={stale}
            scale={scale}
            waters={waters}
            campaignId={campaignId}
            onRemove={
              body.waters.length > 1
                ? () => draft.change({ ...body, waters: body.waters.filter(({ id }) => id !== water.id) })
                : null
            }
          />
        ))}
        <div className="buttons">
          <Button icon="add" onPress={add} isDisabled={body.waters.length >= MOST_WATERS}>
            {t('water.add_water')}
          </Button>
        </div>
        <div className="order-pair">
          <div className="order-column">
            <SourcePanel
              bases={body.bases}
              salt_ids={body.salt_ids}
              concentrate_ids={body.concentrate_ids}
              onChange={change}
              waters={bases}
              salts={salts}
              concentrates={concentrates}
            />
            <InstrumentsPanel instruments={body.instruments} onChange={instruments} />
          </div>
          <div className="order-column">
            {solved && made.input && (
              <BrewPanel
                order={made.input}
                orderName={draft.document.name}
                solved={solved}
                stale={stale}
                waters={waters}
                campaignId={campaignId}
                planId={kept.planId}
                onPlan={onPlan}
                onMasses={onMasses}
              />
            )}
            <MistakesPanel mistakes={made.output?.mistakes ?? NONE} />
          </div>
        </div>
      </div>
    </DraftForm>
  );
}

/** What keeps the recipe from following the order, in sentences. */
function Standing({ problems, failure }: { problems: readonly Problem[]; failure: string | null }) {
  return (
    <>
      {problems.length > 0 && (
        <Notice tone="alert">
          <p>{t('water.not_followed')}</p>
          <ul className="plain-list">
            {problems.slice(0, 5).map((problem) => (
              <li key={`${problem.path.join('/')} ${problem.code}`}>{problemSentence(problem)}</li>
            ))}
          </ul>
        </Notice>
      )}
      {failure && <Notice tone="alert">{t('water.failed', { detail: failure })}</Notice>}
    </>
  );
}
