import { looksLikeId } from '../athletes/directory.ts';
import type { IgnoredReason } from '../problems/ignored.ts';
import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Compound, Measure } from '../protocol/types.ts';
import { csvCell } from '../tables/csv_text.ts';
import { plainNumber, readNumber } from '../units/numbers.ts';
import { SIDES } from '../units/sides.ts';
import {
  isQualitative,
  OBSERVATION_STATUSES,
  type ObservationStatus,
  readStatus,
  splitPain,
} from '../units/statuses.ts';
import { unitText } from '../units/unit_text.ts';
import { isFilled, trimmed } from './blank.ts';
import { type CellParts, cellParts } from './cell_parts.ts';
import { type CellReading, implausible, isPlausible, MISSING_NUMBERS, readCell } from './cells.ts';
import { compoundReadings } from './compound_cells.ts';
import type { Correction } from './corrections.ts';
import { PURPOSES, ROLES, type SheetEntry } from './entry.ts';
import { columnOfCell, type Frame, lineOfCell } from './frame.ts';
import { isAthleteRole } from './heading_lines.ts';
import type { HeadingReading, HeadingWords } from './headings.ts';
import type { IgnoredColumn, ReadingColumn, SheetPlan, TablePlan } from './plan.ts';
import { type Place, pushReject } from './reject_sink.ts';
import { roleOfHeading } from './roles.ts';
import { type IngestWorld, RowContext, type RowProblem } from './row_context.ts';
import { RowCorrections } from './row_corrections.ts';
import { isSideOpen, RowSides } from './row_sides.ts';
import { RowTargets, type TargetProblem } from './row_targets.ts';
import { isDitto, type RowLabel, rowLabel } from './row_words.ts';
import type { SheetSink } from './sheet_sink.ts';
import { settleOther } from './table_plans.ts';
import type { Target, Targets } from './targets.ts';
import { TestCells } from './test_cells.ts';
import type { TitleFacts } from './title_lines.ts';
import { formOfId } from './unheaded_athletes.ts';
import { WorkedOutCheck } from './worked_out.ts';

const STATUS = Object.fromEntries(OBSERVATION_STATUSES.map((status, code) => [status, code])) as Record<
  ObservationStatus,
  number
>;
const LEFT = SIDES.indexOf('left');
const RIGHT = SIDES.indexOf('right');
const BOTH = SIDES.indexOf('both');
/** Readings that the message of a rejected row names. */
const MOST_HELD = 6;
const LONGEST_LABEL = 60;
/** No ditto mark is longer. */
const LONGEST_DITTO = 10;

/** Which of the readings of one cell it is. */
interface PartOfCell {
  /** side that its place in the cell gives, as a position in SIDES; -1: as column and row say */
  readonly side: number;
  /** place among the trials of the cell, from 0, and how many there are */
  readonly index: number;
  readonly count: number;
}

const WHOLE: PartOfCell = { side: -1, index: 0, count: 1 };

/** What becomes of the cells of a column. */
const FATE = { dead: 0, context: 1, reading: 2 } as const;

type Fate = 'measured' | 'not_measured' | 'rejected';

/** What all tables of one sheet share. */
export interface TableSurroundings {
  readonly file: string;
  readonly entry: SheetEntry;
  readonly world: IngestWorld;
  readonly words: HeadingWords;
  readonly targets: Targets;
  readonly corrections: ReadonlyMap<number, readonly Correction[]> | undefined;
  readonly sink: SheetSink;
}

/**
 * What a row turned out to be when it was opened: blank; with a known athlete; the first or a further heading line once
 * more; or a row whose athlete, day or the like cannot be settled, with the reason in `problem`.
 */
export type RowKind = 'blank' | 'known' | 'headings' | 'further_headings' | 'open';

/** A row that was opened, as it was then. */
export interface OpenRow {
  readonly cells: readonly string[];
  readonly marks: readonly string[] | undefined;
  readonly line: number;
  readonly live: number;
  readonly context: number;
  readonly dead: number;
  readonly beyond: number;
  readonly problem: RowProblem | undefined;
  /** code of the athlete; -1: nobody */
  readonly athlete: number;
  /** 0: not known */
  readonly season: number;
}

/**
 * Reads the rows below the headings of one table, by its plan. A row is opened first; then whoever sees the whole sheet
 * says whether it is read, rejected or ignored.
 */
export class TableReader {
  /** why the row at hand is open */
  problem: RowProblem | undefined;
  readonly table: TablePlan;
  readonly #plan: SheetPlan;
  readonly #entry: SheetEntry;
  readonly #world: IngestWorld;
  readonly #file: string;
  readonly #frame: Frame;
  readonly #sink: SheetSink;
  readonly #context: RowContext;
  readonly #sides: RowSides;
  readonly #targets: Targets;
  readonly #rowTargets: RowTargets;
  readonly #tests: TestCells;
  readonly #corrections: RowCorrections;
  readonly #readings: readonly ReadingColumn[];
  /** columns held back for want of a unit */
  readonly #held: readonly ReadingColumn[];
  /** columns that nobody can read and that may name another athlete */
  readonly #foreign: readonly number[];
  /** bests and means to compare with the trials beside them */
  readonly #workedOut: readonly IgnoredColumn[];
  readonly #check: WorkedOutCheck | undefined;
  /** FATE of each column of the plan */
  readonly #fates: Uint8Array;
  /** filled cells of the columns that are only counted, by column */
  readonly #dead: Int32Array;
  readonly #roleAt: { readonly [role: string]: number };
  readonly #roleColumns: readonly number[];
  readonly #statusAt: number;
  /** whether a column of readings leaves its measure to the row */
  readonly #needsTest: boolean;
  /** whether a row that stands twice can be told from two attempts */
  readonly #seesRepeats: boolean;
  readonly #codes: { readonly file: number; readonly station: number; readonly purpose: number };
  /** heading rows as they stand, to know them when they come again */
  readonly #headingRows: string[][] = [];
  readonly #pairColumns = new Set<number>();
  #labelText = '';
  #label: RowLabel | undefined;
  /** the row before, its ditto marks filled in */
  #above: readonly string[] = [];
  // The row at hand.
  #cells: readonly string[] = [];
  #line = 0;
  #live = 0;
  #contextCells = 0;
  #deadCells = 0;
  #beyond = 0;
  /** the row with its ditto marks, if it has any */
  #marks: readonly string[] | undefined;
  #athlete = -1;
  #season = 0;

  /** @param frame where the table stands in its sheet */
  constructor(plan: SheetPlan, table: TablePlan, frame: Frame, around: TableSurroundings) {
    const { file, entry, world, words, targets, corrections, sink } = around;
    this.#plan = plan;
    this.table = table;
    this.#frame = frame;
    this.#file = file;
    this.#entry = entry;
    this.#world = world;
    this.#targets = targets;
    this.#sink = sink;
    const { columns } = table;
    const placeOf = (role: string): number =>
      columns.find((column) => column.kind === 'role' && column.role === role)?.at ?? -1;
    this.#roleAt = Object.fromEntries(ROLES.map((role) => [role, placeOf(role)]));
    this.#roleColumns = columns.flatMap((column) => (column.kind === 'role' ? [column.at] : []));
    this.#statusAt = this.#roleAt.status;
    this.#context = new RowContext(world, file, entry, plan, table, this.#roleAt);
    this.#sides = new RowSides(world, this.#context);
    this.#corrections = new RowCorrections(table, frame, corrections);
    this.#tests = new TestCells(words);
    this.#readings = columns.filter((column) => column.kind === 'reading');
    this.#held = columns.flatMap((column) => (column.kind === 'rejected' && column.held ? [column.held] : []));
    this.#workedOut = columns.flatMap((column) => (column.kind === 'ignored' ? (this.#comparable(column) ?? []) : []));
    // Where the trials of an athlete stand in several rows, no row holds all that a best was worked out from.
    const isWhole = table.rowsPerAthlete === undefined && this.#roleAt.trial < 0;
    this.#check = isWhole && this.#workedOut.length > 0 ? new WorkedOutCheck() : undefined;
    this.#rowTargets = new RowTargets(targets, entry, this.#readings, this.#roleAt.unit);
    this.#needsTest = this.#roleAt.test >= 0 && this.#readings.some(({ measure, compound }) => !measure && !compound);
    this.#seesRepeats = table.layout !== 'row_a_test' && this.#roleAt.trial < 0 && this.#readings.length > 1;
    this.#foreign = columns.flatMap((column) =>
      column.kind === 'rejected' && (column.heading === '' || isAthleteRole(roleOfHeading(column.heading)))
        ? [column.at]
        : [],
    );
    this.#fates = Uint8Array.from(columns, ({ kind }) =>
      kind === 'role' ? FATE.context : kind === 'reading' ? FATE.reading : FATE.dead,
    );
    this.#dead = new Int32Array(columns.length);
    const { dictionaries } = world;
    this.#codes = {
      file: dictionaries.file.code(file),
      station: entry.station === undefined ? -1 : dictionaries.station.code(entry.station),
      purpose: PURPOSES.indexOf(entry.purpose),
    };
  }

  /** A best or mean with the unit in which its trials are written, where it says none itself. */
  #comparable(column: IgnoredColumn): IgnoredColumn | undefined {
    const { workedOut } = column;
    if (workedOut === undefined || workedOut.reading.unitFrom === 'heading') return workedOut && column;
    const trials = this.#readings.find(({ measure }) => measure === workedOut.reading.measure);
    const { unit, unitFrom, alsoIn } = trials ?? {};
    return { ...column, workedOut: { ...workedOut, reading: { ...workedOut.reading, unit, unitFrom, alsoIn } } };
  }

  /** Most observations that one row can give, lists of trials in a cell aside. */
  get widest(): number {
    const columns = [...this.#readings, ...this.#held];
    return columns.reduce((sum, { compound }) => sum + (compound ? compound.parts.length : 1), 0);
  }

  /** Remembers a heading row, so that a page break which repeats it is known, and counts its cells by column. */
  headingRow(cells: readonly string[]): void {
    this.#headingRows.push(cells.map((cell) => cell.trim()));
    for (const [at, cell] of cells.entries()) {
      if (!isFilled(cell)) continue;
      this.#sink.counts.cells++;
      if (this.#fates[at] === FATE.dead) this.#dead[at]++;
      else this.#sink.counts.context++;
    }
  }

  /** What lines above the rows that follow say of them. */
  setFacts(facts: TitleFacts): void {
    this.#context.setFacts(facts);
    this.#above = [];
  }

  /** The rows that follow carry on nothing from those before. */
  breakOff(): void {
    this.#context.breakOff();
    this.#above = [];
  }

  /** Whether the row at hand goes with the row above it, which names its athlete. */
  get isCarried(): boolean {
    return this.#context.isCarried;
  }

  /** Whether the athlete of the row at hand is called what a worked-out row may be called. */
  get mayBeLabel(): boolean {
    return this.#context.mayBeLabel;
  }

  /** Whether the row at hand says which trial, side or test it is about. */
  get hasKey(): boolean {
    return this.#context.hasKey(this.#cells);
  }

  /** What stands in some row where the athlete should. */
  athleteTextOf(cells: readonly string[]): string {
    return this.#context.athleteTextOf(cells);
  }

  /** What a text says that a row is, in place of an athlete's; neighbouring rows share it. */
  labelOf(text: string): RowLabel | undefined {
    if (text !== this.#labelText) {
      this.#labelText = text;
      this.#label = text.length > LONGEST_LABEL ? undefined : rowLabel(text);
    }
    return this.#label;
  }

  /** Whether a text is the id or name of one athlete. */
  isAthlete(text: string): boolean {
    return this.#world.directory.find(text).kind === 'athlete';
  }

  /** The row at hand is refused: its athlete may as well be the label of a worked-out row. */
  doubt(): void {
    const raw = '';
    const choices = [
      this.#world.dictionaries.athlete_id.texts[this.#athlete],
      'the label of a row that a spreadsheet worked out',
    ];
    this.problem = { code: 'athlete_ambiguous', args: { choices }, at: this.#context.athleteAt(this.#cells), raw };
    this.#athlete = -1;
    this.reject();
  }

  /** What stands in the row at hand where the athlete should. */
  get athleteText(): string {
    return this.#context.athleteTextOf(this.#cells);
  }

  /** Filled cells of readings in the row at hand. */
  get readingCells(): number {
    return this.#live;
  }

  /** Filled cells of the row at hand. */
  get filledCells(): number {
    return this.#live + this.#contextCells + this.#deadCells + this.#beyond;
  }

  /** Whether the row at hand states a status. */
  get hasStatus(): boolean {
    return this.#statusAt >= 0 && isFilled(this.#cells[this.#statusAt]);
  }

  /** The cells of readings in the row at hand. */
  *readingTexts(): Generator<string> {
    for (const { at } of this.#readings) if (isFilled(this.#cells[at])) yield trimmed(this.#cells[at]);
    for (const { at } of this.#held) if (isFilled(this.#cells[at])) yield trimmed(this.#cells[at]);
  }

  /**
   * Takes up a row and finds out whose it is. Nothing is counted and nothing written yet.
   * @param line of the row, or where athletes stand across the columns its column
   */
  open(written: readonly string[], line: number): RowKind {
    const corrected = this.#corrections.apply(written, line);
    const cells = this.#withDittos(corrected);
    this.#marks = cells === corrected ? undefined : corrected;
    this.#cells = cells;
    this.#line = line;
    const fates = this.#fates;
    const width = fates.length;
    let live = 0;
    let context = 0;
    let dead = 0;
    let beyond = 0;
    for (let at = 0; at < cells.length; at++) {
      if (!isFilled(cells[at])) continue;
      if (at >= width) beyond++;
      else if (fates[at] === FATE.context) context++;
      else if (fates[at] === FATE.reading) live++;
      else dead++;
    }
    this.#live = live;
    this.#contextCells = context;
    this.#deadCells = dead;
    this.#beyond = beyond;
    this.problem = undefined;
    if (live + context === 0) return dead + beyond === 0 ? 'blank' : 'known';
    const heading = this.#headingLine();
    if (heading >= 0) return heading === 0 ? 'headings' : 'further_headings';
    this.problem = this.#context.read(cells) ?? this.#somebodyElse(cells);
    this.#athlete = this.#context.athlete;
    this.#season = this.#context.season;
    return this.problem === undefined ? 'known' : 'open';
  }

  /** The id of another athlete in a column that nobody can read: whose the readings are is not known. */
  #somebodyElse(cells: readonly string[]): RowProblem | undefined {
    if (this.#foreign.length === 0) return undefined;
    const { directory, dictionaries } = this.#world;
    const own = dictionaries.athlete_id.texts[this.#context.athlete];
    for (const at of this.#foreign) {
      const cell = trimmed(cells[at] ?? '');
      if (cell === '' || cell === own || !looksLikeId(cell)) continue;
      const match = directory.find(cell);
      if (match.kind !== 'athlete' || match.id === own || (match.unlisted && formOfId(cell) !== formOfId(own)))
        continue;
      return { code: 'athlete_ambiguous', args: { choices: [own, match.id] }, at, raw: cell };
    }
    return undefined;
  }

  /** The row at hand, to come back to it when it is known what it is. */
  hold(): OpenRow {
    return {
      cells: this.#cells,
      marks: this.#marks,
      line: this.#line,
      live: this.#live,
      context: this.#contextCells,
      dead: this.#deadCells,
      beyond: this.#beyond,
      problem: this.problem,
      athlete: this.#athlete,
      season: this.#season,
    };
  }

  /** Comes back to a row; who and when of the row that was opened last stay as they are. */
  resume(row: OpenRow): void {
    this.#cells = row.cells;
    this.#marks = row.marks;
    this.#line = row.line;
    this.#live = row.live;
    this.#contextCells = row.context;
    this.#deadCells = row.dead;
    this.#beyond = row.beyond;
    this.problem = row.problem;
    this.#athlete = row.athlete;
    this.#season = row.season;
  }

  /** A mark that means "as above" becomes what stands above. */
  #withDittos(cells: readonly string[]): readonly string[] {
    let changed: string[] | undefined;
    for (const at of this.#roleColumns) {
      const cell = cells[at];
      if (cell === undefined || cell === '' || cell === this.#above[at] || cell.length > LONGEST_DITTO) continue;
      if (!mayBeDitto(cell) || !isDitto(cell) || !isFilled(this.#above[at])) continue;
      changed ??= [...cells];
      changed[at] = this.#above[at];
    }
    this.#above = changed ?? cells;
    return this.#above;
  }

  /** Reads the row at hand, whose athlete is known. Its non-empty cells all end in one of the counts. */
  take(): void {
    this.#sink.counts.cells += this.filledCells;
    if (this.#live + this.#contextCells > 0) this.#knownRow();
    this.#countDeadAndBeyond();
  }

  /** Rejects the row at hand as a whole, for its problem. */
  reject(): void {
    this.#sink.counts.cells += this.filledCells;
    this.#rejectRow(this.problem!, this.#live + this.#contextCells);
    this.#countDeadAndBeyond();
  }

  /** Rejects the row at hand for something that it does not show itself. */
  refuse(problem: Pick<RowProblem, 'code' | 'args'>): void {
    this.problem = { ...problem, at: -1, raw: '' };
    this.reject();
  }

  /** Leaves the row at hand aside. */
  ignore(reason: IgnoredReason): void {
    this.#sink.counts.cells += this.filledCells;
    this.#pushIgnored(this.#line, -1, this.filledCells, reason);
  }

  /** Takes the row at hand for something said about the rows below it. */
  context(): void {
    this.#sink.counts.cells += this.filledCells;
    this.#countDeadAndBeyond();
    this.#sink.counts.context += this.#live + this.#contextCells;
  }

  #countDeadAndBeyond(): void {
    const cells = this.#cells;
    const width = Math.min(cells.length, this.#fates.length);
    if (this.#deadCells > 0) {
      for (let at = 0; at < width; at++) if (this.#fates[at] === FATE.dead && isFilled(cells[at])) this.#dead[at]++;
    }
    if (this.#beyond === 0) return;
    const found = this.#beyond === 1 ? 'a cell' : `${this.#beyond} cells`;
    const first = cells.findIndex((cell, at) => at >= this.#fates.length && isFilled(cell));
    this.#pushReject(first, undefined, 'row_too_long', { found }, this.#beyond, cells[first]);
    this.#sink.counts.rejected += this.#beyond;
  }

  #knownRow(): void {
    const { counts, attempts } = this.#sink;
    const cells = this.#cells;
    if (this.#context.isWorkedOut) {
      this.#pushIgnored(this.#line, -1, this.#live + this.#contextCells, 'worked_out_row');
      return;
    }
    counts.context += this.#contextCells;
    if (this.#seesRepeats) attempts.noteRow(this.#context.athlete, cells);
    else attempts.startRow();
    this.#check?.startRow();
    const test = this.#needsTest ? this.#tests.read(cells[this.#roleAt.test] ?? '') : undefined;
    if (test && 'code' in test) {
      for (const column of this.#held) this.#painInHeldColumn(column);
      if (this.#live > 0 || this.hasStatus) this.#rejectTest(test, this.#live);
      return;
    }
    if (test?.workedOut && this.#live > 0) {
      counts.context -= this.#contextCells;
      this.#pushIgnored(this.#line, -1, this.#live + this.#contextCells, 'worked_out_row');
      return;
    }
    let held = 0;
    for (const column of this.#readings) {
      // Observations stand in the order of their columns.
      while (held < this.#held.length && this.#held[held].at < column.at) this.#painInHeldColumn(this.#held[held++]);
      const cell = cells[column.at];
      // A column that names its own measure does not ask the row for one.
      if (isFilled(cell)) this.#cell(column, trimmed(cell), column.measure || column.compound ? undefined : test);
    }
    while (held < this.#held.length) this.#painInHeldColumn(this.#held[held++]);
    if (this.#check) this.#compareWorkedOut(this.#check);
    if (this.#live === 0 && this.hasStatus) this.#statusAlone(test);
  }

  #compareWorkedOut(check: WorkedOutCheck): void {
    for (const column of this.#workedOut) {
      const raw = trimmed(this.#cells[column.at] ?? '');
      const { reading } = column.workedOut!;
      if (raw === '' || reading.measure === undefined) continue;
      const side = this.#sides.of(reading.measure, settleOther(reading.side, this.table));
      const target = this.#rowTargets.of(reading.measure, reading, undefined, this.#cells);
      if (typeof side !== 'number' || 'code' in target) continue;
      // A number that does not say its unit is not compared with numbers that do.
      if ((target.needsUnit || reading.alsoIn !== undefined) && !Number.isNaN(plainNumber(raw))) continue;
      check.compare(column, raw, side, target, this.#plan.decimal, lineOfCell(this.#frame, this.#line, column.at));
    }
  }

  #rejectTest(test: TargetProblem, live: number): void {
    const at = this.#roleAt.test;
    const raw = (this.#cells[at] ?? '').trim();
    const own = raw === '' ? 0 : 1;
    this.#sink.counts.context -= own;
    this.#rejectRow({ ...test, at, raw }, live + own);
  }

  /** Readings of a column without a unit are held back; that it hurt is not. The cells stay with their column's reject. */
  #painInHeldColumn(column: ReadingColumn): void {
    const raw = trimmed(this.#cells[column.at] ?? '');
    if (!hurts(raw)) return;
    for (const measure of measuresOf(column, undefined)) {
      const side = this.#side(measure, column, undefined, raw, column.at, 0);
      if (side >= 0) this.#push(measure, undefined, side, column, undefined, Number.NaN, STATUS.pain, raw, column.at);
    }
  }

  /** Pain whose reading cannot be taken: on the side that is known, else on both. */
  #painAlone(column: ReadingColumn, measure: Measure, raw: string, test: HeadingReading | undefined): void {
    const isOpen = isSideOpen(measure, column.side ?? test?.side, this.#context);
    const sides = isOpen ? [LEFT, RIGHT] : [this.#side(measure, column, test, raw, column.at, 0)];
    for (const side of sides) {
      if (side >= 0) this.#push(measure, undefined, side, column, test, Number.NaN, STATUS.pain, raw, column.at);
    }
  }

  /** A status with an empty value still says what became of the attempt. */
  #statusAlone(test: HeadingReading | undefined): void {
    if (this.#context.status === STATUS.measured || this.#context.status < 0) return;
    const { counts } = this.#sink;
    const at = this.#statusAt;
    const raw = (this.#cells[at] ?? '').trim();
    const told = new Set<number>();
    let weight = 1;
    for (const column of this.#readings) {
      for (const measure of measuresOf(column, test)) {
        const side = this.#side(measure, column, test, raw, at, weight);
        if (side < 0) weight = 0;
        const key = measure.index * SIDES.length + side;
        if (side < 0 || told.has(key)) continue;
        told.add(key);
        this.#push(measure, undefined, side, column, test, Number.NaN, this.#context.status, raw, at);
      }
    }
    if (weight === 0) counts.rejected += 1;
    else if (told.size > 0) counts.notMeasured += 1;
    if (weight === 0 || told.size > 0) counts.context -= 1;
  }

  #cell(column: ReadingColumn, raw: string, test: HeadingReading | undefined): void {
    const compound = column.compound ?? test?.compound;
    const measure = column.measure ?? test?.measure;
    const { counts } = this.#sink;
    const fate = compound
      ? this.#compound(column, compound, raw, test)
      : this.#reading(column, measure!, raw, raw, test, 1);
    if (fate === 'measured') counts.measured++;
    else if (fate === 'not_measured') counts.notMeasured++;
    else counts.rejected++;
  }

  /** Several numbers in one cell, such as 118/72: the cell counts once. A word (NT, N/A) holds for all of them. */
  #compound(column: ReadingColumn, compound: Compound, raw: string, test: HeadingReading | undefined): Fate {
    const { parts, between } = compound;
    const number = readNumber(raw, this.#plan.decimal);
    if (number.kind === 'problem' && number.code === 'spreadsheet_error') {
      this.#pushReject(column.at, parts[0].name, number.code, { raw }, 1, raw);
      return 'rejected';
    }
    const isWord = readStatus(raw) !== undefined || isQualitative(raw);
    const readings = isWord ? [parts.map(() => raw)] : compoundReadings(raw, compound, this.#plan.decimal);
    if (readings === undefined) {
      const expected = parts.map((part) => part.label.toLowerCase()).join(` ${between} `);
      this.#pushReject(column.at, parts[0].name, 'pair_incomplete', { raw, expected }, 1, raw);
      return 'rejected';
    }
    const fates = new Set<Fate>();
    for (const [index, texts] of readings.entries()) {
      for (const [at, part] of parts.entries()) {
        const weight = fates.has('rejected') ? 0 : 1;
        fates.add(
          this.#oneReading(column, part, texts[at], raw, test, weight, { side: -1, index, count: readings.length }),
        );
      }
    }
    return fateOf(fates);
  }

  /**
   * Reads a cell of one measure: mostly one reading, sometimes several trials or both sides.
   * @param weight cells that a reject of it stands for
   */
  #reading(
    column: ReadingColumn,
    measure: Measure,
    text: string,
    raw: string,
    test: HeadingReading | undefined,
    weight: number,
  ): Fate {
    if (!Number.isNaN(plainNumber(text))) return this.#oneReading(column, measure, text, raw, test, weight, WHOLE);
    const parts = this.#partsOf(column, measure, text, test);
    if (parts.kind === 'problem') {
      // That it hurt is kept, whatever else the cell says.
      if (parts.hurts) this.#painAlone(column, measure, raw, test);
      this.#pushReject(column.at, measure.name, parts.code, { raw, ...parts.args }, weight, raw);
      return 'rejected';
    }
    if (parts.kind === 'one') return this.#whole(column, measure, parts.text, raw, test, weight);
    const { kind, texts } = parts;
    const places = texts.map((text, index) => {
      const side = kind === 'sides' ? this.#sideOfPart(column, parts.named ?? false, index) : -1;
      return { text, part: { side, index: kind === 'sides' ? 0 : index, count: kind === 'sides' ? 1 : texts.length } };
    });
    // One cell's readings stand in the order of their trials.
    if (kind === 'sides')
      places.sort((a, b) => this.#trialsOf(measure, a.part.side) - this.#trialsOf(measure, b.part.side));
    const fates = new Set<Fate>();
    for (const { text, part } of places) {
      fates.add(this.#oneReading(column, measure, text, raw, test, fates.has('rejected') ? 0 : weight, part));
    }
    return fateOf(fates);
  }

  #trialsOf(measure: Measure, side: number): number {
    return this.#sink.attempts.countOf(this.#context.athlete, this.#context.day, measure.index, side);
  }

  /** A cell that holds one reading or word. A word in a column of pairs (NT) holds for both sides. */
  #whole(
    column: ReadingColumn,
    measure: Measure,
    text: string,
    raw: string,
    test: HeadingReading | undefined,
    weight: number,
  ): Fate {
    const named = column.side ?? test?.side;
    if (!isSideOpen(measure, named, this.#context)) {
      return this.#oneReading(column, measure, text, raw, test, weight, WHOLE);
    }
    const status = readStatus(text);
    const isPair = (column.sides ?? test?.sides) !== undefined;
    if (isPair && status !== undefined && status !== 'measured') {
      for (const side of [LEFT, RIGHT]) this.#oneReading(column, measure, text, raw, test, weight, { ...WHOLE, side });
      return 'not_measured';
    }
    // What is no reading at all is not asked for its side.
    const target = this.#rowTargets.of(measure, column, test, this.#cells);
    const reading = 'code' in target ? undefined : readCell(text, target, this.#plan.decimal);
    if (reading?.kind !== 'reject') return this.#oneReading(column, measure, text, raw, test, weight, WHOLE);
    this.#pushReject(column.at, measure.name, reading.code, reading.args, weight, raw);
    return 'rejected';
  }

  #partsOf(column: ReadingColumn, measure: Measure, text: string, test: HeadingReading | undefined): CellParts {
    const target = this.#rowTargets.of(measure, column, test, this.#cells);
    if ('code' in target) return { kind: 'one', text };
    const named = column.side ?? test?.side;
    return cellParts(text, {
      target,
      decimal: this.#plan.decimal,
      sideOpen: isSideOpen(measure, named, this.#context),
      trialGiven: (column.trial ?? test?.trial ?? this.#context.trial) > 0,
    });
  }

  /** Left stands first, unless the heading says otherwise or the cell itself names the sides; that it was so read is said. */
  #sideOfPart(column: ReadingColumn, named: boolean, index: number): number {
    const leftFirst = named || column.sides !== 'right_left';
    const isSaid = named || (column.sides !== undefined && !column.sidesByCells);
    if (!isSaid && !this.#pairColumns.has(column.at)) {
      this.#pairColumns.add(column.at);
      this.#world.note(
        `${this.#file}: "${column.heading.slice(0, 60)}" holds both sides in one cell; the first is taken as the left one: write L/R or R/L into the heading, or say sides: in screening.yaml under columns:`,
      );
    }
    return (index === 0) === leftFirst ? LEFT : RIGHT;
  }

  /**
   * Reads one number or word and writes the observation or the reject.
   * @param weight cells that a reject of it stands for
   */
  #oneReading(
    column: ReadingColumn,
    measure: Measure,
    text: string,
    raw: string,
    test: HeadingReading | undefined,
    weight: number,
    part: PartOfCell,
  ): Fate {
    const { at } = column;
    const side = part.side >= 0 ? part.side : this.#side(measure, column, test, raw, at, weight);
    if (side < 0) return 'rejected';
    const target = this.#rowTargets.of(measure, column, test, this.#cells);
    const rowStatus = this.#corrections.isVoid(at) ? STATUS.void : this.#context.status;
    if (rowStatus <= STATUS.measured && !('code' in target) && column.alsoIn === undefined && !target.needsUnit) {
      const value = this.#easyNumber(text, target, column.reversed);
      if (Number.isFinite(value) && isPlausible(target, value, side === BOTH)) {
        this.#push(measure, target, side, column, test, value, STATUS.measured, raw, at, part);
        return 'measured';
      }
    }
    return this.#careful(column, measure, text, raw, test, weight, side, target, rowStatus, part);
  }

  /** A number that reads one way by itself, in the measure's unit; NaN: the cell is to be looked at with care. */
  #easyNumber(text: string, target: Target, reversed: boolean): number {
    // Where the comma is the decimal mark, the point of 1.234 parts thousands; 5.11 feet may be 5 ft 11 in.
    if ((this.#plan.decimal === ',' || target.bodyHeightInFeet) && text.includes('.')) return Number.NaN;
    const value = plainNumber(text);
    if (Number.isNaN(value) || MISSING_NUMBERS.has(value)) return Number.NaN;
    return reversed ? -target.convert(value) : target.convert(value);
  }

  /** Words, marks, units, statuses and numbers that cannot be. That it hurt is kept, whatever else the cell says. */
  #careful(
    column: ReadingColumn,
    measure: Measure,
    text: string,
    raw: string,
    test: HeadingReading | undefined,
    weight: number,
    side: number,
    target: Target | TargetProblem,
    rowStatus: number,
    part: PartOfCell,
  ): Fate {
    const { at } = column;
    const isPain = rowStatus === STATUS.pain || hurts(text);
    const without = (status: number): Fate => {
      this.#push(measure, target, side, column, test, Number.NaN, isPain ? STATUS.pain : status, raw, at, part);
      return 'not_measured';
    };
    if (rowStatus > STATUS.pain) return without(rowStatus);
    const reading = 'code' in target ? wordAlone(text, target) : readCell(text, target, this.#plan.decimal);
    if (reading.kind === 'reading' && Number.isNaN(reading.value)) return without(STATUS[reading.status]);
    const refused =
      reading.kind === 'reject' ? reading : this.#refusal(reading, target as Target, column, side, text, raw);
    if (refused) {
      if (isPain) without(STATUS.pain);
      this.#pushReject(at, measure.name, refused.code, refused.args, weight, raw);
      return 'rejected';
    }
    const { value, cellUnit } = reading as Extract<CellReading, { kind: 'reading' }>;
    const used = cellUnit ? this.#targets.of(measure, cellUnit, 'cell') : target;
    const status = isPain ? STATUS.pain : STATUS.measured;
    this.#push(measure, used, side, column, test, column.reversed ? -value : value, status, raw, at, part);
    return 'measured';
  }

  /** Why a number that could be read is not taken. */
  #refusal(
    { value, cellUnit }: Extract<CellReading, { kind: 'reading' }>,
    target: Target,
    { at, heading, reversed, alsoIn }: ReadingColumn,
    side: number,
    text: string,
    raw: string,
  ): TargetProblem | undefined {
    if (!Number.isFinite(value)) return { code: 'number_unreadable', args: { raw } };
    if (target.needsUnit && cellUnit === undefined) {
      const { name, label } = target.measure;
      return { code: 'unit_unknown', args: { heading, measure: label, example: `{${name}: kgf}` } };
    }
    // A unit column speaks for its row.
    if (alsoIn && cellUnit === undefined && target.from !== 'unit_column') {
      const found = `other cells of the column are in ${unitText(alsoIn.code)}`;
      return { code: 'unit_unknown', args: { raw, measure: target.measure.label, found } };
    }
    const signed = reversed ? -value : value;
    if (isPlausible(target, signed, side === BOTH) || this.#corrections.isConfirmed(at)) return undefined;
    const { code, args } = implausible(target, text, signed, side === BOTH);
    const { line, column } = this.#place(at, undefined);
    const example = [this.#file, String(line), String(column), raw].map(csvCell).join(',');
    return { code, args: { ...args, example } };
  }

  /** @param target undefined or a problem: the reading has no value, and so no unit it was written in */
  #push(
    measure: Measure,
    target: Target | TargetProblem | undefined,
    side: number,
    column: ReadingColumn,
    test: HeadingReading | undefined,
    value: number,
    status: number,
    raw: string,
    at: number,
    { index, count }: PartOfCell = WHOLE,
  ): void {
    const sink = this.#sink;
    const { columns } = sink.batch.observations;
    const row = sink.nextRow();
    const context = this.#context;
    const known = target === undefined || 'code' in target ? undefined : target;
    const trial = column.trial ?? test?.trial ?? context.trial;
    columns.athlete_id.codes[row] = context.athlete;
    columns.team.codes[row] = context.team;
    columns.season.values[row] = context.season;
    columns.date.days[row] = context.day;
    columns.measure.codes[row] = measure.index;
    columns.side.codes[row] = side;
    columns.trial.values[row] = trial
      ? trial + index
      : sink.attempts.next(context.athlete, context.day, measure.index, side, count - 1 - index);
    columns.value.values[row] = value;
    columns.unit.codes[row] = known ? known.unitCode : this.#world.dictionaries.unit.code(measure.unit.code);
    columns.status.codes[row] = status;
    columns.tester.codes[row] = context.tester;
    columns.device.codes[row] = context.device;
    columns.station.codes[row] = this.#codes.station;
    columns.purpose.codes[row] = this.#codes.purpose;
    columns.raw.values[row] = this.#corrections.original(at, raw);
    columns.file.codes[row] = this.#codes.file;
    columns.line.values[row] = lineOfCell(this.#frame, this.#line, at);
    columns.column.values[row] = columnOfCell(this.#frame, this.#line, at);
    if (known === undefined || Number.isNaN(value)) return;
    this.#check?.trial(measure.index, side, value);
    columns.written_in.codes[row] = known.writtenCode;
    columns.unit_from.codes[row] = known.fromCode;
  }

  /**
   * Code of the side, or -1 after the reject is written.
   * @param weight cells that the reject stands for; 0: none is written
   */
  #side(
    measure: Measure,
    column: ReadingColumn,
    test: HeadingReading | undefined,
    raw: string,
    at: number,
    weight: number,
  ): number {
    const side = this.#sides.of(measure, settleOther(column.side ?? test?.side, this.table));
    if (typeof side === 'number') return side;
    const { code, args, cell } = side;
    if (weight > 0) {
      this.#pushReject(cell === undefined ? at : this.#roleAt.side, measure.name, code, args, weight, cell ?? raw);
    }
    return -1;
  }

  /** Which of the heading lines the row at hand repeats; -1: none. */
  #headingLine(): number {
    const rows = this.#headingRows;
    for (let line = 0; line < rows.length; line++) if (readsAs(this.#cells, rows[line])) return line;
    return -1;
  }

  /** Whether some cells read as one of the heading lines. */
  isHeadingLine(cells: readonly string[], line: number): boolean {
    return line < this.#headingRows.length && readsAs(cells, this.#headingRows[line]);
  }

  #pushIgnored(line: number, at: number, cells: number, reason: IgnoredReason, batch = this.#sink.batch): void {
    const { columns } = batch.ignored;
    const { lines } = this.#frame;
    const isRow = at < 0;
    columns.file.push(this.#file);
    columns.line.push(isRow && lines ? null : lineOfCell(this.#frame, line, at));
    columns.column.push(isRow && !lines ? null : columnOfCell(this.#frame, line, at));
    columns.heading.push(isRow ? null : this.table.columns[at].heading);
    columns.cells.push(cells);
    columns.reason.push(reason);
    this.#sink.counts.ignored += cells;
  }

  /**
   * A row that is not taken may hide an alarm: its message says what it holds.
   * @param count filled cells that go with it
   */
  #rejectRow({ at, code, args, raw }: RowProblem, count: number): void {
    const cells = this.#cells;
    // A cell without a digit is a name at worst, in a row that has slipped; only pain is a word worth saying.
    const held = this.#readings.filter((column) => /\d/.test(cells[column.at] ?? '') || hurts(cells[column.at] ?? ''));
    const test = this.#needsTest ? this.#tests.read(cells[this.#roleAt.test] ?? '') : undefined;
    const asked = test && 'code' in test ? undefined : test;
    const shown = held.slice(0, MOST_HELD).map((column) => {
      const [measure] = column.measure || column.compound ? [] : measuresOf(column, asked);
      return `${measure?.label ?? column.heading} ${trimmed(cells[column.at]).slice(0, 20)}`;
    });
    const holds = held.length > MOST_HELD ? [...shown, '…'] : shown;
    const names = held.flatMap((column) => measuresOf(column, asked).map((measure) => measure.name));
    const place = { ...this.#place(at, names.join(';') || undefined), holds: holds.join(', ') };
    this.#sink.place(place);
    // A problem that is carried on from the row above has nothing in this one to show.
    const own = at >= 0 && !isFilled(cells[at]) ? '' : this.#asWritten(at, raw);
    pushReject(this.#sink.batch.rejects, place, own, code, args, count);
    this.#sink.counts.rejected += count;
  }

  #pushReject(
    at: number,
    measure: string | undefined,
    code: RejectCode,
    args: RejectArgs,
    cells: number,
    raw: string,
  ): void {
    const place = this.#place(at, measure);
    this.#sink.place(place);
    pushReject(this.#sink.batch.rejects, place, this.#asWritten(at, raw), code, args, cells);
  }

  /** A cell as the sheet has it, whatever a correction or the row above made of it. */
  #asWritten(at: number, raw: string): string {
    const mark = this.#marks?.[at];
    return mark !== undefined && mark !== this.#cells[at] ? trimmed(mark) : this.#corrections.original(at, raw);
  }

  #place(at: number, measure: string | undefined): Place {
    const { lines } = this.#frame;
    return {
      file: this.#file,
      line: lineOfCell(this.#frame, this.#line, at),
      column: at < 0 && !lines ? undefined : columnOfCell(this.#frame, this.#line, at),
      heading: at < 0 ? undefined : this.table.columns[at]?.heading,
      athleteId: this.#athlete < 0 ? null : this.#world.dictionaries.athlete_id.texts[this.#athlete],
      measure,
      season: this.#season || undefined,
      station: this.#entry.station,
    };
  }

  /**
   * The columns that were only counted: what is set aside, and what is rejected as a whole.
   * @param headingLine line of the headings, or where athletes stand across the columns their column
   */
  deadColumns(headingLine: number, batch: SheetSink['batch']): void {
    for (const [at, column] of this.table.columns.entries()) {
      const cells = this.#dead[at];
      if (cells === 0) continue;
      if (column.kind === 'ignored') this.#pushIgnored(headingLine, at, cells, column.reason, batch);
      else if (column.kind === 'rejected') {
        this.#line = headingLine;
        const { heading, code, args } = column;
        const { file, line, column: place, station } = this.#place(at, undefined);
        pushReject(batch.rejects, { file, line, column: place, heading, station }, heading, code, args, cells);
        this.#sink.counts.rejected += cells;
      }
    }
    for (const sentence of this.#check?.sentences() ?? []) this.#world.note(`${this.#file}: ${sentence}`);
  }
}

/** Whether a cell begins as a ditto mark may: not with a digit, and with a letter only as in do, ditto, same, as above, idem. */
function mayBeDitto(cell: string): boolean {
  const code = cell.charCodeAt(0) | 0x20;
  if (code >= 0x30 && code <= 0x39) return false;
  return code < 0x61 || code > 0x7a || code === 0x61 || code === 0x64 || code === 0x69 || code === 0x73;
}

/** What became of a cell that held several readings. */
function fateOf(fates: ReadonlySet<Fate>): Fate {
  return fates.has('rejected') ? 'rejected' : fates.has('measured') ? 'measured' : 'not_measured';
}

/** Whether a cell says that it hurt, with a reading or without one; "0 pain" does not. */
function hurts(text: string): boolean {
  if (readStatus(text) === 'pain') return true;
  const reading = splitPain(text);
  return reading !== undefined && plainNumber(reading) !== 0;
}

/** A word such as NT needs no unit; a number whose unit nobody knows is refused for that. */
function wordAlone(text: string, problem: TargetProblem): CellReading {
  const status = readStatus(text);
  return status === undefined || status === 'measured'
    ? { kind: 'reject', ...problem }
    : { kind: 'reading', value: Number.NaN, status };
}

function measuresOf(column: ReadingColumn, test: HeadingReading | undefined): readonly Measure[] {
  const named = column.measure || column.compound ? column : test;
  if (named?.compound) return named.compound.parts;
  return named?.measure ? [named.measure] : [];
}

/** Whether the cells of a row, blanks around them aside, read as a row of headings. */
function readsAs(cells: readonly string[], headings: readonly string[]): boolean {
  for (let at = 0; at < headings.length; at++) if (trimmed(cells[at] ?? '') !== headings[at]) return false;
  return true;
}
