import { IGNORED_REASONS } from '../../problems/ignored.ts';
import type { ColumnScan, FactScan, SheetScan } from '../../sheets/scan.ts';
import { counted } from './counted.ts';
import { printable } from './printable.ts';
import { columnLines, mergedBlocks } from './scan_columns.ts';
import { heading, type Setting, wrapped } from './text.ts';

const MOST_LISTED = 20;
const DELIMITERS = { ',': 'commas', ';': 'semicolons', '\t': 'tabs' } as const;
const ENCODINGS = {
  'utf-8': 'UTF-8',
  'utf-16le': 'UTF-16',
  'utf-16be': 'UTF-16',
  'windows-1252': 'Windows-1252',
} as const;
const MARKS = { '.': 'point', ',': 'comma' } as const;
const ORDERS = { dmy: 'day first', mdy: 'month first', ymd: 'year first' } as const;
const SAID_BY = {
  screening: 'screening.yaml says so',
  heading: 'their heading says so',
  dates: 'the dates themselves show it',
  readings: 'the readings show it',
} as const;
const FROM = { screening: 'screening.yaml', file_name: 'name of the file' } as const;

/** How a sheet is read, for those who hand it in: first how well, then what is not understood, then column by column. */
export function scanText(scan: SheetScan, setting: Setting): string {
  const isAcross = scan.direction === 'across';
  return (
    headline(scan, isAcross, setting) +
    unreadText(scan, setting) +
    openColumns(scan, isAcross, setting) +
    formText(scan, setting) +
    (scan.blocks.length === 0 ? '' : columnLines(scan.blocks, isAcross, setting)) +
    asideText(scan, setting) +
    rejectText(scan, setting) +
    scan.notes.map((note) => wrapped(`Note: ${printable(note)}`, setting, 2, 4)).join('')
  );
}

function headline(
  { file, columns, understood, ledger, blocks }: SheetScan,
  isAcross: boolean,
  setting: Setting,
): string {
  const { measured, not_measured, rejected } = ledger;
  const name = printable(file === '-' ? 'standard input' : file);
  const without = not_measured! > 0 ? `, ${not_measured} not measured` : '';
  const cells = `${counted(measured!, 'reading')}${without}, ${counted(rejected!, 'cell')} not read`;
  const said =
    blocks.length === 0
      ? `cannot be read${rejected! > 0 ? `; ${cells}` : ''}`
      : `${counted(columns, isAcross ? 'line' : 'column')}, ${understood} understood; ${cells}`;
  return wrapped(heading(`${name}: ${said}.`, setting).trim(), setting, 0, 2);
}

function unreadText({ problem }: SheetScan, setting: Setting): string {
  if (problem === undefined) return '';
  const where = problem.line === undefined ? '' : `Line ${problem.line}: `;
  return wrapped(`${where}${printable(problem.message)} ${printable(problem.suggestion)}`, setting, 2);
}

const ONE_OF_THESE = 'in the entry of this sheet in screening.yaml, one of these lines settles';

/** Columns that are held back for want of a unit stand before everything else. */
function openColumns({ blocks, unitLines }: SheetScan, isAcross: boolean, setting: Setting): string {
  const columns = mergedBlocks(blocks).flatMap(({ tables }) => tables.flatMap((table) => table.columns));
  const open = columns.filter(({ kind }) => kind === 'rejected');
  const show = (column: ColumnScan): string => openColumn(column, isAcross, setting);
  const withLines = (column: ColumnScan): string => show(column) + (column.lines ?? []).map(pasteLine).join('');
  let text = '';
  const held = open.filter(({ asked }) => asked !== undefined);
  if (held.length > 0) {
    text += `\n  Held back, because nobody says the unit:\n${listed(held, show, setting)}`;
    text += wrapped(`Ask the station what the device showed; ${ONE_OF_THESE} it:`, setting, 2, 4);
    text += unitLines.map(pasteLine).join('');
  }
  const others = open.filter(({ asked }) => asked === undefined);
  if (others.length > 0) {
    text += `\n  Not understood, so that nothing of it is read:\n${listed(others, withLines, setting)}`;
    text += wrapped(`Under columns: ${ONE_OF_THESE} a column.`, setting, 2, 4);
  }
  const statuses = columns.filter(({ reason }) => reason === 'status_of_wide_sheet');
  if (statuses.length > 0) {
    text += `\n  Left aside until somebody says what it is the status of:\n${listed(statuses, withLines, setting)}`;
  }
  return text;
}

function listed(columns: readonly ColumnScan[], shown: (column: ColumnScan) => string, setting: Setting): string {
  const more = columns.length - MOST_LISTED;
  const rest = more > 0 ? wrapped(`and ${more} more: see --format json`, setting, 2) : '';
  return columns.slice(0, MOST_LISTED).map(shown).join('') + rest;
}

function openColumn(column: ColumnScan, isAcross: boolean, setting: Setting): string {
  const { place, cells, message, suggestion, asked, reason, heading } = column;
  const pain = cells.painKept > 0 ? `, the pain of ${cells.painKept} kept` : '';
  const advice = asked === undefined ? ` ${suggestion ?? ''}` : '';
  const said = message === undefined ? `"${heading}" is ${IGNORED_REASONS[reason!]}.` : `${message}${advice}`;
  const where = `${isAcross ? 'line' : 'column'} ${place} (${counted(cells.rejected + cells.ignored, 'cell')}${pain})`;
  return wrapped(`- ${where}: ${printable(said)}`, setting, 2, 4);
}

/** Never wrapped: it is there to be copied. */
function pasteLine(line: string): string {
  return `      ${printable(line)}\n`;
}

function formText(scan: SheetScan, setting: Setting): string {
  const { delimiter, encoding, encodingCertain, decimal, decimalFrom, dates, datesFrom, direction, facts } = scan;
  if (delimiter === undefined) return '';
  const forms = [
    `parted by ${DELIMITERS[delimiter]}`,
    encoding && `${ENCODINGS[encoding]}${encodingCertain ? '' : ' (nothing says so)'}`,
    direction === 'across' ? 'athletes across the columns' : undefined,
    decimal && `decimal ${MARKS[decimal]} (${SAID_BY[decimalFrom!]})`,
    dates && `dates ${ORDERS[dates]}${datesFrom ? ` (${SAID_BY[datesFrom]})` : ''}`,
  ].filter((form) => form !== undefined);
  let text = `\n${wrapped(`How it is read: ${forms.join(', ')}.`, setting, 2, 4)}`;
  if (facts.length > 0) text += wrapped(`Said of all rows: ${facts.map(factText).join(', ')}.`, setting, 2, 4);
  return text;
}

function factText({ what, text, from, line, overruled }: FactScan): string {
  const where = from === 'title' ? (line === undefined ? 'above the headings' : `line ${line}`) : FROM[from];
  return `${what} "${printable(text)}" (${where}${overruled ? ', overruled' : ''})`;
}

const placeText = ({ line, column }: { readonly line: number | null; readonly column: number | null }): string =>
  line === null
    ? column === null
      ? 'the sheet'
      : `column ${column}`
    : column === null
      ? `line ${line}`
      : `${line}:${column}`;

function asideText({ ignored, direction }: SheetScan, setting: Setting): string {
  if (ignored.length === 0) return '';
  const row = direction === 'across' ? 'column' : 'row';
  const lines = ignored.map(({ reason, rows, cells, line, column }) => {
    const first = rows > 1 ? `first ${placeText({ line, column })}` : placeText({ line, column });
    return wrapped(
      `- ${counted(rows, row)}, ${counted(cells, 'cell')} (${first}): ${IGNORED_REASONS[reason]}`,
      setting,
      2,
      4,
    );
  });
  return `\n  Left aside beside whole columns:\n${lines.join('')}`;
}

function rejectText({ rejects }: SheetScan, setting: Setting): string {
  if (rejects.length === 0) return '';
  const lines = rejects.map(({ title, count, cells, places, message, suggestion }) => {
    const where = places.map(placeText).join(', ') + (count > places.length ? ', …' : '');
    const many = count > 1 ? `${counted(count, 'place')}, ` : '';
    return wrapped(
      `- ${title}, ${many}${counted(cells, 'cell')} (${where}): ${printable(message)} ${printable(suggestion)}`,
      setting,
      2,
      4,
    );
  });
  return `\n  Not read (line:column):\n${lines.join('')}`;
}
