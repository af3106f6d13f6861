/** Tests of difference in which an answer is right or wrong. */
export const PROTOCOLS = {
  triangle: {
    guess: 1 / 3,
    served: 3,
    task: 'Three cups, two alike: which is the odd one?',
    orders: ['AAB', 'ABA', 'BAA', 'BBA', 'BAB', 'ABB'],
  },
  duo_trio: {
    guess: 1 / 2,
    served: 3,
    task: 'A reference and two cups: which of the two is the same as the reference?',
    orders: ['AAB', 'ABA', 'BAB', 'BBA'],
  },
  paired: { guess: 1 / 2, served: 2, task: 'Two cups: which has more of it?', orders: ['AB', 'BA'] },
  three_afc: {
    guess: 1 / 3,
    served: 3,
    task: 'Three cups, two alike: which has most of it?',
    orders: ['AAB', 'ABA', 'BAA'],
  },
  tetrad: {
    guess: 1 / 3,
    served: 4,
    task: 'Four cups: make two groups of two that are alike.',
    orders: ['AABB', 'ABAB', 'ABBA', 'BBAA', 'BABA', 'BAAB'],
  },
} as const satisfies Record<
  string,
  {
    /** Chance of a right answer by guessing. Source: sensR man/discrim.Rd; standards ISO 4120, 10399, 5495. */
    guess: number;
    /** Cups in front of a taster, the reference included. */
    served: number;
    task: string;
    /** Serving orders to be used equally often (ISO 4120, 10399; from memory). In a duo-trio the first is the reference. */
    orders: readonly string[];
  }
>;
/** Name of a test of difference. */
export type Protocol = keyof typeof PROTOCOLS;
/** Names of the tests of difference. */
export const PROTOCOL_NAMES = Object.keys(PROTOCOLS) as Protocol[];

/** Chance that a guess is right. */
export const guessOf = (protocol: Protocol): number => PROTOCOLS[protocol].guess;

/** Share of right answers when a share `pd` of tasters tells the cups apart and the others guess. */
export const correctFrom = (pd: number, protocol: Protocol): number => {
  const guess = guessOf(protocol);
  return guess + pd * (1 - guess);
};

/** Share of tasters who tell the cups apart, from the share of right answers; never below 0. */
export const discriminatorsFrom = (pc: number, protocol: Protocol): number => {
  const guess = guessOf(protocol);
  return Math.max(0, (pc - guess) / (1 - guess));
};
