/** Rules of an invented contest, as a person would type them; for examples and a first look. */
export const EXAMPLE_CONTEST: Readonly<Record<string, unknown>> = {
  kind: 'contest',
  version: 1,
  id: '0190a5d2-7c3e-7b10-8f00-0000000c0de5',
  campaign_id: '0190a5d2-7c3e-7b10-8f00-000000000001',
  name: 'Lantern Cup',
  notes: 'Invented.',
  round: 'open round',
  rules_of: '2027-01-15',
  timers: { practice_s: 1800, setup_s: 300, run_s: 600, cleanup_s: 420 },
  cups: { count: 3, individually_brewed: true, min_mL: 120, max_mL: 300, strength_max_pct: 2 },
  rules: [
    { of: 'own_water', ruling: 'allowed' },
    { of: 'grinding_in_setup', ruling: 'not_allowed', note: 'Whoever does is out.' },
    { of: 'additives', ruling: 'not_allowed' },
    { of: 'extra_electrical', ruling: 'unknown', note: 'To be declared beforehand?' },
  ],
  judges: 3,
  categories: [
    { id: 'flavour', name: 'Flavour', by: 'each_judge', min: 0, max: 10, step: 0.5 },
    { id: 'acidity', name: 'Acidity', by: 'each_judge', min: 0, max: 10, step: 0.5 },
    { id: 'description', name: 'Description', by: 'each_judge', weight: 2, min: 0, max: 10, step: 0.5 },
    { id: 'service', name: 'Service', by: 'each_judge', weight: 2, min: 0, max: 10, step: 0.5 },
    { id: 'flow', name: 'Work flow', by: 'head_judge', min: 0, max: 10, step: 0.5 },
  ],
  combination: {
    parts: [
      {
        name: 'Judges',
        category_ids: ['flavour', 'acidity', 'description', 'service'],
        over_judges: 'mean',
        factor: 1.4,
      },
      { name: 'Head judge', category_ids: ['flow'] },
    ],
    divide_by: 1.6,
  },
  penalty: { points: 1, every_s: 1, cap_points: 30, hard_stop_s: 60 },
  frozen_after_setup: ['grind', 'dose', 'cups'],
};
