import type { AthleteBook } from '../../athletes/book.ts';
import type { RecheckKind } from '../../tables/schemas.ts';

/**
 * How much of a sheet one line of the recheck list speaks of.
 * reading: one reading, or the row of one athlete that begins with it: all its columns hold.
 * run: readings of several athletes one below the other: athlete, day and value do not hold; line is that of the first.
 * column: as run, and the line does not hold either.
 * sheet: as column, and side, trial and column do not hold either.
 */
export type Extent = 'reading' | 'run' | 'column' | 'sheet';

/** Something that was probably typed wrongly. Nothing is changed by it. */
export interface Suspect {
  /** row of the readings: the reading itself, else the first one of the run, column or sheet; -1: a reject */
  readonly at: number;
  /** row of the rejects; -1: a reading */
  readonly reject: number;
  readonly extent: Extent;
  readonly kind: RecheckKind;
  /** rows of all readings that the line speaks of, `at` among them; empty for a reject */
  readonly covers: readonly number[];
  /** how far it stands out, in robust standard deviations of what was expected; NaN: cannot be said */
  readonly score: number;
  /** what was expected, in the measure's unit; NaN: cannot be said */
  readonly low: number;
  readonly high: number;
  /** what may have happened and what to do, in whole sentences */
  readonly suggestion: string;
}

export interface SuspectOptions {
  /** says the sex of an athlete */
  readonly book: AthleteBook;
  /** cells that corrections.csv confirms, as `file\nline\ncolumn`: never listed */
  readonly confirmed: ReadonlySet<string>;
}
