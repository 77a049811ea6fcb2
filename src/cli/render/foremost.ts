import { FINDINGS, OBSERVATIONS, RESULTS } from '../../tables/schemas.ts';
import type { Schema } from '../../tables/table.ts';

/** Columns that come first where a terminal is too narrow for all, the most telling ones on top. */
const FOREMOST: ReadonlyMap<Schema, readonly string[]> = new Map<Schema, readonly string[]>([
  [OBSERVATIONS, ['athlete_id', 'measure', 'side', 'trial', 'value', 'unit', 'status', 'date']],
  [RESULTS, ['athlete_id', 'measure', 'left', 'right', 'value', 'deficit_pct', 'date', 'status', 'unit']],
  [FINDINGS, ['athlete_id', 'measure', 'side', 'value', 'limit', 'grade', 'certainty', 'rule', 'error', 'date']],
]);

/** Place of a column in the order in which columns get room; all others follow as they stand in the table. */
export function foremost(schema: Schema, column: string): number {
  const order = FOREMOST.get(schema) ?? [];
  const place = order.indexOf(column);
  return place === -1 ? order.length : place;
}
