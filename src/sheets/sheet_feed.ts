import { lineOf, type RowBlock } from '../tables/csv_rows.ts';
import { inOrder, type RowAt } from '../tables/ordered.ts';
import type { OBSERVATIONS } from '../tables/schemas.ts';
import { MASS } from '../units/unit.ts';
import { unitText } from '../units/unit_text.ts';
import { isFilled } from './blank.ts';
import type { RecogniseContext } from './column_plans.ts';
import type { Frame } from './frame.ts';
import { DELIMITER_WORDS, heldIn, partedOtherwise } from './glued_rows.ts';
import type { HeadingWords } from './headings.ts';
import type { IngestJob, SheetSource } from './ingest_job.ts';
import type { BlockPlan, SheetPlan } from './plan.ts';
import { pushReject } from './reject_sink.ts';
import { dateNote, SheetRows } from './sheet_rows.ts';
import { SheetSink } from './sheet_sink.ts';
import { BATCH_ROWS, type Counts, emptyBatch, type IngestBatch } from './sheet_tables.ts';
import type { TitleFact } from './title_lines.ts';

const SAID = ['date', 'team', 'tester', 'device', 'station'] as const;

/** Feeds the rows of a sheet to their readers, and hands on what they write, batch by batch. */
export class SheetFeed {
  readonly #sheet: SheetSource;
  readonly #plan: SheetPlan;
  readonly #counts: Counts;
  readonly #kept: IngestBatch;
  readonly #head: IngestBatch;
  readonly #job: IngestJob;
  readonly #words: HeadingWords;
  readonly #sink: SheetSink;
  readonly #rows: SheetRows;
  readonly #mostRows: number;
  readonly #titleCells: ReadonlySet<string>;
  readonly #headingLines: number[] = [];
  #row = 0;
  /** physical lines of the cells of a row, where athletes stand across the columns */
  #lines: readonly number[] | undefined;
  /** observations of a sheet across, gathered to be put in the order of its lines */
  readonly #gathered: IngestBatch['observations'][] = [];

  constructor(
    sheet: SheetSource,
    plan: SheetPlan,
    recognition: RecogniseContext,
    job: IngestJob,
    counts: Counts,
    kept: IngestBatch,
    head: IngestBatch,
  ) {
    this.#sheet = sheet;
    this.#plan = plan;
    this.#job = job;
    this.#words = recognition.words;
    this.#counts = counts;
    this.#kept = kept;
    this.#head = head;
    this.#sink = new SheetSink(counts, this.#next(0));
    const { world, targets } = job;
    const around = {
      file: sheet.file,
      entry: { ...sheet.entry, station: sheet.entry.station ?? plan.facts.station?.text },
      world,
      words: recognition.words,
      targets,
      corrections: job.corrections.get(sheet.file),
      sink: this.#sink,
    };
    const frameOf = (from: number): Frame => this.#frameOf(from);
    const onBlock = (block: BlockPlan, line: number): void => {
      // Columns of a later block are told at its headings.
      this.#counts.isSorted = false;
      job.watch({ kind: 'block', file: sheet.file, block, line });
    };
    this.#rows = new SheetRows(plan, recognition, around, frameOf, head, onBlock);
    const { widest } = this.#rows;
    // Held headings bring the rows behind them along.
    this.#mostRows = Math.max(BATCH_ROWS - 4 * widest, 0);
    this.#sink.exchange(this.#next(this.#mostRows + 4 * widest));
    this.#titleCells = new Set(
      SAID.flatMap((name) => {
        const fact: TitleFact | undefined = plan.facts[name];
        if (fact === undefined) return [];
        return [fact.at, fact.labelAt ?? fact.at].map((at) => `${fact.row} ${at}`);
      }),
    );
    this.#sayFacts();
  }

  /** Lines of a sheet across are known only with its text: the frame asks for them when it is used. */
  #frameOf(from: number): Frame {
    const feed = this;
    return this.#plan.direction === 'down'
      ? { from }
      : {
          from,
          get lines() {
            return feed.#lines;
          },
        };
  }

  #sayFacts(): void {
    const { file, entry } = this.#sheet;
    const { facts } = this.#plan;
    for (const problem of facts.problems) this.#job.world.note(`${file}: ${problem}`);
    if (facts.date && entry.date === undefined) this.#job.world.note(dateNote(file, facts.date.text));
    for (const { columns } of this.#plan.tables) {
      for (const column of columns) {
        // Pounds and kilograms of a person look alike.
        if (column.kind !== 'reading' || column.measure?.unit.dimension !== MASS || column.alsoIn) continue;
        if (column.unitFrom !== 'protocol') continue;
        const unit = unitText(column.measure.unit.code);
        const heading = column.heading.slice(0, 60);
        this.#job.world.note(`${file}: "${heading}" names no unit and is read in ${unit}, as the protocol has it`);
      }
    }
  }

  /** Observations leave batch by batch; rejects and ignored cells gather for the end of the sheet. */
  #next(rows: number): IngestBatch {
    const { observations, ledger } = emptyBatch(this.#job.world.dictionaries, rows);
    observations.extend(rows);
    return { observations, ledger, rejects: this.#kept.rejects, ignored: this.#kept.ignored };
  }

  /** Rows as they stand in the sheet. */
  *rows(block: RowBlock): Generator<IngestBatch> {
    const last = this.#plan.headingRows[1];
    for (let index = 0; index < block.rows.length; index++) {
      const row = this.#row++;
      const cells = block.rows[index];
      if (row <= last) this.#above(row, cells, lineOf(block, index));
      else {
        this.#rows.row({ cells, line: lineOf(block, index) });
        if (this.#sink.rows > this.#mostRows) yield* this.#flush(this.#exchange());
      }
    }
  }

  /**
   * Columns of a sheet whose athletes stand across.
   * @param turned its columns, as rows
   * @param lines physical line of each of its rows
   */
  across(turned: readonly (readonly string[])[], lines: readonly number[]): void {
    this.#lines = lines;
    this.#counts.isSorted = false;
    const { headingRows } = this.#plan;
    for (const [at, cells] of turned.entries()) {
      if (at > headingRows[1]) this.#rows.row({ cells, line: at + 1 });
      else if (at >= headingRows[0]) this.#heading(at, cells, at + 1);
      else this.#titleLine(at, cells, null, at + 1);
      if (this.#sink.rows > this.#mostRows) this.#gathered.push(this.#exchange());
    }
  }

  #above(row: number, cells: readonly string[], line: number): void {
    if (row < this.#plan.headingRows[0]) this.#titleLine(row, cells, line, null);
    else this.#heading(row, cells, line);
  }

  #heading(row: number, cells: readonly string[], line: number): void {
    this.#headingLines.push(line);
    this.#rows.headings({ cells, line }, row === this.#plan.headingRows[0]);
    if (row !== this.#plan.headingRows[1]) return;
    this.#job.watch({ kind: 'plan', file: this.#sheet.file, plan: this.#plan, lines: this.#headingLines });
  }

  #exchange(): IngestBatch['observations'] {
    return this.#sink.exchange(this.#next(this.#mostRows + 4 * this.#rows.widest));
  }

  /** Observations in batches, in the order in which they were written unless they are given another. */
  *#flush(observations: IngestBatch['observations']): Generator<IngestBatch> {
    const { rejects, ignored, ledger } = emptyBatch(this.#job.world.dictionaries);
    if (observations.length <= BATCH_ROWS) yield { observations, ledger, rejects, ignored };
    else yield* this.#inBatches(inOrder([observations], []));
  }

  *#inBatches(rows: readonly RowAt<typeof OBSERVATIONS>[]): Generator<IngestBatch> {
    for (let start = 0; start < rows.length; start += BATCH_ROWS) {
      const batch = emptyBatch(this.#job.world.dictionaries);
      for (const { table, row } of rows.slice(start, start + BATCH_ROWS)) batch.observations.appendRow(table, row);
      yield batch;
    }
  }

  #titleLine(row: number, cells: readonly string[], line: number | null, column: number | null): void {
    if (line !== null && this.#partedLine(cells, line)) return;
    let filled = 0;
    for (const [at, cell] of cells.entries()) {
      if (cell.trim() === '') continue;
      this.#counts.cells++;
      if (this.#titleCells.has(`${row} ${at}`)) this.#counts.context++;
      else filled++;
    }
    if (filled === 0) return;
    const { columns } = this.#head.ignored;
    columns.file.push(this.#sheet.file);
    columns.line.push(line);
    columns.column.push(column);
    columns.heading.push(null);
    columns.cells.push(filled);
    columns.reason.push('title_line');
    this.#counts.ignored += filled;
  }

  /** A line above the headings that is a row of another sheet, parted by another mark. */
  #partedLine(cells: readonly string[], line: number): boolean {
    const { delimiter } = this.#plan;
    const parted = partedOtherwise(cells, delimiter, this.#words);
    if (parted === undefined) return false;
    const filled = cells.filter(isFilled).length;
    const place = { file: this.#sheet.file, line, station: this.#sheet.entry.station, holds: heldIn(parted.parts) };
    const args = { found: parted.found, expected: DELIMITER_WORDS[delimiter] };
    pushReject(this.#head.rejects, place, '', 'delimiter_unknown', args, filled);
    this.#counts.cells += filled;
    this.#counts.rejected += filled;
    return true;
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
    this.#rows.end();
    if (this.#plan.direction === 'across') {
      this.#gathered.push(this.#exchange());
      yield* this.#inBatches(inOrder(this.#gathered, ['line', 'column', 'trial']));
    } else if (this.#sink.rows > 0) yield* this.#flush(this.#exchange());
  }
}
