import { kettlesOfRun, type PlannedRun, type RunKettle } from '@pourline/core';
import { type Draft, newLocalId, useLookup } from '../../../replica/index.ts';
import { Button, Fields, IconButton, NumberAt, OptionAt, Panel, TextAt } from '../../../ui/index.ts';
import { formatClock, formatWithUnit, t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';

interface KettlesPanelProps {
  draft: Draft<'talk'>;
  plan: PlannedRun | null;
}

/** Kettles of the run, how they are heated on the circuits there are, and in which order. */
export function KettlesPanel({ draft, plan }: KettlesPanelProps) {
  const { body } = draft;
  const own = useSetupKettles(draft);
  const set = (kettles: RunKettle[]): void => draft.change({ ...body, kettles });
  const fresh = (): RunKettle => ({
    ...(body.kettles.at(-1) ?? own[0] ?? PLAIN),
    id: newLocalId('kettle', body.kettles),
    name: t('stage.kettles.new_name', { number: body.kettles.length + 1 }),
  });
  return (
    <Panel title={t('stage.kettles.title')}>
      {body.kettles.length === 0 ? (
        <>
          <p className="quiet-text">
            {t('stage.kettles.of_setup', { names: own.map(({ name }) => name).join(', ') || '–' })}
          </p>
          <div className="buttons">
            <Button onPress={() => set(own)} isDisabled={own.length === 0}>
              {t('stage.kettles.change')}
            </Button>
            <Button icon="add" onPress={() => set([...own, fresh()])} isDisabled={own.length >= 6}>
              {t('stage.kettles.add')}
            </Button>
          </div>
        </>
      ) : (
        <>
          {body.kettles.map((kettle, i) => (
            <KettleRow
              key={kettle.id}
              index={i}
              kettle={kettle}
              onRemove={() => set(body.kettles.filter(({ id }) => id !== kettle.id))}
            />
          ))}
          <div className="buttons">
            <Button
              icon="add"
              onPress={() => set([...body.kettles, fresh()])}
              isDisabled={body.kettles.length >= 6}
            >
              {t('stage.kettles.add')}
            </Button>
          </div>
        </>
      )}
      <Circuits draft={draft} />
      {plan && <Heating plan={plan} />}
    </Panel>
  );
}

const PLAIN: RunKettle = {
  id: 'kettle',
  kettle_id: null,
  name: 'Kettle',
  fill_g: 900,
  keep_g: 50,
  power_W: 1_200,
  rated_V: 230,
  start_C: null,
  set_C: null,
  between: 'on_base',
  body_equivalent_g: 100,
  loss_W_K: 1.2,
  from_C: 20,
  circuit: 'wall',
};

/** The kettles of the plan's setup, as a run would list them. */
function useSetupKettles(draft: Draft<'talk'>): RunKettle[] {
  const lookup = useLookup();
  const plan = lookup(draft.document.plan_id);
  const setup = plan?.kind === 'plan' ? lookup(plan.setup_id) : undefined;
  if (plan?.kind !== 'plan' || setup?.kind !== 'setup') return [];
  // Only kettles are asked for, and those hang on the setup alone.
  const bundle = { plan, setup } as Parameters<typeof kettlesOfRun>[0]['bundle'];
  return kettlesOfRun({ talk: { ...draft.document, kettles: [] }, bundle, contest: null });
}

function KettleRow({ index, kettle, onRemove }: { index: number; kettle: RunKettle; onRemove: () => void }) {
  const at = (field: keyof RunKettle) => ['kettles', index, field];
  return (
    <fieldset className="stage-part">
      <legend>{kettle.name}</legend>
      <Fields>
        <TextAt path={at('name')} />
        <NumberAt path={at('fill_g')} label={t('stage.kettles.fill')} step={50} />
        <NumberAt path={at('power_W')} label={t('stage.kettles.power')} step={100} />
        <NumberAt
          path={at('start_C')}
          label={t('stage.kettles.start')}
          nullable
          placeholder={t('stage.kettles.first_pour')}
        />
        <NumberAt
          path={at('set_C')}
          label={t('stage.kettles.set')}
          nullable
          placeholder={t('stage.as_plan')}
        />
        <OptionAt
          path={at('between')}
          label={t('stage.kettles.between')}
          options={(['on_base', 'off_base'] as const).map((value) => ({
            value,
            label: t(`stage.kettles.${value}`),
          }))}
        />
        <NumberAt path={at('from_C')} label={t('stage.kettles.from')} />
        <NumberAt path={at('rated_V')} label={t('stage.kettles.rated')} />
        <TextAt path={at('circuit')} label={t('stage.kettles.circuit')} />
      </Fields>
      <div className="stage-part-end">
        <IconButton icon="close" label={t('stage.remove_named', { name: kettle.name })} onPress={onRemove} />
      </div>
    </fieldset>
  );
}

function Circuits({ draft }: { draft: Draft<'talk'> }) {
  const { circuits } = draft.body;
  const set = (next: typeof circuits): void => draft.change({ ...draft.body, circuits: next });
  return (
    <>
      <h4>{t('stage.circuits.title')}</h4>
      {circuits.length === 0 && <p className="quiet-text">{t('stage.circuits.none')}</p>}
      {circuits.map(({ id, name }, i) => (
        <div className="stage-row" key={id}>
          <TextAt path={['circuits', i, 'name']} />
          <NumberAt path={['circuits', i, 'limit_A']} label={t('stage.circuits.limit')} />
          <NumberAt path={['circuits', i, 'other_W']} label={t('stage.circuits.other')} step={50} />
          <IconButton
            icon="close"
            label={t('stage.remove_named', { name })}
            onPress={() => set(circuits.filter((circuit) => circuit.id !== id))}
          />
        </div>
      ))}
      <div className="buttons">
        <Button
          icon="add"
          isDisabled={circuits.length >= 8}
          onPress={() =>
            set([
              ...circuits,
              {
                id: newLocalId('circuit', circuits),
                name:
                  circuits.length === 0
                    ? 'wall'
                    : t('stage.circuits.new_name', { number: circuits.length + 1 }),
                limit_A: 16,
                other_W: 0,
              },
            ])
          }
        >
          {t('stage.circuits.add')}
        </Button>
      </div>
    </>
  );
}

/** When to switch on which, and when it is hot. */
function Heating({ plan }: { plan: PlannedRun }) {
  const { heating } = plan;
  // Kettles may share a name; they keep their order.
  const rows = heating.kettles.map((kettle, i) => ({ ...kettle, key: `${i} ${kettle.name}` }));
  return (
    <>
      <h4>{t('stage.heating.title')}</h4>
      <div className="table-scroll">
        <table className="stage-table">
          <thead>
            <tr>
              <th scope="col">{t('stage.heating.kettle')}</th>
              <th scope="col">{t('stage.heating.draws')}</th>
              <th scope="col">{t('stage.heating.on')}</th>
              <th scope="col">{t('stage.heating.takes')}</th>
              <th scope="col">{t('stage.heating.hot')}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((kettle) => (
              <tr key={kettle.key}>
                <td>{kettle.name}</td>
                <td>{formatWithUnit(kettle.power_W, 'W')}</td>
                <td>{formatClock(kettle.on_s)}</td>
                <td>{formatClock(kettle.takes_s)}</td>
                <td>{formatClock(kettle.hot_s)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <RemarkList remarks={heating.remarks} />
    </>
  );
}
