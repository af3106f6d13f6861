/** Kinds of line and mark by which series are told apart without colour; they repeat after six. */
const DASHES = ['', '9 4', '2 4', '12 4 2 4', '5 3 2 3 2 3', '16 5'] as const;

/** Dash pattern of the n-th line; the first is whole. */
export const dashOf = (i: number): string | undefined => DASHES[i % DASHES.length] || undefined;

const SHAPES = [
  'M-3.5 0a3.5 3.5 0 107 0a3.5 3.5 0 10-7 0z',
  'M-3.2 -3.2h6.4v6.4h-6.4z',
  'M0 -4.2L4 3.2H-4z',
  'M0 -4.6L4.6 0L0 4.6L-4.6 0z',
  'M-1.3 -4h2.6v2.7h2.7v2.6h-2.7v2.7h-2.6v-2.7h-2.7v-2.6h2.7z',
  'M0 4.2L4 -3.2H-4z',
] as const;

/** Outline of the n-th mark around (0, 0). */
export const shapeOf = (i: number): string => SHAPES[i % SHAPES.length]!;

/** A little of a line with its letter, for lists beside a chart. */
export function LineKey({ index, letter }: { index: number; letter: string }) {
  return (
    <svg className="size-key" viewBox="0 0 44 20" aria-hidden="true" focusable="false">
      <path className="size-line" d="M2 10H42" strokeDasharray={dashOf(index)} />
      <circle className="size-letter-ground" cx={22} cy={10} r={8.5} />
      <text className="size-letter" x={22} y={14.2} textAnchor="middle">
        {letter}
      </text>
    </svg>
  );
}
