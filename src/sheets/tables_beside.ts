import type { Role } from './entry.ts';
import { isAthleteRole } from './heading_lines.ts';

/** A column as far as it matters for where tables begin. */
export interface BesideColumn {
  readonly heading: string;
  /** undefined for readings and what is not understood */
  readonly role: Role | undefined;
  /** it has no heading */
  readonly isSpacer: boolean;
  /** its cells alone show that it names athletes */
  readonly namesAthletes: boolean;
}

/**
 * Where the tables that stand side by side begin: a table ends before the columns that tell anew who the athlete is. Only
 * what the table before has already (a second date, a second team) goes with the new one, and a blank column parts them
 * wherever it is.
 * @returns first columns, ascending; the first is 0
 */
export function tableStarts(columns: readonly BesideColumn[]): number[] {
  const starts = [0];
  let seen = new Set<string>();
  /** a column of the table at hand that may hold readings */
  let lastReading = -1;
  let hasAthlete = false;
  for (const [at, { role, isSpacer }] of columns.entries()) {
    if (role === undefined || role === 'ignore' || role === 'value') {
      if (!isSpacer) lastReading = at;
      continue;
    }
    const mayStart = isAthleteRole(role) && hasAthlete && lastReading > starts.at(-1)!;
    const from = mayStart ? startOfNew(at, lastReading, starts.at(-1)!, columns, seen) : -1;
    if (from >= 0) {
      starts.push(from);
      seen = new Set(columns.slice(from, at).flatMap((column) => column.role ?? []));
      lastReading = from;
    }
    hasAthlete ||= isAthleteRole(role);
    seen.add(role);
  }
  return starts;
}

/** First column of the new table; -1: the athlete column tells more of the same row, such as a name at its end. */
function startOfNew(
  at: number,
  lastReading: number,
  start: number,
  columns: readonly BesideColumn[],
  seen: ReadonlySet<string>,
): number {
  for (let spacer = at - 1; spacer > lastReading; spacer--) if (columns[spacer].isSpacer) return spacer + 1;
  const { role, namesAthletes } = columns[at];
  if (!seen.has(role!) && !namesAthletes && !repeatsReadings(at, start, columns)) return -1;
  let from = at;
  while (from - 1 > lastReading && seen.has(columns[from - 1].role!)) from--;
  return from;
}

/** Whether a heading of the table so far stands again behind a column: the same reading of two athletes. */
function repeatsReadings(at: number, start: number, columns: readonly BesideColumn[]): boolean {
  const readings = (part: readonly BesideColumn[]): string[] =>
    part.flatMap(({ heading, role }) => (role === undefined && heading !== '' ? [heading.toLowerCase()] : []));
  const before = new Set(readings(columns.slice(start, at)));
  return readings(columns.slice(at + 1)).some((heading) => before.has(heading));
}
