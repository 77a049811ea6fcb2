import Table from 'cli-table3';
import stringWidth from 'string-width';
import type { Schema, Table as DataTable } from '../../tables/table.ts';

/** Rows of a table that a terminal shows. */
export const MOST_ROWS = 50;
const WIDEST_CELL = 40;
/** Columns between two cells. */
const CELL_GAP = 2;

/** Control characters of a sheet must not steer the terminal. */
export function printable(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, '\ufffd');
}

function shortened(text: string): string {
  return stringWidth(text) <= WIDEST_CELL ? text : `${[...text].slice(0, WIDEST_CELL - 1).join('')}…`;
}

/** A number for the eye: six digits at most. The stored value stays full. */
function numberForEye(value: number): string {
  return String(Number(value.toPrecision(6)));
}

/** Lines of cells as a plain table with a rule under the headings. */
export function plainTable(head: readonly string[], rows: readonly (readonly string[])[], right: readonly boolean[] = []): string {
  const table = new Table({
    head: [...head],
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 2 },
    colAligns: head.map((_, at) => (right[at] ? 'right' : 'left')),
    chars: {
      top: '', 'top-mid': '', 'top-left': '', 'top-right': '', bottom: '', 'bottom-mid': '', 'bottom-left': '', 'bottom-right': '',
      left: '', 'left-mid': '', mid: '', 'mid-mid': '', right: '', 'right-mid': '', middle: '',
    },
  });
  table.push(...rows.map((row) => [...row]));
  return `${table
    .toString()
    .split('\n')
    .map((line) => line.trimEnd())
    .join('\n')}\n`;
}

function cellForEye(value: string | number | null): string {
  if (value === null) return '';
  return typeof value === 'number' ? numberForEye(value) : shortened(printable(value));
}

/**
 * The first rows of a table, as wide as the terminal allows. Empty columns are left out; what does not fit is named.
 * @param parts the table, cut into parts of one schema; as many as are needed for MOST_ROWS
 * @param total rows of the whole table
 * @param width columns of the terminal
 */
export function terminalTable(parts: readonly DataTable<Schema>[], total: number, width: number): string {
  if (total === 0) return 'No rows.\n';
  const columns = parts[0].schema
    .filter((spec) => !spec.internal)
    .map((spec) => {
      const cells = parts
        .flatMap((part) => Array.from({ length: Math.min(part.length, MOST_ROWS) }, (_, row) => part.column(spec.name).get(row)))
        .slice(0, MOST_ROWS)
        .map(cellForEye);
      const room = Math.max(stringWidth(spec.name), ...cells.map((cell) => stringWidth(cell))) + CELL_GAP;
      return { name: spec.name, numeric: spec.kind === 'number', cells, room };
    })
    .filter((column) => column.cells.some((cell) => cell !== ''));
  let room = width;
  const shown: typeof columns = [];
  const hidden: string[] = [];
  for (const column of columns) {
    if (column.room <= room && hidden.length === 0) {
      shown.push(column);
      room -= column.room;
    } else hidden.push(column.name);
  }
  const count = Math.min(total, MOST_ROWS);
  let text = plainTable(
    shown.map((column) => column.name),
    Array.from({ length: count }, (_, row) => shown.map((column) => column.cells[row])),
    shown.map((column) => column.numeric),
  );
  if (hidden.length > 0) text += `\nNot shown for lack of width: ${hidden.join(', ')}.\n`;
  if (total > count) text += `\n${total - count} more rows; write all with -o FILE or --format csv.\n`;
  return text;
}
