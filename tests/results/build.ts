import type { AthleteBook } from '../../src/athletes/book.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import { type DeriveOptions, derive } from '../../src/results/derive.ts';
import { OBSERVATIONS, type Observations, type RESULTS } from '../../src/tables/schemas.ts';
import { type RowOf, Table } from '../../src/tables/table.ts';
import { parseIsoDay, seasonOf } from '../../src/units/days.ts';

export type Result = RowOf<typeof RESULTS>;

/** One reading; what is left out has the commonest value. */
export interface Reading {
  readonly id?: string;
  readonly date?: string;
  /** otherwise the one in which the date lies, from 1 July */
  readonly season?: number;
  readonly measure: string;
  readonly side?: string;
  readonly trial?: number;
  readonly value?: number;
  readonly unit?: string;
  readonly status?: string;
  readonly purpose?: string;
}

export interface Person {
  readonly team?: string;
  readonly sex?: string;
  readonly dominance?: readonly ('left' | 'right' | 'both' | null)[];
}

const protocolText = (body: string): string => `bilat: 1\nname: Test battery\n${body}`;

export function observationsOf(readings: readonly Reading[]): Observations {
  const table: Observations = new Table(OBSERVATIONS);
  for (const reading of readings) {
    const { columns } = table;
    const row = table.length;
    table.extend(1);
    const day = parseIsoDay(reading.date ?? '2026-08-12')!;
    const texts = {
      athlete_id: reading.id ?? 'K001',
      measure: reading.measure,
      side: reading.side ?? 'none',
      unit: reading.unit ?? null,
      status: reading.status ?? (reading.value === undefined ? 'not_tested' : 'measured'),
      purpose: reading.purpose ?? 'test',
    };
    for (const [name, text] of Object.entries(texts)) {
      const column = columns[name as keyof typeof texts];
      column.codes[row] = text === null ? -1 : column.dictionary.code(text);
    }
    columns.season.values[row] = reading.season ?? seasonOf(day, '07-01');
    columns.date.days[row] = day;
    columns.trial.values[row] = reading.trial ?? 1;
    columns.value.values[row] = reading.value ?? Number.NaN;
  }
  return table;
}

export function bookOf(people: Readonly<Record<string, Person>> = {}): AthleteBook {
  return {
    find(id) {
      const person = people[id];
      return person && { team: person.team ?? null, sex: person.sex ?? null, dominance: person.dominance ?? [] };
    },
  };
}

/** Results of readings under a protocol whose body (measures, derived) is given as YAML. */
export async function derived(
  body: string,
  readings: readonly Reading[] | readonly (readonly Reading[])[],
  people: Readonly<Record<string, Person>> = {},
  options: Partial<DeriveOptions> = {},
): Promise<Result[]> {
  const protocol = loadProtocol(protocolText(body), 'protocol.yaml');
  const batches = (Array.isArray(readings[0]) ? readings : [readings]) as readonly (readonly Reading[])[];
  const results = await derive(batches.map(observationsOf), bookOf(people), protocol, { occasionDays: 14, ...options });
  return [...results.rows()];
}
