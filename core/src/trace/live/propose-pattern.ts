import { unitNamed } from '../units.ts';
import { compileLinePattern, matchLine } from './line-pattern.ts';

/** Words in front of or behind a reading that say whether it stands still, as balances print them (common practice). */
const STABLE = ['st', 'stable'];
const MOVING = ['us', 'unstable'];
const NUMBER = /[+-]?\s*(?:\d+(?:[.,]\d*)?|[.,]\d+)/g;

interface Numbered {
  text: string;
  value: number;
  /** What stands right behind it is a unit that is known. */
  unit: boolean;
}

/**
 * Proposes a pattern from lines that an instrument printed: the reading is the number with a unit behind it, or the one that changes most; numbers before it
 * that change are passed over, what never changes stands as it is, and words for standing still become flags. Empty when the plain way (first
 * number, its unit) reads them as well, or when no pattern reads them all.
 */
export function proposeLinePattern(lines: readonly string[]): string {
  const good = lines.map((line) => line.trim()).filter((line) => /\d/.test(line));
  const rows = good.map(numbersIn);
  const count = Math.min(...rows.map((row) => row.length));
  if (good.length === 0 || count < 2) return '';
  const scores = Array.from({ length: count }, (_, k) => {
    const changes = new Set(rows.map((row) => row[k]!.text)).size;
    return changes + (rows[0]![k]!.unit ? 2 * good.length : 0);
  });
  const reading = scores.indexOf(Math.max(...scores));
  if (reading === 0) return '';
  const pattern = patternOf(good[0]!, rows, reading);
  const compiled = compileLinePattern(pattern);
  const reads = (line: string, i: number) =>
    compiled.ok && matchLine(compiled.value, line)?.value === rows[i]![reading]!.value;
  return good.every(reads) ? pattern : '';
}

function numbersIn(line: string): Numbered[] {
  return [...line.matchAll(NUMBER)].map((found) => ({
    text: found[0],
    value: Number(found[0].replaceAll(/\s/g, '').replace(',', '.')),
    unit: unitNamed(/^\s*([a-z°%]+)/i.exec(line.slice(found.index + found[0].length))?.[1] ?? '') !== null,
  }));
}

/** The first line with its reading and unit as places; other numbers stand as they are when they never change. */
function patternOf(line: string, rows: readonly Numbered[][], reading: number): string {
  let rest = line;
  let pattern = '';
  for (let k = 0; k <= reading; k++) {
    const { text } = rows[0]![k]!;
    const at = rest.indexOf(text);
    const same = rows.every((row) => row[k]!.text === text);
    pattern += flagged(rest.slice(0, at));
    pattern += k === reading ? '{number}' : same ? text : '{time}';
    rest = rest.slice(at + text.length);
  }
  return `${pattern} {unit}`;
}

const flagged = (text: string): string =>
  text.replaceAll(/[a-z]+/gi, (word) => {
    const plain = word.toLowerCase();
    const known = STABLE.includes(plain) || MOVING.includes(plain);
    return known ? `{stable:${STABLE.join('|')}}{moving:${MOVING.join('|')}}` : word;
  });
