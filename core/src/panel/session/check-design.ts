import { type TastingTest, TWO_SAMPLE_TESTS } from '../../documents/kinds/tasting-method.ts';
import type { Problem } from '../../documents/problem.ts';
import type { SessionDesign } from './plan-types.ts';
import { sessionProblem } from './sentences.ts';

/** Most sets of one seat that a document keeps. */
const MOST_SETS = 400;

/** Tests in which every cup is judged by itself, so that a hidden repeat says who repeats. */
const SINGLE_CUPS: readonly TastingTest[] = [
  'intensity',
  'check_all',
  'just_about_right',
  'descriptors',
  'temporal',
];

/** Why a design, sound as a document, cannot be run as a blind session. Empty when it can. */
export function checkDesign(design: SessionDesign): Problem[] {
  return [...textsThatTell(design), ...wrongChoices(design)];
}

function wrongChoices(design: SessionDesign): Problem[] {
  const { method, samples, hidden_repeats, cups_each, repeats, windows } = design;
  const problems: Problem[] = [];
  const single = SINGLE_CUPS.includes(method.test);
  if (hidden_repeats.length > 0 && !single)
    problems.push(sessionProblem(['hidden_repeats'], 'no_hidden_here', { value: hidden_repeats.length }));
  if (cups_each !== null) {
    const path = ['cups_each'];
    if (!single && method.test !== 'ranking')
      problems.push(sessionProblem(path, 'no_partial_here', { value: cups_each }));
    else if (cups_each > samples.length)
      problems.push(sessionProblem(path, 'partial_too_many', { value: cups_each, limit: samples.length }));
    else if (hidden_repeats.length > 0 && cups_each < samples.length)
      problems.push(sessionProblem(path, 'partial_and_hidden', { value: cups_each }));
  }
  const pairs = method.test === 'preference' ? (samples.length * (samples.length - 1)) / 2 : 1;
  const sets = pairs * repeats * (single ? 1 : Math.max(1, windows.length));
  if (sets > MOST_SETS)
    problems.push(sessionProblem(['repeats'], 'too_many_sets', { value: sets, limit: MOST_SETS }));
  return problems;
}

/**
 * Texts that tasters read and that hold the name of a sample. Not asked of words and attributes: a sample may be called "sweet" without the
 * question "how sweet?" telling which it is — but a title such as "Two-step grind or not" tells what to look for.
 */
function textsThatTell(design: SessionDesign): Problem[] {
  const texts: [path: string, text: string][] = [
    ['title', design.title],
    ['instructions', design.instructions],
  ];
  return texts.flatMap(([path, text]) =>
    design.samples
      .filter(({ name }) => text.toLowerCase().includes(name.trim().toLowerCase()))
      .map(({ name }) => sessionProblem([path], 'title_tells', { value: name })),
  );
}

/** Whether a test compares exactly two samples. */
export const comparesTwo = (test: TastingTest): boolean => TWO_SAMPLE_TESTS.includes(test);
