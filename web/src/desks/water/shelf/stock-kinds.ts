import type { AnyDocument, Checked, SaltForm } from '@pourline/core';
import { createDocument } from '../../../replica/index.ts';
import { t } from '../../../words/index.ts';
import { printedForm } from '../parts/formula.ts';
import { termName } from '../parts/terms.ts';

/** What stands on the shelf of waters. */
export const STOCK_KINDS = ['salt', 'concentrate', 'water'] as const;
export type StockKind = (typeof STOCK_KINDS)[number];

export const isStockKind = (value: string | undefined): value is StockKind =>
  STOCK_KINDS.some((kind) => kind === value);

/** What a jar is called until somebody names it: its salt in words and its formula. */
export const jarName = (form: SaltForm): string => `${termName(form.salt)}, ${printedForm(form)}`;

/** A jar of a salt whose form was chosen. */
export const addJar = (form: SaltForm, campaignId: string): Promise<Checked<AnyDocument>> =>
  createDocument('salt', { name: jarName(form), ...form }, campaignId);

/** A water without ions, to be typed. */
export const addWater = (campaignId: string): Promise<Checked<AnyDocument>> =>
  createDocument('water', { name: t('shelf.new.water') }, campaignId);

/** A concentrate of one salt whose form was chosen: 10 g in 490 g of water. */
export const addConcentrate = (form: SaltForm, campaignId: string): Promise<Checked<AnyDocument>> =>
  createDocument(
    'concentrate',
    {
      name: t('water.stock.concentrate_of', { salt: printedForm(form) }),
      parts: [{ ...form, salt_g: 10 }],
      water_g: 490,
    },
    campaignId,
  );
