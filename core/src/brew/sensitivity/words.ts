import type { Knob, KnobName } from './knobs.ts';

/** What one step of a knob is called; `{step}` and `{pours}` are filled in. Faces translate by the knob's name. */
const STEP_SENTENCES: Readonly<Record<KnobName, string>> = {
  dose: '{step} g more coffee',
  pour_water: 'pour {pours}: {step} g more water',
  pour_start: 'pour {pours}: {step} s later',
  pour_kettle: 'pour {pours}: kettle {step} °C hotter',
  flow: 'pouring {step} g/s faster',
  height: 'pouring from {step} cm higher',
  grind: '{step} µm coarser',
  fines: '{step} points more fines',
  paper: 'a paper {step} % tighter',
  age: 'coffee {step} days older',
  air: 'air {step} °C warmer',
  lift: 'lifted {step} s later',
  outlet: 'outlet opened {step} s later',
  bypass: '{step} g more bypass water',
};

/** Values for the sentence of a knob's step: the step as people say it, and the pours it concerns. */
export function stepValues(knob: Pick<Knob, 'name' | 'pours' | 'step'>): Record<string, string | number> {
  const step = knob.name === 'paper' ? Math.round(knob.step * 100) : knob.step;
  const [first, last] = knob.pours ?? [0, 0];
  return { step, pours: first === last ? `${first}` : `${first}–${last}` };
}

/** One step of a knob as an English phrase: `pour 2: kettle 2 °C hotter`. */
export function stepPhrase(knob: Pick<Knob, 'name' | 'pours' | 'step'>): string {
  const values = stepValues(knob);
  return STEP_SENTENCES[knob.name].replace(/\{(\w+)\}/g, (_, key: string) => `${values[key]}`);
}
