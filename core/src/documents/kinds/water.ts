import { z } from 'zod';
import { common, number } from '../fields.ts';

const ion = number(0, 5_000).default(0);

/** A brewing water by its ions, mg per litre at 25 °C, each counted whole as the ion. */
export const water = z.strictObject({
  kind: z.literal('water'),
  version: z.literal(1),
  ...common,
  calcium_mg_L: ion,
  magnesium_mg_L: ion,
  sodium_mg_L: ion,
  potassium_mg_L: ion,
  bicarbonate_mg_L: ion,
  chloride_mg_L: ion,
  sulfate_mg_L: ion,
  nitrate_mg_L: ion,
});
export type Water = z.infer<typeof water>;
