import type { ChannelName, LearnedName } from './types.ts';

/** What a parameter is called in a sentence. */
export const PARAMETER_WORDS: Readonly<Record<LearnedName, string>> = {
  extractable: 'the extractable share',
  diffusion: 'how fast the grains give',
  ageing: 'the change with age',
  permeability: 'how easily the bed lets water through',
  retained: 'the liquid that stays in the bed',
  heat_loss: 'how much heat is lost',
  grind: 'how far the grind is off',
};

/** What would tell a parameter that the trials do not. */
export const ADVICE: Readonly<Record<LearnedName, string>> = {
  extractable: 'Measure strengths, best also of one long immersion, where nothing but this counts.',
  diffusion: 'Measure strengths of brews at two grinds or two temperatures.',
  ageing: 'Brew the same plan again a week or more later, and give the coffee its roast date.',
  permeability: 'Time the drawdown.',
  retained: 'Weigh the beverage of a brew that has drained.',
  heat_loss: 'Put a thermometer into the bed, or into the server at the end.',
  grind: 'Measure the sizes of a setting, or brew at two settings and time both.',
};

/** What would tell two parameters apart. */
export const PAIR_ADVICE: Readonly<Record<string, string>> = {
  'diffusion extractable': 'A long immersion tells them apart.',
  'diffusion grind': 'Sizes from sieves or a photograph tell them apart.',
  'grind permeability': 'Sizes from sieves or a photograph tell them apart.',
  'ageing diffusion': 'The same plan at another age tells them apart.',
};
export const ANY_PAIR_ADVICE = 'Change one thing at a time between brews, or measure one more figure.';

/** What a measured figure is called in a sentence. */
export const CHANNEL_WORDS: Readonly<Record<ChannelName, string>> = {
  strength: 'the strength',
  beverage: 'the mass of the beverage',
  drawdown: 'the drawdown',
  temperature: 'the temperature',
};

/** A number with as many digits as a person wants to read, and its unit. */
export function written(value: number, unit: string): string {
  const size = Math.abs(value);
  const decimals = unit === '%/d' || size < 1 ? 2 : size < 10 ? 2 : size < 100 ? 1 : 0;
  const number = Number(value.toFixed(decimals));
  return unit === '×' ? `${number} ×` : unit === '' ? `${number}` : `${number} ${unit}`;
}
