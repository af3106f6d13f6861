import { PROTOCOLS, type Protocol } from './protocols.ts';
import { type Chance, chanceFrom } from './random.ts';
import { servingOrders } from './serving-order.ts';

/** One cup as it is put before a taster. */
export interface ServedCup {
  /** The number on the cup. A taster knows nothing else. */
  code: string;
  /** Which sample it is: a position in the list of samples. Never shown to a taster before the session is closed. */
  sample: number;
}

/** One set of cups for one taster: a triangle, a pair, or all cups of a ranking. */
export interface SetOfCups {
  taster: number;
  /** Repeat, from 1. */
  repeat: number;
  /** Cups in the order in which they are tasted. */
  cups: ServedCup[];
  /** Place of the right answer in `cups`, when there is one; of the other of its group in a tetrad. Never shown to a taster. */
  answer: number | null;
}

/** All codes: three digits without any that might hint: no repeated digit (111, 282) and no run (123, 987). */
const CODES: readonly string[] = Array.from({ length: 900 }, (_, i) => String(100 + i)).filter(plain);

/** How many codes there are for one session. */
export const CODE_COUNT = CODES.length;

/** Random three-digit codes, all different; null when more are wanted than there are (`CODE_COUNT`). */
export function threeDigitCodes(count: number, chance: Chance): string[] | null {
  return count > CODES.length ? null : chance.shuffle([...CODES]).slice(0, count);
}

function plain(code: string): boolean {
  const [a, b, c] = [...code].map(Number) as [number, number, number];
  return new Set([a, b, c]).size === 3 && !(b - a === c - b && Math.abs(b - a) === 1);
}

/** Orders of a protocol used equally often within one, who gets which being left to chance. */
export function protocolOrders(protocol: Protocol, sets: number, chance: Chance): string[] {
  const rows: string[] = [];
  while (rows.length < sets) rows.push(...chance.shuffle([...PROTOCOLS[protocol].orders]));
  return chance.shuffle(rows.slice(0, sets));
}

/**
 * Plans a test of difference between samples 0 and 1: for every taster and repeat the order and the codes. Orders are used equally often
 * within one over the session. Which sample is "A" of an order is not tied to its number. null when there are not enough codes.
 */
export function planDifference(
  protocol: Protocol,
  tasters: number,
  repeats: number,
  seed: number,
): SetOfCups[] | null {
  const chance = chanceFrom(seed);
  const orders = protocolOrders(protocol, tasters * repeats, chance);
  const codes = threeDigitCodes(orders.length * PROTOCOLS[protocol].served, chance);
  if (codes === null) return null;
  const swapped = chance.whole(0, 1);
  let next = 0;
  return orders.map((order, i) => ({
    taster: i % tasters,
    repeat: Math.floor(i / tasters) + 1,
    cups: [...order].map((letter) => ({ code: codes[next++]!, sample: (letter === 'A' ? 0 : 1) ^ swapped })),
    answer: rightAnswer(protocol, order),
  }));
}

/** Place of the odd cup, of the match to the reference, or of the cup that goes with the first of a tetrad. */
function rightAnswer(protocol: Protocol, order: string): number | null {
  const letters = [...order];
  if (protocol === 'triangle' || protocol === 'three_afc')
    return letters.findIndex((v) => letters.filter((w) => w === v).length === 1);
  if (protocol === 'duo_trio') return letters.indexOf(letters[0]!, 1);
  if (protocol === 'tetrad') return letters.indexOf(letters[0]!, 1);
  // In a paired test it is known only who has more, not here.
  return null;
}

/** What a ranking, a profile or a ballot of words needs. */
export interface CupsPlan {
  /** Samples without the hidden repeats. */
  samples: number;
  tasters: number;
  /** Samples that are served twice under different codes, to see who repeats. */
  hidden_repeats: readonly number[];
  seed: number;
}

/**
 * Plans a session in which every taster gets every cup: Williams orders over samples and hidden repeats, a code of its own for every cup.
 * null when there are not enough codes.
 */
export function planCups({ samples, tasters, hidden_repeats, seed }: CupsPlan): SetOfCups[] | null {
  const chance = chanceFrom(seed);
  const list = [...Array(samples).keys(), ...hidden_repeats];
  const orders = servingOrders(tasters, list.length, chance);
  const codes = threeDigitCodes(tasters * list.length, chance);
  if (codes === null) return null;
  let next = 0;
  return orders.map((order, taster) => ({
    taster,
    repeat: 1,
    cups: order.map((place) => ({ code: codes[next++]!, sample: list[place]! })),
    answer: null,
  }));
}

/** A line of the sheet for the person who pours and never speaks to the tasters: code → sample. */
export interface PourLine {
  sample: number;
  /** Codes that get this sample, in order of taster. */
  cups: { code: string; taster: number; repeat: number; place: number }[];
}

/** The pour sheet of a plan: by sample, so that one sample is poured at a time. */
export function pourSheet(sets: readonly SetOfCups[]): PourLine[] {
  const lines = new Map<number, PourLine>();
  for (const { taster, repeat, cups } of sets)
    cups.forEach(({ code, sample }, i) => {
      const line = lines.get(sample) ?? { sample, cups: [] };
      lines.set(sample, line);
      line.cups.push({ code, taster, repeat, place: i + 1 });
    });
  return [...lines.values()].sort((a, b) => a.sample - b.sample);
}

/** What a taster may see of a set before the session is closed: codes in order, nothing else. */
export const blinded = ({ repeat, cups }: SetOfCups): { repeat: number; codes: string[] } => ({
  repeat,
  codes: cups.map(({ code }) => code),
});

/** A pause or a rinse in a taster's sequence. */
export interface Pause {
  /** After this many cups. */
  after_cups: number;
  kind: 'rinse' | 'break';
  seconds: number;
}

/** Rinse after every cup and a longer break after every `cupsPerBreak`; common practice: 30 s, and five minutes after six cups. */
export function pauses(
  cups: number,
  {
    rinse_s = 30,
    break_s = 300,
    cupsPerBreak = 6,
  }: { rinse_s?: number; break_s?: number; cupsPerBreak?: number } = {},
): Pause[] {
  return Array.from({ length: Math.max(0, cups - 1) }, (_, i) =>
    (i + 1) % cupsPerBreak === 0
      ? { after_cups: i + 1, kind: 'break', seconds: break_s }
      : { after_cups: i + 1, kind: 'rinse', seconds: rinse_s },
  );
}
