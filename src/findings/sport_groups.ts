import type { Protocol } from '../protocol/types.ts';
import { foldKey } from '../units/keys.ts';

/** Finds the sport groups that hold one of an athlete's teams, "A" or "A;B", in protocol order; teams are compared folded. */
export function sportGroupFinder({ sportGroups }: Protocol): (team: string | null) => readonly string[] {
  const held = sportGroups.map(({ name, teams }) => ({ name, teams: new Set(teams.map(foldKey)) }));
  const known = new Map<string, readonly string[]>();
  return (team) => {
    const text = team ?? '';
    let names = known.get(text);
    if (names === undefined) {
      const keys = text.split(';').map(foldKey);
      names = held.filter(({ teams }) => keys.some((key) => teams.has(key))).map(({ name }) => name);
      known.set(text, names);
    }
    return names;
  };
}
