import { looksLikeId } from '../athletes/directory.ts';
import type { WrittenSide } from '../units/sides.ts';
import { readStatus } from '../units/statuses.ts';
import { isFilled } from './blank.ts';
import { entryOfColumn, type Heading, planColumns, type RecogniseContext, roleOfColumn } from './column_plans.ts';
import { meaningOfOther, onlyWorkedOutTrials, rowsPerAthlete, withMixedUnits, withPairs } from './evidence.ts';
import { isAthleteRole, stackHeadings } from './heading_lines.ts';
import type { BlockPlan, ColumnPlan, Layout, TablePlan } from './plan.ts';
import { roleOfHeading } from './roles.ts';
import { rowLabel } from './row_words.ts';
import { tableStarts } from './tables_beside.ts';

type Rows = readonly (readonly string[])[];

/** Rejects of columns that do measure something. */
const MEASURED: ReadonlySet<string> = new Set(['unit_unknown', 'unit_mismatch', 'heading_ambiguous']);

/** Cells that show whether a column without a heading names the athletes. */
const MOST_ATHLETES_SEEN = 50;
const CORNER_ROLES: ReadonlySet<string> = new Set(['test', 'side', 'trial', 'unit', 'value']);

/** A block of tables and how much of its headings is understood. */
export interface BlockDraft extends BlockPlan {
  readonly score: number;
}

/**
 * Reads some rows as heading lines.
 * @param below rows below the headings, as far as they are known
 * @returns undefined if no table with an athlete and something measured begins there
 */
export function draftBlock(lines: Rows, start: number, below: Rows, context: RecogniseContext): BlockDraft | undefined {
  const { headings, spellings } = stackHeadings(lines);
  const said = headings.map((_, at) => entryOfColumn(spellings[at], at, context.entry));
  const plain: Heading[] = headings.map((text, at) => ({ text, said: said[at], athletesBelow: false }));
  const athletesAt = plain.some((heading) => isAthleteRole(roleOfColumn(heading)))
    ? -1
    : plain.findIndex(
        ({ text, said }, at) =>
          said === undefined &&
          (text === '' || (context.isAcross && isCorner(spellings[at]))) &&
          holdsAthletes(below, at),
      );
  const all = plain.map((heading, at) => ({ ...heading, athletesBelow: at === athletesAt }));
  const roles = all.map(roleOfColumn);
  if (!roles.some(isAthleteRole)) return undefined;
  const filled = filledColumns(below, headings.length);
  const starts = tableStarts(roles, (at) => headings[at] === '' && filled[at] === 0);
  const tables: TablePlan[] = [];
  let score = 0;
  for (const [index, from] of starts.entries()) {
    const columns = planColumns(all.slice(from, starts[index + 1]), from, context);
    if (!isTable(columns)) return undefined;
    tables.push(tableOf(columns, from, lines.length, below));
    score += columns.filter(({ kind }) => kind === 'role' || kind === 'reading').length;
  }
  return { headingRows: [start, start + lines.length - 1], tables, score };
}

/** 1 for each column that holds anything. */
function filledColumns(rows: Rows, width: number): Uint8Array {
  const filled = new Uint8Array(width);
  for (const row of rows) {
    for (let at = 0; at < Math.min(row.length, width); at++) if (filled[at] === 0 && isFilled(row[at])) filled[at] = 1;
  }
  return filled;
}

/** "Test" and "Side" in the corner of a sheet across speak of the headings below them, not of the athletes beside them. */
function isCorner(spellings: readonly string[]): boolean {
  return spellings.slice(1).every((heading) => CORNER_ROLES.has(roleOfHeading(heading) ?? ''));
}

/** Whether a column without a heading of its own tells who the athletes are: ids throughout, or words throughout. */
function holdsAthletes(rows: Rows, at: number): boolean {
  const cells = rows.slice(0, MOST_ATHLETES_SEEN).map((row) => (row[at] ?? '').trim());
  const filled = cells.filter((cell) => cell !== '' && rowLabel(cell) === undefined);
  const isId = (cell: string): boolean => looksLikeId(cell) && /\p{L}/u.test(cell);
  const isName = (cell: string): boolean =>
    /^\p{L}[^\d]+$/u.test(cell) && readStatus(cell) === undefined && roleOfHeading(cell) === undefined;
  return filled.length >= 2 && (filled.every(isId) || filled.every(isName));
}

function isTable(columns: readonly ColumnPlan[]): boolean {
  const byTest = columns.some((plan) => plan.kind === 'role' && plan.role === 'test');
  const hasAthlete = columns.some((plan) => plan.kind === 'role' && isAthleteRole(plan.role));
  const named = columns.some((plan) => plan.kind === 'reading' && (plan.measure || plan.compound || byTest));
  const held = columns.some((plan) => plan.kind === 'rejected' && MEASURED.has(plan.code));
  return hasAthlete && (named || held);
}

function tableOf(planned: readonly ColumnPlan[], from: number, lines: number, below: Rows): TablePlan {
  const at = (role: string): number => planned.find((plan) => plan.kind === 'role' && plan.role === role)?.at ?? -1;
  const rows = from === 0 ? below : below.map((row) => row.slice(from));
  const columns = withMixedUnits(rows, withPairs(rows, planned, at('side')));
  const layout: Layout =
    at('test') >= 0 ? 'row_a_test' : at('side') >= 0 ? 'row_a_side' : lines > 1 ? 'two_heading_lines' : 'wide';
  const tellsRowsApart = at('test') >= 0 || at('side') >= 0 || at('trial') >= 0;
  return {
    layout,
    from,
    columns,
    rowsPerAthlete: rowsPerAthlete(rows, columns, tellsRowsApart),
    other: meaningOfOther(rows, columns, at('side')),
    onlyWorkedOutTrials: onlyWorkedOutTrials(rows, at('trial')),
  };
}

/** The side that "other" stands for where a sheet speaks of operated or involved sides. */
export function settleOther(side: WrittenSide | undefined, table: TablePlan): WrittenSide | undefined {
  return side === 'other' ? (table.other ?? side) : side;
}
