import type { WrittenSide } from '../units/sides.ts';
import { testEvidence, unitsIn, yearsOf } from './column_evidence.ts';
import { entryOfColumn, type Heading, planColumns, type RecogniseContext, roleOfColumn } from './column_plans.ts';
import { carriedRows, meaningOfOther, onlyWorkedOutTrials, withMixedUnits, withPairs } from './evidence.ts';
import { isAthleteRole, stackHeadings } from './heading_lines.ts';
import type { HeadingWords } from './headings.ts';
import type { BlockPlan, ColumnPlan, Layout, TablePlan } from './plan.ts';
import { type StackedColumn, withoutShiftedGroups } from './shifted_groups.ts';
import { tableStarts } from './tables_beside.ts';
import { unheadedAthletes } from './unheaded_athletes.ts';

type Rows = readonly (readonly string[])[];

/** Rejects of columns that do measure something. */
const MEASURED: ReadonlySet<string> = new Set(['unit_unknown', 'unit_mismatch', 'heading_ambiguous']);

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
  const { headings, spellings, stacked } = stackHeadings(lines, context.words);
  const all = new Set(headings.map((heading) => heading.toLowerCase()));
  const said = headings.map((_, at) => entryOfColumn(spellings[at], at, context.entry, all));
  const plain: Heading[] = headings.map((text, at) => ({ text, said: said[at], athletesBelow: false }));
  const unheaded = unheadedAthletes(
    plain.map((heading, at) => ({
      text: heading.text,
      lines: spellings[at].slice(1),
      role: roleOfColumn(heading),
      isSaid: heading.said !== undefined,
    })),
    below,
    context.isAcross ?? false,
    context.words,
  );
  const settled = plain.map((heading, at) => ({ ...heading, athletesBelow: unheaded.has(at) }));
  const roles = settled.map(roleOfColumn);
  if (!roles.some(isAthleteRole)) return undefined;
  const starts = tableStarts(
    headings.map((heading, at) => ({
      heading,
      role: roles[at],
      isSpacer: heading === '' && !unheaded.has(at),
      namesAthletes: unheaded.has(at),
    })),
  );
  const planned = tablesFrom(starts, settled, context);
  if (planned === undefined) return undefined;
  const tables = lines.length === 1 ? planned : planned.map((table) => asGrouped(table, stacked, said, context));
  const understood = tables.flatMap(({ columns }) =>
    columns.filter(({ kind }) => kind === 'role' || kind === 'reading'),
  );
  return {
    headingRows: [start, start + lines.length - 1],
    tables: tables.map(({ from, columns }) => tableOf(columns, from, lines.length, below, context.words)),
    score: understood.length,
  };
}

/** A table whose headings are made of several lines, without what shifted groups leave open. */
function asGrouped(
  { from, columns }: Columns,
  stacked: readonly StackedColumn[],
  said: readonly unknown[],
  { words }: RecogniseContext,
): Columns {
  const own = stacked.slice(from, from + columns.length);
  const isSettled = (at: number): boolean => said[from + at] !== undefined;
  return { from, columns: withoutShiftedGroups(own, columns, words, isSettled) };
}

interface Columns {
  readonly from: number;
  readonly columns: readonly ColumnPlan[];
}

/** The tables that begin in some columns; what is none by itself goes with the table to its left. */
function tablesFrom(
  starts: readonly number[],
  headings: readonly Heading[],
  context: RecogniseContext,
): readonly Columns[] | undefined {
  const found: Columns[] = [];
  let from = 0;
  for (const [index, start] of starts.entries()) {
    const end = starts[index + 1];
    const alone = planColumns(headings.slice(start, end), start, context);
    if (found.length > 0 && from === start && !isTable(alone) && !isUnread(alone)) {
      const { from: first } = found.pop()!;
      found.push({ from: first, columns: planColumns(headings.slice(first, end), first, context) });
    } else {
      const columns = from === start ? alone : planColumns(headings.slice(from, end), from, context);
      // Another table's athletes stand behind it: its own are not theirs, whatever it holds.
      const isLed = end !== undefined && namesAthletes(columns);
      if (!isTable(columns) && !isUnread(columns) && !isLed) continue;
      found.push({ from, columns });
    }
    from = end ?? headings.length;
  }
  return from === headings.length && found.some(({ columns }) => isTable(columns)) ? found : undefined;
}

/** A table of athletes of which nothing but the athletes is understood: its readings are nobody else's. */
function isUnread(columns: readonly ColumnPlan[]): boolean {
  return namesAthletes(columns) && columns.some(({ kind, heading }) => kind === 'rejected' && heading !== '');
}

const namesAthletes = (columns: readonly ColumnPlan[]): boolean =>
  columns.some((plan) => plan.kind === 'role' && isAthleteRole(plan.role));

function isTable(columns: readonly ColumnPlan[]): boolean {
  const byTest = columns.some((plan) => plan.kind === 'role' && plan.role === 'test');
  const named = columns.some((plan) => plan.kind === 'reading' && (plan.measure || plan.compound || byTest));
  const held = columns.some((plan) => plan.kind === 'rejected' && MEASURED.has(plan.code));
  return namesAthletes(columns) && (named || held);
}

function tableOf(
  planned: readonly ColumnPlan[],
  from: number,
  lines: number,
  below: Rows,
  words: HeadingWords,
): TablePlan {
  const at = (role: string): number => planned.find((plan) => plan.kind === 'role' && plan.role === role)?.at ?? -1;
  const rows = below.map((row) => row.slice(from, from + planned.length));
  const columns = withMixedUnits(rows, withPairs(rows, planned, at('side')));
  const layout: Layout =
    at('test') >= 0 ? 'row_a_test' : at('side') >= 0 ? 'row_a_side' : lines > 1 ? 'two_heading_lines' : 'wide';
  const valuesAt = columns.flatMap((column) =>
    column.kind === 'reading' && !column.measure && !column.compound ? [column.at] : [],
  );
  const keysAt = [at('test'), at('side'), at('trial')].filter((place) => place >= 0);
  return {
    layout,
    from,
    columns,
    ...carriedRows(rows, columns, keysAt),
    years: yearsOf(rows, at('date')),
    unitsInColumn: unitsIn(rows, at('unit')),
    ...testEvidence(rows, at('test'), valuesAt, words),
    other: meaningOfOther(rows, columns, at('side')),
    onlyWorkedOutTrials: onlyWorkedOutTrials(rows, at('trial')),
  };
}

/** The side that "other" stands for where a sheet speaks of operated or involved sides. */
export function settleOther(side: WrittenSide | undefined, table: TablePlan): WrittenSide | undefined {
  return side === 'other' ? (table.other ?? side) : side;
}
