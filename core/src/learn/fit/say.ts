import { type LearnFinding, learnFinding } from './finding.ts';
import type { Layout } from './layout.ts';
import { notComputed } from './lessons.ts';
import type { Evidence } from './target.ts';
import type {
  CorrelatedPair,
  FitDiagnostics,
  LearnedName,
  LearnedParameter,
  TrialLesson,
  TrialSet,
} from './types.ts';
import { ADVICE, ANY_PAIR_ADVICE, CHANNEL_WORDS, PAIR_ADVICE, PARAMETER_WORDS, written } from './words.ts';

/** A figure further out than this many deviations is pointed at. */
const FAR_OUT = 3.5;
/** Errors of the short form of the engine above this share of the noise are said. */
const ROUGH = 0.5;
/** Fewer independent draws than this are said … */
const FEW_DRAWS = 200;
/** … and widths that differ by more than this factor between the two ways. */
const WIDTHS_APART = 1.6;

/** What a finding needs to be said. */
export interface Told {
  set: TrialSet;
  layout: Layout;
  evidence: readonly Evidence[];
  parameters: readonly LearnedParameter[];
  correlated: readonly CorrelatedPair[];
  lessons: readonly TrialLesson[];
  diagnostics: FitDiagnostics;
}

/** Everything a fit has to say, the most important first. */
export function sayFit(told: Told): LearnFinding[] {
  const { set } = told;
  return [
    ...(set.trials.length === 1 ? [learnFinding('caution', 'one_trial')] : []),
    ...noises(told),
    ...surprises(told),
    ...missing(told),
    ...beyond(told),
    ...told.parameters.filter(isUnlearned).map(unlearned),
    ...told.correlated.map((pair) => pairFinding(pair, told.parameters)),
    ...doubts(told.diagnostics),
    ...(told.parameters.some(({ id }) => id === 'noise.strength')
      ? [learnFinding('note', 'meter_goes_in')]
      : []),
    learnFinding('note', 'calibrated', { trials: set.trials.length, coffee: set.coffee.name }),
  ];
}

/** A parameter in words, with the setup or grinder it belongs to. */
const wordsOf = ({ name, of }: LearnedParameter): string => {
  const words = PARAMETER_WORDS[name as LearnedName];
  return of ? `${words} (${of.name})` : words;
};

const isUnlearned = ({ kind, verdict }: LearnedParameter): boolean =>
  verdict === 'not_learned' && (kind === 'coffee' || kind === 'grinder');

const unlearned = (p: LearnedParameter): LearnFinding =>
  learnFinding('caution', 'not_learned', {
    id: p.id,
    parameter: wordsOf(p),
    advice: ADVICE[p.name as LearnedName],
  });

function pairFinding(
  { a, b, correlation }: CorrelatedPair,
  parameters: readonly LearnedParameter[],
): LearnFinding {
  const [first, second] = [a, b].map((id) => parameters.find((p) => p.id === id)!) as [
    LearnedParameter,
    LearnedParameter,
  ];
  const key = [first.name, second.name].sort().join(' ');
  return learnFinding('caution', 'correlated', {
    a,
    b,
    first: wordsOf(first),
    second: wordsOf(second),
    correlation: Number(correlation.toFixed(2)),
    advice: PAIR_ADVICE[key] ?? ANY_PAIR_ADVICE,
  });
}

/** Noise beyond what was thought possible: the trials contradict each other. */
function noises({ parameters }: Told): LearnFinding[] {
  return parameters
    .filter(({ kind, posterior, prior }) => kind === 'noise' && posterior.mid > prior.high)
    .map((p) =>
      learnFinding('problem', 'noise_large', {
        id: p.id,
        channel: CHANNEL_WORDS[p.name as keyof typeof CHANNEL_WORDS],
        noise: written(p.posterior.mid, p.unit),
        usual: written(p.prior.mid, p.unit),
      }),
    );
}

function surprises({ lessons }: Told): LearnFinding[] {
  return lessons.flatMap((lesson) =>
    lesson.figures
      .filter(({ distance }) => Math.abs(distance) >= FAR_OUT)
      .map((figure) =>
        learnFinding(
          'caution',
          'surprise',
          {
            trial: lesson.name,
            channel: figure.channel,
            figure: CHANNEL_WORDS[figure.channel],
            measured: written(figure.measured, figure.unit),
            low: written(figure.expected.low, figure.unit),
            high: written(figure.expected.high, figure.unit),
            weight: Math.round(100 * figure.weight),
          },
          lesson.trial_id,
        ),
      ),
  );
}

function missing({ set, evidence }: Told): LearnFinding[] {
  return notComputed(evidence).map(({ trial, channel }) => {
    const { id, name } = set.trials[trial]!.trial;
    return learnFinding(
      'caution',
      'figure_not_computed',
      { trial: name, channel, figure: CHANNEL_WORDS[channel] },
      id,
    );
  });
}

/** Parameters that ended outside of what the defaults hold plausible. */
function beyond({ parameters }: Told): LearnFinding[] {
  return parameters
    .filter(({ kind, posterior, prior }) => {
      const outside = posterior.mid < prior.low || posterior.mid > prior.high;
      return outside && (kind === 'coffee' || kind === 'grinder');
    })
    .map((p) =>
      learnFinding('caution', 'beyond_default', {
        id: p.id,
        parameter: wordsOf(p),
        value: written(p.posterior.mid, p.unit),
        low: written(p.prior.low, p.unit),
        high: written(p.prior.high, p.unit),
        advice: ADVICE[p.name as LearnedName],
      }),
    );
}

function doubts({ surrogate_error, sampler }: FitDiagnostics): LearnFinding[] {
  const found: LearnFinding[] = [];
  if (surrogate_error > ROUGH)
    found.push(learnFinding('caution', 'rough_model', { error: `${Math.round(100 * surrogate_error)} %` }));
  const details = [
    ...(sampler.effective < FEW_DRAWS ? [`${Math.round(sampler.effective)} independent draws`] : []),
    ...(sampler.width_ratio > WIDTHS_APART
      ? [`widths apart by a factor of ${sampler.width_ratio.toFixed(1)}`]
      : []),
  ];
  if (details.length > 0)
    found.push(learnFinding('caution', 'sampler_unsure', { detail: details.join(', ') }));
  return found;
}
