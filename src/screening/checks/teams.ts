import type { Problem } from '../../problems/problem.ts';
import { nearest } from '../../protocol/nearest.ts';
import type { Path } from '../../protocol/places.ts';
import type { Protocol } from '../../protocol/types.ts';
import { foldKey } from '../../units/keys.ts';
import type { Screening } from '../types.ts';
import { many, namedAll, quoted } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

/** Teams of the roster, each with how many athletes are on it. */
export type RosterTeams = ReadonlyMap<string, number>;

const SHORTEST_NAME = 4;
const MOST_STRANGERS = 50;

/** A team as a sport group names it. */
interface NamedTeam {
  readonly team: string;
  readonly group: string;
  readonly path: Path;
}

/** The team that a mistyped or longer name may mean: Women's soccer is near to Soccer. */
export function nearestTeam(team: string, known: Iterable<string>): string | undefined {
  const teams = [...known];
  const words = new Set(foldKey(team).split(' '));
  const holds = (one: ReadonlySet<string>, other: ReadonlySet<string>): boolean =>
    [...other].join('').length >= SHORTEST_NAME && [...other].every((word) => one.has(word));
  const kin = teams.find((other) => {
    const others = new Set(foldKey(other).split(' '));
    return holds(words, others) || holds(others, words);
  });
  return kin ?? nearest(team, teams);
}

/**
 * Teams that the sport groups and the roster do not have in common. A team of the roster that is in no sport group is
 * given the battery of everyone alone.
 */
export function checkTeams(
  { sportGroups }: Protocol,
  rosterTeams: RosterTeams,
  { teamAliases }: Pick<Screening, 'teamAliases'>,
  rosterFile: string,
  places: YamlPlaces,
): Problem[] {
  if (sportGroups.length === 0 || rosterTeams.size === 0) return [];
  const aliased = (team: string): string => teamAliases.get(team.trim().toLowerCase()) ?? team;
  const named = sportGroups.flatMap(({ name, teams }) =>
    teams.map((team, at): NamedTeam => ({ team, group: name, path: ['sport_groups', name, 'teams', at] })),
  );
  const inGroups = new Set(named.map(({ team }) => foldKey(team)));
  const onRoster = new Set([...rosterTeams.keys()].map(foldKey));
  const missing = named.filter(({ team }) => !onRoster.has(foldKey(team)));
  const told = new Set<string>();
  const strangers = [...rosterTeams].filter(([team]) => !inGroups.has(foldKey(team)));
  if (strangers.length > MOST_STRANGERS) return [manyStrangers(strangers, rosterFile)];
  const found = strangers.map(([team, athletes]): Problem => {
    const near =
      missing.find((other) => foldKey(aliased(other.team)) === foldKey(team))?.team ??
      nearestTeam(
        team,
        missing.map((other) => other.team),
      );
    const groups = missing.filter((other) => other.team === near);
    if (near !== undefined) told.add(near);
    return {
      severity: 'warning',
      code: 'team_without_sport_group',
      file: rosterFile,
      line: null,
      column: null,
      message: `team ${quoted(team)} (${many(athletes, 'athlete')}) is in no sport group, so it is given the measures of everyone only`,
      hint:
        near === undefined
          ? 'Add it to teams: of a sport group in the protocol, if it should be given more.'
          : `Sport group ${groups[0].group} has ${quoted(near)} (line ${places.lineOf(groups[0].path)}). ${foldKey(aliased(near)) === foldKey(team) ? `Write ${quoted(team)} there.` : nearCure(team, near)}`,
    };
  });
  const absent: string[] = [];
  for (const { team, group, path } of missing) {
    if (told.has(team)) continue;
    const alias = aliased(team);
    // A team that has its place is no misspelling of another: Baseball is not Basketball.
    const near =
      alias !== team && onRoster.has(foldKey(alias))
        ? alias
        : nearestTeam(
            team,
            strangers.map(([other]) => other),
          );
    if (near === undefined) {
      absent.push(team);
      continue;
    }
    found.push(
      places.problem(
        'warning',
        'sport_group_team_unknown',
        path,
        `sport group ${group} names team ${quoted(team)}, which is not on the roster; the roster has ${quoted(near)}`,
        alias === near
          ? `Write ${quoted(near)} in the group: that is its name under teams: in screening.yaml.`
          : nearCure(near, team),
      ),
    );
  }
  if (absent.length > 0) {
    found.push(
      places.problem(
        'note',
        'sport_group_team_absent',
        missing.find(({ team }) => team === absent[0])!.path,
        `${many(new Set(absent).size, 'team')} of sport groups not on the roster: ${namedAll([...new Set(absent)].map(quoted))}`,
        'Leave them if they will come, or take them out.',
      ),
    );
  }
  return found;
}

/** So many teams in no sport group are no slip of a name each: one look at the file tells more than a line for each. */
function manyStrangers(strangers: readonly (readonly [string, number])[], file: string): Problem {
  return {
    severity: 'warning',
    code: 'team_without_sport_group',
    file,
    line: null,
    column: null,
    message: `${strangers.length} teams are in no sport group, so they are given the measures of everyone only: ${namedAll(strangers.map(([team]) => quoted(team)))}`,
    hint: 'Look whether the column of teams is the right one; else add them to teams: of a sport group in the protocol.',
  };
}

/** @param team as the roster has it */
function nearCure(team: string, near: string): string {
  return `If that is one team, write it as ${quoted(team)} in the group, or say teams: {${quoted(near)}: {also: [${quoted(team)}]}} in screening.yaml.`;
}

/** Teams and athletes that screening.yaml names and that the roster does not have. */
export function checkNamesInSettings(
  { sheets, teamAliases, people }: Screening,
  rosterTeams: RosterTeams,
  athleteIds: ReadonlySet<string>,
  places: YamlPlaces,
): Problem[] {
  const found: Problem[] = [];
  const known = new Set([...rosterTeams.keys()].map(foldKey));
  for (const [at, { team }] of sheets.entries()) {
    if (team === undefined || known.size === 0) continue;
    const names = team.split(';').map((name) => teamAliases.get(name.trim().toLowerCase()) ?? name.trim());
    const unknown = names.find((name) => !known.has(foldKey(name)));
    if (unknown === undefined) continue;
    const near = nearestTeam(unknown, rosterTeams.keys());
    found.push(
      places.problem(
        'warning',
        'entry_team_unknown',
        ['sheets', at, 'team'],
        `entry ${at + 1} says team ${quoted(unknown)}, which is not on the roster`,
        near ? `Did you mean ${near}?` : 'Write the team as the roster has it.',
      ),
    );
  }
  if (athleteIds.size === 0) return found;
  for (const [name, id] of people) {
    if (athleteIds.has(id)) continue;
    const near = nearest(id, athleteIds);
    // The name itself is not repeated.
    found.push(
      places.problem(
        'warning',
        'person_unknown',
        ['people', name],
        `people: leads to athlete_id ${quoted(id)}, which is not on the roster`,
        near ? `Did you mean ${near}?` : 'Write the athlete_id that the roster has.',
      ),
    );
  }
  return found;
}
