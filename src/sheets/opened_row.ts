import type { RowProblem } from './row_context.ts';

/**
 * What a row turned out to be when it was opened: blank; with a known athlete; the first or a further heading line once
 * more; or a row whose athlete, day or the like cannot be settled, with the reason in its problem.
 */
export type RowKind = 'blank' | 'known' | 'headings' | 'further_headings' | 'open';

/** A row that was opened: its cells, how many of them are filled, and whose it is. */
export interface OpenedRow {
  /** corrections and ditto marks filled in */
  readonly cells: readonly string[];
  /** the cells with their ditto marks, if there are any */
  readonly marks: readonly string[] | undefined;
  /** physical line, or where athletes stand across the columns the column, from 1 */
  readonly line: number;
  /** filled cells of readings, of context, of columns that are only counted, and beyond the last heading */
  readonly live: number;
  readonly context: number;
  readonly dead: number;
  readonly beyond: number;
  readonly problem: RowProblem | undefined;
  /** code of the athlete; -1: nobody */
  readonly athlete: number;
  /** 0: not known */
  readonly season: number;
}

export const NO_ROW: OpenedRow = {
  cells: [],
  marks: undefined,
  line: 0,
  live: 0,
  context: 0,
  dead: 0,
  beyond: 0,
  problem: undefined,
  athlete: -1,
  season: 0,
};

export const filledCells = ({ live, context, dead, beyond }: OpenedRow): number => live + context + dead + beyond;
