import type { Protocol } from '../protocol/types.ts';
import type { Encoding } from '../tables/decode.ts';
import type { RecogniseContext } from './column_plans.ts';
import type { Corrections } from './corrections.ts';
import type { SheetEntry } from './entry.ts';
import type { BlockPlan, SheetPlan, SheetProblem } from './plan.ts';
import type { IngestWorld } from './row_context.ts';
import type { Targets } from './targets.ts';

/** One sheet to read. It is opened twice: its bytes are looked through before any is read as text. */
export interface SheetSource {
  /** as it is named in every table: relative to the folder, or as the user typed it */
  readonly file: string;
  readonly entry: SheetEntry;
  open(): AsyncIterable<Uint8Array> | Iterable<Uint8Array>;
}

/** What ingest found out about a sheet as it read it, for those who want to show it. */
export type IngestEvent =
  | { readonly kind: 'bytes'; readonly file: string; readonly encoding: Encoding; readonly certain: boolean }
  | { readonly kind: 'plan'; readonly file: string; readonly plan: SheetPlan; readonly lines: readonly number[] }
  | { readonly kind: 'block'; readonly file: string; readonly block: BlockPlan; readonly line: number }
  | { readonly kind: 'problem'; readonly file: string; readonly problem: SheetProblem };

/** What all sheets of an ingest share. */
export interface IngestJob {
  readonly protocol: Protocol;
  readonly world: IngestWorld;
  readonly recognition: Omit<RecogniseContext, 'entry'>;
  readonly targets: Targets;
  readonly corrections: Corrections;
  readonly watch: (event: IngestEvent) => void;
}
