import { ionsOf, type Mix, type Problem } from '@pourline/core';
import { useWaters } from '../../../engine/use-waters.ts';
import { newLocalId, useDocuments, useDraft } from '../../../replica/index.ts';
import { Button, DraftForm, Notice } from '../../../ui/index.ts';
import { problemSentence, remarkSentence, t } from '../../../words/index.ts';
import { layoutIons, sharedScale } from '../parts/ion-layout.ts';
import { newWanted } from '../parts/new-order.ts';
import { remarksElsewhere } from '../parts/remark-places.ts';
import { useKept } from '../parts/use-kept.ts';
import { useGathered } from '../parts/use-order-choice.ts';
import { BrewPanel } from './brew-panel.tsx';
import { InstrumentsPanel } from './instruments-panel.tsx';
import { MistakesPanel } from './mistakes-panel.tsx';
import { OrderBar } from './order-bar.tsx';
import { SourcePanel } from './source-panel.tsx';
import { WantedPanel } from './wanted-panel.tsx';

/** Most waters an order may hold; the schema's own limit. */
const MOST_WATERS = 8;

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
  const waters = useDocuments('water');
  const salts = useDocuments('salt');
  const concentrates = useDocuments('concentrate');
  const { order, problems } = useGathered(draft?.document ?? null);
  const made = useWaters(order);
  const [kept, keep] = useKept('water-plan', { planId: null as string | null });
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
            <SourcePanel draft={draft} waters={waters} salts={salts} concentrates={concentrates} />
            <InstrumentsPanel draft={draft} />
          </div>
          <div className="order-column">
            {solved && (
              <BrewPanel
                draft={draft}
                solved={solved}
                stale={stale}
                waters={waters}
                campaignId={campaignId}
                planId={kept.planId}
                onPlan={(planId) => keep({ planId })}
              />
            )}
            <MistakesPanel mistakes={made.output?.mistakes ?? []} />
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
