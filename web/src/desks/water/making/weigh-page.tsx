import { type Meter, type Mix, makingSteps, type SaltDocument, type WaterOrder } from '@pourline/core';
import { formatNumber, remarkSentence, t } from '../../../words/index.ts';
import { spreadText } from '../parts/figures.ts';
import { termName } from '../parts/terms.ts';
import { litresOf, stepKey } from './kernels.ts';
import { scaleWords } from './meter-panel.tsx';
import type { PrintedWater } from './printed.ts';
import { doseText, stepSentence } from './step-list.tsx';

interface WeighPageProps {
  mix: Mix;
  order: WaterOrder;
  water: PrintedWater;
  salts: readonly SaltDocument[];
}

/** Mistakes that are printed; the table has no room for all. */
const MOST = 2;

/** The sheet that lies beside the balance: steps with boxes, what it should be, what the meter should say, cautions. */
export function WeighPage({ mix, order, water, salts }: WeighPageProps) {
  const { sheet, batch, refused } = water;
  return (
    <section className="paper-page">
      <header className="paper-head">
        <div>
          <h2>{sheet.name}</h2>
          <p>{t('making.sheet_of', { order: mix.name })}</p>
        </div>
        <dl className="paper-facts">
          <Fact word={t('making.amount')}>
            {t('making.litres_grams', {
              litres: formatNumber(litresOf(sheet.batch_g), 2),
              grams: formatNumber(sheet.batch_g, 0),
            })}
          </Fact>
          <Fact word={t('making.made_on')}>{batch?.made_on ?? <Blank />}</Fact>
          <Fact word={t('making.use_by')}>{batch?.use_by ?? <Blank />}</Fact>
          <Fact word={t('making.made_by')}>
            <Blank />
          </Fact>
        </dl>
      </header>
      {refused && <p className="paper-never">{t('making.refused')}</p>}
      <Steps order={order} water={water} />
      <Outcome water={water} meter={order.instruments.meter} />
      <Cautions order={order} water={water} salts={salts} />
    </section>
  );
}

export function Fact({ word, children }: { word: string; children: React.ReactNode }) {
  return (
    <div>
      <dt>{word}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** A line to write on. */
export const Blank = () => <span className="paper-blank" />;

function Steps({ order, water: { sheet, given, batch } }: { order: WaterOrder; water: PrintedWater }) {
  return (
    <table className="paper-steps">
      <thead>
        <tr>
          <th scope="col">{t('making.done')}</th>
          <th scope="col">{t('making.step')}</th>
          <th scope="col">{t('making.came_out')}</th>
        </tr>
      </thead>
      <tbody>
        {makingSteps(order, sheet).map((step) => {
          const dose = sheet.doses.find(({ item_id }) => item_id === step.item_id);
          const really = dose && given[dose.item_id];
          return (
            <tr key={stepKey(step)}>
              <td>
                <span className="paper-box" data-done={batch?.done.includes(stepKey(step)) || undefined} />
              </td>
              <td>{stepSentence(step, dose)}</td>
              <td>{dose && (really === undefined ? <Blank /> : doseText(dose, really))}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

const SHOWN = [
  'hardness',
  'alkalinity',
  'calcium',
  'magnesium',
  'sodium',
  'potassium',
  'chloride',
  'sulfate',
] as const;

function Outcome({ water: { made, batch }, meter }: { water: PrintedWater; meter: Meter }) {
  const { reading } = made;
  const figures = SHOWN.filter((of) => (made.figures.quantities[of]?.value ?? 0) > 0.05);
  return (
    <div className="paper-block">
      <h3>{t('making.should_be')}</h3>
      <dl className="paper-figures">
        {figures.map((of) => (
          <Fact key={of} word={termName(of)}>
            {spreadText(made.figures.quantities[of])}{' '}
            {t('making.unit_of', { as: of === 'hardness' || of === 'alkalinity' ? 'caco3' : 'ion' })}
          </Fact>
        ))}
      </dl>
      {reading.reading && reading.accept && (
        <p>
          {t('making.sheet_meter', {
            scale: scaleWords(meter.scale),
            value: formatNumber(reading.reading.value, 0),
            low: formatNumber(reading.accept.low, 0),
            high: formatNumber(reading.accept.high, 0),
            unit: reading.unit,
          })}
          <br />
          {batch?.meter_shows == null ? (
            <>
              {t('making.it_read')} <Blank /> {reading.unit}, <Blank /> °C
            </>
          ) : (
            t('making.it_read_done', {
              value: formatNumber(batch.meter_shows, 0),
              unit: reading.unit,
              celsius: formatNumber(batch.sample_C, 1),
            })
          )}
        </p>
      )}
    </div>
  );
}

function Cautions({ order, water, salts }: Pick<WeighPageProps, 'order' | 'water' | 'salts'>) {
  const { sheet, unseen } = water;
  const doubtful = salts.filter(
    ({ id, food_grade }) => !food_grade && sheet.doses.some(({ item_id }) => item_id === id),
  );
  const { balance, syringe } = order.instruments;
  return (
    <div className="paper-block paper-cautions">
      <h3>{t('making.cautions')}</h3>
      <ul>
        {doubtful.map(({ id, name }) => (
          <li key={id}>
            <b>{t('making.not_food_grade', { name })}</b>
          </li>
        ))}
        <li>{t('making.caution_food')}</li>
        <li>{t('making.caution_drink')}</li>
        <li>{t('making.caution_children')}</li>
        {unseen.slice(0, MOST).map(({ remark }) => (
          <li key={remark.sentence}>{remarkSentence(remark)}</li>
        ))}
      </ul>
      <p>
        {t('making.instruments', {
          balance: balance.step_g,
          syringe: syringe ? t('making.with_syringe', { step: syringe.step_mL }) : '',
        })}
      </p>
    </div>
  );
}
