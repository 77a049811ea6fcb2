import type { IgnoredReason } from '../problems/ignored.ts';
import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Compound, Measure } from '../protocol/types.ts';
import type { Delimiter } from '../tables/csv_rows.ts';
import type { DateOrder } from '../units/dates.ts';
import type { SideOrder, WrittenSide } from '../units/sides.ts';
import type { Unit } from '../units/unit.ts';
import type { Role } from './entry.ts';
import type { TitleFacts } from './title_lines.ts';

export type Layout = 'wide' | 'two_heading_lines' | 'row_a_side' | 'row_a_test';

/** down: an athlete's readings stand in a row; across: in a column. */
export type Direction = 'down' | 'across';

/** Where the unit of a reading was found. */
export type UnitFrom = 'cell' | 'unit_column' | 'heading' | 'screening' | 'written_in' | 'protocol';

/**
 * What a column was recognised by: `columns:` of screening.yaml, its heading, that the cells below name athletes, or that the
 * sheet holds nothing but the best or mean of the measure.
 */
export type Evidence = 'columns' | 'heading' | 'athletes_below' | 'only_worked_out';

interface InColumn {
  /** column of the table, from 0 */
  readonly at: number;
  readonly heading: string;
  readonly evidence: Evidence;
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
  /** its cells hold both sides, in this order */
  readonly sides?: SideOrder;
  /** that they do is shown by the cells alone: the heading says nothing, and left is taken to stand first */
  readonly sidesByCells?: true;
  readonly trial?: number;
  readonly unit?: Unit;
  readonly unitFrom?: UnitFrom;
  /** some cells name this unit while the column names none: a number that stands alone may be in either */
  readonly alsoIn?: Unit;
  /** most of its decimals have a point, in a sheet that shows commas too */
  readonly pointed?: true;
  /** a unit in the heading whose meaning depends on the measure that the row names */
  readonly unitText?: string;
  readonly reversed: boolean;
  /** the words of the heading that named the measure */
  readonly named?: string;
}

/** What a worked-out column claims of the trials beside it. */
export interface WorkedOut {
  readonly kind: 'best' | 'mean';
  /** how its cells would be read */
  readonly reading: ReadingColumn;
}

export interface IgnoredColumn extends InColumn {
  readonly kind: 'ignored';
  readonly reason: IgnoredReason;
  readonly workedOut?: WorkedOut;
}

export interface RejectedColumn extends InColumn {
  readonly kind: 'rejected';
  /** a column held back for want of a unit: its words, pain above all, need none */
  readonly held?: ReadingColumn;
  readonly code: RejectCode;
  readonly args: RejectArgs;
}

export type ColumnPlan = RoleColumn | ReadingColumn | IgnoredColumn | RejectedColumn;

/** One table of a block of rows: the columns from one athlete column to the next. */
export interface TablePlan {
  readonly layout: Layout;
  /** column of the sheet, from 0, in which columns[0] stands */
  readonly from: number;
  readonly columns: readonly ColumnPlan[];
  /** most rows of an athlete where only the first of them names the athlete */
  readonly rowsPerAthlete?: number;
  /** whether trial, side and test may be the same in several of these rows */
  readonly keysRepeat: boolean;
  /** first and last year of the dates that the head shows, one mistyped year aside */
  readonly years?: readonly [number, number];
  /** measures of which the test column names the best and no single trial */
  readonly onlyBestOf: ReadonlySet<string>;
  /** units that cells of a test name beside its numbers, by measure */
  readonly unitsOfTests: ReadonlyMap<string, readonly Unit[]>;
  /** units that the unit column names, as written */
  readonly unitsInColumn: readonly string[];
  /** what "other" means where it is not the side opposite to the dominant one */
  readonly other?: 'non_surgical' | 'uninvolved';
  /** whether all that the trial column says is best or mean, so that these are the readings */
  readonly onlyWorkedOutTrials: boolean;
}

/** Heading lines and the tables below them, side by side. */
export interface BlockPlan {
  /** first and last row of the headings, counted from 0 in rows of the text they were found in */
  readonly headingRows: readonly [number, number];
  readonly tables: readonly TablePlan[];
}

/** How a sheet is read: plain data, decided once from its head. */
export interface SheetPlan extends BlockPlan {
  readonly delimiter: Delimiter;
  readonly direction: Direction;
  /** what the lines above the headings say of all rows */
  readonly facts: TitleFacts;
  readonly decimal?: '.' | ',';
  /** units of which lines of the sheet speak, as written */
  readonly unitsSpoken: readonly string[];
  readonly dates?: DateOrder;
  /** who said so */
  readonly datesFrom?: 'screening' | 'heading' | 'dates';
}

/** A sheet that cannot be read at all. */
export interface SheetProblem {
  readonly code: RejectCode;
  readonly args: RejectArgs;
  /** physical line, where one can be named */
  readonly line?: number;
}
