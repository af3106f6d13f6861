import { compileLinePattern, matchLine } from './line-pattern.ts';

/** Words in front of or behind a reading that say whether it stands still, as balances print them (common practice). */
const STABLE = ['st', 'stable'];
const MOVING = ['us', 'unstable'];

/**
 * Proposes a pattern from lines that an instrument printed: the number that changes most from line to line is the reading, what is the same in all
 * lines stands as it is, and words for standing still become flags. Empty when the plain way (first number, its unit) reads them all as well.
 */
export function proposeLinePattern(lines: readonly string[]): string {
  const good = lines.map((line) => line.trim()).filter((line) => /\d/.test(line));
  if (good.length === 0) return '';
  const numbers = good.map((line) =>
    [...line.matchAll(/[+-]?\s*(?:\d+(?:[.,]\d*)?|[.,]\d+)/g)].map((m) => m[0]),
  );
  const count = Math.min(...numbers.map((row) => row.length));
  if (count < 2) return '';
  const changes = Array.from({ length: count }, (_, k) => new Set(numbers.map((row) => row[k])).size);
  const rising = Array.from({ length: count }, (_, k) => alwaysRises(numbers.map((row) => row[k]!)));
  const best = changes
    .map((n, k) => ({ k, score: n - (rising[k] ? 0.5 : 0) }))
    .sort((a, b) => b.score - a.score || b.k - a.k)[0]!.k;
  if (best === 0) return '';
  const before = Array.from({ length: best }, (_, k) => (rising[k] && k === 0 ? '{time}' : '{skip}'));
  const proposed = `{skip}${before.includes('{time}') ? '{time}' : ''}{skip}{number} {unit}`;
  const exact = exactPattern(good[0]!, numbers[0]!, best, before.includes('{time}'));
  return [exact, proposed].find((pattern) => readsAll(pattern, good)) ?? '';
}

/** The first line with its reading, unit and flags as places, and its other numbers passed over. */
function exactPattern(line: string, numbers: readonly string[], reading: number, timed: boolean): string {
  let rest = line;
  let pattern = '';
  numbers.slice(0, reading + 1).forEach((text, k) => {
    const at = rest.indexOf(text);
    pattern += flagged(rest.slice(0, at));
    pattern += k === reading ? '{number}' : timed && k === 0 ? '{time}' : '{skip}';
    rest = rest.slice(at + text.length);
  });
  return `${pattern} {unit}`;
}

const flagged = (text: string): string =>
  text.replaceAll(/[a-z]+/gi, (word) => {
    const plain = word.toLowerCase();
    if (STABLE.includes(plain) || MOVING.includes(plain))
      return `{stable:${STABLE.join('|')}}{moving:${MOVING.join('|')}}`;
    return word;
  });

const alwaysRises = (texts: readonly string[]): boolean => {
  const values = texts.map((text) => Number(text.replaceAll(/\s/g, '').replace(',', '.')));
  return values.length > 2 && values.every((v, i) => i === 0 || v > values[i - 1]!);
};

function readsAll(pattern: string, lines: readonly string[]): boolean {
  const compiled = compileLinePattern(pattern);
  return compiled.ok && lines.every((line) => matchLine(compiled.value, line) !== null);
}
