import { z } from 'zod';
import { above0, number } from '../documents/fields.ts';
import { rounded, type StageRemark, stageRemark } from './remark.ts';

const label = z.string().trim().min(1).max(120);

/** What coffee there is and what it is meant for. */
export const gramOrder = z.strictObject({
  green_g: number(0, 1_000_000),
  /** Mass lost in roasting. */
  loss_pct: number(0, 40),
  uses: z
    .array(
      z.strictObject({
        name: label,
        times: z.int().min(0).max(1_000),
        each_g: number(0, 10_000),
        batch: label.nullable().default(null),
      }),
    )
    .max(60),
  /** One brew of the search, purge included. */
  search_brew_g: above0(1_000),
  /** Batches as roasted, by green mass; empty: one. */
  batches: z
    .array(z.strictObject({ name: label, green_g: above0(1_000_000) }))
    .max(60)
    .default([]),
});
export type GramOrder = z.infer<typeof gramOrder>;

/** Where the grams go. */
export interface GramBudget {
  roasted_g: number;
  reserved: { name: string; grams: number; batch: string | null }[];
  reserved_g: number;
  /** Negative: missing. */
  left_g: number;
  search_brews: number;
  batches: { name: string; roasted_g: number; reserved_g: number; left_g: number }[];
  remarks: StageRemark[];
}

/** Grams reserved for what must not fail, and how many brews are left to search with. */
export function gramBudget(order: GramOrder): GramBudget {
  const keeps = 1 - order.loss_pct / 100;
  const reserved = order.uses.map(({ name, times, each_g, batch }) => ({
    name,
    grams: times * each_g,
    batch,
  }));
  const reserved_g = reserved.reduce((sum, { grams }) => sum + grams, 0);
  const green =
    order.batches.length > 0 ? order.batches.reduce((sum, b) => sum + b.green_g, 0) : order.green_g;
  const roasted_g = Math.min(green, order.green_g) * keeps;
  const left_g = roasted_g - reserved_g;
  const batches = order.batches.map(({ name, green_g }) => {
    const bound = reserved.reduce((sum, use) => sum + (use.batch === name ? use.grams : 0), 0);
    return { name, roasted_g: green_g * keeps, reserved_g: bound, left_g: green_g * keeps - bound };
  });
  const search_brews = Math.max(0, Math.floor(left_g / order.search_brew_g + 1e-9));
  const remarks = [
    left_g >= 0
      ? stageRemark('good', 'budget_left', { left: rounded(left_g), brews: search_brews })
      : stageRemark('impossible', 'budget_short', {
          short: rounded(-left_g),
          what: [...reserved].sort((a, b) => b.grams - a.grams)[0]?.name ?? '',
          green: Math.ceil(-left_g / keeps),
        }),
    ...batches
      .filter((b) => b.left_g < 0)
      .map((b) => stageRemark('impossible', 'batch_short', { batch: b.name, short: rounded(-b.left_g) })),
  ];
  return { roasted_g, reserved, reserved_g, left_g, search_brews, batches, remarks };
}
