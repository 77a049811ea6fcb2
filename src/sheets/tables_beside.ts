import type { Role } from './entry.ts';
import { isAthleteRole } from './heading_lines.ts';

/**
 * Where the tables that stand side by side begin: a table ends before the columns that tell anew who the athlete is. Only
 * what the table before has already (a second date, a second team) goes with the new one, and a blank column parts them
 * wherever it is.
 * @param roles role of each column, undefined for readings and what is not understood
 * @param isSpacer whether a column holds nothing at all
 * @returns first columns, ascending; the first is 0
 */
export function tableStarts(roles: readonly (Role | undefined)[], isSpacer: (at: number) => boolean): number[] {
  const starts = [0];
  let seen = new Set<string>();
  /** a column of the table at hand that may hold readings */
  let lastReading = -1;
  let hasAthlete = false;
  for (const [at, role] of roles.entries()) {
    if (role === undefined || role === 'ignore') {
      if (!isSpacer(at)) lastReading = at;
      continue;
    }
    const startsAnew = isAthleteRole(role) && hasAthlete && lastReading > starts.at(-1)!;
    const from = startsAnew ? startOfNew(at, lastReading, roles, seen, isSpacer) : -1;
    if (from >= 0) {
      starts.push(from);
      seen = new Set(roles.slice(from, at).filter((other) => other !== undefined));
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
  roles: readonly (Role | undefined)[],
  seen: ReadonlySet<string>,
  isSpacer: (at: number) => boolean,
): number {
  for (let spacer = at - 1; spacer > lastReading; spacer--) if (isSpacer(spacer)) return spacer + 1;
  if (!seen.has(roles[at]!)) return -1;
  let from = at;
  while (from - 1 > lastReading && seen.has(roles[from - 1]!)) from--;
  return from;
}
