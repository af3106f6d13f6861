/** Where a number comes from, best first: what was measured outranks what was only planned or predicted. */
export const VALUE_SOURCES = ['measured', 'panel', 'plan', 'predicted'] as const;
export type ValueSource = (typeof VALUE_SOURCES)[number];

/** A number that a talk may speak of. */
export interface BoundValue {
  /** What it is, for example `bed_max_C`. */
  name: string;
  source: ValueSource;
  value: number;
  unit: string;
  /** How far it may be off; null when not known. */
  spread: number | null;
  /** Where exactly it comes from, in words: "trial of 4 March", "plan Four pours". */
  from: string;
  /** False when what it was made from has changed since. */
  current: boolean;
}

/**
 * What holds of a number that is spoken: `true`: it rounds to what is said; `within_spread`: not that, but the doubt covers it; `false`: no longer true;
 * `out_of_date`: what it came from has changed; `unknown`: nothing stands behind it.
 */
export type Truth = 'true' | 'within_spread' | 'false' | 'out_of_date' | 'unknown';

/** One number as it is spoken. */
export interface SpokenValue {
  /** As written in the text, braces and all. */
  written: string;
  name: string;
  shown: string;
  truth: Truth;
  /** Null when nothing stands behind it. */
  source: ValueSource | null;
  from: string | null;
  /** What the source says now. */
  now: number | null;
  /** The sources do not agree: another one, less good, says something else. */
  also: { source: ValueSource; value: number }[];
}

/** A text as it is spoken, with what stands behind each number. */
export interface SpokenText {
  text: string;
  values: SpokenValue[];
  /** Numbers written as plain digits, with nothing behind them. */
  loose: string[];
}

const REFERENCE =
  /\{(?:(measured|panel|plan|predicted):)?([A-Za-z][\w.]*)(?::(\d))?(?:=(-?\d+(?:\.\d+)?))?\}/g;

/**
 * Fills the references of a text. `{dose_g}` takes the best source there is, `{predicted:bed_max_C:0}` that one with no decimals; both
 * follow their source. `{bed_max_C=70}` says 70 whatever happens, and is checked against its source.
 */
export function speakText(text: string, values: readonly BoundValue[]): SpokenText {
  const spoken: SpokenValue[] = [];
  const filled = text.replaceAll(REFERENCE, (written, source, name, decimals, said) => {
    const value = speak(written, name, source ?? null, decimals, said, values);
    spoken.push(value);
    return value.shown;
  });
  const loose = text.replaceAll(REFERENCE, ' ').match(/\d+(?:[.,]\d+)*/g) ?? [];
  return { text: filled, values: spoken, loose };
}

function speak(
  written: string,
  name: string,
  source: ValueSource | null,
  decimals: string | undefined,
  said: string | undefined,
  values: readonly BoundValue[],
): SpokenValue {
  const known = values
    .filter((v) => v.name === name)
    .sort((a, b) => VALUE_SOURCES.indexOf(a.source) - VALUE_SOURCES.indexOf(b.source));
  const found = source === null ? known[0] : known.find((v) => v.source === source);
  if (!found)
    return {
      written,
      name,
      shown: said ?? '…',
      truth: 'unknown',
      source: null,
      from: null,
      now: null,
      also: [],
    };
  const shown = said ?? shownOf(found.value, decimals);
  const places = shown.split('.')[1]?.length ?? 0;
  const also = known
    .filter((v) => v !== found && v.value.toFixed(places) !== found.value.toFixed(places))
    .map((v) => ({ source: v.source, value: v.value }));
  return {
    written,
    name,
    shown,
    truth: truthOf(shown, found),
    source: found.source,
    from: found.from,
    now: found.value,
    also,
  };
}

const shownOf = (value: number, decimals: string | undefined): string =>
  decimals === undefined ? String(Number(value.toPrecision(4))) : value.toFixed(Number(decimals));

/** A number as said is true when its source rounds to it at the decimals that were said. */
function truthOf(shown: string, found: BoundValue): Truth {
  if (!found.current) return 'out_of_date';
  const places = shown.split('.')[1]?.length ?? 0;
  const said = Number(shown);
  const crumb = 1e-9 * Math.max(1, Math.abs(said));
  // A number shown with four digits may be rounded before the point as well.
  const half = Math.max(0.5 * 10 ** -places, Math.abs(found.value) * 5e-5);
  if (Math.abs(found.value - said) <= half + crumb) return 'true';
  return found.spread !== null && Math.abs(found.value - said) <= 2 * found.spread + crumb
    ? 'within_spread'
    : 'false';
}
