import type { AthleteBook } from '../athletes/book.ts';
import type { Measure, Protocol, Rule, SportGroup } from '../protocol/types.ts';
import type { Results } from '../tables/schemas.ts';
import { foldKey } from '../units/keys.ts';

/** What an athlete is given and judged by. Athletes of the same teams and sex share one. */
export interface Battery {
  /** teams as written, each once */
  readonly teams: readonly string[];
  /** whether a measure is given, by measure index */
  readonly gives: readonly boolean[];
  /** whether a rule applies, by rule index */
  readonly applies: readonly boolean[];
  /** sport groups through which a measure is given, joined with ; in protocol order, by measure index */
  readonly sportGroups: readonly string[];
}

/**
 * Finds batteries by team and sex. A rule applies if its measure is given to everyone or to a sport group that holds one
 * of the athlete's teams, and if none of the rule's narrowings leaves the athlete out. A protocol that names neither
 * sport groups nor measures for everyone is one battery for all. Teams and sex are compared folded.
 */
export function batteryFinder(protocol: Protocol): (team: string | null, sex: string | null) => Battery {
  const groupTeams = protocol.sportGroups.map((group) => new Set(group.teams.map(foldKey)));
  const forAll = protocol.sportGroups.length === 0 && protocol.everyone.length === 0;
  const everyone = new Set(protocol.everyone);
  const known = new Map<string, Battery>();

  const build = (team: string | null, sex: string | null): Battery => {
    const teams = [...new Set((team ?? '').split(';').map((name) => name.trim()))].filter((name) => name !== '');
    const keys = teams.map(foldKey);
    const groups = protocol.sportGroups.filter((_, at) => keys.some((key) => groupTeams[at].has(key)));
    const given = (measure: Measure): boolean =>
      forAll || everyone.has(measure.name) || groups.some((group) => group.measures.includes(measure.name));
    return {
      teams,
      gives: protocol.measures.map(given),
      applies: protocol.rules.map((rule) => given(rule.measure) && !leavesOut(rule, keys, sex, groups)),
      sportGroups: protocol.measures.map((measure) =>
        groups.flatMap((group) => (group.measures.includes(measure.name) ? [group.name] : [])).join(';'),
      ),
    };
  };

  return (team, sex) => {
    const key = `${team ?? ''}\n${sex ?? ''}`;
    let battery = known.get(key);
    if (battery === undefined) {
      battery = build(team, sex);
      known.set(key, battery);
    }
    return battery;
  };
}

function leavesOut(rule: Rule, teams: readonly string[], sex: string | null, groups: readonly SportGroup[]): boolean {
  const { sex: onlySex, teams: onlyTeams, sportGroups: onlyGroups } = rule;
  if (onlySex !== undefined && (sex === null || foldKey(sex) !== foldKey(onlySex))) return true;
  if (onlyTeams !== undefined && !onlyTeams.some((team) => teams.includes(foldKey(team)))) return true;
  return onlyGroups !== undefined && !groups.some((group) => onlyGroups.includes(group.name));
}

/**
 * Reads the battery of a result row. Team and sex are the athlete's of that season, as the athlete book has them; the
 * team of an athlete whom the book does not know is the row's own.
 */
export function batteryReader(results: Results, athletes: AthleteBook, protocol: Protocol): (row: number) => Battery {
  const find = batteryFinder(protocol);
  const { athlete_id, season, team } = results.columns;
  let lastAthlete = -1;
  let lastSeason = Number.NaN;
  let lastTeam = -1;
  let battery: Battery;
  // Rows of one athlete stand together, so that nearly every row is answered by the one before it.
  return (row) => {
    const athleteCode = athlete_id.codes[row];
    const seasonYear = season.values[row];
    const teamCode = team.codes[row];
    if (athleteCode !== lastAthlete || seasonYear !== lastSeason || teamCode !== lastTeam) {
      const facts = athletes.find(athlete_id.get(row) ?? '', seasonYear);
      battery = find(facts?.team ?? team.get(row), facts?.sex ?? null);
      lastAthlete = athleteCode;
      lastSeason = seasonYear;
      lastTeam = teamCode;
    }
    return battery;
  };
}
