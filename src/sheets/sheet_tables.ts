import type { Protocol } from '../protocol/types.ts';
import { Dictionary } from '../tables/dictionary.ts';
import {
  IGNORED,
  type Ignored,
  LEDGER,
  type Ledger,
  OBSERVATIONS,
  type Observations,
  REJECTS,
  type Rejects,
} from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { SIDES } from '../units/sides.ts';
import { OBSERVATION_STATUSES } from '../units/statuses.ts';
import { PURPOSES } from './entry.ts';

export const BATCH_ROWS = 8192;

/** What one step of ingest hands on; any of the tables may be empty. */
export interface IngestBatch {
  readonly observations: Observations;
  readonly rejects: Rejects;
  readonly ignored: Ignored;
  readonly ledger: Ledger;
}

/** Dictionaries shared by all batches of one ingest, so that codes mean the same in each. */
export type ObservationDictionaries = { readonly [column: string]: Dictionary };

/** Codes of measure, side, status and purpose are positions in the protocol and in the contract's lists. */
export function observationDictionaries(protocol: Protocol): ObservationDictionaries {
  return {
    athlete_id: new Dictionary(),
    team: new Dictionary(),
    measure: new Dictionary(protocol.measures.map((measure) => measure.name)),
    side: new Dictionary(SIDES),
    unit: new Dictionary(),
    status: new Dictionary(OBSERVATION_STATUSES),
    tester: new Dictionary(),
    device: new Dictionary(),
    station: new Dictionary(),
    purpose: new Dictionary(PURPOSES),
    file: new Dictionary(),
    written_in: new Dictionary(),
    unit_from: new Dictionary(),
  };
}

export function emptyBatch(dictionaries: ObservationDictionaries, rows?: number): IngestBatch {
  return {
    observations: new Table(OBSERVATIONS, dictionaries, rows),
    rejects: new Table(REJECTS),
    ignored: new Table(IGNORED),
    ledger: new Table(LEDGER),
  };
}

/** Where the cells of one sheet went. */
export interface Counts {
  cells: number;
  measured: number;
  notMeasured: number;
  context: number;
  ignored: number;
  rejected: number;
  /** whether what was rejected and ignored has been written in the order of its lines */
  isSorted: boolean;
}

export function emptyCounts(): Counts {
  return { cells: 0, measured: 0, notMeasured: 0, context: 0, ignored: 0, rejected: 0, isSorted: true };
}

export function pushLedger(ledger: Ledger, file: string, counts: Counts): void {
  const { columns } = ledger;
  columns.file.push(file);
  columns.cells.push(counts.cells);
  columns.measured.push(counts.measured);
  columns.not_measured.push(counts.notMeasured);
  columns.context.push(counts.context);
  columns.ignored.push(counts.ignored);
  columns.rejected.push(counts.rejected);
}
