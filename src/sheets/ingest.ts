import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Protocol } from '../protocol/types.ts';
import { lineOf, type RowBlock, RowCutter } from '../tables/csv_rows.ts';
import { decodeText, type Encoding, surveyBytes } from '../tables/decode.ts';
import type { Corrections } from './corrections.ts';
import type { SheetEntry } from './entry.ts';
import { type HeadingWords, headingWords } from './headings.ts';
import type { SheetPlan } from './plan.ts';
import { dateOrderOf, recognise } from './recognise.ts';
import { pushReject } from './reject_sink.ts';
import type { IngestWorld } from './row_context.ts';
import { SheetReader } from './sheet_reader.ts';
import { BATCH_ROWS, type Counts, emptyBatch, type IngestBatch, pushLedger } from './sheet_tables.ts';
import { Targets } from './targets.ts';

/** One sheet to read. It is opened twice: its bytes are looked through before any is read as text. */
export interface SheetSource {
  /** as it is named in every table: relative to the folder, or as the user typed it */
  readonly file: string;
  readonly entry: SheetEntry;
  open(): AsyncIterable<Uint8Array> | Iterable<Uint8Array>;
}

/** Text from which a sheet is recognised. */
const HEAD_CHARACTERS = 65536;

interface Ingest {
  readonly protocol: Protocol;
  readonly world: IngestWorld;
  readonly words: HeadingWords;
  readonly targets: Targets;
  readonly corrections: Corrections;
}

/**
 * Reads sheets into observations, rejects, ignored cells and a ledger, in batches of at most 8192 observations. A fault
 * in one sheet never stops the others.
 */
export async function* ingest(
  sheets: Iterable<SheetSource>,
  protocol: Protocol,
  world: IngestWorld,
  corrections: Corrections,
): AsyncGenerator<IngestBatch> {
  const job: Ingest = {
    protocol,
    world,
    words: headingWords(protocol),
    targets: new Targets(world.dictionaries),
    corrections,
  };
  for (const sheet of sheets) yield* readSheet(sheet, job);
}

/** Text of a file in an unknown state: what reading it threw, in a word or two. */
function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  const known: Record<string, string> = {
    ENOENT: 'there is no such file',
    EACCES: 'permission denied',
    EISDIR: 'it is a directory',
    ELOOP: 'its links go round in a circle',
  };
  return (code !== undefined && known[code]) || (error instanceof Error ? error.message : String(error));
}

async function* readSheet(sheet: SheetSource, job: Ingest): AsyncGenerator<IngestBatch> {
  const counts: Counts = { cells: 0, measured: 0, notMeasured: 0, context: 0, ignored: 0, rejected: 0 };
  // Rejects of whole columns are known last and stand first: a sheet's rejects wait here for its end.
  const kept = emptyBatch(job.world.dictionaries);
  const head = emptyBatch(job.world.dictionaries);
  const refuse = (code: RejectCode, args: RejectArgs, cells: number): void => {
    pushReject(head.rejects, { file: sheet.file, station: sheet.entry.station }, '', code, args, cells);
    counts.cells += cells;
    counts.rejected += cells;
  };
  try {
    const survey = await surveyBytes(sheet.open(), sheet.entry.encoding);
    if (survey.problem) {
      refuse(survey.problem.code, { found: survey.problem.found, expected: survey.encoding.toUpperCase() }, 0);
    } else {
      if (!survey.certain) {
        job.world.note(
          `${sheet.file}: is not UTF-8 and is read as Windows-1252; say encoding: in screening.yaml if that is wrong`,
        );
      }
      yield* readText(sheet, survey.encoding, job, counts, kept, head, refuse);
    }
  } catch (error) {
    if (!(error instanceof Error) || !('code' in error)) throw error;
    refuse('file_unreadable', { found: reasonOf(error) }, 0);
  }
  const last = emptyBatch(job.world.dictionaries);
  last.rejects.append(head.rejects);
  last.rejects.append(kept.rejects);
  last.ignored.append(head.ignored);
  last.ignored.append(kept.ignored);
  pushLedger(last.ledger, sheet.file, counts);
  yield last;
}

async function* readText(
  sheet: SheetSource,
  encoding: Encoding,
  job: Ingest,
  counts: Counts,
  kept: IngestBatch,
  head: IngestBatch,
  refuse: (code: RejectCode, args: RejectArgs, cells: number) => void,
): AsyncGenerator<IngestBatch> {
  const pieces = decodeText(sheet.open(), encoding)[Symbol.asyncIterator]();
  let start = '';
  let ended = false;
  while (start.length < HEAD_CHARACTERS && !ended) {
    const next = await pieces.next();
    if (next.done) ended = true;
    else start += next.value;
  }
  const { entry } = sheet;
  const found = recognise(ended ? start : start.slice(0, start.lastIndexOf('\n') + 1) || start, {
    protocol: job.protocol,
    words: job.words,
    entry,
  });
  if ('code' in found) {
    refuse(found.code, found.args, await countCells(start, pieces));
    return;
  }
  const plan = await withWholeSheetDates(found, sheet, encoding);
  const cutter = new RowCutter(plan.delimiter);
  const rows = new RowFeed(sheet, plan, job, counts, kept, head);
  yield* rows.feed(cutter.push(start));
  if (!ended) {
    for (let next = await pieces.next(); !next.done; next = await pieces.next())
      yield* rows.feed(cutter.push(next.value));
  }
  const { block, openQuote } = cutter.end();
  yield* rows.feed(block);
  if (openQuote) rows.openQuote(openQuote.line, openQuote.cells);
  yield* rows.end();
}

/** Non-empty cells of a sheet whose headings nobody understands, cut at commas. */
async function countCells(start: string, pieces: AsyncIterator<string>): Promise<number> {
  const cutter = new RowCutter(',');
  let cells = 0;
  const count = (rows: readonly (readonly string[])[]): void => {
    for (const row of rows) for (const cell of row) if (cell.trim() !== '') cells++;
  };
  count(cutter.push(start).rows);
  for (let next = await pieces.next(); !next.done; next = await pieces.next()) count(cutter.push(next.value).rows);
  const { block, openQuote } = cutter.end();
  count(block.rows);
  if (openQuote) count([openQuote.cells]);
  return cells;
}

/**
 * The order of day and month is a fact about the whole sheet: where the dates are not ISO and nobody declared it, all of
 * them are looked at before one is read.
 */
async function withWholeSheetDates(plan: SheetPlan, sheet: SheetSource, encoding: Encoding): Promise<SheetPlan> {
  const at = plan.columns.find((column) => column.kind === 'role' && column.role === 'date')?.at;
  if (at === undefined || sheet.entry.dates !== undefined) return plan;
  const cutter = new RowCutter(plan.delimiter);
  const cells = new Set<string>();
  let slashed = false;
  const look = (block: RowBlock): void => {
    for (const row of block.rows) {
      const cell = (row[at] ?? '').trim();
      if (/^\d{1,2}[/.-]\d{1,2}[/.-]\d{2,4}(?!\d)/.test(cell)) {
        slashed = true;
        cells.add(cell);
      }
    }
  };
  let first = true;
  for await (const piece of decodeText(sheet.open(), encoding)) {
    look(cutter.push(piece));
    // A head of ISO dates speaks for its sheet; a stray slashed date later on is then judged alone.
    if (first && !slashed) return plan;
    first = false;
  }
  look(cutter.end().block);
  return { ...plan, dates: dateOrderOf(cells) };
}

/** Feeds the rows of a sheet to its reader, headings and title lines aside. */
class RowFeed {
  readonly #sheet: SheetSource;
  readonly #plan: SheetPlan;
  readonly #counts: Counts;
  readonly #kept: IngestBatch;
  readonly #head: IngestBatch;
  readonly #job: Ingest;
  readonly #reader: SheetReader;
  readonly #mostRows: number;
  #row = 0;
  #headingLine = 1;
  #batch: IngestBatch;

  constructor(sheet: SheetSource, plan: SheetPlan, job: Ingest, counts: Counts, kept: IngestBatch, head: IngestBatch) {
    this.#sheet = sheet;
    this.#plan = plan;
    this.#job = job;
    this.#counts = counts;
    this.#kept = kept;
    this.#head = head;
    const corrections = job.corrections.get(sheet.file);
    this.#reader = new SheetReader(
      plan,
      sheet.file,
      sheet.entry,
      job.world,
      job.words,
      job.targets,
      counts,
      corrections,
    );
    this.#mostRows = Math.max(BATCH_ROWS - this.#reader.widest, 0);
    this.#batch = this.#next();
  }

  /** Observations leave batch by batch; rejects and ignored cells gather for the end of the sheet. */
  #next(): IngestBatch {
    const { observations, ledger } = emptyBatch(this.#job.world.dictionaries, BATCH_ROWS);
    observations.extend(this.#mostRows + this.#reader.widest);
    return { observations, ledger, rejects: this.#kept.rejects, ignored: this.#kept.ignored };
  }

  *feed(block: RowBlock): Generator<IngestBatch> {
    const [first, last] = this.#plan.headingRows;
    for (let index = 0; index < block.rows.length; index++) {
      const row = this.#row++;
      const line = lineOf(block, index);
      if (row > last) {
        this.#reader.row(block.rows[index], line, this.#batch);
        if (this.#reader.rows > this.#mostRows) yield this.#flush();
      } else if (row < first) this.#titleLine(block.rows[index], line);
      else {
        if (row === first) this.#headingLine = line;
        this.#headings(block.rows[index]);
      }
    }
  }

  #flush(): IngestBatch {
    const { observations, ledger } = this.#batch;
    observations.truncate(this.#reader.rows);
    this.#reader.rows = 0;
    const { rejects, ignored } = emptyBatch(this.#job.world.dictionaries);
    this.#batch = this.#next();
    return { observations, ledger, rejects, ignored };
  }

  #titleLine(cells: readonly string[], line: number): void {
    const filled = cells.filter((cell) => cell.trim() !== '').length;
    if (filled === 0) return;
    const { columns } = this.#head.ignored;
    columns.file.push(this.#sheet.file);
    columns.line.push(line);
    columns.column.push(null);
    columns.heading.push(null);
    columns.cells.push(filled);
    columns.reason.push('title_line');
    this.#counts.cells += filled;
    this.#counts.ignored += filled;
  }

  #headings(cells: readonly string[]): void {
    this.#reader.headingRow(cells);
    for (const [at, cell] of cells.entries()) {
      if (cell.trim() === '') continue;
      this.#counts.cells++;
      this.#reader.countHeading(at);
    }
  }

  /** Everything behind a quote that is never closed has become one cell; nothing of that row is read. */
  openQuote(line: number, cells: readonly string[]): void {
    const filled = cells.filter((cell) => cell.trim() !== '').length;
    // Up to the first line break only: behind it stand other rows, names and all.
    const raw = (cells.at(-1) ?? '').split('\n', 1)[0];
    const place = { file: this.#sheet.file, line, column: cells.length, station: this.#sheet.entry.station };
    pushReject(this.#kept.rejects, place, raw, 'quote_unclosed', {}, filled);
    this.#counts.cells += filled;
    this.#counts.rejected += filled;
  }

  *end(): Generator<IngestBatch> {
    this.#reader.deadColumns(this.#headingLine, this.#head);
    if (this.#reader.rows > 0) yield this.#flush();
  }
}
