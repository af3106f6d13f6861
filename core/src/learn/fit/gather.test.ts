import { describe, expect, it } from 'vitest';
import type { AnyDocument, Trial } from '../../documents/index.ts';
import { COFFEE_ID, PLAN_ID, sample, sampleBundle, TRIAL_ID } from '../../documents/testing/samples.ts';
import { gatherTrials } from './gather.ts';
import { fitSentences } from './sentences.ts';

const OTHER = '0190a5d2-7c3e-7b10-8f00-0000000000aa';

const { plan, coffee, setup, venue, waters, grinders } = sampleBundle();
const kit: AnyDocument[] = [plan, coffee, setup, venue, ...Object.values(waters), ...Object.values(grinders)];
const trial = (edit: Partial<Trial> = {}): Trial => ({
  ...sample('trial'),
  plan_then: null,
  coffee_id: null,
  venue_id: null,
  event: null,
  counted: true,
  ...edit,
});
const bare: Partial<Trial> = {
  strength_readings: [],
  brix_readings: [],
  beverage_g: null,
  drawdown_s: null,
  temperatures: [],
  courses: [],
};

const sentencesOf = (documents: readonly AnyDocument[], of: string | null = null): string => {
  const found = gatherTrials(documents, of);
  const list = found.ok ? found.value.findings : found.problems;
  return list.map(({ sentence }) => sentence).join(' ');
};

describe('gathering the trials of a coffee', () => {
  it('takes the only coffee there is, with the plan of each trial, in order of time', () => {
    const later = trial({ id: OTHER, brewed_at: '2027-03-06T09:00:00+08:00' });
    const found = gatherTrials([...kit, later, trial()], null);
    if (!found.ok) throw new Error(found.problems[0]?.sentence);
    expect(found.value.coffee.id).toBe(COFFEE_ID);
    expect(found.value.trials.map((t) => t.trial.id)).toEqual([TRIAL_ID, OTHER]);
    expect(found.value.trials[0]!.bundle.plan.id).toBe(PLAN_ID);
  });
  it('counts the days from roast, without those in the freezer', () => {
    const age = (edit: Partial<Trial>): number | null => {
      const found = gatherTrials([...kit, trial(edit)], null);
      return found.ok ? found.value.trials[0]!.age_d : null;
    };
    // Roasted 10 February, frozen on the 16th, thawed on 5 March, brewed that day.
    expect(age({ roasted_on: null, frozen_d: null })).toBe(6);
    expect(age({ roasted_on: null, frozen_d: 0 })).toBe(23);
    expect(age({ roasted_on: '2027-03-01', frozen_d: 0 })).toBe(4);
  });
  it('follows the plan as it stood then, and the coffee and room of the day', () => {
    const then = { ...plan, dose_g: 13 };
    const found = gatherTrials([...kit, trial({ plan_then: then })], null);
    expect(found.ok && found.value.trials[0]!.bundle.plan.dose_g).toBe(13);
  });
});

describe('what cannot be learned from', () => {
  it('no trials at all, none of this coffee, and a coffee that is not there', () => {
    expect(sentencesOf(kit)).toContain('There is no trial to learn from.');
    const other = { ...coffee, id: OTHER, name: 'Lot eight' };
    expect(sentencesOf([...kit, other, trial()], OTHER)).toContain('There is no trial of Lot eight');
    expect(sentencesOf([...kit, trial()], PLAN_ID)).toContain('Choose one of: "Lot seven"');
  });
  it('two coffees: asks which; one of them: says what was left out', () => {
    const other = { ...coffee, id: OTHER, name: 'Lot eight' };
    const documents = [...kit, other, trial(), trial({ id: PLAN_ID.replace('07', '77'), coffee_id: OTHER })];
    expect(sentencesOf(documents)).toContain('There are trials of 2 coffees.');
    expect(sentencesOf(documents, COFFEE_ID)).toContain(
      '1 trials of other coffees were left out: "Lot eight"',
    );
  });
  it('trials without a figure, and brews that went wrong', () => {
    expect(sentencesOf([...kit, trial(bare)])).toContain('none holds a figure that can be used');
    expect(sentencesOf([...kit, trial({ counted: false })])).toContain('marked as a brew that went wrong');
  });
  it('a plan that is gone, a date before the roast, an age nobody knows', () => {
    const lost = trial({ id: OTHER, plan_id: OTHER });
    expect(sentencesOf([...kit, trial(), lost])).toContain('its plan is not in this campaign');
    expect(sentencesOf([...kit, trial({ roasted_on: '2027-04-01' })])).toContain(
      'brewed before the day of roasting (2027-04-01)',
    );
    const ageless = kit.map((d) => (d.kind === 'coffee' ? { ...d, roasted_on: null } : d));
    expect(sentencesOf([...ageless, trial({ roasted_on: null })])).toContain('say nothing of ageing');
  });
  it('every sentence ends as one', () => {
    for (const [code, text] of Object.entries(fitSentences)) expect(text, code).toMatch(/[.?}]$/);
  });
});
