import type { Checked, Water, WeighSheet } from '@pourline/core';
import { createDocument, saveDocument } from '../../../replica/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { savedIons } from '../parts/saved-ions.ts';

/** What a saved water says about how it was made. */
export function makingNote(sheet: WeighSheet, orderName: string): string {
  const list = sheet.doses.map(({ name, grams, mL }) =>
    mL === null ? `${formatNumber(grams, 3)} g ${name}` : `${formatNumber(mL, 2)} mL ${name}`,
  );
  return t('water.save.note', {
    prefix: t('water.save.note_prefix'),
    order: orderName,
    list: list.length > 0 ? list.join('; ') : t('water.save.nothing_added'),
    grams: formatNumber(sheet.batch_g),
    main: sheet.main.name,
  });
}

/** What somebody wrote about a water stays; only the line about its making is renewed. */
const renewed = (notes: string, making: string): string =>
  [making, ...notes.split('\n').filter((line) => !line.startsWith(t('water.save.note_prefix')))]
    .join('\n')
    .trim();

/**
 * Puts a solved water on the shelf, so that plans can pour it: over a water that is there (its earlier state stays in its
 * history), or as a new one. Gives its id.
 */
export async function saveWater(
  sheet: WeighSheet,
  orderName: string,
  name: string,
  over: Water | null,
  campaignId: string,
): Promise<Checked<string>> {
  const ions = savedIons(sheet.composition);
  const notes = makingNote(sheet, orderName);
  if (over) {
    await saveDocument({ ...over, ...ions, name, notes: renewed(over.notes, notes) });
    return { ok: true, value: over.id };
  }
  const made = await createDocument('water', { name, notes, ...ions }, campaignId);
  return made.ok ? { ok: true, value: made.value.id } : made;
}
