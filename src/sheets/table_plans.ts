import type { WrittenSide } from '../units/sides.ts';
import { isFilled } from './blank.ts';
import { entryOfColumn, type Heading, planColumns, type RecogniseContext, roleOfColumn } from './column_plans.ts';
import { carriedRows, meaningOfOther, onlyWorkedOutTrials, withMixedUnits, withPairs } from './evidence.ts';
import { isAthleteRole, stackHeadings } from './heading_lines.ts';
import type { BlockPlan, ColumnPlan, Layout, TablePlan } from './plan.ts';
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
  const { headings, spellings } = stackHeadings(lines);
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
  );
  const settled = plain.map((heading, at) => ({ ...heading, athletesBelow: unheaded.has(at) }));
  const roles = settled.map(roleOfColumn);
  if (!roles.some(isAthleteRole)) return undefined;
  const filled = filledColumns(below, headings.length);
  const starts = tableStarts(
    headings.map((heading, at) => ({
      heading,
      role: roles[at],
      isSpacer: heading === '' && filled[at] === 0,
      namesAthletes: unheaded.has(at),
    })),
  );
  const tables: TablePlan[] = [];
  let score = 0;
  for (const [index, from] of starts.entries()) {
    const columns = planColumns(settled.slice(from, starts[index + 1]), from, context);
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
  const keysAt = [at('test'), at('side'), at('trial')].filter((place) => place >= 0);
  return {
    layout,
    from,
    columns,
    ...carriedRows(rows, columns, keysAt),
    other: meaningOfOther(rows, columns, at('side')),
    onlyWorkedOutTrials: onlyWorkedOutTrials(rows, at('trial')),
  };
}

/** The side that "other" stands for where a sheet speaks of operated or involved sides. */
export function settleOther(side: WrittenSide | undefined, table: TablePlan): WrittenSide | undefined {
  return side === 'other' ? (table.other ?? side) : side;
}
