import type { Member, Members } from '../../src/athletes/members.ts';
import { flag } from '../../src/findings/flag.ts';
import { type CohortOptions, cohort } from '../../src/groups/cohort.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import type { Cohort } from '../../src/tables/schemas.ts';
import { bookOf, type ResultGiven, resultsOf } from '../findings/build.ts';

export type People = Readonly<Record<string, { readonly team?: string; readonly sex?: string }>>;

/** Everybody belongs to every season. */
export function membersOf(people: People): Members {
  const members = Object.entries(people).map(
    ([athleteId, { team, sex }]): Member => ({ athleteId, team: team ?? null, sex: sex ?? null, leftDay: null }),
  );
  return () => members;
}

/** What people share whose results are these rows, judged by a protocol. */
export function cohortOf(
  rows: readonly ResultGiven[],
  people: People,
  protocol: Protocol,
  options: Partial<CohortOptions> = {},
): Cohort {
  const results = resultsOf(rows);
  const book = bookOf(people);
  return cohort(results, flag(results, book, protocol, options.past), book, protocol, {
    members: membersOf(people),
    ...options,
  });
}

/** Rows as `2026 team Rowing weak 1/2/3`: flagged, tested, eligible. */
export function briefly(table: Cohort): string[] {
  return [...table.rows()].map(({ season, group_kind, group, rule, flagged, tested, eligible }) =>
    [season ?? 'all', group_kind, group, rule, `${flagged}/${tested}/${eligible}`]
      .filter((part) => part !== null)
      .join(' '),
  );
}
