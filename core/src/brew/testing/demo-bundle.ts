import demo from '../../../../examples/demo-campaign.json' with { type: 'json' };
import { type BrewBundle, bundlePlan, checkArchive } from '../../documents/index.ts';

const archive = checkArchive(demo);
if (!archive.ok) throw new Error(archive.problems[0]!.sentence);
const documents = new Map(archive.value.documents.map((d) => [d.id, d]));

/** A fresh copy of a demo plan by name, with all it points to; tests may change it. */
export function demoBundle(name = 'Four pours, cool then hot'): BrewBundle {
  const plan = [...documents.values()].find((d) => d.kind === 'plan' && d.name === name);
  if (plan?.kind !== 'plan') throw new Error(`demoBundle: no plan called ${name}`);
  const bundle = bundlePlan(plan, (id) => documents.get(id));
  if (!bundle.ok) throw new Error(bundle.problems[0]!.sentence);
  return structuredClone(bundle.value);
}
