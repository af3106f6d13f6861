/** A complex number; plain data, never changed in place. */
export interface Complex {
  readonly re: number;
  readonly im: number;
}

export const complex = (re: number, im = 0): Complex => ({ re, im });

export const add = (a: Complex, b: Complex): Complex => ({ re: a.re + b.re, im: a.im + b.im });

export const scale = (a: Complex, factor: number): Complex => ({ re: a.re * factor, im: a.im * factor });

export const multiply = (a: Complex, b: Complex): Complex => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});

export function divide(a: Complex, b: Complex): Complex {
  const norm = b.re * b.re + b.im * b.im;
  return { re: (a.re * b.re + a.im * b.im) / norm, im: (a.im * b.re - a.re * b.im) / norm };
}

export function exponential(a: Complex): Complex {
  const size = Math.exp(a.re);
  return { re: size * Math.cos(a.im), im: size * Math.sin(a.im) };
}

/** Principal square root: real part not negative. */
export function squareRoot(a: Complex): Complex {
  const size = Math.hypot(a.re, a.im);
  const re = Math.sqrt(Math.max(0, (size + a.re) / 2));
  const im = Math.sqrt(Math.max(0, (size - a.re) / 2));
  return { re, im: a.im < 0 ? -im : im };
}

/**
 * z coth z − 1 for a z with real part not negative. Near zero the difference would cancel, so there it is z²/3 − z⁴/45;
 * elsewhere coth z = (1 + e⁻²ᶻ)/(1 − e⁻²ᶻ), which cannot overflow.
 */
export function cothExcess(z: Complex): Complex {
  const square = multiply(z, z);
  if (Math.hypot(square.re, square.im) < 1e-3)
    return add(scale(square, 1 / 3), scale(multiply(square, square), -1 / 45));
  const decay = exponential(scale(z, -2));
  const coth = divide(add(complex(1), decay), add(complex(1), scale(decay, -1)));
  return add(multiply(z, coth), complex(-1));
}
