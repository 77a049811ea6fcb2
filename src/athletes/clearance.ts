import type { Trouble } from '../problems/failure.ts';
import type { SideFileSpec } from '../tables/side_file.ts';
import type { AthleteDirectory } from './directory.ts';
import { type HurtSide, isNotSaid, type SideCells, UNKNOWN, wordOf } from './side_cells.ts';
import { inLineOrder, readSideRows, type SideTable } from './side_rows.ts';

/** From the most careful to the least. */
export const CLEARANCE_STATUSES = ['not_cleared', 'pending', 'limited', 'cleared'] as const;
export type ClearanceStatus = (typeof CLEARANCE_STATUSES)[number];

/** One line of clearance.csv: what medical staff decided on a day. */
export interface ClearanceRow {
  /** physical line */
  readonly line: number;
  readonly athleteId: string;
  /** days since 1970-01-01 of the decision; null: not said, or not read */
  readonly day: number | null;
  /** null: it cannot be read, and the athlete is not known to be cleared */
  readonly status: ClearanceStatus | null;
  /** as written; '' where nothing is: the row speaks of the whole athlete */
  readonly region: string;
  /** null: not said, or not read */
  readonly side: HurtSide | null;
  /** last day, in days since 1970-01-01, for which the row holds; null: not said, or not read */
  readonly until: number | null;
}

const SHAPE = {
  needed: ['athlete_id', 'date', 'status'],
  optional: ['region', 'side', 'until'],
  leftOut: 'The row is left out: it holds nobody back.',
} as const;

const NOT_KNOWN = 'The athlete is not known to be cleared.';

/**
 * Reads clearance.csv. A row whose athlete is unknown is left out with a warning; of the other cells one that cannot be
 * read is unknown, with a warning. Nobody is cleared by a cell that was guessed: neither by a status that cannot be
 * read, nor by a clearance of which nobody can say how long it holds.
 * @throws Failure 2 if the file is empty or lacks athlete_id, date or status
 */
export function readClearance(text: string, spec: SideFileSpec, directory: AthleteDirectory): SideTable<ClearanceRow> {
  const { rows, warnings } = readSideRows(text, spec, directory, SHAPE, (athleteId, cells) => {
    const written = status(cells);
    const undated = written === 'cleared' ? NOT_KNOWN : 'The row counts for every day.';
    const day = cells.neededDay('date', undated);
    const { until, isRead } = lastDay(cells, day, written === 'cleared');
    return {
      line: cells.line,
      athleteId,
      day,
      status: written === 'cleared' && !isRead ? null : written,
      region: cells.text('region'),
      side: cells.side('side'),
      until,
    };
  });
  return { rows, warnings: inLineOrder([...warnings, ...contradictions(rows, spec.file)]) };
}

function contradictions(rows: readonly ClearanceRow[], file: string): Trouble[] {
  const firsts = new Map<string, ClearanceRow>();
  const troubles: Trouble[] = [];
  for (const row of rows) {
    if (row.day === null) continue;
    const key = JSON.stringify([row.athleteId, row.day, partOf(row)]);
    const first = firsts.get(key);
    if (first === undefined) firsts.set(key, row);
    else if (first.status !== row.status) {
      const message = `says otherwise than line ${first.line}, of the same athlete and day`;
      troubles.push({
        file,
        line: row.line,
        message,
        hint: 'The more careful of the two holds. Take one of them out.',
      });
    }
  }
  return troubles;
}

function status(cells: SideCells): ClearanceStatus | null {
  const cell = cells.text('status');
  const found = wordOf(cell, CLEARANCE_STATUSES);
  if (found !== undefined) return found;
  // No nearest word is named: "uncleared" is near to "cleared".
  const rule = isNotSaid(cell) ? 'is not given: write' : 'is none of';
  return cells.warn('status', `${rule} cleared, limited, not_cleared, pending`, NOT_KNOWN);
}

function lastDay(cells: SideCells, day: number | null, isCleared: boolean): { until: number | null; isRead: boolean } {
  const hint = isCleared ? `Nobody can say how long it holds. ${NOT_KNOWN}` : UNKNOWN;
  const until = cells.day('until', hint);
  if (until === null) return { until, isRead: isNotSaid(cells.text('until')) };
  if (day === null || until >= day) return { until, isRead: true };
  return { until: cells.warn('until', 'is before the date', hint), isRead: false };
}

/** From the most careful to the least; an unread status may be any of them. */
const CARE: readonly (ClearanceStatus | null)[] = ['not_cleared', null, 'pending', 'limited', 'cleared'];

/**
 * The newest row of an athlete on or before a day, undefined if there is none; of rows of one day the most careful. A
 * row without a day clears nobody, and counts as the newest if it does anything else. `until` is not looked at: whoever
 * asks sees from it whether the row has run out.
 *
 * A row that speaks of one region says nothing of the others: see `clearancesOn`.
 * @param day days since 1970-01-01
 */
export function clearanceOn(rows: readonly ClearanceRow[], athleteId: string, day: number): ClearanceRow | undefined {
  let newest: ClearanceRow | undefined;
  for (const row of rows) {
    if (row.athleteId === athleteId && counts(row, day) && (newest === undefined || goesBefore(row, newest)))
      newest = row;
  }
  return newest;
}

/**
 * What stands of an athlete on a day, a row for each region and side: the clearance of a knee does not lift what was
 * said of the head. A row without a region speaks of the whole athlete and lifts all before it.
 * @param day days since 1970-01-01
 */
export function clearancesOn(rows: readonly ClearanceRow[], athleteId: string, day: number): ClearanceRow[] {
  const counting = rows.filter((row) => row.athleteId === athleteId && counts(row, day));
  const newest = new Map<string, ClearanceRow>();
  for (const row of counting) {
    const part = partOf(row);
    const other = newest.get(part);
    if (other === undefined || goesBefore(row, other)) newest.set(part, row);
  }
  const whole = newest.get(WHOLE);
  const standing = [...newest.values()].filter((row) => {
    if (row !== whole && whole !== undefined && dayOf(row) < dayOf(whole)) return false;
    // A row without a side speaks of both sides of its region.
    const both = newest.get(partOf({ ...row, side: null }));
    return both === undefined || both === row || dayOf(row) >= dayOf(both);
  });
  return standing.sort((a, b) => care(a) - care(b) || a.line - b.line);
}

const WHOLE = '';
const partOf = ({ region, side }: ClearanceRow): string =>
  isNotSaid(region) ? WHOLE : `${region.toLowerCase()}\n${side === 'both' ? '' : (side ?? '')}`;
const dayOf = ({ day }: ClearanceRow): number => day ?? Number.POSITIVE_INFINITY;
const care = ({ status }: ClearanceRow): number => CARE.indexOf(status);
const counts = (row: ClearanceRow, day: number): boolean =>
  row.day === null ? row.status !== 'cleared' : row.day <= day;

function goesBefore(row: ClearanceRow, other: ClearanceRow): boolean {
  return dayOf(row) > dayOf(other) || (dayOf(row) === dayOf(other) && care(row) < care(other));
}
