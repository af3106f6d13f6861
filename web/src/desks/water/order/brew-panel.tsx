import {
  type Composition,
  ionsOf,
  type Plan,
  type SolvedWaters,
  type Water,
  type WaterFigures,
  type WaterOrder,
  waterFigures,
} from '@pourline/core';
import { memo, useMemo, useState } from 'react';
import { type Draft, useDraft } from '../../../replica/index.ts';
import { hrefOf } from '../../../shell/route.ts';
import { Button, Notice, Panel } from '../../../ui/index.ts';
import { formatClock, formatNumber, problemSentence, t } from '../../../words/index.ts';
import { usePlanChoice } from '../../brew/use-plan-choice.ts';
import { IonChart } from '../parts/ion-chart.tsx';
import {
  brewParts,
  brewWater,
  firstWaters,
  type PourWater,
  pouredOf,
  pourWaterKey,
  readPourWater,
  savedAs,
} from '../parts/pour-waters.ts';
import { SteadySelect } from '../parts/steady-select.tsx';
import { AcidTakenUp } from './acid.tsx';
import { Outcome } from './outcome.tsx';
import { saveWater } from './save-water.ts';

interface BrewPanelProps {
  /** What was asked, as it was worked out, and the name it goes by. */
  order: WaterOrder;
  orderName: string;
  solved: SolvedWaters;
  stale: boolean;
  waters: readonly Water[];
  campaignId: string;
  /** The plan in view; null for the first. */
  planId: string | null;
  onPlan: (id: string) => void;
  /** Takes over how much of each water one brew takes [g]. */
  onMasses: (poured: ReadonlyMap<string, number>) => void;
}

const NO_PLAN = 'none';

/** The water of a whole brew: which water each pour of a plan is made with, what they make together, and the way into the plan. */
export const BrewPanel = memo(function BrewPanel(props: BrewPanelProps) {
  const { plans, planId: usual } = usePlanChoice();
  const { planId, onPlan, solved, orderName } = props;
  const known = planId === NO_PLAN || plans.some((plan) => plan.id === planId);
  const id = known ? planId : usual;
  const plan = useDraft('plan', id);
  return (
    <Panel title={t('water.brew.title')}>
      <SteadySelect
        label={t('kind.plan')}
        value={plan ? id : NO_PLAN}
        options={[
          ...plans.map((entry) => ({ value: entry.id, label: entry.name })),
          { value: NO_PLAN, label: t('water.brew.by_order') },
        ]}
        onChange={onPlan}
      />
      {plan ? (
        <Pours key={id} {...props} plan={plan} />
      ) : (
        <Together
          of={solved.composite}
          water_g={solved.composite?.poured_g ?? 0}
          missing={t('water.brew.not_poured')}
          name={orderName}
        />
      )}
    </Panel>
  );
});

interface TogetherProps {
  of: { composition: Composition; figures: WaterFigures } | null;
  /** All that is poured in one brew [g]. */
  water_g: number;
  /** What is said while it is not known. */
  missing: string;
  name: string;
}

/** All waters of one brew as one: figures, charge, and the acid it takes up. */
function Together({ of, water_g, missing, name }: TogetherProps) {
  if (!of) return <p className="quiet-text">{missing}</p>;
  return (
    <>
      <h4>{t('water.brew.together')}</h4>
      <Outcome figures={of.figures} />
      <IonChart name={name} ions={ionsOf(of.composition)} />
      <AcidTakenUp alkalinity_eq_kg={of.composition.alkalinity} water_g={water_g} />
    </>
  );
}

function Pours(props: BrewPanelProps & { plan: Draft<'plan'> }) {
  const { order, orderName, solved, stale, waters, campaignId, plan, onMasses } = props;
  const baseIds = order.bases.map(({ id }) => id);
  const [changed, setChanged] = useState<Readonly<Record<string, PourWater>>>({});
  const [done, setDone] = useState<string>();
  const first = firstWaters(plan.document, order.waters, waters, baseIds);
  const has = ({ by, id }: PourWater): boolean => by === 'shelf' || order.waters.some((w) => w.id === id);
  const chosen = Object.fromEntries(
    Object.entries(first).map(([pour, usual]) => {
      const other = changed[pour];
      return [pour, other && has(other) ? other : usual];
    }),
  );
  const together = useComposite(plan.document, chosen, solved, waters);
  const put = (pour: string, key: string): void => {
    setDone(undefined);
    setChanged({ ...changed, [pour]: readPourWater(key) });
  };
  const setOnPlan = async (): Promise<void> => {
    const used = [...pouredOf(plan.document, chosen).keys()];
    const saved = new Map<string, string>();
    for (const id of used) {
      const sheet = solved.sheets.find(({ water_id }) => water_id === id);
      if (!sheet) continue;
      const over = savedAs(sheet.name, waters, baseIds) ?? null;
      const result = await saveWater(sheet, orderName, sheet.name, over, campaignId);
      if (!result.ok) return setDone(result.problems.map(problemSentence).join(' '));
      saved.set(id, result.value);
    }
    const body = plan.body;
    plan.change({ ...body, pours: body.pours.map((pour) => withWater(pour, chosen[pour.id], saved)) });
    setChanged({});
    setDone(t('water.brew.set', { count: saved.size, plan: plan.document.name }));
  };
  const options = [
    ...order.waters.map(({ id, name }) => ({
      value: pourWaterKey({ by: 'order', id }),
      label: name,
      detail: t('water.brew.of_order'),
    })),
    ...waters.map(({ id, name }) => ({ value: pourWaterKey({ by: 'shelf', id }), label: name })),
  ];
  return (
    <>
      <p className="quiet-text">{t('water.brew.text')}</p>
      <ol className="brew-pours">
        {plan.document.pours.map((pour, i) => (
          <li key={pour.id} className="brew-pour">
            <span>
              {t('strip.pour.name', { number: i + 1 })}{' '}
              <span className="quiet-text">
                {formatClock(pour.start_s)} · {formatNumber(pour.water_g)} g
              </span>
            </span>
            <SteadySelect
              label={t('water.brew.water_of', { number: i + 1 })}
              hideLabel
              value={chosen[pour.id] ? pourWaterKey(chosen[pour.id]!) : null}
              options={options}
              onChange={(key) => put(pour.id, key)}
            />
          </li>
        ))}
      </ol>
      <div className="buttons">
        <Button
          look="primary"
          onPress={() => void setOnPlan()}
          isDisabled={stale || pouredOf(plan.document, chosen).size === 0}
        >
          {t('water.brew.set_button')}
        </Button>
        <Button
          onPress={() => onMasses(pouredOf(plan.document, chosen))}
          isDisabled={pouredOf(plan.document, chosen).size === 0}
        >
          {t('water.brew.take_masses')}
        </Button>
        <a className="source-link" href={hrefOf('brew', plan.document.id)}>
          {t('water.brew.to_plan')}
        </a>
      </div>
      {done && <Notice>{done}</Notice>}
      <Together
        of={together}
        water_g={poured(plan.document)}
        missing={t('water.brew.unknown')}
        name={plan.document.name}
      />
    </>
  );
}

const poured = (plan: Plan): number => plan.pours.reduce((sum, { water_g }) => sum + water_g, 0);

function withWater(
  pour: Plan['pours'][number],
  water: PourWater | undefined,
  saved: ReadonlyMap<string, string>,
): Plan['pours'][number] {
  const id = water?.by === 'order' ? saved.get(water.id) : water?.id;
  return id === undefined || id === pour.water_id ? pour : { ...pour, water_id: id };
}

/** What all pours make together; null while one of their waters is not known. */
function useComposite(
  plan: Plan,
  chosen: Readonly<Record<string, PourWater>>,
  solved: SolvedWaters,
  waters: readonly Water[],
): { composition: Composition; figures: WaterFigures } | null {
  const key = JSON.stringify(chosen);
  return useMemo(() => {
    const made = (id: string) => solved.sheets.find(({ water_id }) => water_id === id);
    const parts = brewParts(plan, JSON.parse(key) as Record<string, PourWater>, made, waters);
    const of = parts && brewWater(parts);
    return of && { composition: of.composition, figures: waterFigures(of.composition, of.deviations) };
  }, [plan, key, solved, waters]);
}
