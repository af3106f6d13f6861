import { asMade, type Batch, type Mistake, type WaterOrder, type WeighSheet } from '@pourline/core';
import { useMemo } from 'react';
import { useWaters } from '../../../engine/use-waters.ts';
import { useDocument, useDocuments } from '../../../replica/index.ts';
import { useGathered } from '../parts/use-order-choice.ts';
import { givenOf } from './kernels.ts';

/** The batches of one water of an order, the newest first. */
export function useBatches(orderId: string, waterId: string | null): readonly Batch[] {
  const all = useDocuments('batch');
  return useMemo(
    () =>
      all
        .filter((batch) => batch.mix_id === orderId && batch.water_id === waterId)
        .sort((a, b) => b.id.localeCompare(a.id)),
    [all, orderId, waterId],
  );
}

export interface Making {
  order: WaterOrder;
  /** What is asked, for the mass of this batch. */
  sheet: WeighSheet;
  /** The water as it was really weighed so far. */
  made: WeighSheet;
  given: Readonly<Record<string, number>>;
  mistakes: readonly Mistake[];
}

/** An order with one of its waters made in another mass than it says. */
function scaledTo(order: WaterOrder, waterId: string, batch_g: number | undefined): WaterOrder {
  if (batch_g === undefined) return order;
  return { ...order, waters: order.waters.map((of) => (of.id === waterId ? { ...of, batch_g } : of)) };
}

/**
 * How to make one water of an order in the mass of a batch: the recipe is found again for that mass, in whole steps of the
 * instruments, and what was really given is put through it. Null until there is a recipe.
 */
export function useMaking(
  orderId: string,
  waterId: string | null,
  batch: Batch | null,
): { making: Making | null; stale: boolean; gone: boolean } {
  const mix = useDocument('mix', orderId);
  const { order, problems } = useGathered(mix);
  const asked = useMemo(
    () => (order && waterId !== null ? scaledTo(order, waterId, batch?.batch_g) : null),
    [order, waterId, batch?.batch_g],
  );
  const { output, input, stale } = useWaters(asked);
  const making = useMemo(() => {
    const at = output?.solved.sheets.findIndex((sheet) => sheet.water_id === waterId) ?? -1;
    const sheet = output?.solved.sheets[at];
    if (!output || !input || !sheet) return null;
    const given = givenOf(batch?.given ?? []);
    return {
      order: input,
      sheet,
      given,
      made: asMade(input, sheet, given),
      mistakes: output.mistakes[at] ?? [],
    };
  }, [output, input, waterId, batch?.given]);
  return { making, stale, gone: mix === null || problems.length > 0 };
}
