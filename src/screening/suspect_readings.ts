import type { Protocol } from '../protocol/types.ts';
import { isVitalSign } from '../sheets/row_cells.ts';
import type { Findings, Recheck, RecheckKind, Rejects } from '../tables/schemas.ts';

/** A reading that was taken and should be looked at again. */
export interface SuspectReading {
  readonly vital: boolean;
  readonly kind: RecheckKind;
  /** null: a whole column, a tester or a device */
  readonly athlete_id: string | null;
  readonly name?: string;
  readonly measure: string;
  readonly side: string | null;
  readonly value: number | null;
  readonly unit: string | null;
  readonly suggestion: string;
  readonly file: string | null;
  readonly line: number | null;
  readonly column: number | null;
}

/** What a summary says already, and what it names people and measures by. */
export interface Told {
  readonly protocol: Protocol;
  readonly names: ReadonlyMap<string, string>;
  readonly rejects: Rejects;
  readonly findings: Findings;
}

/**
 * The recheck list of a season but for what could not be read, which has its own place, and for outliers of readings that
 * send the athlete to medical staff anyway. Vital signs come first, then likely entry errors before outliers.
 */
export function suspectReadings(
  recheck: Recheck,
  season: number,
  { protocol, names, rejects: { columns, length }, findings }: Told,
): SuspectReading[] {
  const referred = new Set<string>();
  for (const { athlete_id, measure, grade } of findings.rows()) {
    if (grade === 'refer') referred.add(`${athlete_id}\n${measure}`);
  }
  const refused = new Set<string>();
  for (let row = 0; row < length; row++) {
    refused.add(`${columns.file.get(row)}\n${columns.line.get(row)}\n${columns.column.get(row)}`);
  }
  const found: SuspectReading[] = [];
  for (const row of recheck.rows()) {
    if (row.season !== season || refused.has(`${row.file}\n${row.line}\n${row.column}`)) continue;
    if (row.kind === 'outlier' && referred.has(`${row.athlete_id}\n${row.measure}`)) continue;
    const measure = protocol.byName.get(row.measure ?? '');
    found.push({
      vital: measure !== undefined && isVitalSign(measure),
      kind: row.kind as RecheckKind,
      athlete_id: row.athlete_id,
      name: names.get(row.athlete_id ?? ''),
      measure: measure?.label ?? row.measure ?? '',
      side: row.side === 'none' ? null : row.side,
      value: row.value,
      unit: row.unit,
      suggestion: row.suggestion ?? '',
      file: row.file,
      line: row.line,
      column: row.column,
    });
  }
  const place = ({ vital, kind }: SuspectReading): number => (vital ? 0 : 2) + (kind === 'outlier' ? 1 : 0);
  return found.sort((a, b) => place(a) - place(b));
}
