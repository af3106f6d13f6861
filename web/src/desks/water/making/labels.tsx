import { type ConcentrateDocument, SALTS, type WaterOrder } from '@pourline/core';
import { formatNumber, listed, remarkSentence, t } from '../../../words/index.ts';
import { printedForm } from '../parts/formula.ts';
import { termName } from '../parts/terms.ts';
import { litresOf, printedIons, saltsIn } from './kernels.ts';
import { scaleWords } from './meter-panel.tsx';
import { type PrintedWater, printedBottle } from './printed.ts';
import { doseText } from './step-list.tsx';
import { Blank, Fact } from './weigh-page.tsx';

const ionText = (field: string, mg_L: number, digits: number): string =>
  t('making.ion_amount', {
    ion: termName(field.slice(0, -'_mg_L'.length) as 'calcium'),
    amount: formatNumber(mg_L, digits),
  });

/** Labels of a finished water, one for each of its bottles. */
export function WaterLabels({ order, water }: { order: WaterOrder; water: PrintedWater }) {
  const bottles = water.batch?.bottles ?? 1;
  const numbers = Array.from({ length: bottles }, (_, i) => i + 1);
  return numbers.map((number) => (
    <WaterLabelCard key={number} order={order} water={water} number={number} of={bottles} />
  ));
}

interface CardProps {
  order: WaterOrder;
  water: PrintedWater;
  number: number;
  of: number;
}

function WaterLabelCard({ order, water: { sheet, made, batch, refused }, number, of }: CardProps) {
  const { reading } = made.reading;
  const { hardness, alkalinity } = made.figures.quantities;
  const salts = saltsIn(order, made).map(
    (form) => `${termName(form.salt).toLowerCase()} ${printedForm(form)}`,
  );
  return (
    <article className="paper-label">
      <header>
        <h3>{made.name}</h3>
        <p>{t('making.label_kind')}</p>
      </header>
      {refused && <p className="paper-never">{t('making.refused')}</p>}
      <p className="paper-label-of">
        {t('making.label_batch', { litres: formatNumber(litresOf(sheet.batch_g), 2), number, of })}
      </p>
      <dl className="paper-facts">
        <Fact word={t('making.made_on')}>{batch?.made_on ?? <Blank />}</Fact>
        <Fact word={t('making.use_by')}>{batch?.use_by ?? <Blank />}</Fact>
      </dl>
      <p>
        {t('making.made_of', {
          base: made.main.name,
          salts: salts.length > 0 ? listed(salts) : t('making.nothing'),
        })}
      </p>
      <p>
        {printedIons(made.composition)
          .map(({ field, mg_L }) => ionText(field, mg_L, 1))
          .join(' · ')}
      </p>
      <p>
        {t('making.label_figures', {
          hardness: formatNumber(hardness?.value ?? 0, 0),
          alkalinity: formatNumber(alkalinity?.value ?? 0, 0),
        })}
        {reading &&
          ` ${t('making.label_meter', {
            value: formatNumber(reading.value, 0),
            unit: made.reading.unit,
            scale: scaleWords(order.instruments.meter.scale),
          })}`}
      </p>
      <p>{t('making.label_keep')}</p>
    </article>
  );
}

interface BottleProps {
  document: ConcentrateDocument;
  order: WaterOrder;
  waters: readonly PrintedWater[];
}

/** Label of a concentrate: that it is one comes before its name. */
export function BottleLabels({ document, order, waters }: BottleProps) {
  const concentrate = order.concentrates.find(({ id }) => id === document.id);
  if (!concentrate) return null;
  const { ions, made_on, use_by, caustic, remarks } = printedBottle(document, concentrate);
  const mouthful = remarks.filter(({ code }) => code === 'not_for_drinking');
  const solids = remarks.filter(({ level }) => level === 'problem');
  const doses = waters.flatMap(({ sheet }) => {
    const dose = sheet.doses.find(({ item_id }) => item_id === document.id);
    return dose ? [{ sheet, dose }] : [];
  });
  const parts = document.parts.map(({ salt, hydrate, salt_g }) => {
    const { ins } = SALTS[salt];
    return t('making.part', {
      grams: formatNumber(salt_g, 2),
      salt: termName(salt).toLowerCase(),
      formula: printedForm({ salt, hydrate }),
      ins: ins === null ? '' : ` (${t('making.additive', { ins })})`,
    });
  });
  return (
    <article className="paper-label paper-label-strong">
      <p className="paper-never">{t('making.never_drink')}</p>
      <header>
        <h3>{document.name}</h3>
      </header>
      <p>{t('making.holds', { parts: listed(parts), grams: formatNumber(document.water_g, 0) })}</p>
      <p>{ions.map(({ field, mg_L }) => ionText(field, mg_L, 0)).join(' · ')}</p>
      {doses.map(({ sheet, dose }) => (
        <p key={sheet.water_id}>
          {t('making.dose', {
            amount: doseText(dose),
            litres: formatNumber(litresOf(sheet.batch_g), 2),
            water: sheet.name,
          })}
        </p>
      ))}
      <dl className="paper-facts">
        <Fact word={t('making.made_on')}>{made_on ?? <Blank />}</Fact>
        <Fact word={t('making.use_by')}>{use_by ?? <Blank />}</Fact>
      </dl>
      {solids.map((remark) => (
        <p key={remark.code}>
          <b>{remarkSentence(remark)}</b>
        </p>
      ))}
      <p>
        {t('making.bottle_cautions')}
        {mouthful.map(
          ({ values, terms }) =>
            ` ${t('making.mouthful', {
              amount: String(values.amount),
              ion: termName(terms!.ion![0] as 'calcium').toLowerCase(),
            })}`,
        )}
        {caustic && ` ${t('making.caustic')}`}
      </p>
      <p>
        <b>{t('making.poison')}</b>
      </p>
    </article>
  );
}
