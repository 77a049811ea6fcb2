import { Readings } from '../../src/findings/suspects/readings.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { OBSERVATIONS, type Observations } from '../../src/tables/schemas.ts';
import { type RowOf, Table } from '../../src/tables/table.ts';

export type ObservationGiven = Partial<RowOf<typeof OBSERVATIONS>> & {
  readonly athlete_id: string;
  readonly measure: string;
  readonly value: number | null;
};

/** Observations with the rows given; what a row leaves out is a test of 2026-08-12 in sheets/a.csv, line by line. */
export function observationsOf(rows: readonly ObservationGiven[]): Observations {
  const table: Observations = new Table(OBSERVATIONS);
  for (const [at, row] of rows.entries()) {
    const full: Readonly<Record<string, string | number | null>> = {
      season: 2026,
      date: '2026-08-12',
      side: 'none',
      trial: 1,
      status: 'measured',
      purpose: 'test',
      file: 'sheets/a.csv',
      line: at + 2,
      column: 3,
      ...row,
    };
    for (const { name } of OBSERVATIONS) {
      (table.column(name) as { push(value: string | number | null): void }).push(full[name] ?? null);
    }
  }
  return table;
}

export function readingsOf(protocol: Protocol, rows: readonly ObservationGiven[]): Readings {
  const readings = new Readings(protocol);
  readings.add(observationsOf(rows));
  return readings;
}
