import type { IgnoredReason } from '../problems/ignored.ts';
import type { RejectCode } from '../problems/rejects.ts';
import type { Encoding } from '../tables/decode.ts';
import type { LEDGER } from '../tables/schemas.ts';
import type { RowOf } from '../tables/table.ts';
import type { SideOrder, WrittenSide } from '../units/sides.ts';
import type { Role } from './entry.ts';
import type { Evidence, Layout, SheetPlan, UnitFrom } from './plan.ts';

/** What became of the cells below a heading. */
export interface CellFates {
  /** cells that became readings */
  readonly read: number;
  /** cells that say why there is no reading */
  readonly notMeasured: number;
  /** cells rejected at this column; where a whole row is, with all its cells at the column that says why */
  readonly rejected: number;
  /** cells left aside with the whole column */
  readonly ignored: number;
  /** cells of a column that is held back whose pain is kept */
  readonly painKept: number;
}

/** How one column of a sheet is read, and why; where athletes stand across the columns, how one line is. */
export interface ColumnScan {
  /** column of the sheet, from 1, as `column 7` under `columns:` counts; or the row, where athletes stand across */
  readonly number: number;
  /** where it is seen: the same, or the physical line */
  readonly place: number;
  /** '' also where the text is none that may be shown */
  readonly heading: string;
  readonly kind: 'role' | 'reading' | 'ignored' | 'rejected';
  readonly evidence: Evidence;
  readonly role?: Exclude<Role, 'ignore'>;
  /** name of a measure or compound; a reading without one is of what its row names */
  readonly measure?: string;
  readonly side?: WrittenSide;
  readonly sides?: SideOrder;
  readonly sidesByCells?: true;
  readonly trial?: number;
  /** UCUM code */
  readonly unit?: string;
  readonly unitFrom?: UnitFrom;
  /** a unit in the heading whose meaning depends on the measure that the row names */
  readonly unitText?: string;
  readonly reversed?: true;
  readonly reason?: IgnoredReason;
  /** whether it is a best or mean that is compared with its trials */
  readonly compared?: true;
  readonly code?: RejectCode;
  /** why, a few words each */
  readonly why: readonly string[];
  /** of what is not understood: the rule it broke, and what to do */
  readonly message?: string;
  readonly suggestion?: string;
  /** UCUM codes of which one is meant where the unit is missing */
  readonly asked?: readonly string[];
  /** lines for `columns:` of screening.yaml, of which one settles it */
  readonly lines?: readonly string[];
  readonly cells: CellFates;
}

export interface TableScan {
  readonly layout: Layout;
  readonly rowsPerAthlete?: number;
  readonly columns: readonly ColumnScan[];
}

/** Headings, and the tables below them. */
export interface BlockScan {
  /** physical lines of the headings; where athletes stand across, their columns */
  readonly headings: readonly number[];
  readonly tables: readonly TableScan[];
}

/** What is said of all rows of a sheet. */
export interface FactScan {
  readonly what: 'team' | 'date' | 'season' | 'tester' | 'device' | 'station' | 'purpose';
  readonly text: string;
  readonly from: 'screening' | 'file_name' | 'title';
  /** physical line of a title line, where it is known */
  readonly line?: number;
  /** said above the headings, where screening.yaml or the name of the file says it already */
  readonly overruled?: true;
}

/** Rejects of one code, those of whole columns aside. */
export interface RejectScan {
  readonly code: RejectCode;
  readonly title: string;
  /** rows of the table of rejects */
  readonly count: number;
  readonly cells: number;
  /** the first of them */
  readonly places: readonly { readonly line: number | null; readonly column: number | null }[];
  /** of the first */
  readonly message: string;
  readonly suggestion: string;
}

/** Rows left aside for one reason. */
export interface IgnoredScan {
  readonly reason: IgnoredReason;
  readonly rows: number;
  readonly cells: number;
  /** of the first */
  readonly line: number | null;
  readonly column: number | null;
}

/** How a sheet is read, why, and what became of its cells. Plain data. */
export interface SheetScan {
  readonly file: string;
  readonly encoding?: Encoding;
  /** false: nobody said so, and the bytes leave it open */
  readonly encodingCertain?: boolean;
  readonly delimiter?: SheetPlan['delimiter'];
  readonly direction?: SheetPlan['direction'];
  readonly decimal?: SheetPlan['decimal'];
  readonly decimalFrom?: 'screening' | 'readings';
  readonly dates?: SheetPlan['dates'];
  readonly datesFrom?: SheetPlan['datesFrom'];
  readonly facts: readonly FactScan[];
  /** columns that hold anything, and those that are read or left aside for a known reason */
  readonly columns: number;
  readonly understood: number;
  readonly blocks: readonly BlockScan[];
  /** lines for the entry of the sheet, of which one settles all columns that are held back for want of a unit */
  readonly unitLines: readonly string[];
  /** why the sheet, or the rest of it, cannot be read at all */
  readonly problem?: {
    readonly code: RejectCode;
    readonly line?: number;
    readonly message: string;
    readonly suggestion: string;
  };
  readonly rejects: readonly RejectScan[];
  readonly ignored: readonly IgnoredScan[];
  /** what was noticed, a sentence each */
  readonly notes: readonly string[];
  readonly ledger: RowOf<typeof LEDGER>;
  /** rows that the sheet has in the table of rejects */
  readonly rejectRows: number;
}
