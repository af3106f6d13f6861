import { z } from 'zod';
import { common, date } from '../fields.ts';

/** The work towards one contest: everything else hangs on it. */
export const campaign = z.strictObject({
  kind: z.literal('campaign'),
  version: z.literal(1),
  ...common,
  /** Day on stage, when known. */
  contest_date: date.nullable().default(null),
  /** Shipped as an example; shown with a mark and a way to take it away. */
  demo: z.boolean().default(false),
});
export type Campaign = z.infer<typeof campaign>;
