/** Entries with their places, for lists whose entries have nothing else to be told apart by. */
export const numbered = <T>(list: readonly T[]): { at: number; of: T }[] =>
  list.map((of, at) => ({ at, of }));
