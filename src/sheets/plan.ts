import type { IgnoredReason } from '../problems/ignored.ts';
import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Compound, Measure } from '../protocol/types.ts';
import type { Delimiter } from '../tables/csv_rows.ts';
import type { DateOrder } from '../units/dates.ts';
import type { WrittenSide } from '../units/sides.ts';
import type { Unit } from '../units/unit.ts';
import type { Role } from './entry.ts';

export type Layout = 'wide' | 'two_heading_lines' | 'row_a_side' | 'row_a_test';

/** Where the unit of a reading was found. */
export type UnitFrom = 'cell' | 'unit_column' | 'heading' | 'screening' | 'written_in' | 'protocol';

interface InColumn {
  /** from 0 */
  readonly at: number;
  readonly heading: string;
}

export interface RoleColumn extends InColumn {
  readonly kind: 'role';
  readonly role: Exclude<Role, 'ignore'>;
}

/** A column of readings; what it leaves open, the row says. */
export interface ReadingColumn extends InColumn {
  readonly kind: 'reading';
  readonly measure?: Measure;
  readonly compound?: Compound;
  readonly side?: WrittenSide;
  readonly trial?: number;
  readonly unit?: Unit;
  readonly unitFrom?: UnitFrom;
  readonly reversed: boolean;
}

export interface IgnoredColumn extends InColumn {
  readonly kind: 'ignored';
  readonly reason: IgnoredReason;
}

export interface RejectedColumn extends InColumn {
  readonly kind: 'rejected';
  /** a column held back for want of a unit: its words, pain above all, need none */
  readonly held?: ReadingColumn;
  readonly code: RejectCode;
  readonly args: RejectArgs;
}

export type ColumnPlan = RoleColumn | ReadingColumn | IgnoredColumn | RejectedColumn;

/** How a sheet is read: plain data, decided once from its head. */
export interface SheetPlan {
  readonly delimiter: Delimiter;
  readonly layout: Layout;
  /** first and last row of the headings, counted from 0 in rows of the head */
  readonly headingRows: readonly [number, number];
  readonly columns: readonly ColumnPlan[];
  readonly decimal?: '.' | ',';
  readonly dates?: DateOrder;
}

/** A sheet that cannot be read at all. */
export interface SheetProblem {
  readonly code: RejectCode;
  readonly args: RejectArgs;
}
