/** How one field of a statistic is typed. */
export type Shape =
  | { is: 'number'; whole: boolean }
  | { is: 'text' }
  | { is: 'one_of'; options: readonly string[] }
  | { is: 'yes' }
  /** Words or numbers in one line, parted by commas. */
  | { is: 'list'; numbers: boolean }
  /** Objects of plain fields: a sheet with one column a field. */
  | { is: 'sheet'; columns: readonly { key: string; shape: Shape }[] }
  /** Rows of numbers. */
  | { is: 'grid' }
  /** One of several figures, by name: d′ or a share. */
  | { is: 'either'; keys: readonly string[] }
  /** Anything deeper, typed as JSON. */
  | { is: 'json' };

type Schema = Readonly<Record<string, unknown>>;
const isSchema = (value: unknown): value is Schema =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The schema behind "this or nothing". */
function behindNull(schema: Schema): Schema {
  const any = schema.anyOf;
  if (!Array.isArray(any)) return schema;
  const some = any.filter((part) => isSchema(part) && part.type !== 'null');
  return some.length === 1 && isSchema(some[0]) ? some[0] : schema;
}

const isPlain = (shape: Shape): boolean => ['number', 'text', 'one_of', 'yes', 'list'].includes(shape.is);

/** How a field is typed, from the JSON Schema of its value. */
export function shapeOf(given: Schema): Shape {
  const schema = behindNull(given);
  const keys = eitherKeys(schema);
  if (keys) return { is: 'either', keys };
  if (Array.isArray(schema.enum)) return { is: 'one_of', options: schema.enum.map(String) };
  if (schema.type === 'integer' || schema.type === 'number')
    return { is: 'number', whole: schema.type === 'integer' };
  if (schema.type === 'string') return { is: 'text' };
  if (schema.type === 'boolean') return { is: 'yes' };
  if (schema.type !== 'array' || !isSchema(schema.items)) return { is: 'json' };
  const inner = shapeOf(schema.items);
  if (inner.is === 'text' || inner.is === 'number') return { is: 'list', numbers: inner.is === 'number' };
  if (inner.is === 'list' && inner.numbers) return { is: 'grid' };
  const columns = columnsOf(schema.items);
  return columns ? { is: 'sheet', columns } : { is: 'json' };
}

/** Names of the figures when a schema is "one object with this figure, or one with that". */
function eitherKeys(schema: Schema): string[] | null {
  if (!Array.isArray(schema.anyOf)) return null;
  const keys = schema.anyOf.map((part) => {
    const properties = isSchema(part) && isSchema(part.properties) ? Object.entries(part.properties) : [];
    const [only] = properties;
    const isFigure = only && properties.length === 1 && isSchema(only[1]) && only[1].type === 'number';
    return isFigure ? only[0] : null;
  });
  return keys.every((key) => key !== null) ? keys : null;
}

function columnsOf(items: Schema): { key: string; shape: Shape }[] | null {
  if (!isSchema(items.properties)) return null;
  const columns = Object.entries(items.properties).map(([key, inner]) => ({
    key,
    shape: isSchema(inner) ? shapeOf(inner) : ({ is: 'json' } as const),
  }));
  return columns.every(({ shape }) => isPlain(shape)) ? columns : null;
}

/** Fields of a statistic's input with how each is typed, in the order of its schema. */
export function fieldsOf(schema: Schema): { key: string; shape: Shape; usual: unknown; needed: boolean }[] {
  const properties = isSchema(schema.properties) ? schema.properties : {};
  const needed = Array.isArray(schema.required) ? schema.required : [];
  return Object.entries(properties).map(([key, inner]) => ({
    key,
    shape: isSchema(inner) ? shapeOf(inner) : { is: 'json' },
    usual: isSchema(inner) ? inner.default : undefined,
    needed: needed.includes(key),
  }));
}

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** A number as typed, or the text when it is none, so that the schema can name it. */
export const readCell = (text: string, numbers: boolean): string | number => {
  const plain = text.trim().replace('−', '-');
  return numbers && NUMBER.test(plain) ? Number(plain) : text.trim();
};

/** A line of words or numbers parted by commas, semicolons or tabs. */
export const readList = (text: string, numbers: boolean): (string | number)[] =>
  text
    .split(/[,;\t\n]/)
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map((part) => readCell(part, numbers));

/** Rows of cells as they come from a spreadsheet or are typed: tabs, semicolons, commas or spaces part the cells. */
export function readGrid(text: string): (string | number)[][] {
  return text
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
    .map((line) => {
      const parts = /[\t;,]/.test(line) ? line.split(/[\t;,]/) : line.trim().split(/\s+/);
      return parts.filter((part) => part.trim() !== '').map((part) => readCell(part, true));
    });
}

/** A grid as text, cells parted by two spaces. */
export const gridText = (value: unknown): string =>
  Array.isArray(value)
    ? value.map((row) => (Array.isArray(row) ? row.join('  ') : String(row))).join('\n')
    : String(value ?? '');

/** One cell of a sheet as the text in its box. */
export const cellText = (value: unknown): string =>
  value === undefined || value === null ? '' : Array.isArray(value) ? value.join(', ') : String(value);

/** A cell's text as its value; undefined when it is empty, so that a default can hold. */
export function cellValue(text: string, shape: Shape): unknown {
  if (text.trim() === '') return undefined;
  if (shape.is === 'number') return readCell(text, true);
  if (shape.is === 'list') return readList(text, shape.numbers);
  if (shape.is === 'yes') return text === 'true';
  return text;
}

/** A row with one cell changed. */
export function withCell(
  row: Readonly<Record<string, unknown>>,
  key: string,
  value: unknown,
): Record<string, unknown> {
  const { [key]: _, ...rest } = row;
  return value === undefined ? rest : { ...rest, [key]: value };
}

/** A pasted block put into a sheet from one cell on; rows are added as needed. */
export function pasteBlock(
  rows: readonly Readonly<Record<string, unknown>>[],
  columns: readonly { key: string; shape: Shape }[],
  at: { row: number; column: number },
  text: string,
): Record<string, unknown>[] {
  const next = rows.map((row) => ({ ...row }));
  const lines = text.replace(/\r?\n$/, '').split(/\r?\n/);
  lines.forEach((line, i) => {
    const cells = line.split('\t');
    let row: Record<string, unknown> = next[at.row + i] ?? {};
    cells.forEach((cell, k) => {
      const column = columns[at.column + k];
      if (column) row = withCell(row, column.key, cellValue(cell, column.shape));
    });
    next[at.row + i] = row;
  });
  return Array.from(next, (row) => row ?? {});
}
