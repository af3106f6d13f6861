import { amountWords, makingSteps, QUANTITIES, type SolvedWaters, type WaterOrder } from '@pourline/core';
import { fixed, table } from './table.ts';

/** Weigh sheets in plain characters: doses, what they make, what the meter should say, steps, remarks. */
export function sheetsText(order: WaterOrder, solved: SolvedWaters): string {
  const lines: string[] = [];
  for (const sheet of solved.sheets) {
    const percent = (u: number) => `±${fixed(200 * u, 1)} %`;
    lines.push(
      `${sheet.name}: ${sheet.batch_g} g`,
      '',
      ...table([
        ['take', 'amount', 'spread', 'exact'],
        [sheet.main.name, `${fixed(sheet.main.grams, 0)} g`, '', ''],
        ...sheet.doses.map((dose) => [
          dose.name,
          amountWords(dose),
          percent(dose.uncertainty),
          `${dose.exact_g.toPrecision(4)} g`,
        ]),
      ]),
      '',
      ...table([
        ['it has', 'value', 'from', 'to', 'asked', 'unit'],
        ...Object.entries(sheet.figures.quantities).map(([of, { value, low, high }]) => {
          const target = sheet.targets.find((t) => t.of === of)?.asked;
          const range = target && `${target.low ?? ''}…${target.high ?? ''}`;
          const asked = target ? (target.aim === null ? range! : String(target.aim)) : '';
          const unit = QUANTITIES[of as keyof typeof QUANTITIES];
          return [
            of.replaceAll('_', ' '),
            fixed(value, 1),
            fixed(Math.max(0, low), 1),
            fixed(high, 1),
            asked,
            unit,
          ];
        }),
        ...(['pH', 'calcite_25', 'calcite_hot'] as const).map((of) => {
          const { value, low, high } = sheet.figures[of];
          const name = {
            pH: 'pH in air',
            calcite_25: 'calcite, 25 °C',
            calcite_hot: `calcite, ${sheet.figures.hot_C} °C`,
          };
          return [name[of], fixed(value, 2), fixed(low, 2), fixed(high, 2), '', ''];
        }),
      ]),
      '',
      ...makingSteps(order, sheet).map(({ sentence }, i) => `${i + 1}. ${sentence}`),
      ...sheet.remarks.map(({ level, sentence }) => `${level}: ${sentence}`),
      '',
    );
  }
  if (solved.composite) {
    const { hardness, alkalinity } = solved.composite.figures.quantities;
    lines.push(
      `All pours together (${solved.composite.poured_g} g): hardness ${fixed(hardness?.value, 1)}, alkalinity ${fixed(alkalinity?.value, 1)} mg/L as CaCO3.`,
    );
  }
  lines.push(...solved.remarks.map(({ level, sentence }) => `${level}: ${sentence}`));
  lines.push('Food-grade salts only. Concentrates are never drunk; keep them from children.', '');
  return lines.join('\n');
}
