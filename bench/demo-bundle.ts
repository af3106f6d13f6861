import { readFileSync } from 'node:fs';
import { type BrewBundle, bundlePlan, checkArchive, type Plan } from '@pourline/core';

/** The demo's four-pour plan with all it points to. @throws Error when the demo is not what it should be */
export function demoBundle(name = 'Four pours, cool then hot'): BrewBundle {
  const text = readFileSync(new URL('../examples/demo-campaign.json', import.meta.url), 'utf8');
  const archive = checkArchive(JSON.parse(text));
  if (!archive.ok) throw new Error(archive.problems[0]!.sentence);
  const byId = new Map(archive.value.documents.map((d) => [d.id, d]));
  const plan = archive.value.documents.find((d): d is Plan => d.kind === 'plan' && d.name === name);
  if (!plan) throw new Error(`The demo has no plan "${name}".`);
  const bundle = bundlePlan(plan, (id) => byId.get(id));
  if (!bundle.ok) throw new Error(bundle.problems[0]!.sentence);
  return bundle.value;
}
