import type { TastingTest } from '../../documents/kinds/tasting-method.ts';
import type { Checked } from '../../documents/problem.ts';
import type { Protocol } from '../protocols.ts';
import type { Chance } from '../random.ts';
import { partialOrders, servingOrders } from '../serving-order.ts';
import { CODE_COUNT, protocolOrders, threeDigitCodes } from '../serving-plan.ts';
import { checkDesign } from './check-design.ts';
import type { PlannedCup, PlannedSet, SessionDesign, SessionPlan } from './plan-types.ts';
import { sessionProblem } from './sentences.ts';

/** Two sources of chance that know nothing of each other, so that codes can never tell what is in the cups. */
export interface Chances {
  /** Which codes are used, in which order. */
  codes: Chance;
  /** Which sample stands where. */
  orders: Chance;
}

/** Tests in which one answer is about a whole set of cups. */
const WHOLE_SETS: readonly TastingTest[] = [
  'triangle',
  'duo_trio',
  'tetrad',
  'three_afc',
  'paired',
  'ranking',
  'preference',
];
/** Whether one answer is about a whole set of cups; otherwise every cup is answered by itself. */
export const answersWholeSet = (test: TastingTest): boolean => WHOLE_SETS.includes(test);

/** Whether the same cups are tasted in every window. Where an answer could be remembered, each window has its own. */
export const sameCupsInWindows = (test: TastingTest): boolean => !answersWholeSet(test) && test !== 'a_not_a';

/** A set before it has codes. */
type BareSet = Omit<PlannedSet, 'cups' | 'right'> & {
  cups: { sample_id: string; known: boolean }[];
  /** Places of the right answer. */
  right: number[];
};

/** What is poured for one seat in one repeat and window. */
type Served = Pick<BareSet, 'cups' | 'right'>;

/**
 * Plans a session for every seat, expected and spare: what stands before whom, in which order, under which code. Expected seats are balanced
 * among themselves, spare ones among themselves. Cups of one repeat are one flight. Codes are dealt by place, never by content.
 * @returns problems when the design cannot be run, or needs more codes than there are
 */
export function planSession(design: SessionDesign, chances: Chances): Checked<SessionPlan> {
  const wrong = checkDesign(design);
  if (wrong.length > 0) return { ok: false, problems: wrong };
  const blocks = [design.seats, design.spare_seats].filter((n) => n > 0);
  let first = 1;
  const bare = blocks.flatMap((seats) => {
    const sets = seatBlock(design, seats, first, chances.orders);
    first += seats;
    return sets;
  });
  bare.sort((a, b) => a.seat - b.seat || a.set - b.set);
  const count = bare.reduce((sum, { cups }) => sum + cups.length, 0);
  const codes = threeDigitCodes(count, chances.codes);
  if (codes === null)
    return {
      ok: false,
      problems: [sessionProblem(['seats'], 'codes_run_out', { value: count, limit: CODE_COUNT })],
    };
  let next = 0;
  const sets = bare.map(({ right, cups, ...set }): PlannedSet => {
    const coded = cups.map((cup): PlannedCup => ({ code: codes[next++]!, ...cup }));
    return { ...set, cups: coded, right: right.map((place) => coded[place]!.code) };
  });
  return {
    ok: true,
    value: { seats: design.seats, spare_seats: design.spare_seats, flights: design.repeats, sets },
  };
}

/** Sets of seats `first` … `first + seats − 1`. */
function seatBlock(design: SessionDesign, seats: number, first: number, chance: Chance): BareSet[] {
  const { test } = design.method;
  const windows =
    design.windows.length > 0 && !sameCupsInWindows(test) ? design.windows.map((w) => w.id) : [null];
  const deal = dealer(design, seats, chance);
  const counts = new Array<number>(seats).fill(0);
  const sets: BareSet[] = [];
  for (let flight = 1; flight <= design.repeats; flight++)
    for (const window_id of windows) {
      const served = deal(window_id);
      served.forEach((list, i) => {
        for (const one of list) {
          counts[i]! += 1;
          sets.push({ seat: first + i, set: counts[i]!, flight, window_id, ...one });
        }
      });
    }
  return sets;
}

/** What is served to each of so many seats in one repeat at one window: [seat][set]. */
type Dealer = (window_id: string | null) => Served[][];

function dealer(design: SessionDesign, seats: number, chance: Chance): Dealer {
  const ids = design.samples.map((s) => s.id);
  const { method } = design;
  switch (method.test) {
    case 'triangle':
    case 'duo_trio':
    case 'tetrad':
      return lettersDealer(method.test, chance.shuffle([...ids]), seats, design.repeats, chance);
    case 'three_afc': {
      const weaker = ids.find((id) => id !== method.stronger_id)!;
      return lettersDealer('three_afc', [weaker, method.stronger_id], seats, design.repeats, chance);
    }
    case 'paired': {
      const pair = chance.shuffle([...ids]);
      return lettersDealer('paired', pair, seats, design.repeats, chance, method.stronger_id);
    }
    case 'a_not_a': {
      const other = ids.find((id) => id !== method.known_id)!;
      const cups = [method.known_id, other].flatMap((id) => new Array<string>(method.each).fill(id));
      return () =>
        Array.from({ length: seats }, () => [
          { cups: [known(method.known_id), ...chance.shuffle([...cups]).map(blind)], right: [] },
        ]);
    }
    case 'preference':
      return () => pairsOf(ids, seats, chance);
    default:
      return () =>
        wholeOrders(design, ids, seats, chance).map((order) => [{ cups: order.map(blind), right: [] }]);
  }
}

const blind = (sample_id: string) => ({ sample_id, known: false });
const known = (sample_id: string) => ({ sample_id, known: true });

/** Orders of a test of difference, used equally often within one at each window over all repeats. */
function lettersDealer(
  protocol: Protocol,
  [a, b]: readonly string[],
  seats: number,
  repeats: number,
  chance: Chance,
  stronger: string | null = null,
): Dealer {
  const decks = new Map<string | null, string[]>();
  return (window_id) => {
    const deck = decks.get(window_id) ?? protocolOrders(protocol, seats * repeats, chance);
    decks.set(window_id, deck);
    return deck.splice(0, seats).map((order) => {
      const letters = [...order];
      const cups = letters.map((letter, place) => {
        const sample = letter === 'A' ? a! : b!;
        return protocol === 'duo_trio' && place === 0 ? known(sample) : blind(sample);
      });
      const right =
        protocol === 'paired'
          ? cups.flatMap((cup, place) => (cup.sample_id === stronger ? [place] : []))
          : rightPlaces(protocol, letters);
      return [{ cups, right }];
    });
  };
}

/** Places of the odd cup, of the one like the reference, or of one group of a tetrad. */
function rightPlaces(protocol: Protocol, letters: readonly string[]): number[] {
  const first = letters[0]!;
  if (protocol === 'tetrad') return letters.flatMap((letter, place) => (letter === first ? [place] : []));
  if (protocol === 'duo_trio') return [letters.indexOf(first, 1)];
  return [letters.findIndex((v) => letters.filter((w) => w === v).length === 1)];
}

/** Every pair of samples for every seat: pairs in an order of its own, and each order within a pair equally often within one over the seats. */
function pairsOf(ids: readonly string[], seats: number, chance: Chance): Served[][] {
  const pairs = ids.flatMap((a, i) => ids.slice(i + 1).map((b) => [a, b] as const));
  const orders = pairs.map((pair) => {
    const start = chance.whole(0, 1);
    const turned = chance.shuffle(Array.from({ length: seats }, (_, i) => (i + start) % 2 === 0));
    return { pair, turned };
  });
  return Array.from({ length: seats }, (_, seat) =>
    chance.shuffle(
      orders.map(({ pair: [a, b], turned }) => ({
        cups: (turned[seat] ? [b, a] : [a, b]).map(blind),
        right: [],
      })),
    ),
  );
}

/** Orders of all cups, hidden repeats among them, or of as many as each taster gets. */
function wholeOrders(
  design: SessionDesign,
  ids: readonly string[],
  seats: number,
  chance: Chance,
): string[][] {
  const list = [...ids, ...design.hidden_repeats];
  const orders =
    design.cups_each === null || design.cups_each === ids.length
      ? servingOrders(seats, list.length, chance)
      : partialOrders(seats, ids.length, design.cups_each, chance);
  return orders.map((order) => order.map((place) => list[place]!));
}
