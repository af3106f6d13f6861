/**
 * x to the power y, for x > 0 or a whole y ≥ 0, the same bits wherever it runs: `**` and `Math.pow` round differently in different
 * versions of one JavaScript engine (a tenth of all arguments, in the last bit), while products, `Math.exp` and `Math.log` were
 * seen to agree. Whole powers by repeated squaring, others as e^(y ln x), which is off by up to about |y ln x| last bits.
 */
export function power(x: number, y: number): number {
  if (!Number.isInteger(y) || y < 0) return Math.exp(y * Math.log(x));
  let result = 1;
  let square = x;
  for (let left = y; left > 0; left = Math.floor(left / 2)) {
    if (left % 2 === 1) result *= square;
    square *= square;
  }
  return result;
}
