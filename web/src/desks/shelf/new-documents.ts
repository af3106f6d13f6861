import type { AnyDocument, Checked } from '@pourline/core';
import { createDocument, duplicateDocument } from '../../replica/index.ts';
import { t } from '../../words/index.ts';
import { seedModes } from './distributions.ts';
import type { ShelfKind } from './panel-for.tsx';

/** Makes a new entry that is valid from the start, with plain figures to be replaced. */
export function addToShelf(
  kind: Exclude<ShelfKind, 'campaign'>,
  campaignId: string,
): Promise<Checked<AnyDocument>> {
  const name = t(`shelf.new.${kind}`);
  switch (kind) {
    case 'coffee':
    case 'water':
    case 'venue':
      return createDocument(kind, { name }, campaignId);
    case 'grinder':
      return createDocument(
        kind,
        { name, settings: [{ id: 'setting-1', mark: '1', distribution: seedModes() }] },
        campaignId,
      );
    case 'setup':
      return createDocument(
        kind,
        {
          name,
          dripper: {
            shape: 'flat',
            bottom_diameter_mm: 45,
            rim_diameter_mm: 90,
            height_mm: 60,
            material: 'polypropylene',
            mass_g: 90,
          },
          paper: {},
          server: { material: 'borosilicate_glass', mass_g: 250, capacity_mL: 500 },
          kettles: [
            { id: 'kettle-1', name: t('shelf.kettle', { number: 1 }), capacity_g: 900, power_W: 1_200 },
          ],
        },
        campaignId,
      );
  }
}

/** A copy beside the original. */
export function copyOnShelf(document: AnyDocument): Promise<AnyDocument | null> {
  return duplicateDocument(document.id, t('common.copy_of', { name: document.name }));
}
