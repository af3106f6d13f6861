/** Sizes of paper and card that there is a page rule for, with the width between their margins [mm]. */
export const PAPERS = ['a4', 'a5', 'letter', 'card', 'small_card'] as const;
export type Paper = (typeof PAPERS)[number];

/** Between the margins [mm]: as the page rules have it. */
export const PRINTED_MM: Readonly<Record<Paper, number>> = {
  a4: 182,
  a5: 128,
  letter: 187.9,
  card: 93,
  small_card: 64,
};

/** What can be printed. */
export const SHEETS = ['card', 'run', 'table', 'jars', 'judges'] as const;
export type Sheet = (typeof SHEETS)[number];
