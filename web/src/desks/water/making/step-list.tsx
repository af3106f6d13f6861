import { type Batch, type Dose, type MakingStep, makingSteps } from '@pourline/core';
import { Icon, NumberInput, useForm } from '../../../ui/index.ts';
import { formatNumber, t, tMaybe } from '../../../words/index.ts';
import { stepKey, toggled, unitOfDose, withGiven } from './kernels.ts';
import type { Making } from './use-making.ts';

/** The steps in their order, each a tick as large as a hand, and under a dose what it really came out as. */
export function StepList({ making, batch }: { making: Making; batch: Batch }) {
  const { set } = useForm();
  const steps = makingSteps(making.order, making.sheet);
  const done = steps.filter((step) => batch.done.includes(stepKey(step))).length;
  return (
    <>
      <p className="making-progress" role="status">
        {t('making.progress', { done, all: steps.length })}
      </p>
      <ol className="making-list">
        {steps.map((step, i) => {
          const key = stepKey(step);
          const dose = making.sheet.doses.find(({ item_id }) => item_id === step.item_id);
          return (
            <li key={key} className="making-step" data-done={batch.done.includes(key) || undefined}>
              <label className="making-tick">
                <input
                  type="checkbox"
                  checked={batch.done.includes(key)}
                  onChange={() => set(['done'], toggled(batch.done, key))}
                />
                <span className="making-box">
                  <Icon name="check" />
                </span>
                <span className="making-number" aria-hidden="true">
                  {i + 1}
                </span>
                <span className="making-words">
                  {dose && <b className="making-amount">{doseText(dose)}</b>}
                  <span>{stepSentence(step, dose)}</span>
                </span>
              </label>
              {dose && <Given dose={dose} batch={batch} />}
            </li>
          );
        })}
      </ol>
    </>
  );
}

/** A step in the language in use, its dose as the instrument shows it. */
export const stepSentence = ({ code, values, sentence }: MakingStep, dose: Dose | undefined): string =>
  tMaybe(`step.${code}`, dose ? { ...values, amount: doseText(dose) } : values) ?? sentence;

/** A dose as its instrument shows it: `10.1 mL`. */
export function doseText(dose: Dose, grams = dose.grams): string {
  const { unit, grams: one, digits } = unitOfDose(dose);
  return `${formatNumber(grams / one, digits)} ${t(`making.unit.${unit}`)}`;
}

/** What was really given, where that is not what was asked. */
function Given({ dose, batch }: { dose: Dose; batch: Batch }) {
  const { body, set } = useForm();
  const { unit, grams: one, digits } = unitOfDose(dose);
  const typed = (body as Batch).given.find(({ item_id }) => item_id === dose.item_id)?.given_g as unknown;
  const shown = typeof typed === 'number' ? Number((typed / one).toPrecision(9)) : (typed ?? null);
  const off = typeof typed === 'number' && dose.grams > 0 ? typed / dose.grams - 1 : 0;
  return (
    <fieldset className="making-given" aria-label={dose.name}>
      <NumberInput
        label={t('making.came_out')}
        unit={t(`making.unit.${unit}`)}
        step={10 ** -digits}
        value={shown}
        placeholder={t('making.as_asked')}
        problem={badAmount(typed)}
        onChange={(next) =>
          set(['given'], withGiven(batch.given, dose.item_id, typeof next === 'number' ? next * one : next))
        }
      />
      {Math.abs(off) > 0.0005 && (
        <p className="making-off">
          {t(off > 0 ? 'making.over' : 'making.under', { percent: formatNumber(100 * Math.abs(off), 1) })}
        </p>
      )}
    </fieldset>
  );
}

function badAmount(typed: unknown): string | undefined {
  if (typed === undefined) return undefined;
  if (typeof typed === 'string') return t('making.not_an_amount', { value: typed });
  return typeof typed === 'number' && typed < 0 ? t('making.below_nothing') : undefined;
}
