import type { Rehearsal } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { NumberInput, problemAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';

type Cup = Rehearsal['cups'][number];

const FIGURES = [
  ['beverage_g', 'g', 1],
  ['strength_pct', '%', 0.01],
  ['served_C', '°C', 1],
] as const;

/** What was in the cups of this run, as measured; empty where nobody measured. */
export function CupsForm({ draft }: { draft: Draft<'rehearsal'> }) {
  const { body } = draft;
  const brewers = Array.from({ length: body.brewers }, (_, i) => i + 1);
  const set = (brewer: number, change: Partial<Cup>): void => {
    const empty: Cup = { brewer, beverage_g: null, strength_pct: null, served_C: null };
    const others = body.cups.filter((cup) => cup.brewer !== brewer);
    const changed = { ...(body.cups.find((cup) => cup.brewer === brewer) ?? empty), ...change };
    draft.change({ ...body, cups: [...others, changed].sort((a, b) => a.brewer - b.brewer) });
  };
  return (
    <fieldset className="rehearsal-cups">
      <legend>{t('rehearsal.cups')}</legend>
      {brewers.map((brewer) => {
        const at = body.cups.findIndex((cup) => cup.brewer === brewer);
        const cup = at < 0 ? undefined : body.cups[at];
        return (
          <div key={brewer} className="fields">
            {FIGURES.map(([figure, unit, step]) => (
              <NumberInput
                key={figure}
                label={t(`rehearsal.cup.${figure}`, { brewer })}
                value={cup?.[figure] ?? null}
                unit={unit}
                step={step}
                problem={at < 0 ? undefined : problemAt(draft.problems, ['cups', at, figure])}
                onChange={(value) => set(brewer, { [figure]: value })}
              />
            ))}
          </div>
        );
      })}
    </fieldset>
  );
}
