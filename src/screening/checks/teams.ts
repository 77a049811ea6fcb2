import { type Problem, problemOf } from '../../problems/problem.ts';
import type { Path } from '../../protocol/places.ts';
import type { Protocol, SportGroup } from '../../protocol/types.ts';
import { foldKey } from '../../units/keys.ts';
import type { Screening } from '../types.ts';
import { isMisspelling, isWider, nearestTeam } from './team_names.ts';
import { many, namedAll, quoted } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

/** Teams of the roster, each with how many athletes are on it. */
export type RosterTeams = ReadonlyMap<string, number>;

type Settings = Pick<Screening, 'teamAliases'>;

const MOST_STRANGERS = 50;
const LINE_WIDTH = 68;

/** A team as a sport group names it. */
interface NamedTeam {
  readonly team: string;
  readonly group: SportGroup;
  readonly path: Path;
}

interface Stranger {
  readonly team: string;
  readonly athletes: number;
}

/**
 * Teams that the sport groups and the roster do not have in common. A team of the roster that is in no sport group is
 * given the battery of everyone alone.
 */
export function checkTeams(
  { sportGroups }: Protocol,
  rosterTeams: RosterTeams,
  { teamAliases }: Settings,
  rosterFile: string,
  places: YamlPlaces,
): Problem[] {
  if (sportGroups.length === 0 || rosterTeams.size === 0) return [];
  const aliased = (team: string): string => teamAliases.get(team.trim().toLowerCase()) ?? team;
  const named = sportGroups.flatMap((group) =>
    group.teams.map((team, at): NamedTeam => ({ team, group, path: ['sport_groups', group.name, 'teams', at] })),
  );
  const inGroups = new Set(named.map(({ team }) => foldKey(team)));
  const onRoster = new Set([...rosterTeams.keys()].map(foldKey));
  const missing = named.filter(({ team }) => !onRoster.has(foldKey(team)));
  const strangers = [...rosterTeams].flatMap(([team, athletes]) =>
    inGroups.has(foldKey(team)) ? [] : [{ team, athletes }],
  );
  const say = (message: string, hint: string, paste?: readonly string[]): Problem =>
    problemOf('warning', 'team_without_sport_group', { message, hint, paste }, rosterFile);
  if (strangers.length > MOST_STRANGERS) return [manyStrangers(strangers, say)];
  const placeOf = ({ team, group, path }: NamedTeam): string =>
    `sport group ${group.name} has ${quoted(team)} (line ${places.lineOf(path)})`;

  const told = new Set<string>();
  const found: Problem[] = [];
  const slips: [NamedTeam, Stranger][] = [];
  const wider = new Map<SportGroup, Stranger[]>();
  const alone: Stranger[] = [];
  const names = [...rosterTeams.keys(), ...named.map(({ team }) => team)];
  for (const stranger of strangers) {
    const two = partsOf(stranger.team, names);
    const renamed = missing.filter(({ team }) => foldKey(aliased(team)) === foldKey(stranger.team));
    // A name that has its place in a group is no misspelling of another, and stands for one team alone.
    const slip = missing.find(({ team }) => !told.has(team) && isMisspelling(stranger.team, team));
    const kin = named.filter(({ team }) => isWider(stranger.team, team));
    if (two) {
      const hint = `Two teams of one athlete are parted by a semicolon: write ${quoted(two.join(';'))} in the roster.`;
      found.push(say(withoutGroup([stranger]), hint));
    } else if (renamed.length > 0) {
      for (const { team } of renamed) told.add(team);
      const all = namedAll(renamed.map(placeOf));
      found.push(say(withoutGroup([stranger]), `${capital(all)}. Write ${quoted(stranger.team)} there.`));
    } else if (slip) {
      told.add(slip.team);
      slips.push([slip, stranger]);
    } else if (kin.length > 0) {
      for (const { group, team } of kin) {
        told.add(team);
        const known = wider.get(group) ?? [];
        if (!known.includes(stranger)) wider.set(group, [...known, stranger]);
      }
    } else alone.push(stranger);
  }
  if (alone.length > 0) {
    const them =
      alone.length === 1
        ? 'it to teams: of a sport group in the protocol, if it'
        : 'them to teams: of sport groups in the protocol, if they';
    found.push(say(withoutGroup(alone), `Add ${them} should be given more.`));
  }
  for (const [group, teams] of wider) {
    const like = named.find((one) => one.group === group && teams.some(({ team }) => isWider(team, one.team)))!;
    const list = [...group.teams, ...teams.map(({ team }) => team)];
    const hint = `${capital(placeOf(like))}. If they belong there, write in place of its teams:`;
    found.push(say(withoutGroup(teams), hint, teamsLines(list)));
  }
  const aliases = aliasLines(slips, teamAliases.size > 0);
  const where = teamAliases.size > 0 ? 'add below teams: of screening.yaml:' : 'add to screening.yaml:';
  for (const [near, stranger] of slips) {
    const hint = `${capital(placeOf(near))}. If that is one team, write it in one way in both files, or ${where}`;
    found.push(say(withoutGroup([stranger]), hint, aliases));
  }
  const half = halfPlaced({ sportGroups }, missing, rosterTeams, places);
  const rest = missing.filter(({ team }) => !told.has(team));
  return [...found, ...half, ...absentTeams(rest, onRoster, aliased, places)];
}

/** The teams that one cell names with another mark than a semicolon between them: Soccer / Tennis. */
function partsOf(team: string, names: readonly string[]): string[] | undefined {
  const known = new Map(names.map((name) => [foldKey(name), name]));
  const parts = team.split(/[/&+,]|\band\b/i).flatMap((part) => known.get(foldKey(part)) ?? []);
  return parts.length > 1 && parts.length === team.split(/[/&+,]|\band\b/i).length ? parts : undefined;
}

/**
 * Teams of the roster that have been put into one sport group, while another still has the wider name that nobody on the
 * roster has: that group is given to nobody.
 */
function halfPlaced(
  { sportGroups }: Pick<Protocol, 'sportGroups'>,
  missing: readonly NamedTeam[],
  rosterTeams: RosterTeams,
  places: YamlPlaces,
): Problem[] {
  const holds = ({ teams }: SportGroup, team: string): boolean =>
    teams.some((other) => foldKey(other) === foldKey(team));
  return missing.flatMap(({ team, group, path }): Problem[] => {
    // A group that holds one of them beside the wider name has been looked at.
    if (group.teams.some((other) => other !== team && isWider(other, team))) return [];
    const left = [...rosterTeams.keys()].filter(
      (other) => isWider(other, team) && sportGroups.some((one) => holds(one, other)),
    );
    if (left.length === 0) return [];
    const message = `sport group ${group.name} has team ${quoted(team)}, which is not on the roster; the roster has ${namedAll(left.map(quoted))}, and other groups have ${left.length === 1 ? 'it' : 'them'}`;
    const hint = 'If they belong there as well, write in place of its teams:';
    const paste = teamsLines([...group.teams, ...left]).join('\n');
    return [{ ...places.problem('warning', 'sport_group_team_unknown', path, message, hint), paste }];
  });
}

function withoutGroup(teams: readonly Stranger[]): string {
  const names = namedAll(teams.map(({ team, athletes }) => `${quoted(team)} (${many(athletes, 'athlete')})`));
  return teams.length === 1
    ? `team ${names} is in no sport group, so it is given the measures of everyone only`
    : `teams ${names} are in no sport group, so they are given the measures of everyone only`;
}

/** Teams of sport groups that the roster calls otherwise, or that nobody is on. */
function absentTeams(
  missing: readonly NamedTeam[],
  onRoster: ReadonlySet<string>,
  aliased: (team: string) => string,
  places: YamlPlaces,
): Problem[] {
  const isRenamed = ({ team }: NamedTeam): boolean => aliased(team) !== team && onRoster.has(foldKey(aliased(team)));
  const found = missing
    .filter(isRenamed)
    .map(({ team, group, path }) =>
      places.problem(
        'warning',
        'sport_group_team_unknown',
        path,
        `sport group ${group.name} names team ${quoted(team)}, which is not on the roster; the roster has ${quoted(aliased(team))}`,
        `Write ${quoted(aliased(team))} in the group: that is its name under teams: in screening.yaml.`,
      ),
    );
  const absent = missing.filter((one) => !isRenamed(one));
  if (absent.length === 0) return found;
  const names = [...new Set(absent.map(({ team }) => team))];
  const message = `${many(names.length, 'team')} of sport groups not on the roster: ${namedAll(names.map(quoted))}`;
  const hint = 'Leave them if they will come, or take them out.';
  return [...found, places.problem('note', 'sport_group_team_absent', absent[0].path, message, hint)];
}

/** So many teams in no sport group are no slip of a name each: one look at the file tells more than a line for each. */
function manyStrangers(strangers: readonly Stranger[], say: (message: string, hint: string) => Problem): Problem {
  return say(
    `${strangers.length} teams are in no sport group, so they are given the measures of everyone only: ${namedAll(strangers.map(({ team }) => quoted(team)))}`,
    'Look whether the column of teams is the right one; else add them to teams: of a sport group in the protocol.',
  );
}

/** A list of teams as a sport group holds it, in lines that are not too long. */
function teamsLines(teams: readonly string[]): string[] {
  const lines: string[] = [];
  let line = 'teams: [';
  for (const [at, team] of teams.entries()) {
    const part = `${yamlWord(team)}${at === teams.length - 1 ? ']' : ','}`;
    const isFirst = line.endsWith('[') || line.trim() === '';
    if (!isFirst && line.length + part.length + 1 > LINE_WIDTH) {
      lines.push(line);
      // Deeper than the key, however deep that stands.
      line = `        ${part}`;
    } else line += isFirst ? part : ` ${part}`;
  }
  return [...lines, line];
}

/** Every misspelling at once, since the key teams must not be given twice. */
function aliasLines(slips: readonly (readonly [NamedTeam, Stranger])[], isBelow: boolean): string[] {
  const lines = slips.map(([{ team }, stranger]) => `  ${yamlWord(team)}: { also: [${yamlWord(stranger.team)}] }`);
  return isBelow ? lines : ['teams:', ...lines];
}

/** A name as YAML takes it; one that may stand for a number or for yes and no is quoted. */
function yamlWord(text: string): string {
  return /^(?:[A-Za-z]+(?: [A-Za-z]+)+|[A-Za-z]{4,})$/.test(text) && !/^(?:true|false|null)$/i.test(text)
    ? text
    : JSON.stringify(text);
}

const capital = (text: string): string => `${text[0].toUpperCase()}${text.slice(1)}`;

/** Teams that rules are narrowed to and that neither the roster nor a sport group has: such a rule leaves everybody out. */
export function checkRuleTeams(
  { rules, sportGroups }: Protocol,
  rosterTeams: RosterTeams,
  places: YamlPlaces,
): Problem[] {
  if (rosterTeams.size === 0) return [];
  const names = [...rosterTeams.keys(), ...sportGroups.flatMap(({ teams }) => teams)];
  const known = new Set(names.map(foldKey));
  return rules.flatMap(({ name, teams = [] }) =>
    teams.flatMap((team, at): Problem[] => {
      if (known.has(foldKey(team))) return [];
      const near = nearestTeam(team, names);
      return [
        places.problem(
          'warning',
          'rule_team_unknown',
          ['rules', name, 'teams', at],
          `rule ${name} is narrowed to team ${quoted(team)}, which is neither on the roster nor in a sport group`,
          near ? `Did you mean ${near}?` : 'Write the team as the roster has it.',
        ),
      ];
    }),
  );
}
