import { sportGroupFinder } from '../findings/sport_groups.ts';
import type { Protocol } from '../protocol/types.ts';
import { GROUP_KINDS, type GroupKind } from '../tables/schemas.ts';
import type { Standing } from './standings.ts';

/** Athletes that belong together, and those to whom they are compared. */
export interface Group {
  readonly kind: GroupKind;
  /** '' for all */
  readonly name: string;
  readonly standings: readonly Standing[];
  /** everybody else; of a sex those of another recorded sex; none for all */
  readonly others: readonly Standing[];
}

/**
 * The groups of some athletes, in the order of their kinds, then by name. An athlete is in each of their teams, once in
 * each sport group that holds one of them, and with a recorded sex in that one. Teams and sexes are told apart as
 * they are written, as in every table; only the teams of a sport group are compared folded.
 */
export function groupsOf(
  standings: readonly Standing[],
  protocol: Protocol,
  kinds: readonly GroupKind[] = GROUP_KINDS,
): Group[] {
  return GROUP_KINDS.filter((kind) => kinds.includes(kind)).flatMap((kind) => {
    if (kind === 'all') return standings.length > 0 ? [{ kind, name: '', standings, others: [] }] : [];
    const compared = kind === 'sex' ? standings.filter(({ sex }) => sex !== null) : standings;
    return gathered(compared, namesIn(kind, protocol)).map(([name, members]): Group => {
      const own = new Set(members);
      return { kind, name, standings: members, others: compared.filter((one) => !own.has(one)) };
    });
  });
}

/** Finds the groups of one kind to which an athlete belongs. */
function namesIn(kind: Exclude<GroupKind, 'all'>, protocol: Protocol): (standing: Standing) => readonly string[] {
  if (kind === 'team') return ({ teams }) => teams;
  if (kind === 'sex') return ({ sex }) => (sex === null ? [] : [sex]);
  const sportGroupsOf = sportGroupFinder(protocol);
  return ({ teams }) => sportGroupsOf(teams.join(';'));
}

function gathered(
  standings: readonly Standing[],
  namesOf: (standing: Standing) => readonly string[],
): [name: string, members: Standing[]][] {
  const groups = new Map<string, Standing[]>();
  for (const standing of standings) {
    for (const name of namesOf(standing)) {
      const members = groups.get(name);
      if (members) members.push(standing);
      else groups.set(name, [standing]);
    }
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1));
}
