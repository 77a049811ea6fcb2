import { statSync } from 'node:fs';
import path from 'node:path';
import { type AthleteBook, type Athletes, athletesSchema } from '../athletes/book.ts';
import { hashInputs } from '../files/hash.ts';
import { checkTargets } from '../files/ownership.ts';
import { openStaging, type Staging } from '../files/staging.ts';
import { flag } from '../findings/flag.ts';
import { Failure } from '../problems/failure.ts';
import type { SheetSource } from '../sheets/ingest.ts';
import {
  FINDINGS,
  type Findings,
  IGNORED,
  LEDGER,
  type Ledger,
  OBSERVATIONS,
  type Observations,
  REJECTS,
  RESULTS,
  type Rejects,
  type Results,
} from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import type { Notes } from './notes.ts';
import { RUN_TABLES } from './run_tables.ts';
import type { Setup } from './setup.ts';
import { shownPath } from './sources.ts';
import { deriveFrom, startIngest } from './stages.ts';

export interface RunOptions {
  readonly version: string;
  readonly force: boolean;
  /** absolute folder to write to */
  readonly out: string;
  progress(text: string): void;
}

/** What a run has found; the observations are on the disk and not kept. */
export interface RunOutcome {
  readonly results: Results;
  readonly findings: Findings;
  readonly athletes: Athletes;
  readonly book: AthleteBook;
  readonly rejects: Rejects;
  readonly ledger: Ledger;
  readonly observations: number;
  /** cells of remark columns */
  readonly remarks: number;
  readonly notes: Notes;
}

/**
 * The main job: reads all sheets, works out results and findings, and puts every table into the output folder, whole,
 * with its metadata; or, if anything fails, none.
 */
export async function runScreening(
  setup: Setup,
  sheets: readonly SheetSource[],
  options: RunOptions,
): Promise<RunOutcome> {
  const { out, force } = options;
  refuseAmongSheets(setup, sheets, out);
  const inputs = inputsOf(setup, sheets);
  const targets = { force, inputs: inputs.map((file) => path.resolve(setup.base, file)) };
  const staging = await openStaging(out, targets);
  try {
    checkTargets(
      RUN_TABLES.map((name) => path.join(out, `${name}.csv`)),
      targets,
    );
    const outcome = await writeTables(setup, sheets, staging, options);
    options.progress('Putting the tables in place');
    staging.commit({ version: options.version, command: 'bilat run', inputs: await hashInputs(setup.base, inputs) });
    return outcome;
  } finally {
    staging.abort();
  }
}

/** Tables that lie among the sheets would be read as sheets by the next run. */
function refuseAmongSheets({ base }: Setup, sheets: readonly SheetSource[], out: string): void {
  if (!sheets.some(({ file }) => path.dirname(path.resolve(base, file)) === out)) return;
  throw new Failure(2, {
    file: shownPath(base, out),
    message: 'holds sheets, and the tables would lie among them',
    hint: 'Name another folder.',
  });
}

async function writeTables(
  setup: Setup,
  sheets: readonly SheetSource[],
  staging: Staging,
  options: RunOptions,
): Promise<RunOutcome> {
  const file = {
    observations: staging.file('observations.csv', OBSERVATIONS),
    athletes: staging.file('athletes.csv', athletesSchema(setup.protocol)),
    rejects: staging.file('rejects.csv', REJECTS),
    ignored: staging.file('ignored.csv', IGNORED),
    ledger: staging.file('ledger.csv', LEDGER),
    results: staging.file('results.csv', RESULTS),
    findings: staging.file('findings.csv', FINDINGS),
  } satisfies Record<(typeof RUN_TABLES)[number], unknown>;
  const ingestion = startIngest(setup, sheets);
  const rejects: Rejects = new Table(REJECTS);
  const ledger: Ledger = new Table(LEDGER);
  let remarks = 0;
  async function* observations(): AsyncGenerator<Observations> {
    for await (const batch of ingestion.batches) {
      file.observations.append(batch.observations);
      file.rejects.append(batch.rejects);
      file.ignored.append(batch.ignored);
      file.ledger.append(batch.ledger);
      rejects.append(batch.rejects);
      ledger.append(batch.ledger);
      for (const { reason, cells } of batch.ignored.rows()) if (reason === 'remark') remarks += (cells ?? 1) - 1;
      options.progress(`Reading the sheets: ${file.observations.rows} observations`);
      yield batch.observations;
    }
    file.observations.flushEarly();
  }
  let athletes: Athletes | undefined;
  const known = (): Athletes => {
    athletes ??= ingestion.athletes();
    return athletes;
  };
  const { results, book } = await deriveFrom(setup, observations(), known);
  options.progress('Judging the results');
  const findings = flag(results, book, setup.protocol);
  file.athletes.append(known());
  file.results.append(results);
  file.findings.append(findings);
  return {
    results,
    findings,
    athletes: known(),
    book,
    rejects,
    ledger,
    observations: file.observations.rows,
    remarks,
    notes: ingestion.notes,
  };
}

/** Everything that a run reads and that is there, relative to the base. */
export function inputsOf(setup: Setup, sheets: readonly SheetSource[]): string[] {
  const files = sheets
    .map((sheet) => sheet.file)
    .filter((file) => file !== '-' && statSync(path.resolve(setup.base, file), { throwIfNoEntry: false })?.isFile());
  return [...new Set([...setup.inputs, ...files])];
}
