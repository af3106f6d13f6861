import {
  type Blend,
  type Distribution,
  distributionOfTable,
  type Grinder,
  type GrindMixOrder,
  type GrindMixPart,
  type GrindMixSheet,
  type GrindPart,
  type Plan,
  tableOf,
} from '@pourline/core';

export type BlendPart = Blend['parts'][number];

const rounded = (x: number): number => Math.round(x * 1e4) / 1e4;

/** Shares with one of them moved; the others give or take in proportion, and all together make 1. */
export function withShare(parts: readonly BlendPart[], index: number, share: number): BlendPart[] {
  const wanted = Math.min(1, Math.max(0, share));
  const rest = parts.reduce((sum, part, i) => sum + (i === index ? 0 : part.share), 0);
  const others = parts.length - 1;
  const moved = parts.map((part, i) => {
    if (i === index) return rounded(wanted);
    return rounded(rest > 0 ? (part.share / rest) * (1 - wanted) : (1 - wanted) / others);
  });
  // What rounding leaves over goes to the last of the others.
  const last = index === parts.length - 1 ? parts.length - 2 : parts.length - 1;
  const off = 1 - moved.reduce((sum, x) => sum + x, 0);
  if (last >= 0) moved[last] = rounded(Math.max(0, moved[last]! + off));
  return parts.map((part, i) => ({ ...part, share: moved[i]! }));
}

/** A setting of a grinder, found by the ids in a part. */
export function settingOf(part: BlendPart, grinders: readonly Grinder[]) {
  const grinder = grinders.find(({ id }) => id === part.grinder_id);
  const setting = grinder?.settings.find(({ id }) => id === part.setting_id);
  return grinder && setting ? { grinder, setting } : null;
}

/** The order that core works out; null while a part points nowhere. */
export function orderOf(
  blend: Blend,
  grinders: readonly Grinder[],
  name: (part: BlendPart, mark: string) => string,
): GrindMixOrder | null {
  const parts = blend.parts.map((part): GrindMixPart | null => {
    const found = settingOf(part, grinders);
    if (!found) return null;
    const { above_um, below_um } = part;
    const cut = above_um !== null || below_um !== null;
    return {
      name: name(part, found.setting.mark),
      share: part.share,
      table: tableOf(found.setting.distribution),
      cut: cut ? { above_um, below_um, blur_gsd: 1 + blend.blur_pct / 100 } : null,
      retention_g: part.retention_g ?? found.setting.retention_g,
      loss: part.loss_pct / 100,
    };
  });
  const { dose_g, cups, step_g, grinding, fines_limit_um } = blend;
  return parts.every((part) => part !== null)
    ? { parts, dose_g, cups, step_g, grinding, fines_limit_um }
    : null;
}

/** The parts as the engine takes them, at the shares asked for (not yet rounded to the scale). */
export function engineParts(order: GrindMixOrder, sheet: GrindMixSheet): GrindPart[] {
  return sheet.parts.flatMap((part) => {
    const asked = order.parts.find(({ name }) => name === part.name);
    return asked && asked.share > 0
      ? [{ name: part.name, share: asked.share, distribution: distributionOfTable(part.table) }]
      : [];
  });
}

/** A mix laid down in documents: the settings that sieved parts need, and the grind of a plan. */
export interface MixOnPlan {
  /** Grinders that get settings, whole. */
  grinders: readonly Grinder[];
  grind: Plan['grind'];
}

/**
 * How a plan takes a mix: an unsieved part as the setting it is, a sieved one as a setting of its own with the sizes it then has. A
 * setting of the same mark is replaced, so that a mix taken twice leaves one.
 */
export function mixOnPlan(
  blend: Blend,
  grinders: readonly Grinder[],
  sizes: ReadonlyMap<string, Distribution>,
  mark: (part: BlendPart, mark: string) => string,
  newId: (taken: Grinder['settings']) => string,
): MixOnPlan {
  const changed = new Map<string, Grinder>();
  const grind = blend.parts.flatMap((part): Plan['grind'] => {
    const found = settingOf(part, grinders);
    if (!found || !(part.share > 0)) return [];
    const { grinder_id, share } = part;
    const distribution = sizes.get(part.id);
    if (!distribution || (part.above_um === null && part.below_um === null))
      return [{ grinder_id, setting_id: part.setting_id, share }];
    const grinder = changed.get(grinder_id) ?? found.grinder;
    const name = mark(part, found.setting.mark).slice(0, 60);
    const same = grinder.settings.find((setting) => setting.mark === name);
    const setting = {
      id: same?.id ?? newId(grinder.settings),
      mark: name,
      distribution,
      retention_g: part.retention_g ?? found.setting.retention_g,
    };
    const settings = same
      ? grinder.settings.map((one) => (one === same ? setting : one))
      : [...grinder.settings, setting];
    changed.set(grinder_id, { ...grinder, settings });
    return [{ grinder_id, setting_id: setting.id, share }];
  });
  return { grinders: [...changed.values()], grind };
}
