import {
  ageWhenTasted,
  agreement,
  type ClosedTasting,
  type Contest,
  candidateWords,
  type Description,
  type DescriptionProposal,
  type DescriptionValue,
  isClosed,
  type Lookup,
  markPrices,
  NO_WINDOW,
  proposeDescription,
  type SaidAgainstTasted,
  STARTING_WORDS,
  type Statement,
  saidAgainstTasted,
  sameWord,
  statementsTasted,
  type TastedSource,
  type TastedWords,
  type TastingWord,
  type WordCandidate,
  type WordPoints,
  wordsTasted,
  wordTree,
} from '@pourline/core';

/** Everything that a description is weighed with. */
export interface DescribeQuestion {
  said: { id: string; window: string; word: string }[];
  statements: Statement[];
  tasted: TastedWords[];
  tree: readonly TastingWord[];
  points: WordPoints;
  judges: number;
  served_age_d: number | null;
}

/** A window with everything that was found at it. */
export interface WindowWords {
  window: string;
  tasters: number;
  agreement: number | null;
  candidates: WordCandidate[];
}

/** A description weighed. */
export interface DescribeAnswer {
  proposal: DescriptionProposal;
  windows: WindowWords[];
  said_against: SaidAgainstTasted[];
}

/** Weighs a description. */
export function describeAnswer(question: DescribeQuestion): DescribeAnswer {
  const { said, tasted, points } = question;
  const tree = wordTree(question.tree);
  const windows = [...new Set(tasted.map(({ window }) => window))];
  return {
    proposal: proposeDescription({
      said,
      statements: question.statements,
      tasted,
      tree,
      points,
      judges: question.judges,
      venue_age_d: question.served_age_d,
    }),
    windows: windows.map((window) => ({
      window,
      tasters: new Set(tasted.filter((t) => t.window === window).map((t) => t.taster)).size,
      agreement: agreement(window, tasted, tree),
      candidates: candidateWords(window, tasted, tree, points),
    })),
    said_against: saidAgainstTasted(said, tasted, tree),
  };
}

/** The closed tastings that a description names, with the cups of each and their age. */
export function sourcesOf(description: Description, lookup: Lookup): TastedSource[] {
  return description.sources.flatMap(({ tasting_id, sample_id, age_d }) => {
    const tasting = lookup(tasting_id);
    if (tasting?.kind !== 'tasting' || !isClosed(tasting)) return [];
    return [{ tasting, sample_id, age_d: age_d ?? ageWhenTasted(tasting, sample_id, lookup) }];
  });
}

/** Possible answers of a statement, as the tastings asked for it; null when none did. */
export function optionsOf(name: string, tastings: readonly ClosedTasting[]): readonly string[] | null {
  for (const { run } of tastings) {
    if (run.method.test !== 'descriptors') continue;
    const found = run.method.statements.find((s) => sameWord(s.name) === sameWord(name));
    if (found) return found.options;
  }
  return null;
}

/** Windows of the sources with the name they have in the words that were tasted. */
export const windowNames = (sources: readonly TastedSource[]): string[] => [
  ...new Set(
    sources.flatMap(({ tasting }) =>
      tasting.run.windows.length > 0 ? tasting.run.windows.map(({ name }) => name) : [NO_WINDOW],
    ),
  ),
];

/** Gathers what a description is weighed with; windows are matched whatever their capitals. */
export function questionOf(
  description: Description,
  lookup: Lookup,
  contest: Contest | null,
): DescribeQuestion {
  const sources = sourcesOf(description, lookup);
  const windows = windowNames(sources);
  const named = (window: string): string => windows.find((w) => sameWord(w) === sameWord(window)) ?? window;
  const answers = statementsTasted(sources);
  const tree = description.words_id === null ? undefined : lookup(description.words_id);
  return {
    said: description.said.map((said) => ({ ...said, window: named(said.window) })),
    statements: description.statements.flatMap(({ name, said, points }) => {
      const options = optionsOf(
        name,
        sources.map(({ tasting }) => tasting),
      );
      if (options === null) return [];
      const own = answers.filter((a) => sameWord(a.name) === sameWord(name));
      return [
        {
          name,
          said,
          options,
          points,
          answers: lastOf(own).map(({ taster, option }) => {
            const offset = description.offsets.find(
              (o) => sameWord(o.taster) === sameWord(taster) && sameWord(o.name) === sameWord(name),
            )?.steps;
            return { taster, answer: option, ...(offset === undefined ? {} : { offset }) };
          }),
        },
      ];
    }),
    tasted: wordsTasted(sources),
    tree: tree?.kind === 'words' ? tree.words : STARTING_WORDS,
    points: description.points,
    judges: contest?.judges ?? description.judges,
    served_age_d: description.served_age_d,
  };
}

/** One answer for each taster: the one given most often, the later of two that are level. */
function lastOf<T extends { taster: string; option: string }>(answers: readonly T[]): T[] {
  return [...new Set(answers.map((a) => a.taster))].map((taster) => {
    const own = answers.filter((a) => a.taster === taster);
    const count = (option: string): number => own.filter((a) => a.option === option).length;
    return own.reduce((best, a) => (count(a.option) >= count(best.option) ? a : best));
  });
}

/** Points of the total for one mark of every judge in the description's category; null when marks are what counts. */
export function priceOf(description: Description, contest: Contest | null): number | null {
  if (contest === null || description.category_id === null) return null;
  const prices = markPrices(contest);
  if (!prices.ok) return null;
  return prices.value.find(({ category }) => category.id === description.category_id)?.all ?? null;
}

/** A value in points of the total. */
export const priced = (value: DescriptionValue, price: number): DescriptionValue => ({
  expected: value.expected * price,
  doubt: value.doubt * Math.abs(price),
  panel_spread: value.panel_spread * Math.abs(price),
});
