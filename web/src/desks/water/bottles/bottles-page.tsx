import type { DesignedConcentrate, Mix } from '@pourline/core';
import { useMemo, useState } from 'react';
import { type BottleQuestion, useBottles } from '../../../engine/use-waters.ts';
import { createDocument, useDraft } from '../../../replica/index.ts';
import { hrefOf } from '../../../shell/route.ts';
import { Button, DraftForm, Fields, Notice, NumberAt, NumberInput, Panel } from '../../../ui/index.ts';
import { formatNumber, problemSentence, t } from '../../../words/index.ts';
import { Outcome } from '../order/outcome.tsx';
import { Recipe } from '../order/recipe.tsx';
import { HardnessUnitChoice } from '../parts/hardness-unit.tsx';
import { OrderSelect } from '../parts/order-choice.tsx';
import { SteadySelect } from '../parts/steady-select.tsx';
import { useKept } from '../parts/use-kept.ts';
import { useGathered } from '../parts/use-order-choice.ts';
import { Bottle } from './bottle.tsx';
import { verdictsOf } from './bottle-verdicts.ts';
import { VerdictTable } from './verdict-table.tsx';

const GIVEN_BY = ['balance', 'syringe', 'drops'] as const;
type GivenBy = (typeof GIVEN_BY)[number];
const isGivenBy = (value: unknown): value is GivenBy => GIVEN_BY.some((way) => way === value);
/** Most times a bottle may be asked to last. */
const MOST_BATCHES = 200;

interface BottlesPageProps {
  orderId: string;
  orders: readonly Mix[];
  campaignId: string;
  choose: (id: string) => void;
}

/** Concentrates for an order: which bottles to make, how, what each water takes of them, and whether it is worth it. */
export function BottlesPage({ orderId, orders, campaignId, choose }: BottlesPageProps) {
  const draft = useDraft('mix', orderId);
  const [kept, keep] = useKept('bottles', { given_by: 'syringe', batches: 6 as unknown });
  const [said, setSaid] = useState<string>();
  const given_by: GivenBy = isGivenBy(kept.given_by) ? kept.given_by : 'syringe';
  const { batches } = kept;
  const good = typeof batches === 'number' && batches >= 1 && batches <= MOST_BATCHES;
  const { order } = useGathered(draft?.document ?? null);
  const container_mL = draft?.document.container_mL ?? null;
  const question = useMemo<BottleQuestion | null>(
    () =>
      order && order.jars.length > 0 && good
        ? { order, design: { given_by, batches: Number(batches), container_mL } }
        : null,
    [order, given_by, batches, good, container_mL],
  );
  const { output, input, stale, failure } = useBottles(question);
  if (!draft) return null;
  const drops = given_by === 'drops' && draft.document.instruments.drop === null;
  const forms = new Map(input?.order.jars.map(({ id, form }) => [id, form]) ?? []);
  const put = async (bottles: readonly DesignedConcentrate[]): Promise<void> => {
    const ids: string[] = [];
    for (const { recipe, concentrate } of bottles) {
      const made = await createDocument(
        'concentrate',
        {
          name: capital(recipe.name),
          parts: recipe.parts.map(({ form, grams }) => ({ ...form, salt_g: grams })),
          water_g: recipe.water_g,
          given_by: concentrate.given_by,
        },
        campaignId,
      );
      if (!made.ok) return setSaid(made.problems.map(problemSentence).join(' '));
      ids.push(made.value.id);
    }
    const { body } = draft;
    const gone = new Set(
      [...forms].flatMap(([id, form]) =>
        bottles.some(({ recipe }) =>
          recipe.parts.some((part) => part.form.salt === form.salt && part.form.hydrate === form.hydrate),
        )
          ? [id]
          : [],
      ),
    );
    draft.change({
      ...body,
      concentrate_ids: [...body.concentrate_ids, ...ids],
      salt_ids: body.salt_ids.filter((id) => !gone.has(id)),
    });
    setSaid(t('water.bottles.put', { count: ids.length, order: draft.document.name }));
  };
  return (
    <DraftForm draft={draft}>
      <div className="order">
        <div className="order-bar">
          <OrderSelect orderId={orderId} orders={orders} choose={choose} />
          <HardnessUnitChoice />
        </div>
        <Panel title={t('water.bottles.how')}>
          <Fields>
            <SteadySelect
              label={t('field.given_by')}
              value={given_by}
              options={GIVEN_BY.map((value) => ({ value, label: t(`water.given_by.${value}`) }))}
              onChange={(value) => keep({ given_by: value })}
            />
            <NumberInput
              label={t('water.bottles.batches')}
              value={batches}
              problem={
                good
                  ? undefined
                  : t('water.bottles.bad_batches', { value: String(batches ?? ''), most: MOST_BATCHES })
              }
              onChange={(next) => keep({ batches: next })}
            />
            <NumberAt
              path={['container_mL']}
              nullable
              step={10}
              placeholder={t('water.instruments.no_limit')}
            />
          </Fields>
          {drops && <Notice>{t('water.bottles.no_drop')}</Notice>}
        </Panel>
        {failure && <Notice tone="alert">{t('water.failed', { detail: failure })}</Notice>}
        {said && (
          <Notice
            actions={
              <a className="source-link" href={hrefOf('water', 'order', orderId)}>
                {t('water.bottles.to_order')}
              </a>
            }
          >
            {said}
          </Notice>
        )}
        {order && order.jars.length === 0 && <Notice>{t('water.bottles.no_salts')}</Notice>}
        {question && !output && <p className="quiet-text water-empty">{t('water.not_made')}</p>}
        {output && question && (
          <div className="bottles-result" data-stale={stale || undefined}>
            <Notice tone="alert">{t('water.bottles.caution')}</Notice>
            <div className="bottles">
              {output.concentrates.map((bottle) => (
                <Bottle key={bottle.concentrate.id} bottle={bottle} waters={input?.order.waters ?? []} />
              ))}
            </div>
            {output.concentrates.length > 0 && (
              <div className="buttons">
                <Button look="primary" onPress={() => void put(output.concentrates)} isDisabled={stale}>
                  {t('water.bottles.put_button')}
                </Button>
              </div>
            )}
            <VerdictTable
              verdicts={verdictsOf(
                output.straight,
                output.concentrates,
                forms,
                draft.document.instruments.balance.step_g,
              )}
            />
            <h2>{t('water.bottles.waters')}</h2>
            <div className="bottles">
              {output.solved.sheets.map((sheet) => (
                <Panel key={sheet.water_id} title={`${sheet.name}, ${formatNumber(sheet.batch_g)} g`}>
                  <Recipe sheet={sheet} />
                  <Outcome figures={sheet.figures} reading={sheet.reading} />
                </Panel>
              ))}
            </div>
          </div>
        )}
      </div>
    </DraftForm>
  );
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
