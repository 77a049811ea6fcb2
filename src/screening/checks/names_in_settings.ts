import { NameWords } from '../../athletes/shown_cells.ts';
import type { Problem } from '../../problems/problem.ts';
import { nearest } from '../../protocol/nearest.ts';
import type { Protocol } from '../../protocol/types.ts';
import { foldKey } from '../../units/keys.ts';
import type { Screening } from '../types.ts';
import { nearestTeam } from './team_names.ts';
import type { RosterTeams } from './teams.ts';
import { quoted } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

const NO_NAMES = new NameWords([]);

/** Teams and athletes that screening.yaml names and that the roster does not have. */
export function checkNamesInSettings(
  screening: Screening,
  rosterTeams: RosterTeams,
  athleteIds: ReadonlySet<string>,
  places: YamlPlaces,
  protocol: Protocol | undefined,
): Problem[] {
  return [
    ...entryTeams(screening, rosterTeams, places),
    ...aliasedTeams(screening, rosterTeams, places, protocol),
    ...people(screening, athleteIds, places),
  ];
}

function entryTeams({ sheets, teamAliases }: Screening, rosterTeams: RosterTeams, places: YamlPlaces): Problem[] {
  const known = new Set([...rosterTeams.keys()].map(foldKey));
  return sheets.flatMap(({ team }, at): Problem[] => {
    if (team === undefined || known.size === 0) return [];
    const names = team.split(';').map((name) => teamAliases.get(name.trim().toLowerCase()) ?? name.trim());
    const unknown = names.find((name) => !known.has(foldKey(name)));
    if (unknown === undefined) return [];
    const near = nearestTeam(unknown, rosterTeams.keys());
    return [
      places.problem(
        'warning',
        'entry_team_unknown',
        ['sheets', at, 'team'],
        `entry ${at + 1} says team ${quoted(unknown)}, which is not on the roster`,
        near ? `Did you mean ${near}?` : 'Write the team as the roster has it.',
      ),
    ];
  });
}

/** A team that other spellings become: where it is a slip itself, it moves athletes to a team that there is not. */
function aliasedTeams(
  { teamAliases }: Screening,
  rosterTeams: RosterTeams,
  places: YamlPlaces,
  protocol: Protocol | undefined,
): Problem[] {
  if (rosterTeams.size === 0) return [];
  const aliased = new Set(teamAliases.values());
  const groupTeams = (protocol?.sportGroups ?? []).flatMap(({ teams }) => teams);
  const inGroups = new Set(groupTeams.map(foldKey));
  // The roster has an aliased team by the name that it was given, so that others of the roster and the groups tell.
  const others = [...rosterTeams.keys(), ...groupTeams].filter((team) => !aliased.has(team));
  return [...aliased].flatMap((team): Problem[] => {
    if (inGroups.has(foldKey(team))) return [];
    const near = nearestTeam(team, others);
    const isOnRoster = rosterTeams.has(team);
    if (isOnRoster && near === undefined) return [];
    const where = isOnRoster ? 'which no sport group has' : 'which is neither on the roster nor in a sport group';
    return [
      places.problem(
        'warning',
        'alias_team_unknown',
        ['teams', team],
        `teams: gives other spellings of ${quoted(team)}, ${where}`,
        near ? `Did you mean ${near}?` : 'Write the team as the roster or the protocol has it.',
        'key',
      ),
    ];
  });
}

function people({ people: named }: Screening, athleteIds: ReadonlySet<string>, places: YamlPlaces): Problem[] {
  if (athleteIds.size === 0) return [];
  return [...named].flatMap(([name, id]): Problem[] => {
    if (athleteIds.has(id)) return [];
    const near = nearest(id, athleteIds);
    // Neither the name is repeated, nor one that stands where the id should.
    const shown = NO_NAMES.mayShow(id, 'athlete_id') ? `athlete_id ${quoted(id)}` : 'what is no athlete_id';
    return [
      places.problem(
        'warning',
        'person_unknown',
        ['people', name],
        `people: leads to ${shown}, which is not on the roster`,
        near ? `Did you mean ${near}?` : 'Write the athlete_id that the roster has.',
      ),
    ];
  });
}
