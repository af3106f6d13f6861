import { findingsFrom } from '../difference/finding.ts';

/** English sentences of designed sets of brews, by code. Other languages translate by code and values. */
export const designSentences: Readonly<Record<string, string>> = {
  // The sheet.
  order_drawn: 'The order is drawn by chance (seed {seed}); brew in this order, whatever looks handier.',
  order_against_drift:
    'Of many random orders this one is least hurt by a coffee that ages steadily: no effect shares more than {correlation} % with the order.',
  order_with_drift:
    'A steady drift would get into the estimates: the worst effect shares {correlation} % with the order of brewing.',
  blocks_clear:
    'Days or sittings are balanced: none of the effects shares more than {correlation} % with them.',
  blocks_confounded:
    'With {blocks} days, effects share up to {correlation} % with the days; fewer days or more brews a day part them.',
  sheet_cost: '{runs} brews, {grams} g of coffee.',
  step_too_coarse:
    '{factor}: {low} to {high} {unit} cannot be set in {levels} different levels with steps of {step} {unit}.',
  step_rounds: '{factor}: levels are rounded to what can be set ({step} {unit}).',
  // What a design can tell.
  design_clear: 'All main effects and two-factor products are told apart.',
  design_resolution_3:
    'A main effect comes out together with products of two others ({example}): good for finding what matters, not how it works together.',
  design_resolution_4: 'Main effects are clear; products of two come out in groups ({example}).',
  design_leaks: 'Products of two leak in parts into the main effects of others: trust large effects only.',
  design_curved: 'Bends are told apart from products: a best level inside the range can be found.',
  design_only_lines:
    'Two levels show lines, not bends: a best level between them stays unseen. Centre brews show whether there is a bend.',
  // What was learnt.
  no_fit:
    'Nothing can be said: {runs} brews cannot carry a model of {terms} terms. Take a smaller model, or brew more.',
  saturated:
    'Every brew is used up by the model, so nothing says how far brews scatter; effects are held against each other (Lenth).',
  saturated_few:
    'Every brew is used up by the model and there are fewer than five effects: none of them can be told from chance. Repeat some brews.',
  few_left: 'Only {df} degrees of freedom are left to say how far brews scatter: the limits are wide.',
  effect_clear: '{name}: from low to high {figure} goes {direction} by {size} {unit} (p {p}){aliases}.',
  coefficient_clear: '{name}: {value} (p {p}){aliases}.',
  effect_stands_out:
    '{name}: from low to high {figure} goes {direction} by {size} {unit}; it stands out among the effects{aliases}.',
  effect_perhaps:
    '{name}: perhaps, from low to high {figure} goes {direction} by {size} {unit} (p {p}){aliases}.',
  effects_none:
    'No effect is shown. That does not mean that there is none: those below {limit} {unit} stay unseen in these brews.',
  terms_dropped: 'Cannot be told apart from others in these brews, so left out: {names}.',
  lack_of_fit_clear:
    'The model does not fit: it misses the brews by more than repeats scatter (p {p}). A bend or a product is missing.',
  lack_of_fit_not_shown: 'The model fits as far as repeats can tell (p {p}).',
  no_repeats: 'Nothing was repeated, so whether the model fits cannot be tested.',
  fit_quality: 'The model explains {r2} % of the variation; brews scatter by {s} {unit} about it.',
  best_inside: 'Best expected at {levels}: {value} ± {se} {unit}.',
  best_edge:
    'Best expected at {levels}: {value} ± {se} {unit}. That is at the edge of what was tried ({edges}): go further there.',
  best_no_error: 'Best expected at {levels}: {value} {unit}; how far off that may be cannot be said.',
  saddle: 'The surface is a saddle: better in two opposite directions. Look along {direction}.',
  ridge:
    'The surface is a ridge: along {direction} nothing much changes, so choose there by what is easier for the hands.',
  best_confirm: 'Confirm it with {runs} brews: they should lie between {low} and {high} {unit}.',
  not_a_mixture: 'Run {run}: the shares sum to {sum}; they must sum to 1.',
};

/** A finding about a designed set. */
export const designFinding = findingsFrom(designSentences);
