import Table from 'cli-table3';
import stringWidth from 'string-width';
import type { Table as DataTable, Schema } from '../../tables/table.ts';
import { foremost } from './foremost.ts';
import { printable } from './printable.ts';

/** Rows of a table that a terminal shows. */
export const MOST_ROWS = 50;
const WIDEST_CELL = 40;
/** Columns between two cells. */
const CELL_GAP = 2;

function shortened(text: string): string {
  return stringWidth(text) <= WIDEST_CELL ? text : `${[...text].slice(0, WIDEST_CELL - 1).join('')}…`;
}

/** A number for the eye: six digits at most. The stored value stays full. */
function numberForEye(value: number): string {
  return String(Number(value.toPrecision(6)));
}

/** Lines of cells as a plain table with a rule under the headings. */
export function plainTable(
  head: readonly string[],
  rows: readonly (readonly string[])[],
  right: readonly boolean[] = [],
): string {
  const table = new Table({
    head: [...head],
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 2 },
    colAligns: head.map((_, at) => (right[at] ? 'right' : 'left')),
    chars: {
      top: '',
      'top-mid': '',
      'top-left': '',
      'top-right': '',
      bottom: '',
      'bottom-mid': '',
      'bottom-left': '',
      'bottom-right': '',
      left: '',
      'left-mid': '',
      mid: '',
      'mid-mid': '',
      right: '',
      'right-mid': '',
      middle: '',
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
 * The first rows of a table, as wide as the terminal allows. Empty columns are left out; of the others the most telling
 * come first, and what does not fit is named.
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
        .flatMap((part) =>
          Array.from({ length: Math.min(part.length, MOST_ROWS) }, (_, row) => part.column(spec.name).get(row)),
        )
        .slice(0, MOST_ROWS)
        .map(cellForEye);
      const room = Math.max(stringWidth(spec.name), ...cells.map((cell) => stringWidth(cell))) + CELL_GAP;
      return { name: spec.name, numeric: spec.kind === 'number', cells, room };
    })
    .filter((column) => column.cells.some((cell) => cell !== ''));
  const { schema } = parts[0];
  // The gap after the last column falls off.
  let left = width + CELL_GAP;
  const fitting = new Set<string>();
  for (const { name, room } of columns.toSorted((a, b) => foremost(schema, a.name) - foremost(schema, b.name))) {
    if (room > left && fitting.size > 0) continue;
    fitting.add(name);
    left -= room;
  }
  const shown = columns.filter(({ name }) => fitting.has(name));
  const hidden = columns.filter(({ name }) => !fitting.has(name)).map(({ name }) => name);
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
