import type { TeamOf } from '../sheets/from_name.ts';
import { foldKey } from '../units/keys.ts';
import type { Screening } from './types.ts';

/**
 * Finds the team that a part of a file name means, among those of screening.yaml, with their other spellings, and of
 * the roster. Punctuation does not matter, since not all of it can stand in a file name; a spelling that two teams
 * share then is none.
 */
export function teamFinder({ teamAliases, rosterTeams = [] }: Pick<Screening, 'teamAliases' | 'rosterTeams'>): TeamOf {
  const teams = new Map<string, string | undefined>();
  for (const [spelling, team] of [...teamAliases, ...rosterTeams.map((team) => [team, team] as const)]) {
    const key = foldKey(spelling);
    if (key === '') continue;
    teams.set(key, teams.has(key) && teams.get(key) !== team ? undefined : team);
  }
  return (text) => teams.get(foldKey(text));
}
