import stringWidth from 'string-width';
import wrapAnsi from 'wrap-ansi';
import type { BlockScan, ColumnScan } from '../../sheets/scan.ts';
import { unitText } from '../../units/unit_text.ts';
import { counted } from './counted.ts';
import { printable } from './printable.ts';
import { type Setting, textWidth, wrapped } from './text.ts';

const MOST_COLUMNS = 100;
const WIDEST_HEADING = 24;
const GAP = '  ';
const SIDES = { left_right: 'left and right', right_left: 'right and left' } as const;
const LAYOUTS = {
  wide: 'an athlete',
  two_heading_lines: 'an athlete',
  row_a_side: 'a side',
  row_a_test: 'a test',
} as const;

/** What a column is read as, in the words of the protocol. */
export function readAs(column: ColumnScan): string {
  const { kind, role, measure, side, sides, trial, unit, unitText: open, code } = column;
  if (kind === 'role') return role!;
  if (kind === 'ignored') return 'left aside';
  if (kind === 'rejected') return code === 'unit_unknown' ? 'held back' : 'not understood';
  const written = open ?? (unit === undefined ? undefined : unitText(unit));
  return [
    measure ?? 'the test of the row',
    side,
    sides && SIDES[sides],
    trial === undefined ? undefined : `trial ${trial}`,
    written ? `in ${written}` : undefined,
  ]
    .filter((part) => part !== undefined)
    .join(', ');
}

function cellsOf({ kind, cells }: ColumnScan): string {
  const { read, notMeasured, rejected, ignored } = cells;
  if (kind === 'ignored') return counted(ignored, 'cell');
  const parts: string[] = [];
  if (kind === 'reading') parts.push(`${read} read`);
  if (kind === 'rejected') parts.push(`nothing read of ${counted(rejected, 'cell')}`);
  else {
    if (notMeasured > 0) parts.push(`${notMeasured} not measured`);
    if (rejected > 0) parts.push(`${rejected} not read`);
  }
  return parts.join(', ');
}

/** The columns of a sheet as they are read, one or more lines each, aligned. */
export function columnLines(blocks: readonly BlockScan[], isAcross: boolean, setting: Setting): string {
  const merged = mergedBlocks(blocks);
  const all = merged.flatMap(({ tables }) => tables.flatMap(({ columns }) => columns));
  const place = Math.max(...all.slice(0, MOST_COLUMNS).map((column) => String(column.place).length));
  const widths = all.slice(0, MOST_COLUMNS).map((column) => stringWidth(shownHeading(column)));
  const heading = Math.min(Math.max(...widths, 0), WIDEST_HEADING, Math.floor(textWidth(setting) / 3));
  let left = MOST_COLUMNS;
  let text = '';
  for (const { tables, headings, times } of merged) {
    for (const [index, table] of tables.entries()) {
      const title = titleOf(headings, times, tables.length > 1 ? index + 1 : 0, table, isAcross);
      text += wrapped(title, setting, 2, 4);
      for (const column of table.columns.slice(0, left)) text += columnLine(column, place, heading, setting);
      left = Math.max(left - table.columns.length, 0);
    }
  }
  const more = all.length - MOST_COLUMNS;
  return more > 0 ? `${text}  and ${counted(more, 'more column')}: see --format json\n` : text;
}

function titleOf(
  headings: readonly number[],
  times: number,
  table: number,
  { layout, rowsPerAthlete }: BlockScan['tables'][number],
  isAcross: boolean,
): string {
  const where = isAcross ? 'column' : 'line';
  const last = headings.at(-1)!;
  const said = headings.length > 1 ? `${where}s ${headings[0]} to ${last}` : `${where} ${last}`;
  const again = times > 1 ? `, and ${counted(times - 1, 'more time')} below` : '';
  const beside = table > 0 ? `, table ${table} from the ${isAcross ? 'top' : 'left'}` : '';
  const first = rowsPerAthlete
    ? `, of up to ${rowsPerAthlete} ${isAcross ? 'columns' : 'rows'} only the first names the athlete`
    : '';
  return `Headings in ${said}${again}${beside}: a ${isAcross ? 'column' : 'row'} ${LAYOUTS[layout]}${first}.`;
}

const shownHeading = ({ heading }: ColumnScan): string => (heading === '' ? '(no heading)' : printable(heading));

function columnLine(column: ColumnScan, place: number, heading: number, setting: Setting): string {
  const room = textWidth(setting) - 2 - place - heading - 2 * GAP.length;
  const said = [readAs(column), cellsOf(column)].filter((part) => part !== '').join('; ');
  const why = printable(column.why.join('; '));
  const whole = why === '' ? said : `${said}; ${why}`;
  const parts = stringWidth(whole) <= room ? [whole] : [said, why];
  const lines = parts.flatMap((line) => wrapAnsi(line, room, { hard: true }).split('\n'));
  const shown = shortened(shownHeading(column), heading);
  const start = `  ${String(column.place).padStart(place)}${GAP}${shown}${' '.repeat(Math.max(0, heading - stringWidth(shown)))}${GAP}`;
  return lines
    .map((line, at) => `${at === 0 ? start : ' '.repeat(2 + place + heading + 2 * GAP.length)}${line}\n`)
    .join('');
}

function shortened(text: string, width: number): string {
  if (stringWidth(text) <= width) return text;
  let kept = '';
  for (const sign of text.slice(0, width * 2)) {
    if (stringWidth(`${kept}${sign}…`) > width) break;
    kept += sign;
  }
  return `${kept}…`;
}

interface Merged extends BlockScan {
  readonly times: number;
}

/** Blocks under the same headings as one, their cells added up. */
export function mergedBlocks(blocks: readonly BlockScan[]): Merged[] {
  const merged = new Map<string, Merged>();
  for (const block of blocks) {
    const key = JSON.stringify(
      block.tables.map(({ layout, columns }) => [layout, columns.map(({ cells, ...column }) => column)]),
    );
    const first = merged.get(key);
    merged.set(key, first ? { ...first, times: first.times + 1, tables: added(first, block) } : { ...block, times: 1 });
  }
  return [...merged.values()];
}

function added(one: BlockScan, other: BlockScan): BlockScan['tables'] {
  return one.tables.map((table, index) => ({
    ...table,
    columns: table.columns.map((column, at) => {
      const more = other.tables[index].columns[at].cells;
      const { read, notMeasured, rejected, ignored, painKept } = column.cells;
      return {
        ...column,
        cells: {
          read: read + more.read,
          notMeasured: notMeasured + more.notMeasured,
          rejected: rejected + more.rejected,
          ignored: ignored + more.ignored,
          painKept: painKept + more.painKept,
        },
      };
    }),
  }));
}
