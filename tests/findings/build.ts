import type { AthleteBook } from '../../src/athletes/book.ts';
import type { Measure, Protocol, Rule, SportGroup } from '../../src/protocol/types.ts';
import { type Findings, RESULTS, type Results } from '../../src/tables/schemas.ts';
import { type RowOf, Table } from '../../src/tables/table.ts';
import { parseIsoDay } from '../../src/units/days.ts';

/** A measure as the loader would fill it in; its index is set by `protocolOf`. */
export function measureOf(name: string, given: Partial<Measure> = {}): Measure {
  return {
    name,
    index: -1,
    label: name,
    unit: { code: 'N', factor: 1, dimension: 'force' },
    sides: 'each',
    better: 'higher',
    compare: 'percent',
    trials: { keep: 'best', expect: 1 },
    errors: {},
    headings: [],
    ...given,
  };
}

export type RuleGiven = Partial<Omit<Rule, 'measure'>> & { readonly name: string; readonly measure: string };

export interface ProtocolGiven {
  readonly measures: readonly Measure[];
  readonly rules?: readonly RuleGiven[];
  readonly sportGroups?: readonly SportGroup[];
  readonly everyone?: readonly string[];
  readonly programmes?: Protocol['programmes'];
  readonly statuses?: Protocol['statuses'];
}

export function protocolOf(given: ProtocolGiven): Protocol {
  const measures = given.measures.map((measure, index) => ({ ...measure, index }));
  const byName = new Map(measures.map((measure) => [measure.name, measure]));
  return {
    file: 'protocol.yaml',
    name: 'Battery',
    measures,
    byName,
    compounds: [],
    rules: (given.rules ?? []).map((rule, index) => ({
      field: rule.status === undefined ? 'value' : 'status',
      of: 'kept',
      grade: 'act',
      also: [],
      share: false,
      index,
      ...rule,
      measure: byName.get(rule.measure)!,
    })),
    sportGroups: given.sportGroups ?? [],
    everyone: given.everyone ?? [],
    programmes: given.programmes ?? new Map(),
    statuses: given.statuses ?? { pain: 'refer', unable: 'act', one_side: 'watch' },
    sharing: { fromShare: 0.33, minTested: 5, atMostProgrammes: 2 },
    dominanceColumns: [],
  };
}

type InternalColumn =
  | 'least_left'
  | 'most_left'
  | 'least_right'
  | 'most_right'
  | 'least_value'
  | 'most_value'
  | 'sem_left'
  | 'sem_right'
  | 'sem_value'
  | 'marks';
export type ResultGiven = Partial<Omit<RowOf<typeof RESULTS>, InternalColumn>> &
  Partial<Record<InternalColumn, number>> & { readonly measure: string };

/** Results with the rows given; what a row leaves out is athlete A1 of Rowing on 2026-08-12 without any number or mark. */
export function resultsOf(rows: readonly ResultGiven[]): Results {
  const results: Results = new Table(RESULTS);
  for (const row of rows) {
    const full: Record<string, unknown> = {
      athlete_id: 'A1',
      team: 'Rowing',
      season: 2026,
      date: '2026-08-12',
      marks: 0,
      ...row,
    };
    full.last_day ??= full.date;
    for (const { name } of RESULTS) {
      const column = results.column(name);
      const value = full[name] ?? null;
      if (column.kind === 'date') column.pushDay(parseIsoDay(value as string)!);
      else if (column.kind === 'number') column.push(value as number | null);
      else column.push(value as string | null);
    }
  }
  return results;
}

/** The two sides and their deficit, as they stand in a row of results. */
export function sides(left: number, right: number) {
  const better = Math.max(left, right);
  return {
    left,
    right,
    deficit_pct: (100 * (better - Math.min(left, right))) / better,
    gap: Math.abs(right - left),
    difference: right - left,
    direction_pct: (100 * (right - left)) / better,
    weaker: left < right ? 'left' : left > right ? 'right' : null,
  };
}

/** An athlete book in which everybody is listed with team and sex for every season. */
export function bookOf(athletes: {
  readonly [id: string]: { readonly team?: string; readonly sex?: string };
}): AthleteBook {
  return {
    find: (id) =>
      Object.hasOwn(athletes, id)
        ? { team: athletes[id].team ?? null, sex: athletes[id].sex ?? null, dominance: [] }
        : undefined,
  };
}

/** An athlete book that knows nobody. */
export const NOBODY = bookOf({});

/** Findings as `athlete rule side` in their order. */
export function briefly(findings: Findings): string[] {
  return [...findings.rows()].map(({ athlete_id, rule, side }) => `${athlete_id} ${rule} ${side}`);
}
