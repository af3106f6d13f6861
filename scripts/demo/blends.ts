import type { Blend } from '@pourline/core';
import { BLEND, CAMPAIGN, GRINDER } from './ids.ts';

const part = {
  grinder_id: GRINDER,
  above_um: null,
  below_um: null,
  retention_g: null,
  loss_pct: 0,
} as const;

/** A mix of two settings for three cups, the finer one without its dust. Invented. */
export const blends: Blend[] = [
  {
    kind: 'blend',
    version: 1,
    id: BLEND,
    campaign_id: CAMPAIGN,
    name: 'Ten, with a quarter of dustless seven',
    notes: 'Seven alone stalls; without what is under 250 µm it brings sweetness and lets the water through.',
    archived: false,
    parts: [
      { ...part, id: 'coarse', setting_id: 's1000', share: 0.75 },
      { ...part, id: 'fine', setting_id: 's700', share: 0.25, above_um: 250, loss_pct: 1 },
    ],
    dose_g: 15,
    cups: 3,
    step_g: 0.1,
    grinding: 'each_cup',
    blur_pct: 10,
    fines_limit_um: 100,
  },
];
