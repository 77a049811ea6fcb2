import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Protocol } from '../protocol/types.ts';
import { cutRows, type Delimiter, type RowBlock, RowCutter } from '../tables/csv_rows.ts';
import { decodeText, type Encoding, surveyBytes } from '../tables/decode.ts';
import { inOrder } from '../tables/ordered.ts';
import type { RecogniseContext } from './column_plans.ts';
import type { Corrections } from './corrections.ts';
import type { SheetEntry } from './entry.ts';
import { dateOrderOf } from './evidence.ts';
import { headingWords } from './headings.ts';
import type { IngestEvent, IngestJob, SheetSource } from './ingest_job.ts';
import type { SheetPlan, SheetProblem } from './plan.ts';
import { recognise } from './recognise.ts';
import { pushReject } from './reject_sink.ts';
import type { IngestWorld } from './row_context.ts';
import { SheetFeed } from './sheet_feed.ts';
import { type Counts, emptyBatch, emptyCounts, type IngestBatch, pushLedger } from './sheet_tables.ts';
import { Targets } from './targets.ts';
import { teamTest } from './team_test.ts';
import { turned } from './turned.ts';

export type { IngestEvent, SheetSource } from './ingest_job.ts';

/** Text from which a sheet is recognised. */
const HEAD_CHARACTERS = 65536;
/** Text in which headings are looked for where the head holds none. */
const LONG_HEAD_CHARACTERS = 4 * 1024 * 1024;
/** A sheet with its athletes across the columns is held whole; a longer one is none. */
const MOST_ACROSS_CHARACTERS = 32 * 1024 * 1024;

/**
 * Reads sheets into observations, rejects, ignored cells and a ledger, in batches of at most 8192 observations. A fault
 * in one sheet never stops the others.
 * @param watch told how each sheet is read, before its rows are
 */
export async function* ingest(
  sheets: Iterable<SheetSource>,
  protocol: Protocol,
  world: IngestWorld,
  corrections: Corrections,
  watch: (event: IngestEvent) => void = () => {},
): AsyncGenerator<IngestBatch> {
  const isTeam = teamTest([
    ...world.gatherer.rosterTeams(),
    ...world.teamAliases.keys(),
    ...world.teamAliases.values(),
  ]);
  const job: IngestJob = {
    protocol,
    world,
    recognition: { protocol, words: headingWords(protocol), isTeam },
    targets: new Targets(world.dictionaries),
    corrections,
    watch,
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

/** What holds for a whole file or row goes first. */
const BY_PLACE = ['line', 'column'] as const;

async function* readSheet(sheet: SheetSource, job: IngestJob): AsyncGenerator<IngestBatch> {
  const counts = emptyCounts();
  // Rejects of whole columns are known last and stand first: a sheet's rejects wait here for its end.
  const kept = emptyBatch(job.world.dictionaries);
  const head = emptyBatch(job.world.dictionaries);
  const refuse = (code: RejectCode, args: RejectArgs, cells: number, line?: number): void => {
    job.watch({ kind: 'problem', file: sheet.file, problem: { code, args, line } });
    pushReject(head.rejects, { file: sheet.file, line, station: sheet.entry.station }, '', code, args, cells);
    counts.cells += cells;
    counts.rejected += cells;
  };
  try {
    const survey = await surveyBytes(sheet.open(), sheet.entry.encoding);
    if (survey.problem) {
      refuse(survey.problem.code, { found: survey.problem.found, expected: survey.encoding.toUpperCase() }, 0);
    } else {
      job.watch({ kind: 'bytes', file: sheet.file, encoding: survey.encoding, certain: survey.certain });
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
  if (counts.isSorted) {
    last.rejects.append(head.rejects);
    last.rejects.append(kept.rejects);
    last.ignored.append(head.ignored);
    last.ignored.append(kept.ignored);
  } else {
    for (const { table, row } of inOrder([head.rejects, kept.rejects], BY_PLACE)) last.rejects.appendRow(table, row);
    for (const { table, row } of inOrder([head.ignored, kept.ignored], BY_PLACE)) last.ignored.appendRow(table, row);
  }
  pushLedger(last.ledger, sheet.file, counts);
  yield last;
}

async function* readText(
  sheet: SheetSource,
  encoding: Encoding,
  job: IngestJob,
  counts: Counts,
  kept: IngestBatch,
  head: IngestBatch,
  refuse: (code: RejectCode, args: RejectArgs, cells: number, line?: number) => void,
): AsyncGenerator<IngestBatch> {
  const pieces = decodeText(sheet.open(), encoding)[Symbol.asyncIterator]();
  let { text, ended } = await gather('', pieces, HEAD_CHARACTERS);
  const recognition: RecogniseContext = { ...job.recognition, entry: sheet.entry };
  const context = (): RecogniseContext => ({ ...recognition, isWhole: ended });
  let found = recognise(ended ? text : text.slice(0, text.lastIndexOf('\n') + 1), context());
  // Headings may be longer than a head, and a sheet with its athletes across the columns must be seen whole.
  for (const most of [LONG_HEAD_CHARACTERS, MOST_ACROSS_CHARACTERS]) {
    if (ended || !needsMore(found, sheet.entry, most)) continue;
    ({ text, ended } = await gather(text, pieces, most));
    found = recognise(ended ? text : text.slice(0, text.lastIndexOf('\n') + 1) || text, context());
  }
  if (!ended && !('code' in found) && found.direction === 'across') found = { code: 'header_missing', args: {} };
  if ('code' in found) {
    refuse(found.code, found.args, await countCells(text, pieces), found.line);
    return;
  }
  const plan = found.direction === 'across' ? found : await withWholeSheetDates(found, sheet, encoding);
  const isAcross = plan.direction === 'across';
  const feed = new SheetFeed(sheet, plan, { ...recognition, isAcross }, job, counts, kept, head);
  if (isAcross) {
    yield* readAcross(feed, text, plan.delimiter);
    return;
  }
  const cutter = new RowCutter(plan.delimiter);
  yield* feed.rows(cutter.push(text));
  for (let next = await pieces.next(); !next.done; next = await pieces.next())
    yield* feed.rows(cutter.push(next.value));
  const { block, openQuote } = cutter.end();
  yield* feed.rows(block);
  if (openQuote) feed.openQuote(openQuote.line, openQuote.cells);
  yield* feed.end();
}

/** Whether more of the text may tell what the head does not. */
function needsMore(found: SheetPlan | SheetProblem, { layout }: SheetEntry, most: number): boolean {
  if (!('code' in found)) return found.direction === 'across';
  const hasNoHeadings = found.code === 'header_missing' || found.code === 'file_empty';
  return layout === 'across' || (hasNoHeadings && most === LONG_HEAD_CHARACTERS);
}

async function gather(
  start: string,
  pieces: AsyncIterator<string>,
  most: number,
): Promise<{ text: string; ended: boolean }> {
  const parts = [start];
  let length = start.length;
  while (length < most) {
    const next = await pieces.next();
    if (next.done) return { text: parts.join(''), ended: true };
    parts.push(next.value);
    length += next.value.length;
  }
  return { text: parts.join(''), ended: false };
}

function* readAcross(feed: SheetFeed, text: string, delimiter: Delimiter): Generator<IngestBatch> {
  const { rows, lines, openQuote } = cutRows(text, delimiter);
  feed.across(turned(rows), lines);
  if (openQuote) feed.openQuote(openQuote.line, openQuote.cells);
  yield* feed.end();
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
  const places = plan.tables.flatMap(({ from, columns }) =>
    columns.flatMap((column) => (column.kind === 'role' && column.role === 'date' ? [from + column.at] : [])),
  );
  if (places.length === 0 || plan.datesFrom === 'screening' || plan.datesFrom === 'heading') return plan;
  const cutter = new RowCutter(plan.delimiter);
  const cells = new Set<string>();
  let slashed = false;
  const look = (block: RowBlock): void => {
    for (const row of block.rows) {
      for (const at of places) {
        const cell = (row[at] ?? '').trim();
        if (!/^\d{1,2}[/.-]\d{1,2}[/.-]\d{2,4}(?!\d)/.test(cell)) continue;
        slashed = true;
        cells.add(cell);
      }
    }
  };
  let seen = 0;
  for await (const piece of decodeText(sheet.open(), encoding)) {
    look(cutter.push(piece));
    // A head of ISO dates speaks for its sheet; a stray slashed date later on is then judged alone.
    seen += piece.length;
    if (!slashed && seen >= HEAD_CHARACTERS) return plan;
  }
  look(cutter.end().block);
  const dates = dateOrderOf(cells);
  return { ...plan, dates, datesFrom: dates && 'dates' };
}
