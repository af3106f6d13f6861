/** The validation report as Markdown. */
import type { Figure, Gap, Outcome } from './check.ts';
import { type ConvergenceTable, type Distance, type Sample, spread } from './convergence.ts';
import type { NamedPlot } from './curves.ts';
import { CUP_G, hasCup } from './numerics-checks.ts';

/** Everything the report is made from. */
export interface ReportInput {
  outcomes: readonly Outcome[];
  numerics: readonly Outcome[];
  gaps: readonly Gap[];
  tables: readonly ConvergenceTable[];
  sample: Sample;
  plots: readonly NamedPlot[];
  version: string;
}

/** Writes the report. The same input gives the same text. */
export function reportOf(input: ReportInput): string {
  const all = [...input.outcomes, ...input.numerics];
  const held = all.filter((o) => o.verdict === 'holds').length;
  return [
    '# Validation of the brew engine',
    'Written by `npx tsx scripts/validation/write.ts`; do not edit by hand. A test holds the list of checks and their verdicts against the engine.',
    `Engine ${input.version}. Of ${all.length} checks, ${held} hold and ${all.length - held} fail; ${input.gaps.length === 1 ? 'one could' : `${input.gaps.length} could`} not be made for want of data. Failures stay in the list, with the physics of why.`,
    howToRead(),
    '## Summary',
    summary(all, input.gaps),
    '## What does not hold',
    ...all.filter((o) => o.verdict === 'fails').map(failure),
    '## What could not be checked',
    ...input.gaps.map((gap) => `**${gap.id} — ${gap.title}.** ${gap.source} (${gap.tag}). ${gap.gap}`),
    '## Curves',
    ...input.plots.map(
      ({ name, checks, plot }) =>
        `### ${plot.title}\n\nFor ${checks}. ${plot.description}\n\n![${plot.title}](validation/${name}.svg)`,
    ),
    '## Every check',
    ...input.outcomes.map(section),
    '## Numerics',
    'Each row is what the next refinement still changes; the order is how fast that falls. Steps are fixed and not adapted, so that the order can be seen.',
    ...input.tables.map(convergence),
    sampleTable(input.sample),
    ...input.numerics.map(section),
  ]
    .join('\n\n')
    .concat('\n');
}

const howToRead = (): string =>
  [
    'How far a source was followed up stands beside it:',
    '',
    '- **computed**: exact, or worked out from the formula named;',
    '- **read**: the figure was read in the source (mostly its abstract);',
    '- **second-hand**: quoted elsewhere, the source itself not opened: unverified;',
    '- **from memory**: not looked up: unverified;',
    '- **common practice**: trade writing, no authority.',
    '',
    'All runs use the default constants. Where a default was chosen by the very figure it is checked with, the check says so.',
  ].join('\n');

function summary(outcomes: readonly Outcome[], gaps: readonly Gap[]): string {
  const rows = outcomes.map(({ check, verdict }) => [check.id, check.title, check.kind, check.tag, verdict]);
  const missing = gaps.map((gap) => [gap.id, gap.title, 'measured', gap.tag, 'no data']);
  return table(['check', 'what', 'against', 'source is', 'verdict'], [...rows, ...missing]);
}

const failure = ({ check, got, verdicts }: Outcome): string => {
  const missed = check.figures
    .map((figure, i) => ({ figure, value: got[i]!, verdict: verdicts[i]! }))
    .filter(({ verdict }) => verdict === 'fails')
    .map(
      ({ figure, value }) => `${figure.label}: ${shown(figure, value)} where ${figure.expected} is expected`,
    );
  return `**${check.id} — ${check.title}.** ${missed.join('; ')}. ${check.why ?? ''}`.trimEnd();
};

function section({ check, got, verdicts, verdict }: Outcome): string {
  const rows = check.figures.map((figure, i) => [
    figure.label,
    figure.expected,
    shown(figure, got[i]!),
    figure.unit,
    verdicts[i]!,
  ]);
  return [
    `### ${check.id} — ${check.title}: ${verdict}`,
    `Source: ${check.source} (${check.tag}).${check.note ? ` ${check.note}` : ''}`,
    table(['figure', 'expected', 'engine', 'unit', 'verdict'], rows),
  ].join('\n\n');
}

/** A number as printed: fixed digits, or powers of ten where those would show nothing. */
function shown(figure: Figure, value: number): string {
  if (!Number.isFinite(value)) return String(value);
  if (value !== 0 && Math.abs(value) < 10 ** -figure.digits) return value.toExponential(1);
  return figure.digits > 8 ? value.toExponential(1) : value.toFixed(figure.digits);
}

const convergence = (t: ConvergenceTable): string =>
  [
    `**${t.id}**: ${t.title} [${t.unit}]`,
    table(
      [t.what === 'step' ? 'step' : 'cells', 'next refinement changes', 'order'],
      t.rows.map((row) => [
        String(Number(row.size.toPrecision(4))),
        row.change.toExponential(2),
        row.order === null ? '' : row.order.toFixed(2),
      ]),
    ),
  ].join('\n\n');

function sampleTable(sample: Sample): string {
  const row = (label: string, values: readonly number[], digits: number): string[] => {
    const { median, high, worst } = spread(values);
    return [
      label,
      ...[median, high, worst].map((x) => (digits < 0 ? x.toExponential(1) : x.toFixed(digits))),
    ];
  };
  const distances = (d: readonly Distance[]): string =>
    table(HEAD, [
      row('beverage [%]', picked(d, 'beverage_pct'), 4),
      row('strength [%]', picked(d, 'strength_pct'), 4),
      row('yield [%]', picked(d, 'yield_pct'), 4),
      row('temperatures [K]', picked(d, 'temperature_K'), 3),
    ]);
  const cups = sample.distances.filter(hasCup);
  return [
    `**Standard against reference**, ${sample.plans} random plans one would serve (seed ${sample.seed}): 10 to 40 g at 12–18 : 1 in one to six pours of 75 to 98 °C, cones and flats, stirs and swirls, late lifts, closed outlets, up to 2000 m.`,
    `The ${cups.length} plans that put ${CUP_G} g or more into the server, bypass water not counted:`,
    distances(cups),
    'All plans:',
    distances(sample.distances),
    'The plans with the worst strength and the worst temperature, of those with a cup:',
    [worstBy(cups, 'strength_pct'), worstBy(cups, 'temperature_K')]
      .map(
        (x) => `- ${x.plan}: ${x.strength_pct.toFixed(4)} % of its strength, ${x.temperature_K.toFixed(3)} K`,
      )
      .join('\n'),
    '**Closures** of the standard runs, all plans:',
    table(HEAD, [
      row(
        'water',
        sample.closures.map((x) => x.water),
        -1,
      ),
      row(
        'solutes',
        sample.closures.map((x) => x.solutes),
        -1,
      ),
      row(
        'enthalpy',
        sample.closures.map((x) => x.enthalpy),
        -1,
      ),
    ]),
  ].join('\n\n');
}

const HEAD = ['', 'median', '95 %', 'worst'];
type DistanceName = 'beverage_pct' | 'strength_pct' | 'yield_pct' | 'temperature_K';
const picked = (distances: readonly Distance[], name: DistanceName): number[] =>
  distances.map((d) => d[name]);
const worstBy = (distances: readonly Distance[], name: DistanceName): Distance =>
  distances.reduce((worst, d) => (d[name] > worst[name] ? d : worst));

const cell = (text: string): string => text.replaceAll('|', '\\|');

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map(cell).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

/** Verdicts as the summary of a written report lists them, by check. */
export function verdictsIn(report: string): Map<string, string> {
  const [, summaryText = ''] = report.split('## Summary');
  const rows = summaryText.split('\n## ')[0]!.matchAll(/^\| ([\w-]+) +\|.*\| ([a-z ]+?) +\|$/gm);
  return new Map(
    [...rows]
      .map(([, id, verdict]): [string, string] => [id!, verdict!])
      .filter(([id]) => id !== 'check' && id !== '---'),
  );
}
