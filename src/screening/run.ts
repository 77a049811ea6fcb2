import { statSync } from 'node:fs';
import path from 'node:path';
import { type AthleteBook, type Athletes, athletesSchema } from '../athletes/book.ts';
import type { Desk } from '../athletes/desk.ts';
import { lookedAt, tooFarWords } from '../athletes/desk_days.ts';
import { membersReader } from '../athletes/members.ts';
import { withoutClearance } from '../athletes/without_clearance.ts';
import { hashInputs } from '../files/hash.ts';
import { checkTargets } from '../files/ownership.ts';
import { openStaging, type Staging } from '../files/staging.ts';
import { flag } from '../findings/flag.ts';
import { recheck } from '../findings/recheck.ts';
import { Readings } from '../findings/suspects/readings.ts';
import { AttendanceBook } from '../groups/attendance.ts';
import { cohort } from '../groups/cohort.ts';
import { coverage } from '../groups/coverage.ts';
import { plan } from '../groups/plan.ts';
import { retestReader } from '../groups/retests.ts';
import { Failure } from '../problems/failure.ts';
import { confirmedCells } from '../sheets/corrections.ts';
import type { SheetSource } from '../sheets/ingest.ts';
import {
  COHORT,
  COVERAGE,
  type Cohort,
  type Coverage,
  FINDINGS,
  type Findings,
  IGNORED,
  LEDGER,
  type Ledger,
  OBSERVATIONS,
  type Observations,
  PLAN,
  type Plan,
  RECHECK,
  REJECTS,
  RESULTS,
  type Recheck,
  type Rejects,
  type Results,
} from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { isoDay, seasonOf } from '../units/days.ts';
import type { Notes } from './notes.ts';
import { RUN_TABLES } from './run_tables.ts';
import type { Setup } from './setup.ts';
import { shownPath } from './sources.ts';
import { deriveFrom, startIngest } from './stages.ts';
import { type TesterReader, testerReader } from './testers.ts';

export interface RunOptions {
  readonly version: string;
  readonly force: boolean;
  /** absolute folder to write to */
  readonly out: string;
  /** day to look at it from, in days since 1970-01-01; undefined: the last that readings and desk tell of */
  readonly on: number | undefined;
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
  readonly recheck: Recheck;
  readonly cohort: Cohort;
  readonly plan: Plan;
  readonly coverage: Coverage;
  readonly desk: Desk;
  /** members of the season of whom an existing clearance file says nothing */
  readonly withoutClearance: readonly string[];
  readonly testersOf: TesterReader;
  /** the season that is being screened: the newest one with readings; null: there are none */
  readonly season: number | null;
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
    staging.commit({
      version: options.version,
      command: commandOf(options),
      inputs: await hashInputs(setup.base, inputs),
    });
    return outcome;
  } finally {
    staging.abort();
  }
}

/** The command that makes the same tables again. */
function commandOf({ on }: RunOptions): string {
  return on === undefined ? 'bilat run' : `bilat run --on ${isoDay(on)}`;
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
    recheck: staging.file('recheck.csv', RECHECK),
    cohort: staging.file('cohort.csv', COHORT),
    plan: staging.file('plan.csv', PLAN),
    coverage: staging.file('coverage.csv', COVERAGE),
  } satisfies Record<(typeof RUN_TABLES)[number], unknown>;
  const ingestion = startIngest(setup, sheets);
  const rejects: Rejects = new Table(REJECTS);
  const ledger: Ledger = new Table(LEDGER);
  const readings = new Readings(setup.protocol);
  const attendance = new AttendanceBook(setup.protocol);
  let remarks = 0;
  let lastDay: number | null = null;
  async function* observations(): AsyncGenerator<Observations> {
    for await (const batch of ingestion.batches) {
      file.observations.append(batch.observations);
      file.rejects.append(batch.rejects);
      file.ignored.append(batch.ignored);
      file.ledger.append(batch.ledger);
      rejects.append(batch.rejects);
      ledger.append(batch.ledger);
      for (const { reason, cells } of batch.ignored.rows()) if (reason === 'remark') remarks += (cells ?? 1) - 1;
      readings.add(batch.observations);
      attendance.add(batch.observations);
      lastDay = laterDay(lastDay, batch.observations);
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
  const { protocol, past, screening } = setup;
  const athleteTable = known();
  const findings = flag(results, book, protocol, past);
  const season = attendance.season > 0 ? attendance.season : null;
  const { day, tooFar } = lookedAt(lastDay, setup.sideTables);
  if (options.on === undefined && tooFar !== null) ingestion.notes.add(tooFarWords(isoDay(tooFar)));
  if (options.on !== undefined && lastDay !== null && lastDay > options.on) {
    ingestion.notes.add(`readings of days after ${isoDay(options.on)} are among these all the same`);
  }
  const desk = setup.deskOn(options.on ?? day ?? 0);
  const members = membersReader(athleteTable, setup.roster, attendance.season, (day) =>
    seasonOf(day, screening.seasonStarts),
  );
  const groups = cohort(results, findings, book, protocol, { members, past });
  const { plan: work } = plan(findings, groups, book, protocol, { desk, members, season, results });
  const retestBy = retestReader(findings, results, protocol, desk, attendance.season);
  const own = season === null ? [] : members(season);
  const covered = coverage(attendance, protocol, { members: own, desk, retestBy, results });
  options.progress('Looking for entry errors');
  const confirmed = confirmedCells(setup.corrections);
  const { table: again } = recheck({ readings, rejects, results, book, protocol, confirmed });
  file.athletes.append(athleteTable);
  file.results.append(results);
  file.findings.append(findings);
  file.recheck.append(again);
  file.cohort.append(groups);
  file.plan.append(work);
  file.coverage.append(covered);
  return {
    results,
    findings,
    athletes: athleteTable,
    book,
    rejects,
    ledger,
    recheck: again,
    cohort: groups,
    plan: work,
    coverage: covered,
    desk,
    withoutClearance: withoutClearance(desk, season === null ? [] : members(season)).map(({ athleteId }) => athleteId),
    testersOf: testerReader(readings, screening.occasionDays),
    season,
    observations: file.observations.rows,
    remarks,
    notes: ingestion.notes,
  };
}

function laterDay(day: number | null, { columns, length }: Observations): number | null {
  const days = columns.date.days.subarray(0, length);
  return days.reduce((last: number | null, one) => (last === null ? one : Math.max(last, one)), day);
}

/** Everything that a run reads and that is there, relative to the base. */
export function inputsOf(setup: Setup, sheets: readonly SheetSource[]): string[] {
  const files = sheets
    .map((sheet) => sheet.file)
    .filter((file) => file !== '-' && statSync(path.resolve(setup.base, file), { throwIfNoEntry: false })?.isFile());
  return [...new Set([...setup.inputs, ...files])];
}
