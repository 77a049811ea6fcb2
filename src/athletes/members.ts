import type { Athletes } from './book.ts';
import type { Roster, RosterRow } from './roster.ts';

/** Somebody who belongs to the club in a season, tested or not. */
export interface Member {
  readonly athleteId: string;
  /** "A" or "A;B" */
  readonly team: string | null;
  readonly sex: string | null;
  /** days since 1970-01-01 of the last day on the team; null: not said */
  readonly leftDay: number | null;
}

/** Whether an athlete is gone on a day: the last day on the team still counts. */
export function hasLeft(leftDay: number | null, on: number): boolean {
  return leftDay !== null && leftDay < on;
}

/** Everybody who belongs to a season, by athlete_id. */
export type Members = (season: number) => readonly Member[];

/**
 * Finds who belongs to a season: whoever was seen there, and whoever the roster lists for it. A line of the roster that
 * names no season holds from the year of entry to the season of leaving. Where it names no year of entry it holds for
 * the newest season alone: nobody knows whether the athlete was there before.
 * @param newest the season that is being screened
 * @param seasonOf the season of a day
 */
export function membersReader(
  athletes: Athletes,
  roster: Roster | undefined,
  newest: number,
  seasonOf: (day: number) => number,
): Members {
  const seen = new Map<number, Map<string, Member>>();
  const left = new Map<string, number | null>();
  for (const { athleteId, leftDay } of roster?.rows ?? []) left.set(athleteId, leftDay ?? left.get(athleteId) ?? null);
  const { columns } = athletes;
  for (let row = 0; row < athletes.length; row++) {
    const season = columns.season.get(row);
    const athleteId = columns.athlete_id.get(row);
    // A row of the roster for a season makes a row of this table, whether or not the athlete was seen.
    if (season === null || athleteId === null) continue;
    const members = seen.get(season) ?? new Map<string, Member>();
    seen.set(season, members);
    const team = columns.team.get(row);
    members.set(athleteId, {
      athleteId,
      team: team === '' ? null : team,
      sex: columns.sex.get(row),
      leftDay: left.get(athleteId) ?? null,
    });
  }
  const known = new Map<number, readonly Member[]>();
  return (season) => {
    const before = known.get(season);
    if (before !== undefined) return before;
    const members = new Map(seen.get(season));
    for (const row of roster?.rows ?? []) {
      if (members.has(row.athleteId) || !holdsFor(row, season, newest, seasonOf)) continue;
      const team = row.teams.length > 0 ? row.teams.join(';') : null;
      members.set(row.athleteId, { athleteId: row.athleteId, team, sex: row.sex, leftDay: row.leftDay });
    }
    const sorted = [...members.values()].sort((a, b) => (a.athleteId < b.athleteId ? -1 : 1));
    known.set(season, sorted);
    return sorted;
  };
}

function holdsFor(row: RosterRow, season: number, newest: number, seasonOf: (day: number) => number): boolean {
  if (row.season !== null) return row.season === season;
  if (row.leftDay !== null && seasonOf(row.leftDay) < season) return false;
  return row.entryYear === null ? season === newest : row.entryYear <= season;
}
