import type { Protocol } from '../protocol/types.ts';
import { grouped } from '../tables/grouped.ts';
import type { COVERAGE, Coverage, CoverageState } from '../tables/schemas.ts';
import type { RowOf } from '../tables/table.ts';
import { STATES_TO_CALL } from './coverage.ts';

/** How many of the tests of a team were done at one place. */
export interface Progress {
  readonly done: number;
  readonly expected: number;
}

/** An athlete and the labels of what is meant. */
export interface Called {
  readonly athleteId: string;
  readonly team: string | null;
  readonly measures: readonly string[];
  /** ISO day by which the first of the tests is due again; null: none is planned */
  readonly retestBy: string | null;
}

/** A coverage table as people act on it. */
export interface ToCall {
  /** null: no sheet says where */
  readonly stations: readonly (string | null)[];
  /** by team, then by place of the station; undefined: nothing is expected there */
  readonly teams: readonly { readonly team: string | null; readonly progress: readonly (Progress | undefined)[] }[];
  readonly total: Progress;
  /** who still lacks something, by station */
  readonly call: readonly { readonly station: string | null; readonly athletes: readonly Called[] }[];
  /** held by medical staff: not to be called */
  readonly held: readonly Called[];
  /** in pain, unable, or refused: medical staff decide whether they come again */
  readonly decide: readonly (Called & { readonly state: CoverageState })[];
  /** tests that are due again, by measure */
  readonly retests: readonly { readonly measure: string; readonly athletes: readonly Called[] }[];
  /** ISO days of the tests that are due again on a later day, the first first */
  readonly later: readonly string[];
}

type Row = RowOf<typeof COVERAGE>;

/** Whoever was in pain has been there: what is still to be done, medical staff say. */
export const STATES_DONE: ReadonlySet<string> = new Set<CoverageState>(['done', 'pain', 'retest_due']);
/** Medical staff decide whether they come again. */
export const STATES_TO_DECIDE: ReadonlySet<string> = new Set<CoverageState>(['pain', 'unable', 'refused']);

/** An athlete of two teams counts in each of them, and once in the total. */
export function toCall(coverage: Coverage, protocol: Protocol): ToCall {
  const rows = [...coverage.rows()];
  const labelOf = (name: string | null): string => protocol.byName.get(name ?? '')?.label ?? name ?? '';
  const called = (some: readonly Row[]): Called[] =>
    [...grouped(some, ({ athlete_id }) => athlete_id ?? '')].map(([athleteId, own]) => ({
      athleteId,
      team: own[0].team,
      measures: own.map(({ measure }) => labelOf(measure)).filter((label) => label !== ''),
      retestBy: own.flatMap(({ retest_by }) => retest_by ?? []).sort()[0] ?? null,
    }));
  const of = (states: ReadonlySet<string>): Row[] => rows.filter(({ state }) => states.has(state ?? ''));
  const stations = [...new Set(rows.map(({ station }) => station))].sort(byName);
  const byTeam = grouped(
    rows.flatMap((row) => teamsOf(row).map((team) => ({ team, row }))),
    ({ team }) => team,
  );
  return {
    stations,
    teams: [...byTeam]
      .sort(([a], [b]) => byName(a, b))
      .map(([team, own]) => ({
        team,
        progress: stations.map((station) =>
          progressOf(own.map(({ row }) => row).filter((row) => row.station === station)),
        ),
      })),
    total: progressOf(rows) ?? { done: 0, expected: 0 },
    call: [...grouped(of(STATES_TO_CALL), ({ station }) => station)]
      .sort(([a], [b]) => byName(a, b))
      .map(([station, own]) => ({ station, athletes: called(own) })),
    held: called(of(new Set(['held']))),
    decide: [...grouped(of(STATES_TO_DECIDE), ({ athlete_id, state }) => `${athlete_id}\n${state}`).values()].flatMap(
      (own) => called(own).map((one) => ({ ...one, state: own[0].state as CoverageState })),
    ),
    retests: [...grouped(of(new Set(['retest_due'])), ({ measure }) => labelOf(measure))].map(([measure, own]) => ({
      measure,
      athletes: called(own),
    })),
    later: of(new Set(['done']))
      .flatMap(({ retest_by }) => retest_by ?? [])
      .sort(),
  };
}

function progressOf(rows: readonly Row[]): Progress | undefined {
  if (rows.length === 0) return undefined;
  return { done: rows.filter(({ state }) => STATES_DONE.has(state ?? '')).length, expected: rows.length };
}

/** Teams of a row; null: none. */
export function teamsOf({ team }: Pick<Row, 'team'>): (string | null)[] {
  const teams = (team ?? '').split(';').filter((name) => name !== '');
  return teams.length === 0 ? [null] : teams;
}

/** Unknown names last. */
export function byName(a: string | null, b: string | null): number {
  if (a === null || b === null) return Number(a === null) - Number(b === null);
  return a < b ? -1 : a > b ? 1 : 0;
}
