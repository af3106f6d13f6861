import { type ClipboardEvent, type KeyboardEvent, useRef } from 'react';
import { Button, IconButton } from '../../../ui/index.ts';
import { fieldLabel, t, tMaybe } from '../../../words/index.ts';
import { cellText, cellValue, pasteBlock, type Shape, withCell } from '../tables/form-kernels.ts';
import { numbered } from './numbered.ts';

type Row = Readonly<Record<string, unknown>>;

interface SheetProps {
  label: string;
  columns: readonly { key: string; shape: Shape; title?: string }[];
  rows: readonly Row[];
  onChange: (rows: Row[]) => void;
}

/**
 * A sheet for the keyboard: Enter goes down and adds a row at the end, arrows up and down move, Tab goes on; a block copied from a
 * spreadsheet is pasted where the cursor stands.
 */
export function Sheet({ label, columns, rows, onChange }: SheetProps) {
  const ground = useRef<HTMLTableElement>(null);
  const go = (row: number, column: number): void => {
    requestAnimationFrame(() =>
      ground.current?.querySelector<HTMLElement>(`[data-cell="${row} ${column}"]`)?.focus(),
    );
  };
  const keys = (event: KeyboardEvent, row: number, column: number): void => {
    const down = event.key === 'Enter' || event.key === 'ArrowDown';
    if (!down && event.key !== 'ArrowUp') return;
    if (event.target instanceof HTMLSelectElement && event.key !== 'Enter') return;
    event.preventDefault();
    if (event.key === 'Enter' && row === rows.length - 1) {
      onChange([...rows, {}]);
      go(row + 1, 0);
    } else go(down ? row + 1 : row - 1, column);
  };
  const paste = (event: ClipboardEvent, row: number, column: number): void => {
    const text = event.clipboardData.getData('text');
    if (!/[\t\n]/.test(text)) return;
    event.preventDefault();
    onChange(pasteBlock(rows, columns, { row, column }, text));
  };
  return (
    <div className="typed-sheet">
      <div className="table-scroll">
        <table className="typed-table" ref={ground} aria-label={label}>
          <thead>
            <tr>
              {columns.map(({ key, title }) => (
                <th key={key} scope="col">
                  {title ?? fieldLabel([key])}
                </th>
              ))}
              <th>
                <span className="visually-hidden">{t('common.remove')}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {numbered(rows).map(({ at: r, of: row }) => (
              <tr key={r}>
                {numbered(columns).map(({ at: c, of: { key, shape, title } }) => (
                  <td key={key}>
                    <Cell
                      label={t('panel.tables.cell', { field: title ?? fieldLabel([key]), row: r + 1 })}
                      place={`${r} ${c}`}
                      shape={shape}
                      value={row[key]}
                      onChange={(value) =>
                        onChange(rows.map((other, i) => (i === r ? withCell(other, key, value) : other)))
                      }
                      onKeyDown={(event) => keys(event, r, c)}
                      onPaste={(event) => paste(event, r, c)}
                    />
                  </td>
                ))}
                <td>
                  <IconButton
                    icon="close"
                    label={t('panel.tables.remove_row', { row: r + 1 })}
                    onPress={() => onChange(rows.filter((_, i) => i !== r))}
                  />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <Button
        look="quiet"
        icon="add"
        onPress={() => {
          onChange([...rows, {}]);
          go(rows.length, 0);
        }}
      >
        {t('panel.tables.add_row')}
      </Button>
    </div>
  );
}

interface CellProps {
  label: string;
  place: string;
  shape: Shape;
  value: unknown;
  onChange: (value: unknown) => void;
  onKeyDown: (event: KeyboardEvent) => void;
  onPaste: (event: ClipboardEvent) => void;
}

function Cell({ label, place, shape, value, onChange, ...events }: CellProps) {
  if (shape.is === 'one_of' || shape.is === 'yes') {
    const options = shape.is === 'one_of' ? shape.options : ['true', 'false'];
    return (
      <select
        className="typed-cell"
        aria-label={label}
        data-cell={place}
        value={cellText(value)}
        onChange={(event) => onChange(cellValue(event.target.value, shape))}
        {...events}
      >
        <option value="">–</option>
        {options.map((option) => (
          <option key={option} value={option}>
            {optionWords(option)}
          </option>
        ))}
      </select>
    );
  }
  return (
    <input
      key={shape.is === 'list' ? undefined : 'plain'}
      className="typed-cell"
      aria-label={label}
      data-cell={place}
      data-number={shape.is === 'number' || undefined}
      inputMode={shape.is === 'number' ? 'decimal' : 'text'}
      autoComplete="off"
      // A list keeps the text as typed until it is left, so that a comma can stand at its end.
      {...(shape.is === 'list' || shape.is === 'number'
        ? {
            defaultValue: cellText(value),
            onInput: (event) => onChange(cellValue(event.currentTarget.value, shape)),
          }
        : {
            value: cellText(value),
            onChange: (event) => onChange(cellValue(event.target.value, shape)),
          })}
      {...events}
    />
  );
}

/** A choice in the catalogue's words, or in plain letters. */
export const optionWords = (option: string): string =>
  tMaybe(`panel.protocol.${option}`) ??
  tMaybe(`panel.option.${option}`) ??
  (option === 'true' ? t('common.yes') : option === 'false' ? t('common.no') : option.replaceAll('_', ' '));
