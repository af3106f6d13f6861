import { distributionOfTable, type Grinder, type GrindMixSheet } from '@pourline/core';
import { useState } from 'react';
import { type Draft, newLocalId, saveDocument } from '../../../replica/index.ts';
import { hrefOf } from '../../../shell/route.ts';
import { Button, Notice } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { mixOnPlan, settingOf } from './mix-kernels.ts';
import { partName } from './part-name.ts';

interface TakeMixProps {
  draft: Draft<'blend'>;
  plan: Draft<'plan'>;
  sheet: GrindMixSheet;
  grinders: readonly Grinder[];
}

/** Sets the mix on the plan: its grind becomes these parts; a sieved part becomes a setting of its own in its grinder. */
export function TakeMix({ draft, plan, sheet, grinders }: TakeMixProps) {
  const [done, setDone] = useState<string | null>(null);
  const blend = draft.document;
  const take = async (): Promise<void> => {
    const sizes = new Map(
      blend.parts.flatMap((part) => {
        const found = settingOf(part, grinders);
        const name = found && partName(part, found.setting.mark);
        const made = sheet.parts.find((one) => one.name === name);
        return made ? [[part.id, distributionOfTable(made.table)] as const] : [];
      }),
    );
    const laid = mixOnPlan(blend, grinders, sizes, partName, (taken) => newLocalId('setting', taken));
    for (const grinder of laid.grinders) await saveDocument(grinder);
    plan.change({ ...plan.body, grind: laid.grind });
    setDone(t('grind.mix.taken', { plan: plan.document.name, count: laid.grinders.length }));
  };
  const dose = plan.document.dose_g;
  return (
    <>
      {Math.abs(dose - blend.dose_g) > 0.05 && (
        <p className="quiet-text">
          {t('grind.mix.dose_differs', { plan: formatNumber(dose, 1), mix: formatNumber(blend.dose_g, 1) })}
        </p>
      )}
      <div className="buttons">
        <Button look="primary" onPress={() => void take()} isDisabled={draft.problems.length > 0}>
          {t('grind.mix.take')}
        </Button>
        <a className="source-link" href={hrefOf('brew', plan.document.id)}>
          {t('grind.mix.to_plan')}
        </a>
      </div>
      {done && <Notice>{done}</Notice>}
    </>
  );
}
