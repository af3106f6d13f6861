import type { BrewBundle, Distribution, Grinder } from '../../documents/index.ts';

/** A grind that takes the place of the plan's own: sizes and their share by mass. */
export interface GrindPart {
  name: string;
  share: number;
  distribution: Distribution;
}

/** Id of the grinder that stands in; it is in no campaign. */
const STAND_IN = '00000000-0000-7000-8000-000000000000';

/** The bundle with another grind in it, all else the same. Shares are taken relative to their sum. */
export function withGrind(bundle: BrewBundle, parts: readonly GrindPart[]): BrewBundle {
  const total = parts.reduce((sum, part) => sum + part.share, 0);
  const grinder: Grinder = {
    kind: 'grinder',
    version: 1,
    id: STAND_IN,
    campaign_id: bundle.plan.campaign_id,
    name: 'stand-in',
    notes: '',
    archived: false,
    settings: parts.map((part, i) => ({
      id: `part-${i}`,
      mark: part.name.trim().slice(0, 60) || `part ${i + 1}`,
      distribution: part.distribution,
      retention_g: 0,
    })),
    zeros: [],
    burrs: [],
  };
  return {
    ...bundle,
    plan: {
      ...bundle.plan,
      grind: parts.map((part, i) => ({
        grinder_id: STAND_IN,
        setting_id: `part-${i}`,
        share: part.share / total,
      })),
    },
    grinders: { ...bundle.grinders, [STAND_IN]: grinder },
  };
}

/** The bundle with its dripper left in place: drawdown is what the bed does by itself. */
export const withoutLift = (bundle: BrewBundle): BrewBundle => ({
  ...bundle,
  plan: { ...bundle.plan, lift_s: null },
});
