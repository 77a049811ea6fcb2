import { rejectMessage, rejectSuggestion } from '../problems/rejects.ts';
import type { Protocol } from '../protocol/types.ts';
import { lineOf, RowCutter } from '../tables/csv_rows.ts';
import { decodeText, type Encoding } from '../tables/decode.ts';
import type { LEDGER } from '../tables/schemas.ts';
import type { RowOf } from '../tables/table.ts';
import type { Corrections } from './corrections.ts';
import type { SheetEntry } from './entry.ts';
import { type HeadingWords, headingWords } from './headings.ts';
import { ingest } from './ingest.ts';
import type { IngestEvent, SheetSource } from './ingest_job.ts';
import { NAME_FACTS, readNamePattern } from './name_pattern.ts';
import type { BlockPlan, ColumnPlan, ReadingColumn, SheetPlan, SheetProblem, TablePlan } from './plan.ts';
import type { IngestWorld } from './row_context.ts';
import { linesFor, repeatedHeadings, statusLines, unitLines, unitsAsked } from './scan_lines.ts';
import { ScanTally } from './scan_tally.ts';
import type { BlockScan, CellFates, ColumnScan, FactScan, SheetScan, TableScan } from './scan_types.ts';
import { whyOf } from './scan_words.ts';
import type { IngestBatch } from './sheet_tables.ts';

export type * from './scan_types.ts';

/** Nobody settles more columns than these by hand. */
const MOST_LINES = 500;

/** What an ingest has said of the sheet that it is reading. */
interface Watched {
  readonly tally: ScanTally;
  readonly blocks: { readonly block: BlockPlan; readonly headings: readonly number[] }[];
  bytes?: Extract<IngestEvent, { kind: 'bytes' }>;
  plan?: SheetPlan;
  problem?: SheetProblem;
}

/**
 * How sheets are read, and why: the same ingest, whole, with somebody who watches.
 * @returns one scan a sheet, in their order; what is noted goes to the world
 */
export async function* scan(
  sheets: Iterable<SheetSource>,
  protocol: Protocol,
  world: IngestWorld,
  corrections: Corrections,
): AsyncGenerator<SheetScan> {
  const all = [...sheets];
  const scanner = new SheetScanner(protocol, world.showNames);
  yield* scanner.scans(all, ingest(all, protocol, world, corrections, scanner.watch));
}

/** Watches an ingest and makes of each sheet a scan. */
export class SheetScanner {
  readonly #words: HeadingWords;
  readonly #showNames: boolean;
  #watched: Watched = { tally: new ScanTally(), blocks: [] };

  constructor(protocol: Protocol, showNames: boolean) {
    this.#words = headingWords(protocol);
    this.#showNames = showNames;
  }

  /** To be told by ingest how each sheet is read. */
  readonly watch = (event: IngestEvent): void => {
    const watched = this.#watched;
    if (event.kind === 'bytes') watched.bytes = event;
    else if (event.kind === 'problem') watched.problem = event.problem;
    else if (event.kind === 'plan') {
      watched.plan = event.plan;
      watched.blocks.push({ block: event.plan, headings: [...event.lines] });
      watched.tally.startBlock(event.plan.direction, event.lines[0]);
    } else {
      const { block, line } = event;
      const [first, last] = block.headingRows;
      watched.blocks.push({ block, headings: Array.from({ length: last - first + 1 }, (_, at) => line + at) });
      watched.tally.startBlock(watched.plan!.direction, line);
    }
  };

  /** @param batches of the ingest of these sheets that this scanner watches */
  async *scans(sheets: readonly SheetSource[], batches: AsyncIterable<IngestBatch>): AsyncGenerator<SheetScan> {
    let index = 0;
    for await (const batch of batches) {
      const { tally } = this.#watched;
      tally.takeObservations(batch.observations);
      tally.takeRejects(batch.rejects);
      tally.takeIgnored(batch.ignored);
      for (const ledger of batch.ledger.rows()) {
        const watched = this.#watched;
        this.#watched = { tally: new ScanTally(), blocks: [] };
        yield await this.#scanOf(sheets[index++], watched, ledger);
      }
    }
  }

  async #scanOf(sheet: SheetSource, watched: Watched, ledger: RowOf<typeof LEDGER>): Promise<SheetScan> {
    const { bytes, plan, problem, tally } = watched;
    const lines = plan && bytes ? await linesOf(sheet, bytes.encoding, plan, watched.blocks[0].headings[0]) : undefined;
    const isAcross = plan?.direction === 'across';
    const placeOf = (at: number): number => (isAcross ? (lines?.[at] ?? at + 1) : at + 1);
    const blocks = watched.blocks.map(({ block, headings }, index): BlockScan => {
      const repeated = repeatedHeadings(block.tables.flatMap((table) => table.columns));
      const tables = block.tables.map((table): TableScan => {
        const columns = table.columns.flatMap((column) => {
          const cells = tally.cells(index, placeOf(table.from + column.at));
          return this.#columnScan(column, table, placeOf(table.from + column.at), cells, repeated, sheet.entry) ?? [];
        });
        const { layout, rowsPerAthlete } = table;
        return { layout, rowsPerAthlete, columns };
      });
      return { headings, tables };
    });
    const { count, understood } = countColumns(blocks);
    return {
      file: sheet.file,
      encoding: bytes?.encoding,
      encodingCertain: bytes?.certain,
      delimiter: plan?.delimiter,
      direction: plan?.direction,
      decimal: plan?.decimal,
      decimalFrom: plan?.decimal && (sheet.entry.decimal ? 'screening' : 'readings'),
      dates: plan?.dates,
      datesFrom: plan?.datesFrom,
      facts: factsOf(sheet, plan, lines),
      columns: count,
      understood,
      blocks,
      unitLines: unitLines(heldColumns(watched), sheet.entry.units),
      problem: problem && {
        code: problem.code,
        line: problem.line,
        message: rejectMessage(problem.code, problem.args),
        suggestion: rejectSuggestion(problem.code, problem.args),
      },
      // A sheet that cannot be read is told as its problem.
      rejects: tally.rejects().filter(({ code }) => code !== problem?.code),
      ignored: tally.ignored(),
      notes: [],
      ledger,
      rejectRows: tally.rejectRows,
    };
  }

  /** @returns undefined for a column that holds nothing */
  #columnScan(
    column: ColumnPlan,
    table: TablePlan,
    place: number,
    cells: CellFates,
    repeated: ReadonlySet<string>,
    entry: SheetEntry,
  ): ColumnScan | undefined {
    const { kind, evidence } = column;
    const number = table.from + column.at + 1;
    const shown = { number, place, heading: column.heading, kind, evidence, cells };
    const why = whyOf(column, table, this.#words);
    const isRepeated = repeated.has(column.heading.toLowerCase());
    if (column.kind === 'role') return { ...shown, role: column.role, why };
    if (column.kind === 'reading') {
      const { measure, compound, side, sides, sidesByCells, trial, unit, unitFrom, unitText, reversed } = column;
      return {
        ...shown,
        measure: measure?.name ?? compound?.name,
        side,
        sides,
        sidesByCells,
        trial,
        unit: unit?.code,
        unitFrom,
        unitText,
        reversed: reversed ? true : undefined,
        why,
      };
    }
    if (column.kind === 'ignored') {
      const { reason } = column;
      if (cells.ignored === 0) return undefined;
      // A title or a footnote beside athletes across the columns is no heading, and may hold a name.
      const isText = reason === 'title_line' || reason === 'footnote';
      const heading = isText && !this.#showNames ? '' : column.heading;
      const lines = reason === 'status_of_wide_sheet' ? statusLines(heading, number, isRepeated) : undefined;
      return { ...shown, heading, reason, compared: column.workedOut && true, why, lines };
    }
    if (cells.rejected === 0) return undefined;
    const { code, args, held } = column;
    return {
      ...shown,
      measure: held?.measure?.name ?? held?.compound?.name,
      side: held?.side,
      sides: held?.sides,
      trial: held?.trial,
      code,
      why,
      message: rejectMessage(code, args),
      suggestion: rejectSuggestion(code, args),
      asked: held && unitsAsked(held),
      lines: held || number > MOST_LINES ? undefined : linesFor(column, number, isRepeated, table, entry, this.#words),
    };
  }
}

/** Columns that nobody has named a unit for. */
function heldColumns({ blocks }: Watched): ReadingColumn[] {
  const columns = blocks.flatMap(({ block }) => block.tables.flatMap((table) => table.columns));
  return columns.flatMap((column) => (column.kind === 'rejected' && column.held ? [column.held] : []));
}

/** Columns of all blocks; the same column under the same heading counts once. */
function countColumns(blocks: readonly BlockScan[]): { count: number; understood: number } {
  const seen = new Set<string>();
  let understood = 0;
  for (const { number, heading, kind } of blocks.flatMap(({ tables }) => tables.flatMap(({ columns }) => columns))) {
    const key = `${number} ${kind} ${heading}`;
    if (seen.has(key)) continue;
    seen.add(key);
    if (kind !== 'rejected') understood++;
  }
  return { count: seen.size, understood };
}

/**
 * Physical line of each row, as far as it is needed: of all rows where athletes stand across the columns, else of those
 * above the headings.
 */
async function linesOf(
  { open }: SheetSource,
  encoding: Encoding,
  { delimiter, direction, headingRows }: SheetPlan,
  headingLine: number,
): Promise<number[]> {
  const needed = direction === 'across' ? Number.POSITIVE_INFINITY : headingRows[0];
  // Mostly each row has its line.
  if (needed < Number.POSITIVE_INFINITY && headingLine === needed + 1)
    return Array.from({ length: needed }, (_, at) => at + 1);
  const lines: number[] = [];
  const cutter = new RowCutter(delimiter);
  const take = (block: ReturnType<RowCutter['push']>): void => {
    for (let row = 0; row < block.rows.length; row++) lines.push(lineOf(block, row));
  };
  for await (const piece of decodeText(open(), encoding)) {
    take(cutter.push(piece));
    if (lines.length >= needed) return lines;
  }
  take(cutter.end().block);
  return lines;
}

const TITLE_FACTS = ['date', 'team', 'tester', 'device', 'station'] as const;

function factsOf(
  { entry }: SheetSource,
  plan: SheetPlan | undefined,
  lines: readonly number[] | undefined,
): FactScan[] {
  const parts = entry.fromName === undefined ? [] : readNamePattern(entry.fromName).parts;
  const inName = new Set(parts.flatMap((part) => (part.kind === 'fact' ? [part.fact] : [])));
  const facts: FactScan[] = NAME_FACTS.flatMap((what) => {
    const said = entry[what];
    return said === undefined ? [] : [{ what, text: String(said), from: inName.has(what) ? 'file_name' : 'screening' }];
  });
  if (entry.purpose !== 'test') facts.push({ what: 'purpose', text: entry.purpose, from: 'screening' });
  for (const what of TITLE_FACTS) {
    const fact = plan?.facts[what];
    const overruled = entry[what] === undefined ? undefined : true;
    if (fact) facts.push({ what, text: fact.text, from: 'title', line: lines?.[fact.row], overruled });
  }
  return facts;
}
