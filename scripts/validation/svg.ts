/** Line plots as plain SVG text that reads in light and dark. */

/** A row of points, drawn as a line, a dashed line, or dots. */
export interface Series {
  name: string;
  style: 'line' | 'dashed' | 'dots';
  /** 0–5: one colour an index, the same in all plots. */
  colour: number;
  points: readonly (readonly [number, number])[];
}

/** An axis: its words, its ends, and whether it is logarithmic. */
export interface Axis {
  label: string;
  from: number;
  to: number;
  log?: boolean;
}

/** A plot. `band` shades a range of y that counts as agreement. */
export interface Plot {
  title: string;
  description: string;
  x: Axis;
  y: Axis;
  series: readonly Series[];
  band?: { from: number; to: number; name: string };
}

const WIDTH = 720;
const HEIGHT = 400;
const BOX = { left: 68, right: 20, top: 64, bottom: 52 };
const INNER = { width: WIDTH - BOX.left - BOX.right, height: HEIGHT - BOX.top - BOX.bottom };

/** Colours that hold against white and against near-black, told apart by the colour-blind (after Okabe and Ito). */
const STYLE = `
  text { font: 13px system-ui, sans-serif; fill: #1d2733; }
  .title { font-weight: 600; font-size: 15px; }
  .axis { stroke: #5b6875; stroke-width: 1; fill: none; }
  .grid { stroke: #d9dee4; stroke-width: 1; }
  .back { fill: #ffffff; }
  .band { fill: #0072b2; opacity: 0.12; }
  .c0 { --c: #0072b2; } .c1 { --c: #b34700; } .c2 { --c: #007a5a; } .c3 { --c: #a03d7d; } .c4 { --c: #7a6000; } .c5 { --c: #4a5568; }
  .line { stroke: var(--c); fill: none; stroke-width: 2; stroke-linejoin: round; }
  .dashed { stroke: var(--c); fill: none; stroke-width: 2; stroke-dasharray: 6 4; }
  .dots { fill: var(--c); }
  @media (prefers-color-scheme: dark) {
    text { fill: #e6ebf0; } .back { fill: #14191f; } .grid { stroke: #2b343d; } .axis { stroke: #93a1af; } .band { opacity: 0.25; }
    .c0 { --c: #56b4e9; } .c1 { --c: #ff9a52; } .c2 { --c: #3fd0a4; } .c3 { --c: #e79bc9; } .c4 { --c: #e2c541; } .c5 { --c: #a9b5c2; }
  }`;

/** Draws a plot. The same input gives the same text. */
export function drawPlot(plot: Plot): string {
  const x = scaleOf(plot.x, BOX.left, BOX.left + INNER.width);
  const y = scaleOf(plot.y, BOX.top + INNER.height, BOX.top);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-labelledby="t d">`,
    `<title id="t">${escaped(plot.title)}</title><desc id="d">${escaped(plot.description)}</desc>`,
    `<style>${STYLE}\n</style>`,
    `<rect class="back" width="${WIDTH}" height="${HEIGHT}"/>`,
    `<text class="title" x="${BOX.left}" y="24">${escaped(plot.title)}</text>`,
    ...bandOf(plot, y),
    ...gridOf(plot, x, y),
    ...plot.series.map((series) => drawSeries(series, plot, x, y)),
    ...legendOf(plot),
    '</svg>\n',
  ].join('\n');
}

type Scale = (value: number) => number;

function scaleOf(axis: Axis, start: number, end: number): Scale {
  const of = axis.log ? Math.log10 : (v: number) => v;
  const from = of(axis.from);
  const span = of(axis.to) - from;
  return (value) => start + ((of(value) - from) / span) * (end - start);
}

/** Round values inside an axis: decades of a logarithmic one, else steps of 1, 2 or 5 that give four to nine marks. */
export function ticksOf(axis: Axis): number[] {
  if (axis.log) {
    const first = Math.ceil(Math.log10(axis.from) - 1e-9);
    const count = Math.floor(Math.log10(axis.to) + 1e-9) - first + 1;
    return Array.from({ length: count }, (_, i) => 10 ** (first + i));
  }
  const rough = (axis.to - axis.from) / 6;
  const decade = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((m) => m * decade).find((s) => s >= rough)!;
  const first = Math.ceil(axis.from / step - 1e-9);
  const count = Math.floor(axis.to / step + 1e-9) - first + 1;
  return Array.from({ length: count }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}

function gridOf(plot: Plot, x: Scale, y: Scale): string[] {
  const bottom = BOX.top + INNER.height;
  const right = BOX.left + INNER.width;
  return [
    ...ticksOf(plot.y).flatMap((v) => [
      `<line class="grid" x1="${BOX.left}" x2="${right}" y1="${px(y(v))}" y2="${px(y(v))}"/>`,
      `<text x="${BOX.left - 8}" y="${px(y(v) + 4)}" text-anchor="end">${mark(v, plot.y)}</text>`,
    ]),
    ...ticksOf(plot.x).flatMap((v) => [
      `<line class="axis" x1="${px(x(v))}" x2="${px(x(v))}" y1="${bottom}" y2="${bottom + 5}"/>`,
      `<text x="${px(x(v))}" y="${bottom + 19}" text-anchor="middle">${mark(v, plot.x)}</text>`,
    ]),
    `<path class="axis" d="M${BOX.left} ${BOX.top}V${bottom}H${right}"/>`,
    `<text x="${BOX.left + INNER.width / 2}" y="${HEIGHT - 10}" text-anchor="middle">${escaped(plot.x.label)}</text>`,
    `<text transform="translate(16 ${BOX.top + INNER.height / 2}) rotate(-90)" text-anchor="middle">${escaped(plot.y.label)}</text>`,
  ];
}

function bandOf(plot: Plot, y: Scale): string[] {
  if (!plot.band) return [];
  const top = y(plot.band.to);
  return [
    `<rect class="band" x="${BOX.left}" width="${INNER.width}" y="${px(top)}" height="${px(y(plot.band.from) - top)}"/>`,
  ];
}

function drawSeries(series: Series, plot: Plot, x: Scale, y: Scale): string {
  const inside = series.points.filter(
    ([a, b]) =>
      Number.isFinite(b) && a >= plot.x.from && a <= plot.x.to && b >= plot.y.from && b <= plot.y.to,
  );
  if (series.style === 'dots')
    return `<g class="dots c${series.colour}">${inside.map(([a, b]) => `<circle cx="${px(x(a))}" cy="${px(y(b))}" r="3.2"/>`).join('')}</g>`;
  const path = inside.map(([a, b], i) => `${i === 0 ? 'M' : 'L'}${px(x(a))} ${px(y(b))}`).join('');
  return `<path class="${series.style} c${series.colour}" d="${path}"/>`;
}

/** The legend in one line over the box: a sample of each style and its name. */
function legendOf(plot: Plot): string[] {
  let left = BOX.left;
  const put = (sample: (at: number) => string, name: string): string => {
    const at = left;
    left += 34 + name.length * 6.9 + 18;
    return `${sample(at)}<text x="${px(at + 30)}" y="48">${escaped(name)}</text>`;
  };
  const lines = plot.series
    .filter((series) => series.name !== '')
    .map((series) =>
      put(
        (at) =>
          series.style === 'dots'
            ? `<circle class="dots c${series.colour}" cx="${px(at + 12)}" cy="44" r="3.2"/>`
            : `<path class="${series.style} c${series.colour}" d="M${px(at)} 44h24"/>`,
        series.name,
      ),
    );
  if (plot.band)
    lines.push(
      put((at) => `<rect class="band" x="${px(at)}" y="37" width="24" height="14"/>`, plot.band.name),
    );
  return lines;
}

const px = (value: number): string => String(Math.round(value * 10) / 10);
const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
const SUPERSCRIPT: Readonly<Record<string, string>> = Object.fromEntries(
  [...'⁰¹²³⁴⁵⁶⁷⁸⁹'].map((s, i) => [String(i), s]),
);
const mark = (value: number, axis: Axis): string => {
  if (!axis.log || (value >= 0.01 && value <= 1_000)) return String(value).replace('-', '−');
  const exponent = Math.round(Math.log10(value));
  return `10${exponent < 0 ? '⁻' : ''}${[...String(Math.abs(exponent))].map((d) => SUPERSCRIPT[d]).join('')}`;
};
