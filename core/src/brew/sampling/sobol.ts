import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { JOE_KUO } from './joe-kuo.ts';

const BITS = 32;
const SCALE = 2 ** -BITS;

/** Dimension 2 and up: polynomial and initial direction numbers. */
const rows = JOE_KUO.trim()
  .split(/[,\n]/)
  .map((row) => row.split(' ').map(Number));

/** The most dimensions a sequence can have. */
export const MAX_DIMENSIONS = rows.length + 1;

/**
 * Points of low discrepancy in the unit cube, `[count][dimensions]`, row-major: the Sobol sequence in Gray-code order
 * (Antonov and Saleev 1979) with the direction numbers of Joe and Kuo 2008. With a seed it is scrambled: Owen's nested
 * uniform scrambling, by hashing as in B. Burley, "Practical hash-based Owen scrambling", J. Comput. Graphics Techniques
 * 9(4), 2020 (constants from memory; what counts is that a bit is changed by higher bits only, which tests hold). Any 2^m
 * points that start at a multiple of 2^m put exactly one into each of 2^m equal slices of every dimension. `null` gives
 * the plain sequence, which starts at the corner 0.
 * @throws RangeError when there are more dimensions than direction numbers
 */
export function sobolPoints(count: number, dimensions: number, seed: number | null): Float64Array {
  if (dimensions > MAX_DIMENSIONS)
    throw new RangeError(`sobolPoints: ${dimensions} dimensions, at most ${MAX_DIMENSIONS}`);
  const points = new Float64Array(count * dimensions);
  const random = seed === null ? null : xoroshiro128plus(seed);
  for (let d = 0; d < dimensions; d++) {
    const direction = directionsOf(d);
    const key = random ? random.next() >>> 0 : 0;
    let x = 0;
    for (let i = 0; i < count; i++) {
      points[i * dimensions + d] = random ? (scrambled(x, key) + 0.5) * SCALE : (x >>> 0) * SCALE;
      x ^= direction[trailingOnes(i)]!;
    }
  }
  return points;
}

/** Direction numbers of one dimension (from 0) as integers with the first bit highest, `[32]`. */
function directionsOf(dimension: number): Uint32Array {
  const v = new Uint32Array(BITS);
  if (dimension === 0) {
    for (let j = 0; j < BITS; j++) v[j] = 1 << (BITS - 1 - j);
    return v;
  }
  const [polynomial, ...m] = rows[dimension - 1]! as [number, ...number[]];
  const degree = m.length;
  for (let j = 0; j < degree; j++) v[j] = m[j]! << (BITS - 1 - j);
  for (let j = degree; j < BITS; j++) {
    let x = v[j - degree]! ^ (v[j - degree]! >>> degree);
    for (let k = 1; k < degree; k++) if ((polynomial >>> (degree - k)) & 1) x ^= v[j - k]!;
    v[j] = x;
  }
  return v;
}

/** Number of ones at the low end of i: the direction in which the next point of the Gray code lies. */
const trailingOnes = (i: number): number => 31 - Math.clz32(~i & (i + 1));

/** Nested uniform scrambling of the bits of x, highest first. */
const scrambled = (x: number, key: number): number => reversed(mixedUpwards(reversed(x), key)) >>> 0;

/** A permutation of 32 bits in which each bit depends on itself and lower ones only (Laine and Karras 2011). */
function mixedUpwards(x: number, key: number): number {
  let y = (x + key) | 0;
  y ^= Math.imul(y, 0x6c50b47c);
  y ^= Math.imul(y, 0xb82f1e52);
  y ^= Math.imul(y, 0xc7afe638);
  y ^= Math.imul(y, 0x8d22f6e6);
  return y;
}

/** The 32 bits of x in reverse. */
function reversed(x: number): number {
  let y = x;
  y = ((y >>> 1) & 0x55555555) | ((y & 0x55555555) << 1);
  y = ((y >>> 2) & 0x33333333) | ((y & 0x33333333) << 2);
  y = ((y >>> 4) & 0x0f0f0f0f) | ((y & 0x0f0f0f0f) << 4);
  y = ((y >>> 8) & 0x00ff00ff) | ((y & 0x00ff00ff) << 8);
  return (y >>> 16) | (y << 16);
}
