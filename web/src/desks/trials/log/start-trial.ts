import type { Plan, Trial } from '@pourline/core';
import { createDocument, newId } from '../../../replica/index.ts';
import { formatMoment, problemSentence, t } from '../../../words/index.ts';

/** Names of cups that stand side by side: 1, 2, 3 … */
const cupName = (i: number): string => String(i + 1);

/**
 * Begins trials of a plan: one brew, or several at once that share an event. Gives the id of the first.
 * @throws Error with a sentence when a document refuses to be made
 */
export async function startTrial(plan: Plan, cups: number, campaignId: string): Promise<string> {
  const now = new Date();
  const eventId = newId();
  let first = '';
  for (let i = 0; i < cups; i++) {
    const at = formatMoment(now.toISOString());
    const name = cups > 1 ? t('trials.new_cup', { plan: plan.name, cup: cupName(i), at }) : plan.name;
    const made = await createDocument(
      'trial',
      {
        name: name.slice(0, 120),
        notes: '',
        plan_id: plan.id,
        plan_then: plan,
        brewed_at: now.toISOString(),
        event: cups > 1 ? { id: eventId, cup: cupName(i) } : null,
        dose_g: plan.dose_g,
      },
      campaignId,
    );
    if (!made.ok) throw new Error(made.problems.map(problemSentence).join(' '));
    if (i === 0) first = made.value.id;
  }
  return first;
}

/** One more brew beside a trial: both then share an event. Gives the new one's id. */
export async function addCup(
  trial: Trial,
  siblings: readonly Trial[],
  join: (event: NonNullable<Trial['event']>) => void,
): Promise<string> {
  const event = trial.event ?? { id: newId(), cup: cupName(0) };
  if (!trial.event) join(event);
  const taken = new Set([event.cup, ...siblings.map((one) => one.event?.cup)]);
  let i = siblings.length;
  while (taken.has(cupName(i))) i++;
  const made = await createDocument(
    'trial',
    {
      name: trial.name,
      notes: '',
      plan_id: trial.plan_id,
      plan_then: trial.plan_then,
      brewed_at: trial.brewed_at,
      event: { id: event.id, cup: cupName(i) },
      coffee_id: trial.coffee_id,
      venue_id: trial.venue_id,
      roasted_on: trial.roasted_on,
      frozen_d: trial.frozen_d,
      poured_by: trial.poured_by,
      refractometer_id: trial.refractometer_id,
      balance_id: trial.balance_id,
      thermometer_id: trial.thermometer_id,
      dose_g: trial.dose_g,
    },
    trial.campaign_id,
  );
  if (!made.ok) throw new Error(made.problems.map(problemSentence).join(' '));
  return made.value.id;
}
