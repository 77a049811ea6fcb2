import { readDate } from '../units/dates.ts';
import { readStatus } from '../units/statuses.ts';
import type { RecogniseContext } from './column_plans.ts';
import { describeColumn } from './described.ts';
import type { Frame } from './frame.ts';
import { gluedRow } from './glued_rows.ts';
import { isAthleteHeading, isAthleteRole } from './heading_lines.ts';
import { type HeadingWords, readHeading, readQualifier } from './headings.ts';
import type { OpenedRow, RowKind } from './opened_row.ts';
import type { BlockPlan, ColumnPlan, SheetPlan, TablePlan } from './plan.ts';
import { recogniseBlock } from './recognise.ts';
import { roleOfHeading } from './roles.ts';
import { hurts } from './row_cells.ts';
import { isFootnote, isPageText, type RowLabel, rowLabel } from './row_words.ts';
import type { IngestBatch } from './sheet_tables.ts';
import { TableReader, type TableSurroundings } from './table_reader.ts';
import { type TitleFacts, titleFacts } from './title_lines.ts';
import { heldByLines } from './unit_lines.ts';

/** One physical row: its cells and the line on which it begins. */
export interface SheetRow {
  readonly cells: readonly string[];
  readonly line: number;
}

/** A row of which only what follows says what it is. */
interface Waiting {
  readonly reader: TableReader;
  readonly opened: OpenedRow;
  /** the whole row */
  readonly cells: readonly string[];
  /** the part of the row that belongs to the reader's table */
  readonly own: readonly string[];
  /** quiet: it holds no reading; loud: words stand where readings should; label: it may be an athlete called Max */
  readonly kind: 'quiet' | 'loud' | 'label';
}

const MOST_WAITING = 60;
/** Rows behind new headings that are looked at before the first is read: they show what the headings leave open. */
const ROWS_SEEN = 20;
/** So many rows that only look like headings show that the sheet is full of them. */
const MOST_NOT_HEADINGS = 200;
const LONGEST_HEADING = 200;
const STARTS_AS_NUMBER = /^[-+.]?\d+(?:[.,]\d+)?$/;
const HURTS = /pain|sore|hurt|ache/i;
/** Team: Rowing */
const LABELLED = /^\p{L}[\p{L} ]{2,30}: /u;

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
  /** what the lines above the tables have said so far */
  #facts: TitleFacts;
  #readers: readonly TableReader[] = [];
  #headingLine = 1;
  /** heading lines of the block at hand */
  #headingLines = 0;
  #waiting: Waiting[] = [];
  /** a line among those that wait speaks of a day, and nobody can tell which */
  #isDayLost = false;
  /** line that may be new headings and cannot be read as such; 0: none */
  #lostAt = 0;
  /** rows that looked like headings and were none */
  #notHeadings = 0;
  /** what the last row was that is no athlete's */
  #label: RowLabel | undefined;
  /** what rows without a name below that one are */
  #carriedLabel: RowLabel | undefined;
  /** a row of an athlete called Max or the like, and the table it is in: what follows says whether that is a label */
  #doubtful: { readonly row: SheetRow; readonly from: number } | undefined;
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
    this.#facts = plan.facts;
    this.#open(plan);
  }

  /** Most observations that one row can give, lists of trials in a cell aside. */
  get widest(): number {
    return this.#readers.reduce((sum, reader) => sum + reader.widest, 0);
  }

  #open({ tables }: BlockPlan): void {
    const plan = { ...this.#plan, facts: this.#facts };
    this.#readers = tables.map((table) => new TableReader(plan, table, this.#frameOf(table.from), this.#around));
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
    this.#headingLines = isFirst ? 1 : this.#headingLines + 1;
    for (const [at, reader] of this.#readers.entries()) reader.headingRow(this.#own(at, row.cells));
  }

  /** Reads a row below the headings. */
  row(row: SheetRow): void {
    if (this.#doubtful !== undefined) this.#settleDoubt(row);
    if (this.#held.length === 0) this.#row(row);
    else if (this.#held.push(row) >= ROWS_SEEN) this.#release();
  }

  /** The sheet is over: what waits is settled, and the columns that were only counted are told. */
  end(): void {
    if (this.#doubtful !== undefined) this.#settleDoubt(undefined);
    while (this.#held.length > 0) {
      this.#release();
      if (this.#doubtful !== undefined) this.#settleDoubt(undefined);
    }
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
      if (kind === 'known' && reader.mayBeLabel) {
        this.#doubtful = { row, from: at };
        return;
      }
      if (this.#refuseGlued(reader, own, kind)) continue;
      if (kind === 'known') this.#take(reader, own, row);
      else if (at === 0 && (kind === 'headings' || (kind === 'open' && this.#mayBeHeadings(reader, row.cells)))) {
        this.#held.push(row);
        return;
      } else this.#sort(reader, row, own, kind);
    }
  }

  /** A row in one cell, or parted by another mark than the sheet, is somebody's: it is rejected, and says what it holds. */
  #refuseGlued(reader: TableReader, own: readonly string[], kind: RowKind): boolean {
    if (this.#plan.direction === 'across') return false;
    const isUnread = kind === 'known' && reader.isUnread;
    if (!isUnread && (kind !== 'open' || !isNobody(reader))) return false;
    const glued = gluedRow(own, this.#plan.delimiter, this.#context.words, this.#around.world.directory);
    // Remarks are sentences, with names and numbers in them.
    if (glued === undefined || (isUnread && glued.found === 'blanks')) return false;
    this.#label = undefined;
    this.#settleBefore(reader, 'rows');
    reader.refuseGlued(glued);
    reader.breakOff();
    return true;
  }

  #take(reader: TableReader, own: readonly string[], row: SheetRow): void {
    this.#label = undefined;
    if (this.#lostAt > 0) {
      this.#settleBefore(reader, 'rows');
      reader.refuse({
        code: 'header_missing',
        args: { found: `line ${this.#lostAt} looks like headings and cannot be read` },
      });
      return;
    }
    if (this.#settleBefore(reader, 'rows')) {
      // What the lines above have said holds for this row already.
      const kind = reader.open(own, row.line);
      if (kind !== 'known') {
        this.#sort(reader, row, own, kind);
        return;
      }
    }
    reader.take();
  }

  /** A row of somebody called Max between rows that a spreadsheet worked out is nobody's for sure. */
  #settleDoubt(next: SheetRow | undefined): void {
    const { row, from } = this.#doubtful!;
    this.#doubtful = undefined;
    for (const [at, reader] of this.#readers.entries()) {
      // The tables to its left have taken their part.
      if (at < from) continue;
      const own = this.#own(at, row.cells);
      const kind = reader.open(own, row.line);
      if (kind !== 'known') this.#sort(reader, row, own, kind);
      else if (
        reader.mayBeLabel &&
        (this.#label?.kind === 'summary' || isSummary(reader, next && this.#own(at, next.cells)))
      ) {
        this.#settleBefore(reader, 'rows');
        reader.doubt();
        reader.breakOff();
      } else this.#take(reader, own, row);
    }
  }

  #sort(reader: TableReader, row: SheetRow, own: readonly string[], kind: Exclude<RowKind, 'known'>): void {
    if (kind === 'blank') {
      this.#label = undefined;
      reader.breakOff();
    } else if (kind === 'open') this.#sortOpen(reader, row, own);
    else {
      this.#settleBefore(reader, 'headings');
      reader.ignore('repeated_header');
      reader.breakOff();
    }
  }

  /** A row whose athlete, day or the like cannot be settled. */
  #sortOpen(reader: TableReader, row: SheetRow, own: readonly string[]): void {
    const nobody = isNobody(reader);
    const label = !nobody ? undefined : reader.isCarried ? this.#carriedLabel : labelOf(reader);
    if (label) {
      this.#labelled(reader, row, own, label);
      return;
    }
    this.#label = undefined;
    const isQuiet = !reader.holdsReadings && !reader.hasStatus;
    if (isQuiet && this.#isTeamLine(reader, own)) return;
    if (isQuiet) this.#wait(reader, row, own, 'quiet');
    else if (nobody && (holdsWordsOnly(reader) || this.#isTitle(reader, row))) this.#wait(reader, row, own, 'loud');
    else {
      this.#settleBefore(reader, 'rows');
      reader.reject();
    }
  }

  #labelled(reader: TableReader, row: SheetRow, own: readonly string[], label: RowLabel): void {
    const isSure = label.sure || this.#label?.kind === 'summary';
    if (!isSure) {
      this.#wait(reader, row, own, 'label');
      return;
    }
    this.#settleBefore(reader, label.kind === 'summary' ? 'summary' : 'rows');
    this.#label = label;
    reader.ignore(label.kind === 'summary' ? 'summary_row' : 'no_athlete');
    // Below an average of the first trial stands that of the second; else a row without a name is one whose name was forgotten.
    this.#carriedLabel = reader.hasKey ? { ...label, sure: true } : undefined;
    if (!this.#carriedLabel) reader.breakOff();
  }

  /** A line that holds the name of a team and nothing else tells whose the rows below are. */
  #isTeamLine(reader: TableReader, own: readonly string[]): boolean {
    const filled = own.filter((cell) => cell.trim() !== '');
    const team = filled.length === 1 ? filled[0].trim().replace(/\s*:$/, '') : '';
    if (team === '' || !this.#context.isTeam?.(team)) return false;
    this.#settleBefore(reader, 'rows');
    reader.context();
    const fact = { text: team, row: 0, at: 0 };
    // Beside other tables it speaks for its own; alone, for those of later headings too.
    if (this.#readers.length === 1) this.#facts = { ...this.#facts, team: fact };
    reader.setFacts({ team: fact, problems: [] });
    return true;
  }

  #wait(reader: TableReader, { cells }: SheetRow, own: readonly string[], kind: Waiting['kind']): void {
    this.#waiting.push({ reader, opened: reader.hold(), cells, own, kind });
    reader.breakOff();
    if (this.#waiting.length > MOST_WAITING) this.#settle('rows');
  }

  /**
   * Settles the rows that wait, and comes back to the one at hand.
   * @returns whether they say something of it
   */
  #settleBefore(reader: TableReader, follows: 'rows' | 'headings' | 'summary'): boolean {
    if (this.#waiting.length === 0) return false;
    const opened = reader.hold();
    const isSaid = this.#settle(follows);
    reader.resume(opened);
    return isSaid;
  }

  /** Says what the waiting rows were, now that it is known what follows them. */
  #settle(follows: 'rows' | 'headings' | 'summary' | 'end'): boolean {
    const waiting = this.#waiting;
    if (waiting.length === 0) return false;
    this.#waiting = [];
    // What may be an athlete called Max says nothing of the rows below: it has a date and readings of its own.
    const lines = waiting.filter(({ kind }) => kind !== 'label');
    const facts = follows === 'headings' || follows === 'rows' ? this.#factsIn(lines) : undefined;
    for (const { reader, opened, own, kind, cells } of waiting) {
      reader.resume(opened);
      if (facts?.used.has(cells)) reader.context();
      else if (kind !== 'label' && !own.some(isPageText) && this.#namesAthlete(own)) {
        reader.refuse({ code: 'athlete_missing', args: { found: 'a line of text that names an athlete' } });
      } else if (kind === 'label') this.#settleLabel(reader, follows);
      else if ((follows === 'headings' && kind === 'quiet') || own.some(isPageText)) reader.ignore('page_header');
      else if (kind === 'quiet' || own.some(isFootnote)) this.#footnote(reader, own, opened.line);
      else reader.reject();
    }
    const isSaid = facts !== undefined && (facts.used.size > 0 || facts.facts.problems.length > 0);
    if (isSaid) this.#learn(facts.facts);
    const isLost = this.#isDayLost;
    this.#isDayLost = false;
    return isSaid || isLost;
  }

  /** Whether a line of one cell speaks of an athlete of the roster: it is no footnote to be left aside. */
  #namesAthlete(own: readonly string[]): boolean {
    const filled = own.filter((cell) => cell.trim() !== '');
    return filled.length === 1 && this.#around.world.directory.namedIn(filled[0]) !== undefined;
  }

  #learn(facts: TitleFacts): void {
    const said = Object.entries(facts).filter(([, fact]) => fact !== undefined);
    this.#facts = { ...this.#facts, ...Object.fromEntries(said) };
    for (const reader of this.#readers) reader.setFacts(facts);
    const { world, file, entry } = this.#around;
    for (const problem of facts.problems) world.note(`${file}: ${problem}`);
    if (facts.date && entry.date === undefined) world.note(dateNote(file, facts.date.text));
  }

  /**
   * A line that speaks of a day and cannot be settled says something of the rows below, and nobody can tell what: the day
   * above it holds no longer.
   */
  #footnote(reader: TableReader, own: readonly string[], line: number): void {
    reader.ignore('footnote');
    if (!own.some(speaksOfDay)) return;
    const { world, file } = this.#around;
    const problem = `line ${line} speaks of a day that cannot be settled: write it with its year, or give the rows a column of dates`;
    world.note(`${file}: ${problem}`);
    this.#isDayLost = true;
    for (const other of this.#readers) other.setFacts({ problems: [problem] });
  }

  #settleLabel(reader: TableReader, follows: 'rows' | 'headings' | 'summary' | 'end'): void {
    if (follows === 'summary') reader.ignore('summary_row');
    else reader.reject();
  }

  /** What the lines between rows say of those below them. */
  #factsIn(waiting: readonly Waiting[]): { facts: TitleFacts; used: ReadonlySet<readonly string[]> } {
    const rows = waiting.map(({ cells }) => cells);
    const facts = this.#titleFacts(rows);
    return { facts, used: new Set(saidIn(facts).map(({ row }) => rows[row])) };
  }

  /** Whether a row says a day, a team or the like of the rows below it, and holds no reading. */
  #isTitle(reader: TableReader, { cells }: SheetRow): boolean {
    for (const text of reader.readingTexts()) {
      if (STARTS_AS_NUMBER.test(text) || (!isWord(text) && readDate(text, 'dmy').kind !== 'day')) return false;
    }
    const facts = this.#titleFacts([cells]);
    return saidIn(facts).length > 0 || facts.problems.length > 0;
  }

  #titleFacts(rows: readonly (readonly string[])[]): TitleFacts {
    const dateAt = this.#readers.flatMap(({ table }) =>
      table.columns.flatMap((column) =>
        column.kind === 'role' && column.role === 'date' ? [table.from + column.at] : [],
      ),
    );
    // A day in the table's own column of dates is that of a row whose name was forgotten, unless a word stands before it.
    const titles = rows.map((cells) => {
      const [first] = this.#readers;
      const isOwn = first.athleteTextOf(this.#own(0, cells)) === '';
      return isOwn ? cells.map((cell, at) => (dateAt.includes(at) ? '' : cell)) : cells;
    });
    return titleFacts(titles, this.#plan.dates, this.#context.isTeam ?? (() => false));
  }

  /**
   * Whether a row without a known athlete may be a new heading line: one of its cells names the athlete, or what stands
   * where readings should names what is measured.
   */
  #mayBeHeadings(reader: TableReader, cells: readonly string[]): boolean {
    if (!isNobody(reader) || this.#notHeadings > MOST_NOT_HEADINGS) return false;
    for (const text of reader.readingTexts()) if (STARTS_AS_NUMBER.test(text)) return false;
    const words = cells.filter((cell) => cell !== '' && cell.length < LONGEST_HEADING && /\p{L}/u.test(cell));
    if (words.some((cell) => !/\d/.test(cell) && isAthleteHeading(cell))) return true;
    return holdsHeadings(reader, this.#context.words);
  }

  /** Reads held rows as headings if they are any, else as what they are. */
  #release(): void {
    const held = this.#held;
    this.#held = [];
    const block = recogniseBlock(this.#withAthletes(held), 0, this.#context);
    const lines = block === undefined ? 1 : block.headingRows[1] + 1;
    if (block === undefined) this.#noHeadings(held[0]);
    else if (this.#isRepeated(held.slice(0, lines))) this.#repeated(held.slice(0, lines));
    else this.#newBlock(block, held);
    for (const row of held.slice(lines)) this.row(row);
  }

  /** Where new headings leave the athlete's column blank it stands where it stood. */
  #withAthletes(held: readonly SheetRow[]): (readonly string[])[] {
    const rows = held.map(({ cells }) => cells);
    if (rows[0].some((cell) => isAthleteHeading(cell))) return rows;
    const width = Math.max(rows[0].length, ...this.#readers.map(({ table }) => table.from + table.columns.length));
    const first = Array.from({ length: width }, (_, at) => rows[0][at] ?? '');
    // Whether other tables still stand beside, nobody can tell.
    const [{ table }] = this.#readers;
    for (const column of table.columns) {
      if (column.kind !== 'role' || !isAthleteRole(column.role)) continue;
      const at = table.from + column.at;
      if (!isKnownHeading(first[at], this.#context.words)) first[at] = ATHLETE_HEADINGS[column.role];
    }
    return [first, ...rows.slice(1)];
  }

  #isRepeated(lines: readonly SheetRow[]): boolean {
    return (
      lines.length === this.#headingLines &&
      this.#readers.every((reader, at) =>
        lines.every((row, line) => reader.isHeadingLine(this.#own(at, row.cells), line)),
      )
    );
  }

  #repeated(lines: readonly SheetRow[]): void {
    this.#lostAt = 0;
    for (const row of lines) {
      for (const [at, reader] of this.#readers.entries()) {
        if (reader.open(this.#own(at, row.cells), row.line) === 'blank') continue;
        this.#settleBefore(reader, 'headings');
        reader.ignore('repeated_header');
        reader.breakOff();
      }
    }
  }

  #newBlock({ headingRows, tables }: BlockPlan, held: readonly SheetRow[]): void {
    this.#lostAt = 0;
    this.#settle('headings');
    this.#close();
    // So few rows are little evidence: for a table of the same columns what the sheet has shown so far holds on.
    const before = this.#readers.map(({ table }) => table);
    const rows = held.slice(headingRows[1] + 1).map(({ cells }) => cells);
    const settled = heldByLines(tables, this.#plan.unitsSpoken, rows);
    const block = { headingRows, tables: settled.map((table) => likeBefore(table, before)) };
    this.#open(block);
    this.#onBlock(block, held[0].line);
    for (const [index, row] of held.slice(0, headingRows[1] + 1).entries()) this.headings(row, index === 0);
  }

  /** A row that looked like headings and cannot be read as such: what stands below it may be anything. */
  #noHeadings(row: SheetRow): void {
    const [reader] = this.#readers;
    this.#notHeadings++;
    reader.open(this.#own(0, row.cells), row.line);
    const namesAthlete = row.cells.some((cell) => cell.length < LONGEST_HEADING && isAthleteHeading(cell));
    if (namesAthlete || holdsHeadings(reader, this.#context.words)) this.#lostAt = row.line;
    this.#plainRow(row);
  }

  #plainRow(row: SheetRow): void {
    for (const [at, reader] of this.#readers.entries()) {
      const own = this.#own(at, row.cells);
      const kind = reader.open(own, row.line);
      if (this.#refuseGlued(reader, own, kind)) continue;
      if (kind === 'known') this.#take(reader, own, row);
      else this.#sort(reader, row, own, kind);
    }
  }
}

/** Headings that a column of the athletes may get where it has none. */
const ATHLETE_HEADINGS: { readonly [role: string]: string } = {
  athlete_id: 'athlete id',
  name: 'name',
  first_name: 'first name',
  last_name: 'last name',
};

const saidIn = ({ date, team, tester, device, station }: TitleFacts) =>
  [date, team, tester, device, station].filter((fact) => fact !== undefined);

/** What the columns of a table are, whatever their order. */
const contentsOf = ({ columns }: TablePlan): string =>
  columns
    .map((column) => (column.kind === 'reading' || column.kind === 'role' ? describeColumn(column) : ''))
    .sort()
    .join('\n');

/** A best below a block that holds its trials is a summary of them, and no reading. */
function withoutSummaries(table: TablePlan, before: readonly TablePlan[]): TablePlan {
  const raw = new Set(
    before.flatMap(({ columns }) => columns.flatMap((one) => (one.kind === 'reading' ? one.measure : []))),
  );
  const columns = table.columns.map((column): ColumnPlan => {
    if (column.kind !== 'reading' || column.evidence !== 'only_worked_out' || !raw.has(column.measure)) return column;
    const { at, heading, evidence } = column;
    return { kind: 'ignored', at, heading, evidence, reason: 'worked_out' };
  });
  return { ...table, columns };
}

function likeBefore(found: TablePlan, before: readonly TablePlan[]): TablePlan {
  const table = withoutSummaries(found, before);
  const other = table.other ?? before.find((known) => known.other !== undefined)?.other;
  const same = before.find((known) => contentsOf(known) === contentsOf(table));
  if (same === undefined) return { ...table, other };
  const { rowsPerAthlete, keysRepeat, onlyWorkedOutTrials } = same;
  return { ...table, other, rowsPerAthlete, keysRepeat, onlyWorkedOutTrials };
}

/** Whether a row is labelled as one that a spreadsheet worked out. */
function isSummary(reader: TableReader, cells: readonly string[] | undefined): boolean {
  const text = cells === undefined ? '' : reader.athleteTextOf(cells);
  const label = rowLabel(text);
  return label?.kind === 'summary' && (label.sure || !reader.isAthlete(text));
}

/** What is said where rows get their date from a line above them. */
export function dateNote(file: string, written: string): string {
  return `${file}: rows without a date are taken to be of "${written}", which stands above them`;
}

/** Whether nobody knows the athlete of the open row: none is named, or one whom nobody knows. */
function isNobody({ problem }: TableReader): boolean {
  return problem?.code === 'athlete_missing' || problem?.code === 'athlete_unknown';
}

/**
 * What an open row says that it is in place of an athlete's: where the athlete should stand, else where no heading stands.
 * A row that says that it hurts is never set aside.
 */
function labelOf(reader: TableReader): RowLabel | undefined {
  for (const text of reader.readingTexts()) if (HURTS.test(text) || hurts(text)) return undefined;
  const { athleteText } = reader;
  if (athleteText !== '') return reader.labelOf(athleteText);
  for (const text of reader.unheadedTexts()) {
    const label = rowLabel(text);
    if (label) return label;
  }
  return undefined;
}

const MONTH = '(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6}';
const DAY_IN_TEXT = new RegExp(
  [
    '^date\\b',
    '\\b\\d{1,4}[-/.]\\d{1,2}[-/.]\\d{1,4}\\b',
    `\\b\\d{1,2}(?:st|nd|rd|th)?[ -]${MONTH}\\b`,
    `\\b${MONTH}\\.? \\d{1,2}\\b`,
    '\\b(?:mon|tue|wed|thu|fri|sat|sun)[a-z]{0,6} \\d{1,2}/\\d{1,2}\\b',
  ].join('|'),
  'i',
);

/** Day 2 (18 Aug 2026), Tues 8/18, Date: next day. */
function speaksOfDay(cell: string): boolean {
  const text = cell.trim();
  return text.length <= 80 && DAY_IN_TEXT.test(text) && !/^(?:printed|updated|created)\b/i.test(text);
}

/** Whether the cells of readings of a row hold neither a number nor a word that stands for one. */
function holdsWordsOnly(reader: TableReader): boolean {
  for (const text of reader.readingTexts()) if (!isWord(text)) return false;
  return true;
}

function isWord(text: string): boolean {
  if (STARTS_AS_NUMBER.test(text)) return false;
  if (readStatus(text) !== undefined || HURTS.test(text)) return false;
  return !/\d/.test(text) || isPageText(text) || LABELLED.test(text);
}

const isKnownHeading = (text: string, words: HeadingWords): boolean =>
  text.length < LONGEST_HEADING && (readHeading(text, words).length > 0 || roleOfHeading(text) !== undefined);

/** Whether headings stand in a row where readings should: a measure, or sides and trials, and no reading beside them. */
function holdsHeadings(reader: TableReader, words: HeadingWords): boolean {
  for (const text of reader.readingTexts()) {
    if (text.length > LONGEST_HEADING || !/\p{L}/u.test(text) || readStatus(text) !== undefined) return false;
  }
  let count = 0;
  for (const text of reader.headingTexts()) {
    if (text.length > LONGEST_HEADING) continue;
    if (readHeading(text, words).length > 0 || readQualifier(text) !== undefined) count++;
  }
  return count > 0;
}
