/** Random numbers a scene is made of. */
export interface Dice {
  /** From 0 up to 1. */
  even(): number;
  /** Standard normal. */
  normal(): number;
}

/** The same dice for the same seed (the mulberry32 generator). */
export function dice(seed: number): Dice {
  let state = seed >>> 0;
  const even = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  return {
    even,
    normal: () => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even()),
  };
}

/** Angles in the table of a shape. */
const ANGLES = 256;

/** A flat grain: a closed line around a middle, turned and stretched. Lengths are pixels of the sheet. */
export interface Shape {
  x: number;
  y: number;
  /** Radius of the circle of the same area: the area is exactly πR². */
  radius: number;
  /** Distance of the line from the middle over R, by angle; its mean square is 1. */
  form: Float64Array;
  /** Length over width, and direction of the length [rad]. */
  slender: number;
  turn: number;
  /** Light it sends back; the sheet sends 1. */
  light: number;
  /** Contrast of the spots on it. */
  spots: number;
}

/** A random irregular shape of a given radius. */
export function randomShape(radius: number, rough: number, slender: number, random: Dice): Shape {
  const waves = Array.from({ length: 8 }, (_, k) => ({
    turns: k + 2,
    height: (rough * random.normal()) / (k + 2) ** 0.8,
    phase: 2 * Math.PI * random.even(),
  }));
  const form = Float64Array.from({ length: ANGLES }, (_, i) => {
    const angle = (2 * Math.PI * i) / ANGLES;
    return Math.max(
      0.45,
      waves.reduce((r, { turns, height, phase }) => r + height * Math.cos(turns * angle + phase), 1),
    );
  });
  // Mean square of the line as it is drawn, straight between table angles: exact for a quadratic.
  let square = 0;
  for (let i = 0; i < ANGLES; i++) {
    const a = form[i]!;
    const b = form[(i + 1) % ANGLES]!;
    square += (a * a + a * b + b * b) / 3 / ANGLES;
  }
  return {
    x: 0,
    y: 0,
    radius,
    form: form.map((f) => f / Math.sqrt(square)),
    slender: 1 + (slender - 1) * Math.abs(random.normal()),
    turn: Math.PI * random.even(),
    light: 0.03 + 0.1 * random.even(),
    spots: 0.35 * random.even(),
  };
}

/** A round shape. */
export const disc = (x: number, y: number, radius: number, light = 0.05): Shape => ({
  x,
  y,
  radius,
  form: new Float64Array(ANGLES).fill(1),
  slender: 1,
  turn: 0,
  light,
  spots: 0,
});

/** Distance of the line from the middle over R at an angle of the form [rad]. */
export function formAt(form: Float64Array, angle: number): number {
  const u = (((angle / (2 * Math.PI)) % 1) + 1) % 1;
  const i = Math.floor(u * ANGLES) % ANGLES;
  const t = u * ANGLES - Math.floor(u * ANGLES);
  return form[i]! * (1 - t) + form[(i + 1) % ANGLES]! * t;
}

/** A circle of this radius around the middle holds the shape [px]. */
export const boundOf = ({ radius, form, slender }: Shape): number =>
  radius * Math.sqrt(slender) * form.reduce((a, b) => Math.max(a, b), 0);

/** How far inside the line a point of the sheet lies [px], negative outside; nearly a distance close to the line. */
export function depth(shape: Shape, x: number, y: number): number {
  const dx = x - shape.x;
  const dy = y - shape.y;
  const c = Math.cos(shape.turn);
  const s = Math.sin(shape.turn);
  const root = Math.sqrt(shape.slender);
  const u = (c * dx + s * dy) / root;
  const v = (c * dy - s * dx) * root;
  return shape.radius * formAt(shape.form, Math.atan2(v, u)) - Math.hypot(u, v);
}

/** Distance of the line from the middle in a direction on the sheet [px]. */
export function reach(shape: Shape, direction: number): number {
  const root = Math.sqrt(shape.slender);
  const u = Math.cos(direction - shape.turn) / root;
  const v = Math.sin(direction - shape.turn) * root;
  return (shape.radius * formAt(shape.form, Math.atan2(v, u))) / Math.hypot(u, v);
}

/** Box around a shape: left, top, right, bottom. */
export function boxOf(shape: Shape): [number, number, number, number] {
  const box: [number, number, number, number] = [shape.x, shape.y, shape.x, shape.y];
  for (let i = 0; i < ANGLES; i++) {
    const angle = (2 * Math.PI * i) / ANGLES;
    const r = reach(shape, angle);
    box[0] = Math.min(box[0], shape.x + r * Math.cos(angle));
    box[1] = Math.min(box[1], shape.y + r * Math.sin(angle));
    box[2] = Math.max(box[2], shape.x + r * Math.cos(angle));
    box[3] = Math.max(box[3], shape.y + r * Math.sin(angle));
  }
  return box;
}
