import { plainNumber } from '../units/numbers.ts';
import { readStatus } from '../units/statuses.ts';
import type { RecogniseContext } from './column_plans.ts';
import type { Frame } from './frame.ts';
import { isAthleteHeading } from './heading_lines.ts';
import type { BlockPlan, SheetPlan } from './plan.ts';
import { MOST_HEADING_ROWS, recogniseBlock } from './recognise.ts';
import { isFootnote, isPageText, type RowLabel, rowLabel } from './row_words.ts';
import type { IngestBatch } from './sheet_tables.ts';
import { type RowKind, TableReader, type TableSurroundings } from './table_reader.ts';
import { type TitleFacts, titleFacts } from './title_lines.ts';

/** One physical row: its cells and the line on which it begins. */
export interface SheetRow {
  readonly cells: readonly string[];
  readonly line: number;
}

/** A row of which only what follows says what it is. */
interface Waiting extends SheetRow {
  readonly reader: TableReader;
  /** the part of the row that belongs to the reader's table */
  readonly own: readonly string[];
  /** quiet: it holds no reading; loud: words stand where readings should; label: it may be an athlete called Max */
  readonly kind: 'quiet' | 'loud' | 'label';
}

const MOST_WAITING = 60;
const LONGEST_LABEL = 60;

/**
 * Sorts the rows of a sheet below its first headings: readings, headings again or new ones, page headers, averages,
 * footnotes, lines that name a team. Tables that stand side by side see each their part of a row.
 */
export class SheetRows {
  readonly #plan: SheetPlan;
  readonly #context: RecogniseContext;
  readonly #around: TableSurroundings;
  readonly #frameOf: (from: number) => Frame;
  readonly #head: IngestBatch;
  readonly #onBlock: (block: BlockPlan, line: number) => void;
  #readers: readonly TableReader[] = [];
  #headingLine = 1;
  #waiting: Waiting[] = [];
  /** what the last row was that is no athlete's; rows that carry on from it are the same */
  #label: RowLabel | undefined;
  /** rows held until enough of them are there to read headings */
  #held: SheetRow[] = [];

  /**
   * @param frameOf where a table stands that begins in a column
   * @param head where whole columns are rejected or left aside
   * @param onBlock told of every further block of tables
   */
  constructor(
    plan: SheetPlan,
    context: RecogniseContext,
    around: TableSurroundings,
    frameOf: (from: number) => Frame,
    head: IngestBatch,
    onBlock: (block: BlockPlan, line: number) => void,
  ) {
    this.#plan = plan;
    this.#context = context;
    this.#around = around;
    this.#frameOf = frameOf;
    this.#head = head;
    this.#onBlock = onBlock;
    this.#open(plan);
  }

  /** Most observations that one row can give, lists of trials in a cell aside. */
  get widest(): number {
    return this.#readers.reduce((sum, reader) => sum + reader.widest, 0);
  }

  #open({ tables }: BlockPlan): void {
    this.#readers = tables.map((table) => new TableReader(this.#plan, table, this.#frameOf(table.from), this.#around));
  }

  /** The part of a row that belongs to a table. */
  #own(at: number, cells: readonly string[]): readonly string[] {
    const readers = this.#readers;
    if (readers.length === 1) return cells;
    return cells.slice(readers[at].table.from, readers[at + 1]?.table.from);
  }

  /** A row of the headings. */
  headings(row: SheetRow, isFirst: boolean): void {
    if (isFirst) this.#headingLine = row.line;
    for (const [at, reader] of this.#readers.entries()) reader.headingRow(this.#own(at, row.cells));
  }

  /** Reads a row below the headings. */
  row(row: SheetRow): void {
    if (this.#held.length === 0) this.#row(row);
    else if (this.#held.push(row) >= MOST_HEADING_ROWS) this.#release();
  }

  /** The sheet is over: what waits is settled, and the columns that were only counted are told. */
  end(): void {
    while (this.#held.length > 0) this.#release();
    this.#settle('end');
    this.#close();
  }

  #close(): void {
    for (const reader of this.#readers) reader.deadColumns(this.#headingLine, this.#head);
  }

  #row(row: SheetRow): void {
    const readers = this.#readers;
    for (let at = 0; at < readers.length; at++) {
      const reader = readers[at];
      const own = this.#own(at, row.cells);
      const kind = reader.open(own, row.line);
      if (kind === 'known' && this.#waiting.length === 0 && reader.problem === undefined) {
        this.#label = undefined;
        reader.take();
        continue;
      }
      if (kind === 'open' && at === 0 && isNobody(reader) && this.#mayBeHeadings(row.cells)) {
        this.#held.push(row);
        return;
      }
      this.#sort(reader, row, own, kind);
    }
  }

  #sort(reader: TableReader, row: SheetRow, own: readonly string[], kind: RowKind): void {
    if (kind === 'blank') {
      this.#label = undefined;
      reader.breakOff();
    } else if (kind === 'headings') {
      this.#settle('headings');
      reader.open(own, row.line);
      reader.ignore('repeated_header');
      reader.breakOff();
    } else if (kind === 'known') {
      this.#settle('rows');
      this.#label = undefined;
      reader.open(own, row.line);
      reader.take();
    } else this.#sortOpen(reader, row, own);
  }

  /** A row whose athlete, day or the like cannot be settled. */
  #sortOpen(reader: TableReader, row: SheetRow, own: readonly string[]): void {
    const { isCarried } = reader;
    const nobody = isNobody(reader);
    const label = !nobody ? undefined : isCarried ? this.#label : labelOf(reader, own);
    if (label) return this.#labelled(reader, row, own, isCarried ? { ...label, sure: true } : label);
    if (!isCarried) this.#label = undefined;
    const isQuiet = reader.readingCells === 0 && !reader.hasStatus;
    if (isQuiet && this.#isTeamLine(reader, row, own)) return;
    if (isQuiet) this.#wait({ ...row, reader, own, kind: 'quiet' });
    else if (nobody && holdsWordsOnly(reader)) this.#wait({ ...row, reader, own, kind: 'loud' });
    else {
      this.#settle('rows');
      reader.open(own, row.line);
      reader.reject();
    }
  }

  #labelled(reader: TableReader, row: SheetRow, own: readonly string[], label: RowLabel): void {
    const isSure = label.sure || this.#label?.kind === 'summary';
    if (!isSure) {
      this.#wait({ ...row, reader, own, kind: 'label' });
      return;
    }
    this.#settle(label.kind === 'summary' ? 'summary' : 'rows');
    this.#label = label;
    reader.open(own, row.line);
    reader.ignore(label.kind === 'summary' ? 'summary_row' : 'no_athlete');
  }

  /** A line that holds the name of a team and nothing else tells whose the rows below are. */
  #isTeamLine(reader: TableReader, row: SheetRow, own: readonly string[]): boolean {
    const filled = own.filter((cell) => cell.trim() !== '');
    const team = filled.length === 1 ? filled[0].trim() : '';
    if (team === '' || !this.#context.isTeam?.(team)) return false;
    this.#settle('rows');
    reader.open(own, row.line);
    reader.context();
    for (const other of this.#readers) {
      if (this.#readers.length === 1 || other === reader)
        other.setFacts({ team: { text: team, row: 0, at: 0 }, problems: [] });
    }
    return true;
  }

  #wait(row: Waiting): void {
    this.#waiting.push(row);
    row.reader.breakOff();
    if (this.#waiting.length > MOST_WAITING) this.#settle('rows');
  }

  /** Says what the waiting rows were, now that it is known what follows them. */
  #settle(follows: 'rows' | 'headings' | 'summary' | 'end'): void {
    if (this.#waiting.length === 0) return;
    const waiting = this.#waiting;
    this.#waiting = [];
    const facts = follows === 'headings' ? this.#factsIn(waiting) : undefined;
    for (const { reader, own, line, kind, cells } of waiting) {
      reader.open(own, line);
      if (facts?.used.has(cells)) reader.context();
      else if (kind === 'label') this.#settleLabel(reader, follows);
      else if (follows === 'headings' || own.some(isPageText)) reader.ignore('page_header');
      else if (kind === 'quiet' || own.some(isFootnote)) reader.ignore('footnote');
      else reader.reject();
    }
    if (facts) for (const reader of this.#readers) reader.setFacts(facts.facts);
  }

  #settleLabel(reader: TableReader, follows: 'rows' | 'headings' | 'summary' | 'end'): void {
    if (follows === 'summary') reader.ignore('summary_row');
    else reader.reject();
  }

  /** What the lines between two blocks say of the rows of the second. */
  #factsIn(waiting: readonly Waiting[]): { facts: TitleFacts; used: ReadonlySet<readonly string[]> } {
    const rows = waiting.map(({ cells }) => cells);
    const { isTeam = () => false } = this.#context;
    const facts = titleFacts(rows, this.#plan.dates, isTeam);
    const said = [facts.date, facts.team, facts.tester, facts.device, facts.station];
    return { facts, used: new Set(said.flatMap((fact) => (fact ? [rows[fact.row]] : []))) };
  }

  /** Whether a row without a known athlete may be a new heading line: one of its cells says so. */
  #mayBeHeadings(cells: readonly string[]): boolean {
    return cells.some((cell) => cell.length < LONGEST_LABEL && !/\d/.test(cell) && isAthleteHeading(cell));
  }

  /** Reads held rows as headings if they are any, else as what they are. */
  #release(): void {
    const held = this.#held;
    this.#held = [];
    const rows = held.map(({ cells }) => cells);
    const block = recogniseBlock(rows, 0, this.#context);
    if (block === undefined) this.#plainRow(held[0]);
    else this.#newBlock(block, held);
    for (const row of held.slice(block === undefined ? 1 : block.headingRows[1] + 1)) this.row(row);
  }

  #newBlock({ headingRows, tables }: BlockPlan, held: readonly SheetRow[]): void {
    this.#settle('headings');
    this.#close();
    const { rowsPerAthlete, onlyWorkedOutTrials } = this.#readers[0].table;
    const block = { headingRows, tables: tables.map((table) => ({ ...table, rowsPerAthlete, onlyWorkedOutTrials })) };
    this.#open(block);
    this.#onBlock(block, held[0].line);
    for (const [index, row] of held.slice(0, headingRows[1] + 1).entries()) this.headings(row, index === 0);
  }

  /** A row that only looked like headings. */
  #plainRow(row: SheetRow): void {
    for (const [at, reader] of this.#readers.entries()) {
      const own = this.#own(at, row.cells);
      this.#sort(reader, row, own, reader.open(own, row.line));
    }
  }
}

/** Whether nobody knows the athlete of the open row: none is named, or one whom nobody knows. */
function isNobody({ problem }: TableReader): boolean {
  return problem?.code === 'athlete_missing' || problem?.code === 'athlete_unknown';
}

/** What an open row says that it is in place of an athlete's: where the athlete should stand, else in front. */
function labelOf(reader: TableReader, own: readonly string[]): RowLabel | undefined {
  const { athleteText } = reader;
  if (athleteText !== '') return athleteText.length > LONGEST_LABEL ? undefined : rowLabel(athleteText);
  for (const cell of own) {
    // Behind the first number stand readings and remarks on them.
    if (!Number.isNaN(plainNumber(cell.trim()))) return undefined;
    const label = cell.length > LONGEST_LABEL ? undefined : rowLabel(cell);
    if (label) return label;
  }
  return undefined;
}

/** Whether the cells of readings of a row hold neither a number nor a word that stands for one. */
function holdsWordsOnly(reader: TableReader): boolean {
  for (const text of reader.readingTexts()) {
    if (readStatus(text) !== undefined) return false;
    if (/\d/.test(text) && !isPageText(text)) return false;
  }
  return true;
}
