import { fieldLabel, formatNumber, t } from '../../../words/index.ts';
import { numbered } from './numbered.ts';

/** A figure with four digits that mean something; whole numbers as they are. */
export function figureWords(value: number): string {
  if (value === Number.POSITIVE_INFINITY) return '∞';
  if (!Number.isFinite(value)) return '–';
  if (Number.isInteger(value)) return formatNumber(value);
  if (value !== 0 && Math.abs(value) < 1e-4) return t('panel.figures.below', { limit: '0.0001' });
  const digits = Math.max(0, Math.min(6, 3 - Math.floor(Math.log10(Math.abs(value)))));
  return formatNumber(value, Math.min(4, digits));
}

type Entries = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Entries =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isPlain = (value: unknown): boolean => typeof value !== 'object' || value === null;
const listOf = (value: unknown): readonly unknown[] | null =>
  Array.isArray(value) ? value : ArrayBuffer.isView(value) ? Array.from(value as Float64Array) : null;

function plainWords(value: unknown): string {
  if (value === null || value === undefined) return '–';
  if (typeof value === 'number') return figureWords(value);
  if (typeof value === 'boolean') return t(value ? 'common.yes' : 'common.no');
  return String(value);
}

const inline = (value: unknown): string | null => {
  if (isPlain(value)) return plainWords(value);
  const list = listOf(value);
  if (list?.every(isPlain)) return list.map(plainWords).join(', ');
  if (isObject(value) && Object.values(value).every(isPlain) && Object.keys(value).length <= 3)
    return Object.entries(value)
      .map(([key, inner]) => `${fieldLabel([key]).toLowerCase()} ${plainWords(inner)}`)
      .join(', ');
  return null;
};

/** Every number behind a result, as core gives it. */
export function Figures({ figures }: { figures: Entries }) {
  const entries = Object.entries(figures).filter(([, value]) => value !== undefined);
  const lines = entries.filter(([, value]) => inline(value) !== null);
  const nested = entries.filter(([, value]) => inline(value) === null);
  return (
    <div className="figures">
      {lines.length > 0 && (
        <dl className="figures-lines">
          {lines.map(([key, value]) => (
            <div key={key}>
              <dt>{fieldLabel([key])}</dt>
              <dd>{inline(value)}</dd>
            </div>
          ))}
        </dl>
      )}
      {nested.map(([key, value]) => (
        <section key={key} className="figures-part">
          <h4>{fieldLabel([key])}</h4>
          <Nested value={value} />
        </section>
      ))}
    </div>
  );
}

function Nested({ value }: { value: unknown }) {
  const list = listOf(value);
  if (list?.every(isObject)) return <ObjectTable rows={list as readonly Entries[]} />;
  if (list) return <Grid rows={list} />;
  return isObject(value) ? <Figures figures={value} /> : null;
}

/** Rows with the same fields as a table. */
function ObjectTable({ rows }: { rows: readonly Entries[] }) {
  const heads = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return (
    <div className="table-scroll">
      <table className="panel-table">
        <thead>
          <tr>
            {heads.map((head) => (
              <th key={head} scope="col">
                {fieldLabel([head])}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {numbered(rows.slice(0, 200)).map(({ at, of: row }) => (
            <tr key={at}>
              {heads.map((head) => (
                <td key={head}>{inline(row[head]) ?? <Nested value={row[head]} />}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Grid({ rows }: { rows: readonly unknown[] }) {
  return (
    <div className="table-scroll">
      <table className="panel-table">
        <tbody>
          {numbered(rows.slice(0, 200)).map(({ at, of: row }) => (
            <tr key={at}>
              {numbered(listOf(row) ?? [row]).map(({ at: place, of: cell }) => (
                <td key={place}>{inline(cell) ?? <Nested value={cell} />}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Numbers behind a verdict, folded away until asked for. */
export function NumbersBehind({ figures }: { figures: Entries }) {
  return (
    <details className="panel-more">
      <summary>{t('panel.numbers_behind')}</summary>
      <Figures figures={figures} />
    </details>
  );
}
