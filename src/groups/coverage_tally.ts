import type { Protocol } from '../protocol/types.ts';
import { grouped } from '../tables/grouped.ts';
import type { COVERAGE, Coverage } from '../tables/schemas.ts';
import type { RowOf } from '../tables/table.ts';
import { STATES_TO_CALL } from './coverage.ts';
import { byName, STATES_DONE, STATES_TO_DECIDE, teamsOf } from './to_call.ts';

/** What a line of the tally is about. */
export const TALLY_KINDS = ['team', 'station', 'measure', 'athlete'] as const;
export type TallyKind = (typeof TALLY_KINDS)[number];

/** How far the tests of one team, station, measure or athlete are. */
export interface Tally {
  /** a measure by its label; null: no team, or no sheet says where */
  readonly name: string | null;
  readonly done: number;
  readonly expected: number;
  readonly toCall: number;
  readonly held: number;
  /** in pain, unable or refused: medical staff decide */
  readonly toDecide: number;
  readonly retestDue: number;
}

type Row = RowOf<typeof COVERAGE>;

/**
 * Counts the tests of a coverage table by team, station, measure or athlete. An athlete of two teams counts in each of
 * them. Measures stand in the order of the protocol, everything else by name; athletes of whom nothing is to be
 * done are left out.
 */
export function coverageTally(coverage: Coverage, protocol: Protocol, kind: TallyKind): readonly Tally[] {
  const pairs = [...coverage.rows()].flatMap((row) => namesOf(row, kind).map((name) => ({ name, row })));
  const tallies = [...grouped(pairs, ({ name }) => name)].map(([name, own]) =>
    tallyOf(
      name,
      own.map(({ row }) => row),
    ),
  );
  if (kind === 'measure') {
    const placeOf = (name: string | null): number => protocol.byName.get(name ?? '')?.index ?? 0;
    return tallies
      .sort((a, b) => placeOf(a.name) - placeOf(b.name))
      .map((one) => ({ ...one, name: protocol.byName.get(one.name ?? '')?.label ?? one.name }));
  }
  const sorted = tallies.sort((a, b) => byName(a.name, b.name));
  return kind === 'athlete'
    ? sorted.filter((one) => one.done < one.expected || one.toDecide + one.retestDue > 0)
    : sorted;
}

function namesOf(row: Row, kind: TallyKind): readonly (string | null)[] {
  if (kind === 'team') return teamsOf(row);
  return [kind === 'athlete' ? row.athlete_id : row[kind]];
}

function tallyOf(name: string | null, rows: readonly Row[]): Tally {
  const count = (states: ReadonlySet<string>): number => rows.filter(({ state }) => states.has(state ?? '')).length;
  return {
    name,
    done: count(STATES_DONE),
    expected: rows.length,
    toCall: count(STATES_TO_CALL),
    held: count(new Set(['held'])),
    toDecide: count(STATES_TO_DECIDE),
    retestDue: count(new Set(['retest_due'])),
  };
}
