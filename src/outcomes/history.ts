import type { AthleteDirectory } from '../athletes/directory.ts';
import { NameWords, shownCell } from '../athletes/shown_cells.ts';
import { type HurtSide, hurtSide, isNotSaid } from '../athletes/side_cells.ts';
import type { Trouble } from '../problems/failure.ts';
import { ignoredNote, readSideFile, type SideFileSpec, type SideRow } from '../tables/side_file.ts';
import { readDate } from '../units/dates.ts';
import { readSurgery } from './surgery.ts';

/** One line of history.csv: an injury of earlier years. */
export interface HistoryRow {
  readonly athleteId: string;
  /** as written; '' where nothing is */
  readonly region: string;
  /** null: not said, or not read */
  readonly side: HurtSide | null;
  /** days since 1970-01-01 of the injury or operation; null: not said, or not read */
  readonly day: number | null;
  readonly surgery: boolean;
  /** days since 1970-01-01 of the full return to sport; null: not said, or not read */
  readonly fullReturn: number | null;
}

/** Which sides of athletes were hurt, for sheets that name sides by that. */
export interface InvolvedSides {
  /**
   * Side injured, or operated on, up to a day; undated rows count for every day. `both`: two sides are named, or a cell
   * that would tell could not be read, so nobody can say; undefined: none is named.
   * @param day days since 1970-01-01
   */
  of(athleteId: string, day: number, surgicalOnly: boolean): HurtSide | undefined;
}

export interface History {
  readonly rows: readonly HistoryRow[];
  readonly involved: InvolvedSides;
  /** cells that could not be read */
  readonly warnings: readonly Trouble[];
}

export const NO_HISTORY: InvolvedSides = { of: () => undefined };

/** What a row says, and what it may say because a cell of it could not be read. */
interface Entry {
  readonly row: HistoryRow;
  readonly sideUnread: boolean;
  readonly surgeryUnread: boolean;
}

const OPTIONAL = ['region', 'side', 'date', 'surgery', 'full_return'] as const;

/**
 * Reads history.csv. A row whose athlete is unknown is left out with a warning; of the other cells one that cannot be
 * read is taken as unknown, with a warning.
 * @throws Failure 2 if the file is empty or has no column athlete_id
 */
export function readHistory(text: string, spec: SideFileSpec, directory: AthleteDirectory): History {
  const { file } = spec;
  const sideRows = readSideFile(text, spec, ['athlete_id'], OPTIONAL);
  const warnings: Trouble[] = ignoredNote(spec, sideRows);
  for (const column of ['side', 'surgery'] as const) {
    if (sideRows.has(column)) continue;
    const unknown = column === 'side' ? 'Involved and surgical sides stay' : 'The surgical side stays';
    warnings.push({ file, message: `has no column ${column}`, hint: `${unknown} unknown for everybody.` });
  }
  const names = new NameWords(sideRows.names, directory.names);
  const entries: Entry[] = [];
  for (const row of sideRows.rows) {
    const entry = readEntry(row, file, directory, names, warnings);
    if (entry !== undefined) entries.push(entry);
  }
  return { rows: entries.map((entry) => entry.row), involved: involvedSides(entries), warnings };
}

function readEntry(
  row: SideRow,
  file: string,
  directory: AthleteDirectory,
  names: NameWords,
  warnings: Trouble[],
): Entry | undefined {
  const warn = (column: string, rule: string, hint: string): void => {
    const place = { file, line: row.line, column: row.place(column) };
    warnings.push({ ...place, message: `${column}${shownCell(row.get(column), column, names)} ${rule}`, hint });
  };
  const match = directory.find(row.get('athlete_id'));
  if (match.kind !== 'athlete') {
    const rule = match.kind === 'ambiguous' ? 'fits more than one athlete of the roster' : 'is nobody on the roster';
    warn('athlete_id', rule, 'The row is left out.');
    return undefined;
  }
  const day = (column: string, hint: string): number | null => {
    const cell = row.get(column);
    if (isNotSaid(cell)) return null;
    const date = readDate(cell, undefined);
    if (date.kind === 'day') return date.day;
    warn(column, 'is not a date that reads one way: write YYYY-MM-DD', hint);
    return null;
  };
  const side = hurtSide(row.get('side'));
  if (side === undefined) {
    warn('side', 'is none of left, right, both', 'Nobody can say then which side of the athlete is involved.');
  }
  const surgery = readSurgery(row.get('surgery'));
  if (surgery === undefined) {
    warn('surgery', 'is neither yes nor no', 'Nobody can say then whether the side was operated on.');
  }
  return {
    row: {
      athleteId: match.id,
      region: row.get('region'),
      side: side ?? null,
      day: day('date', 'The row counts for every test day.'),
      surgery: surgery ?? false,
      fullReturn: day('full_return', 'It is taken as unknown.'),
    },
    sideUnread: side === undefined,
    surgeryUnread: surgery === undefined,
  };
}

function involvedSides(entries: readonly Entry[]): InvolvedSides {
  const byAthlete = new Map<string, Entry[]>();
  for (const entry of entries) {
    const { athleteId } = entry.row;
    const known = byAthlete.get(athleteId);
    if (known) known.push(entry);
    else byAthlete.set(athleteId, [entry]);
  }
  return {
    of(athleteId, day, surgicalOnly) {
      const counting = (byAthlete.get(athleteId) ?? []).filter(
        ({ row, surgeryUnread }) =>
          (row.day === null || row.day <= day) && (!surgicalOnly || row.surgery || surgeryUnread),
      );
      if (counting.some(({ sideUnread }) => sideUnread)) return 'both';
      const named = counting.filter(({ row }) => row.side !== null);
      const sides = new Set(named.map(({ row }) => row.side));
      if (sides.size === 0) return undefined;
      // A side that may have been operated on says nothing alone, and spoils what another row says of the other side.
      const isSure = !surgicalOnly || named.some(({ row }) => row.surgery);
      return sides.size === 1 && isSure ? [...sides][0]! : 'both';
    },
  };
}
