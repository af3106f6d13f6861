import {
  type BrewBundle,
  type BrewResult,
  bundlePlan,
  checkArchive,
  type Resolution,
  simulate,
} from '@pourline/core';
import { demoBundle } from '../../core/src/brew/testing/demo-bundle.ts';
import immersion from '../../reference/liang-2021/immersion.json' with { type: 'json' };

/** The demo's four-pour plan left to drain, changed, and brewed. */
export function brew(
  change: (bundle: BrewBundle) => void = () => {},
  resolution: Resolution = 'draft',
): BrewResult {
  return simulate(bundleOf(change), { resolution });
}

/** The bundle behind {@link brew}. */
export function bundleOf(change: (bundle: BrewBundle) => void = () => {}): BrewBundle {
  const bundle = demoBundle();
  bundle.plan.lift_s = null;
  bundle.plan.serving = null;
  change(bundle);
  return bundle;
}

/** Makes every coarse mode of every setting larger by a factor. */
export const coarser =
  (factor: number) =>
  (bundle: BrewBundle): void => {
    for (const grinder of Object.values(bundle.grinders))
      for (const setting of grinder.settings)
        if (setting.distribution.by === 'modes') setting.distribution.modes[0]!.median_um *= factor;
  };

/** One setting of two log-normal modes. */
export const grind =
  (median_um: number, gsd: number, fines: number, fines_um: number) =>
  (bundle: BrewBundle): void => {
    const part = bundle.plan.grind[0]!;
    bundle.plan.grind = [{ ...part, share: 1 }];
    const setting = bundle.grinders[part.grinder_id]!.settings.find((s) => s.id === part.setting_id)!;
    setting.distribution = {
      by: 'modes',
      modes: [
        { share: 1 - fines, median_um, gsd },
        { share: fines, median_um: fines_um, gsd: 1.6 },
      ],
    };
  };

/** Pours of one water at one temperature and flow. */
export const pours =
  (
    each: readonly { at: number; g: number }[],
    kettle_temperature_C: number,
    flow_g_s: number,
    height_cm = 10,
  ) =>
  (bundle: BrewBundle): void => {
    const first = bundle.plan.pours[0]!;
    bundle.plan.pours = each.map(({ at, g }, i) => ({
      ...first,
      id: `p${i}`,
      start_s: at,
      water_g: g,
      rate: { by: 'flow', flow_g_s },
      kettle_temperature_C,
      height_cm,
    }));
  };

const checked = checkArchive(immersion);
if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join(' '));
const documents = checked.value.documents;

const found = new Map<string, number>();

/** {@link immersionYield} of the grind as it is, each worked out once. */
export function immersionYieldAt(ratio: number, temperature: number): number {
  const key = `${ratio} ${temperature}`;
  const known = found.get(key) ?? immersionYield(ratio, temperature);
  found.set(key, known);
  return known;
}

/** Share of the dose that left the grounds in half an hour of immersion (reference/liang-2021). */
export function immersionYield(
  ratio: number,
  temperature: number,
  change: (bundle: BrewBundle) => void = () => {},
): number {
  const name = `${ratio} : 1 at ${temperature} °C`;
  const plan = documents.find((d) => d.kind === 'plan' && d.name === name);
  if (plan?.kind !== 'plan') throw new Error(`reference/liang-2021 has no plan called ${name}`);
  const bundle = bundlePlan(plan, (id) => documents.find((d) => d.id === id));
  if (!bundle.ok) throw new Error(bundle.problems[0]!.sentence);
  const changed = structuredClone(bundle.value);
  change(changed);
  return simulate(changed, { resolution: 'draft' }).cup.total_yield_pct / 100;
}
