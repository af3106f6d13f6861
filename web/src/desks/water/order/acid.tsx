import { acidNeutralised } from '@pourline/core';
import { Fields, NumberInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useKept } from '../parts/use-kept.ts';

/** A light filter coffee is near pH 4.9 (common practice); three cups are served to the judges. */
const USUAL = {
  drink_pH: 4.9 as unknown,
  cups: 3 as unknown,
  titratable_mmol_kg: null as unknown,
  drink_g: null as unknown,
};

const positive = (value: unknown): number | null => (typeof value === 'number' && value > 0 ? value : null);

interface AcidTakenUpProps {
  /** [eq/kg] */
  alkalinity_eq_kg: number;
  /** Water of one brew [g]. */
  water_g: number;
}

/** How much acid of the drink the water takes up. Chemistry; what it tastes like is another question. */
export function AcidTakenUp({ alkalinity_eq_kg, water_g }: AcidTakenUpProps) {
  const [kept, keep] = useKept('acid', USUAL);
  const pH = typeof kept.drink_pH === 'number' ? kept.drink_pH : null;
  const cups = positive(kept.cups);
  const acid = positive(kept.titratable_mmol_kg);
  const drink = positive(kept.drink_g);
  const bad = {
    drink_pH:
      pH === null || pH < 3 || pH > 8
        ? t('water.acid.bad_pH', { value: String(kept.drink_pH ?? '') })
        : undefined,
    cups: cups === null ? t('water.acid.bad_cups', { value: String(kept.cups ?? '') }) : undefined,
  };
  const titration =
    acid !== null && drink !== null ? { titratable_mmol_kg: acid, drink_g: drink } : undefined;
  const taken =
    pH === null || bad.drink_pH || cups === null
      ? null
      : acidNeutralised(alkalinity_eq_kg, water_g / cups, pH, titration);
  return (
    <section className="acid">
      <h4>{t('water.acid.title')}</h4>
      <Fields>
        <NumberInput
          label={t('water.acid.pH')}
          step={0.1}
          value={kept.drink_pH}
          problem={bad.drink_pH}
          onChange={(drink_pH) => keep({ drink_pH })}
        />
        <NumberInput
          label={t('water.acid.cups')}
          value={kept.cups}
          problem={bad.cups}
          onChange={(next) => keep({ cups: next })}
        />
        <NumberInput
          label={t('water.acid.titration')}
          unit="mmol/kg"
          value={kept.titratable_mmol_kg}
          placeholder={t('common.optional')}
          onChange={(titratable_mmol_kg) => keep({ titratable_mmol_kg })}
        />
        <NumberInput
          label={t('water.acid.drink')}
          unit="g"
          value={kept.drink_g}
          placeholder={t('common.optional')}
          onChange={(drink_g) => keep({ drink_g })}
        />
      </Fields>
      {taken && cups !== null && (
        <p>
          {t('water.acid.taken', {
            per_kg: formatNumber(taken.per_kg_mmol, 2),
            per_cup: formatNumber(taken.per_cup_mmol, 3),
            grams: formatNumber(water_g / cups),
          })}{' '}
          {taken.of_titratable_pct !== null &&
            t('water.acid.share', { percent: formatNumber(taken.of_titratable_pct, 1) })}
        </p>
      )}
      <p className="quiet-text">{t('water.acid.chemistry')}</p>
    </section>
  );
}
