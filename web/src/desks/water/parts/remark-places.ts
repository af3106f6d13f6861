import type { Quantity, WaterRemark } from '@pourline/core';

/** Remarks of one water, apart: those about a quantity it was asked for, and the rest. */
export interface PlacedRemarks {
  byQuantity: ReadonlyMap<Quantity, readonly WaterRemark[]>;
  rest: readonly WaterRemark[];
}

/**
 * Puts each remark about a target beside that target. A remark names its quantity among its terms; one that names none, or one that
 * was not asked for, belongs to the water as a whole.
 */
export function placeRemarks(
  remarks: readonly WaterRemark[],
  waterId: string,
  asked: readonly Quantity[],
): PlacedRemarks {
  const byQuantity = new Map<Quantity, WaterRemark[]>();
  const rest: WaterRemark[] = [];
  for (const remark of remarks) {
    if (remark.about !== waterId) continue;
    const of = asked.find((quantity) => remark.terms?.quantity?.[0] === quantity);
    if (of === undefined || remark.code === 'above_guideline') rest.push(remark);
    else byQuantity.set(of, [...(byQuantity.get(of) ?? []), remark]);
  }
  return { byQuantity, rest };
}

/** Remarks that are about none of these: the shelf, the order as a whole. */
export const remarksElsewhere = (
  remarks: readonly WaterRemark[],
  waterIds: readonly string[],
): readonly WaterRemark[] => remarks.filter(({ about }) => !waterIds.includes(about));
