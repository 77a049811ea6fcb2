import type { SideFileSpec } from '../tables/side_file.ts';
import type { AthleteDirectory } from './directory.ts';
import { isNotSaid, type SideCells, UNKNOWN } from './side_cells.ts';
import { readSideRows, type SideTable } from './side_rows.ts';

/** One line of work.csv: what an athlete did of a programme. */
export interface WorkRow {
  /** physical line */
  readonly line: number;
  readonly athleteId: string;
  /** null: not said, or not known to the protocol */
  readonly programme: string | null;
  /** days since 1970-01-01; null: not said, or not read */
  readonly started: number | null;
  /** sessions planned and done; null: not said, or not read */
  readonly planned: number | null;
  readonly done: number | null;
  /** days since 1970-01-01; null: it goes on, or not read */
  readonly stopped: number | null;
  /** why it was stopped, as written; '' where nothing is */
  readonly reason: string;
}

/** Whether the work has been given up by a day. */
export function isStopped({ stopped }: WorkRow, on: number): boolean {
  return stopped !== null && stopped <= on;
}

const SHAPE = {
  needed: ['athlete_id', 'programme'],
  optional: ['started', 'planned', 'done', 'stopped', 'reason'],
  leftOut: 'The row is left out.',
} as const;

/**
 * Reads work.csv. A row whose athlete is unknown is left out with a warning; of the other cells one that cannot be read
 * is unknown, with a warning. More sessions done than planned are kept, and said.
 * @param programmes names of the protocol's programmes
 * @throws Failure 2 if the file is empty or lacks athlete_id or programme
 */
export function readWork(
  text: string,
  spec: SideFileSpec,
  directory: AthleteDirectory,
  programmes: readonly string[],
): SideTable<WorkRow> {
  return readSideRows(text, spec, directory, SHAPE, (athleteId, cells) => {
    const started = cells.day('started', UNKNOWN);
    const planned = cells.count('planned');
    return {
      line: cells.line,
      athleteId,
      programme: programme(cells, programmes),
      started,
      planned,
      done: done(cells, planned),
      stopped: stopped(cells, started),
      reason: cells.text('reason'),
    };
  });
}

function programme(cells: SideCells, programmes: readonly string[]): string | null {
  if (!isNotSaid(cells.text('programme'))) return cells.name('programme', programmes, 'is none of the protocol');
  return cells.warn('programme', 'is not given', 'The row counts for no programme.');
}

function done(cells: SideCells, planned: number | null): number | null {
  const count = cells.count('done');
  if (count !== null && planned !== null && count > planned) {
    cells.warn('done', `is more than the ${planned} planned`, 'Both are taken as they are written. Check them.');
  }
  return count;
}

function stopped(cells: SideCells, started: number | null): number | null {
  const day = cells.day('stopped', UNKNOWN);
  return day === null || started === null || day >= started ? day : cells.warn('stopped', 'is before started', UNKNOWN);
}
