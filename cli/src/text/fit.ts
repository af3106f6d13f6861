import type {
  ChannelName,
  Fit,
  LearnedName,
  LearnedParameter,
  LearnFinding,
  TrialLesson,
} from '@pourline/core';
import { fixed, table } from './table.ts';

const NAMES: Readonly<Record<LearnedName, string>> = {
  extractable: 'extractable',
  diffusion: 'rate of giving',
  ageing: 'change of the rate with age',
  permeability: 'permeability',
  retained: 'held liquid',
  heat_loss: 'heat loss',
  grind: 'sizes',
};
const CHANNELS: Readonly<Record<ChannelName, string>> = {
  strength: 'strength',
  beverage: 'beverage',
  drawdown: 'drawdown',
  temperature: 'temperature',
};
const VERDICTS: Readonly<Record<LearnedParameter['verdict'], string>> = {
  learned: 'learned',
  somewhat: 'somewhat',
  not_learned: 'not learned',
};

function nameOf({ kind, name, of }: LearnedParameter): string {
  if (kind === 'noise') return `noise of ${CHANNELS[name as ChannelName]}`;
  const words = NAMES[name as LearnedName];
  if (kind === 'between') return `${words}, setups apart`;
  return of ? `${words}, ${of.name}` : words;
}

/** Decimals that tell the width of a band in two digits. */
const decimalsFor = ({ posterior }: LearnedParameter): number =>
  Math.max(0, Math.min(4, 1 - Math.floor(Math.log10(Math.max(1e-4, posterior.high - posterior.low)))));

function parameterLines(parameters: readonly LearnedParameter[]): string[] {
  return table([
    ['parameter', 'unit', 'before 5 %', '95 %', 'now', '5 %', '95 %', 'width', ''],
    ...parameters.map((p) => {
      const d = decimalsFor(p);
      const { prior, posterior } = p;
      return [
        nameOf(p),
        p.unit,
        fixed(prior.low, d),
        fixed(prior.high, d),
        fixed(posterior.mid, d),
        fixed(posterior.low, d),
        fixed(posterior.high, d),
        `${Math.round(100 * p.remaining)} %`,
        VERDICTS[p.verdict],
      ];
    }),
  ]);
}

const DECIMALS: Readonly<Record<ChannelName, number>> = {
  strength: 2,
  beverage: 1,
  drawdown: 0,
  temperature: 1,
};

/** One row a figure, the name of the trial beside the first. */
const lessonRows = (lesson: TrialLesson): string[][] =>
  lesson.figures.map((f, i) => [
    i === 0 ? lesson.name : '',
    i === 0 ? fixed(lesson.age_d, 0) : '',
    i === 0 ? fixed(lesson.bits, 2) : '',
    f.where === null ? CHANNELS[f.channel] : f.where.replaceAll('_', ' '),
    `${fixed(f.measured, DECIMALS[f.channel])} ${f.unit}`,
    `${fixed(f.expected.low, DECIMALS[f.channel])}–${fixed(f.expected.high, DECIMALS[f.channel])}`,
    fixed(f.distance, 1),
  ]);

const bulleted = (findings: readonly LearnFinding[]): string[] =>
  findings.map(
    ({ tone, sentence }) => `${tone === 'note' ? ' ' : tone === 'caution' ? '!' : '#'} ${sentence}`,
  );

/** A fit as tables and sentences. */
export function fitText(fit: Fit): string {
  const { sampler, engine_runs, rounds, surrogate_error } = fit.diagnostics;
  const lines = [
    `${fit.coffee_name}, calibrated on ${fit.trials} ${fit.trials === 1 ? 'trial' : 'trials'}`,
    '',
    ...parameterLines(fit.parameters),
    'width: of what is left open, over that before any trial; × is a factor on the default',
    '',
    ...table([
      ['trial', 'age d', 'bit', 'figure', 'measured', 'expected', 'off by'],
      ...fit.lessons.flatMap(lessonRows),
    ]),
    'bit: information that only this trial gave; off by: in deviations of noise and measurement',
    '',
    ...bulleted(fit.findings),
    '',
    `${engine_runs} runs of the engine in ${rounds} rounds, short form within ${Math.round(100 * surrogate_error)} % of the noise; ${Math.round(sampler.effective)} independent draws of ${sampler.walkers} walkers over ${sampler.steps} steps.`,
  ];
  return lines.map((line) => `${line}\n`).join('');
}
