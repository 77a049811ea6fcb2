import type { Provenance } from '../../src/files/metadata.ts';
import { csvText } from '../../src/tables/csv_write.ts';
import { type Schema, Table } from '../../src/tables/table.ts';

/** Columns of every kind, and one that stays in memory. */
export const READINGS = [
  { name: 'athlete_id', kind: 'text', title: 'athlete' },
  { name: 'date', kind: 'date', title: 'day of the reading' },
  { name: 'value', kind: 'number', title: 'reading in unit' },
  { name: 'raw', kind: 'string', title: 'the cell as written' },
  { name: 'sem', kind: 'number', title: 'standard error of measurement', internal: true },
] as const satisfies Schema;

export function readings(rows: number, value: number): Table<typeof READINGS> {
  const table = new Table(READINGS);
  for (let row = 0; row < rows; row++) {
    table.columns.athlete_id.push(`K${String(row).padStart(3, '0')}`);
    table.columns.date.pushDay(20_000);
    table.columns.value.push(value);
    table.columns.raw.push(String(value));
    table.columns.sem.push(0.5);
  }
  return table;
}

export function readingsText(rows: number, value: number): string {
  return [...csvText(readings(rows, value))].join('');
}

export const PROVENANCE: Provenance = {
  version: '0.1.0',
  command: 'bilat run',
  inputs: [{ path: 'protocol.yaml', sha256: 'ab'.repeat(32) }],
};
