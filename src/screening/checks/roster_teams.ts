import type { Roster, RosterRow } from '../../athletes/roster.ts';
import type { NameWords } from '../../athletes/shown_cells.ts';
import type { RosterTeams } from './teams.ts';
import { many, namedAll } from './wording.ts';

const IDS_NAMED = 8;
/** So few on a team whose name is like that of an athlete: it may be a row that has slipped. */
const FEW = 2;

/** Teams of the roster, each with how many athletes are on it in any season. */
export function teamsOf(roster: Roster | undefined): RosterTeams {
  const members = new Map<string, Set<string>>();
  for (const { athleteId, teams } of roster?.rows ?? []) {
    for (const team of teams) members.set(team, (members.get(team) ?? new Set()).add(athleteId));
  }
  return new Map([...members].map(([team, ids]) => [team, ids.size]));
}

/** Teams that messages may name: where names stand in the column of teams, they are no teams. */
export function nameableTeams(teams: RosterTeams, names: NameWords): RosterTeams {
  return new Map([...teams].filter(([team, athletes]) => !isName(team, athletes, names)));
}

const isName = (team: string, athletes: number, names: NameWords): boolean => athletes <= FEW && names.isIn(team);

/** Ids as they may be repeated: in a row that has slipped, a name stands where the id should. */
export function shownIds(ids: readonly string[], names: NameWords): string[] {
  return ids.map((id) => (names.isIn(id) ? '(not shown)' : id));
}

/** What is told of a roster as a whole: code, row it begins with, message, cure. */
export type RosterNews = readonly [code: string, row: RosterRow | undefined, message: string, hint: string];

/** Athletes who have no team, and cells of the column of teams that hold the name of somebody. */
export function rosterTeamNews(roster: Roster, hasColumn: boolean, names: NameWords): RosterNews[] {
  const without = roster.rows.filter(({ teams }) => teams.length === 0);
  const ids = [...new Set(without.map(({ athleteId }) => athleteId))];
  const all = new Set(roster.rows.map(({ athleteId }) => athleteId)).size;
  const follows = 'are given the measures of everyone only, unless a sheet says the team';
  const found: RosterNews[] = [];
  if (!hasColumn) {
    found.push([
      'roster_without_team',
      undefined,
      `has no column team, so its athletes ${follows}`,
      'Add a column team, or say which heading is meant.',
    ]);
  } else if (ids.length > 0) {
    const message = `team is empty for ${ids.length} of ${many(all, 'athlete')}, who ${follows}: ${namedAll(shownIds(ids, names), IDS_NAMED)}`;
    found.push(['team_empty', without[0], message, 'Fill in the team.']);
  }
  const teams = teamsOf(roster);
  const odd = roster.rows.filter((row) => row.teams.some((team) => isName(team, teams.get(team)!, names)));
  if (odd.length > 0) {
    const message = `team of ${many(odd.length, 'athlete')} holds a word that is a name on the roster, and is not repeated here`;
    found.push([
      'team_is_name',
      odd[0],
      message,
      'Look whether the rows have slipped, or the headings are the right ones.',
    ]);
  }
  return found;
}
