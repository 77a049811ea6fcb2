import { looksLikeId } from '../athletes/directory.ts';
import type { IgnoredReason } from '../problems/ignored.ts';
import { readDate } from '../units/dates.ts';
import { plainNumber } from '../units/numbers.ts';
import { readStatus } from '../units/statuses.ts';
import { isFilled, trimmed } from './blank.ts';
import { CellReader, type Fate } from './cell_reader.ts';
import { readCell } from './cells.ts';
import type { Correction } from './corrections.ts';
import { ROLES, type SheetEntry } from './entry.ts';
import { type Frame, lineOfCell, withRowAt } from './frame.ts';
import { DELIMITER_WORDS, type GluedRow, heldIn, pressureIn } from './glued_rows.ts';
import { isAthleteRole } from './heading_lines.ts';
import type { HeadingReading, HeadingWords } from './headings.ts';
import { filledCells, NO_ROW, type OpenedRow, type RowKind } from './opened_row.ts';
import type { IgnoredColumn, ReadingColumn, SheetPlan, TablePlan } from './plan.ts';
import { roleOfHeading } from './roles.ts';
import { hurts, isVitalSign, measuresOf } from './row_cells.ts';
import { type IngestWorld, RowContext, type RowProblem } from './row_context.ts';
import { RowCorrections } from './row_corrections.ts';
import { RowSides } from './row_sides.ts';
import { RowTargets, type TargetProblem } from './row_targets.ts';
import { isDitto, LONGEST_DITTO, type RowLabel, rowLabel } from './row_words.ts';
import { RowWriter } from './row_writer.ts';
import type { SheetSink } from './sheet_sink.ts';
import { settleOther } from './table_plans.ts';
import type { Targets } from './targets.ts';
import { TestCells } from './test_cells.ts';
import type { TitleFacts } from './title_lines.ts';
import { formOfId } from './unheaded_athletes.ts';
import { WorkedOutCheck } from './worked_out.ts';

/** Readings that the message of a rejected row names. */
const MOST_HELD = 6;
/** Pain and vital signs are named before them, and not cut off so soon. */
const MOST_URGENT = 24;
const LONGEST_PAIN = 200;
const FORENAME = /^\p{L}[\p{L} .'’-]{0,40}$/u;

/** What becomes of the cells of a column. */
const FATE = { dead: 0, context: 1, reading: 2 } as const;

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
 * Reads the rows below the headings of one table, by its plan. A row is opened first; then whoever sees the whole sheet
 * says whether it is read, rejected or ignored.
 */
export class TableReader {
  readonly table: TablePlan;
  readonly #plan: SheetPlan;
  readonly #world: IngestWorld;
  readonly #file: string;
  readonly #frame: Frame;
  readonly #sink: SheetSink;
  readonly #context: RowContext;
  readonly #sides: RowSides;
  readonly #rowTargets: RowTargets;
  readonly #tests: TestCells;
  readonly #corrections: RowCorrections;
  readonly #writer: RowWriter;
  readonly #cells: CellReader;
  readonly #readings: readonly ReadingColumn[];
  /** columns held back for want of a unit */
  readonly #held: readonly ReadingColumn[];
  /** columns of readings, and those that nobody can read */
  readonly #mayBeReadings: readonly number[];
  /** columns that nobody can read and that may name another athlete */
  readonly #foreign: readonly number[];
  /** bests and means to compare with the trials beside them */
  readonly #workedOut: readonly IgnoredColumn[];
  readonly #check: WorkedOutCheck | undefined;
  /** FATE of each column of the plan */
  readonly #fates: Uint8Array;
  /** filled cells of the columns that are only counted, by column */
  readonly #dead: Int32Array;
  readonly #roleColumns: readonly number[];
  readonly #testAt: number;
  readonly #nameAt: number;
  readonly #statusAt: number;
  /** whether a column of readings leaves its measure to the row */
  readonly #needsTest: boolean;
  /** columns that give an observation now and then: pain where a unit is missing, a best where its trials are */
  readonly #beside: readonly { readonly at: number; readonly read: () => void }[];
  /** whether nothing but the athlete and the day tells rows apart */
  readonly #isRowAnAthlete: boolean;
  /** whether a row that stands twice can be told from two attempts */
  readonly #seesRepeats: boolean;
  /** heading rows as they stand, to know them when they come again */
  readonly #headingRows: string[][] = [];
  /** columns of bests that were read in the row at hand */
  readonly #readBests: number[] = [];
  /** first line of each athlete and day where rows are athletes */
  readonly #firstLines = new Map<string, number>();
  #again: { readonly athlete: string; readonly lines: readonly [number, number] } | undefined;
  #againCount = 0;
  #labelText = '';
  #label: RowLabel | undefined;
  /** the row before, its ditto marks filled in */
  #above: readonly string[] = [];
  /** the row at hand */
  #row: OpenedRow = NO_ROW;
  #mayBeLabel = false;

  /** @param frame where the table stands in its sheet */
  constructor(plan: SheetPlan, table: TablePlan, frame: Frame, around: TableSurroundings) {
    const { file, entry, world, words, targets, corrections, sink } = around;
    this.#plan = plan;
    this.table = table;
    const athleteAt = table.columns.findIndex((column) => column.kind === 'role' && isAthleteRole(column.role));
    this.#frame = withRowAt(frame, Math.max(athleteAt, 0));
    this.#file = file;
    this.#world = world;
    this.#sink = sink;
    const { columns } = table;
    const placeOf = (role: string): number =>
      columns.find((column) => column.kind === 'role' && column.role === role)?.at ?? -1;
    const roleAt: { readonly [role: string]: number } = Object.fromEntries(ROLES.map((role) => [role, placeOf(role)]));
    this.#roleColumns = columns.flatMap((column) => (column.kind === 'role' ? [column.at] : []));
    this.#testAt = roleAt.test;
    this.#nameAt = roleAt.name;
    this.#statusAt = roleAt.status;
    this.#readings = columns.filter((column) => column.kind === 'reading');
    this.#held = columns.flatMap((column) => (column.kind === 'rejected' && column.held ? [column.held] : []));
    this.#workedOut = columns.flatMap((column) => (column.kind === 'ignored' ? (this.#comparable(column) ?? []) : []));
    this.#needsTest = roleAt.test >= 0 && this.#readings.some(({ measure, compound }) => !measure && !compound);
    this.#isRowAnAthlete = roleAt.test < 0 && roleAt.side < 0 && roleAt.trial < 0 && table.rowsPerAthlete === undefined;
    this.#seesRepeats = table.layout !== 'row_a_test' && roleAt.trial < 0 && this.#readings.length > 1;
    this.#mayBeReadings = columns.flatMap(({ kind, at }) => (kind === 'reading' || kind === 'rejected' ? [at] : []));
    this.#foreign = columns.flatMap((column) =>
      column.kind === 'rejected' && (column.heading === '' || isAthleteRole(roleOfHeading(column.heading)))
        ? [column.at]
        : [],
    );
    this.#fates = Uint8Array.from(columns, ({ kind }) =>
      kind === 'role' ? FATE.context : kind === 'reading' ? FATE.reading : FATE.dead,
    );
    this.#dead = new Int32Array(columns.length);
    // Where the trials of an athlete stand in several rows, no row holds all that a best was worked out from.
    const isWhole = table.rowsPerAthlete === undefined && roleAt.trial < 0;
    this.#check = isWhole && this.#workedOut.length > 0 ? new WorkedOutCheck() : undefined;
    const held = this.#held.map((column) => ({ at: column.at, read: () => this.#painInHeld(column) }));
    const bests = this.#workedOut.flatMap((column) => {
      const { kind, reading } = column.workedOut!;
      if (this.#check === undefined || kind !== 'best' || reading.measure === undefined) return [];
      const trials = this.#readings.filter(({ measure, side }) => measure === reading.measure && side === reading.side);
      return [
        {
          at: column.at,
          read: () =>
            this.#readBest(
              column,
              trials.map(({ at }) => at),
            ),
        },
      ];
    });
    this.#beside = [...held, ...bests].sort((a, b) => a.at - b.at);
    this.#tests = new TestCells(words);
    this.#context = new RowContext(world, file, entry, plan, table, roleAt);
    this.#sides = new RowSides(world, this.#context);
    this.#rowTargets = new RowTargets(targets, entry, this.#readings, roleAt.unit, table);
    this.#corrections = new RowCorrections(table, this.#frame, corrections, plan.decimal);
    this.#writer = new RowWriter(table, this.#frame, around, this.#context, this.#corrections, plan.decimal);
    this.#cells = new CellReader({
      plan,
      table,
      file,
      world,
      context: this.#context,
      sides: this.#sides,
      targets,
      rowTargets: this.#rowTargets,
      corrections: this.#corrections,
      writer: this.#writer,
      check: this.#check,
    });
  }

  /** A best or mean with the unit in which its trials are written, where it says none itself. */
  #comparable(column: IgnoredColumn): IgnoredColumn | undefined {
    const { workedOut } = column;
    if (workedOut === undefined || workedOut.reading.unitFrom === 'heading') return workedOut && column;
    const trials = this.#readings.find(({ measure }) => measure === workedOut.reading.measure);
    // Beside a best that is read as the only reading there is nothing to compare a mean with.
    if (trials?.evidence === 'only_worked_out') return undefined;
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

  /** Whether some cells read as one of the heading lines. */
  isHeadingLine(cells: readonly string[], line: number): boolean {
    return line < this.#headingRows.length && readsAs(cells, this.#headingRows[line]);
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

  /**
   * Takes up a row and finds out whose it is. Nothing is counted and nothing written yet.
   * @param line of the row, or where athletes stand across the columns its column
   */
  open(written: readonly string[], line: number): RowKind {
    const corrected = this.#corrections.apply(written, line);
    const cells = this.#withDittos(corrected);
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
    const marks = cells === corrected ? undefined : corrected;
    const says = live + context > 0 || this.#held.some(({ at }) => isFilled(cells[at]));
    const heading = says ? this.#headingLine(cells) : -1;
    const isRead = says && heading < 0;
    const problem = isRead
      ? (this.#context.read(cells) ?? this.#slipped(cells) ?? this.#somebodyElse(cells))
      : undefined;
    const athlete = isRead ? this.#context.athlete : -1;
    const season = isRead ? this.#context.season : 0;
    this.#mayBeLabel = isRead && this.#context.mayBeLabel;
    this.resume({ cells, marks, line, live, context, dead, beyond, problem, athlete, season });
    if (heading >= 0) return heading === 0 ? 'headings' : 'further_headings';
    if (problem !== undefined) return 'open';
    return says || dead + beyond > 0 ? 'known' : 'blank';
  }

  /** The row at hand, to come back to it when it is known what it is. */
  hold(): OpenedRow {
    return this.#row;
  }

  /** Comes back to a row; who and when of the row that was opened last stay as they are. */
  resume(row: OpenedRow): void {
    this.#row = row;
    this.#writer.row = row;
  }

  /** Why the row at hand is open. */
  get problem(): RowProblem | undefined {
    return this.#row.problem;
  }

  /** Whether nothing of the row at hand was looked at: all of it stands in columns that are only counted. */
  get isUnread(): boolean {
    const { athlete, problem, live, context } = this.#row;
    return athlete < 0 && problem === undefined && live + context === 0;
  }

  /** Whether the row at hand goes with the row above it, which names its athlete. */
  get isCarried(): boolean {
    return this.#context.isCarried;
  }

  /** Whether the athlete of the row at hand is called what a worked-out row may be called. */
  get mayBeLabel(): boolean {
    return this.#mayBeLabel;
  }

  /** Whether the row at hand says which trial, side or test it is about. */
  get hasKey(): boolean {
    return this.#context.hasKey(this.#row.cells);
  }

  /** What stands in the row at hand where the athlete should. */
  get athleteText(): string {
    return this.#context.athleteTextOf(this.#row.cells);
  }

  /** What stands in some row where the athlete should. */
  athleteTextOf(cells: readonly string[]): string {
    return this.#context.athleteTextOf(cells);
  }

  /** What a text says that a row is, in place of an athlete's; neighbouring rows share it. */
  labelOf(text: string): RowLabel | undefined {
    if (text !== this.#labelText) {
      this.#labelText = text;
      this.#label = rowLabel(text);
    }
    return this.#label;
  }

  /** Whether a text is the id or name of one athlete. */
  isAthlete(text: string): boolean {
    return this.#world.directory.find(text).kind === 'athlete';
  }

  /** Whether the row at hand holds readings, or cells that may be some. */
  get holdsReadings(): boolean {
    return this.#mayBeReadings.some((at) => isFilled(this.#row.cells[at]));
  }

  /** Whether the row at hand states a status. */
  get hasStatus(): boolean {
    return this.#statusAt >= 0 && isFilled(this.#row.cells[this.#statusAt]);
  }

  /** The cells of the row at hand that are readings, or may be in a column that nobody can read. */
  *readingTexts(): Generator<string> {
    const { cells } = this.#row;
    for (const at of this.#mayBeReadings) if (isFilled(cells[at])) yield trimmed(cells[at]);
  }

  /** The cells of the row at hand that may be headings: not those that say who, when and which test. */
  *headingTexts(): Generator<string> {
    const { cells } = this.#row;
    for (let at = 0; at < cells.length; at++) {
      if (this.#fates[at] !== FATE.context && isFilled(cells[at])) yield trimmed(cells[at]);
    }
  }

  /** What stands in the row at hand under no heading at all, where a label may be. */
  *unheadedTexts(): Generator<string> {
    for (const { at, heading } of this.table.columns) {
      const cell = heading === '' ? this.#row.cells[at] : undefined;
      if (isFilled(cell)) yield trimmed(cell!);
    }
  }

  /** Which of the heading lines some cells repeat; -1: none. */
  #headingLine(cells: readonly string[]): number {
    const rows = this.#headingRows;
    for (let line = 0; line < rows.length; line++) if (readsAs(cells, rows[line])) return line;
    return -1;
  }

  /** A row whose cells stand one column too far: a reading beyond the last heading, or a name in two cells. */
  #slipped(cells: readonly string[]): RowProblem | undefined {
    const width = this.#fates.length;
    for (let at = width; at < cells.length; at++) {
      const raw = trimmed(cells[at] ?? '');
      if (!/^[-+]?[.,]?\d/.test(raw) && readStatus(raw) === undefined) continue;
      return { code: 'row_too_long', args: { found: 'a reading' }, at, raw };
    }
    const at = this.#nameAt + 1;
    if (this.#nameAt < 0 || this.#fates[at] !== FATE.reading) return undefined;
    const behind = trimmed(cells[at] ?? '');
    const name = trimmed(cells[this.#nameAt] ?? '');
    if (name === '' || !FORENAME.test(behind)) return undefined;
    const match = this.#world.directory.find(`${name}, ${behind}`);
    if (match.kind !== 'athlete' || match.by !== 'name') return undefined;
    return {
      code: 'row_too_long',
      args: { found: 'a name in two cells, so that every reading behind it stands' },
      at,
      raw: '',
    };
  }

  /** The id of another athlete in a column that nobody can read: whose the readings are is not known. */
  #somebodyElse(cells: readonly string[]): RowProblem | undefined {
    const { directory, dictionaries } = this.#world;
    for (const at of this.#foreign) {
      const own = dictionaries.athlete_id.texts[this.#context.athlete];
      const cell = trimmed(cells[at] ?? '');
      if (cell === '' || cell === own) continue;
      if (mayBeDitto(cell) && isDitto(cell)) {
        this.#context.breakOff();
        return { code: 'athlete_ambiguous', args: { choices: [own, 'the athlete above that mark'] }, at, raw: cell };
      }
      if (!looksLikeId(cell)) continue;
      const match = directory.find(cell);
      if (match.kind !== 'athlete' || match.id === own) continue;
      if (match.unlisted && formOfId(cell) !== formOfId(own)) continue;
      // Nor is it known whose the rows below are, if they name nobody.
      this.#context.breakOff();
      return { code: 'athlete_ambiguous', args: { choices: [own, match.id] }, at, raw: cell };
    }
    return undefined;
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
    this.#context.commit();
    this.#sink.counts.cells += filledCells(this.#row);
    if (this.#row.live + this.#row.context > 0 || this.#held.length > 0) this.#knownRow();
    this.#countDeadAndBeyond();
  }

  /** Rejects the row at hand as a whole, for its problem. */
  reject(): void {
    this.#sink.counts.cells += filledCells(this.#row);
    const { live, context, beyond } = this.#row;
    const isSlipped = this.problem!.code === 'row_too_long';
    this.#rejectRow(this.problem!, live + context + (isSlipped ? beyond : 0));
    this.#countDeadAndBeyond(isSlipped);
  }

  /** Rejects the row at hand for something that it does not show itself. */
  refuse(problem: Pick<RowProblem, 'code' | 'args'>): void {
    this.resume({ ...this.#row, problem: { ...problem, at: -1, raw: '' } });
    this.reject();
  }

  /** Rejects the row at hand, whose cells are not apart where those of the sheet are: it says what the row holds. */
  refuseGlued({ found, parts, athlete }: GluedRow): void {
    const { dictionaries } = this.#world;
    const args = { found, expected: DELIMITER_WORDS[this.#plan.delimiter] };
    const day = parts.map((part) => readDate(part, this.#plan.dates)).find((date) => date.kind === 'day');
    const season = day?.kind === 'day' ? this.#context.seasonOfDay(day.day) : this.#row.season;
    const code = athlete === undefined ? -1 : dictionaries.athlete_id.code(athlete);
    const problem: RowProblem = { code: 'delimiter_unknown', args, at: -1, raw: '' };
    this.resume({ ...this.#row, problem, athlete: code, season });
    const isAlarm = parts.some((part) => pressureIn(part) !== undefined);
    const vital = this.#readings.flatMap((column) => measuresOf(column, undefined)).filter(isVitalSign);
    const names = isAlarm ? [...new Set(vital.map(({ name }) => name))].join(';') : '';
    // All of the row goes with it, whatever columns its cells have come to stand in.
    const count = filledCells(this.#row);
    this.#writer.reject(-1, names || undefined, problem.code, args, count, '', heldIn(parts));
    this.#sink.counts.cells += count;
    this.#sink.counts.rejected += count;
  }

  /** The row at hand is refused: its athlete may as well be the label of a worked-out row. */
  doubt(): void {
    const known = this.#world.dictionaries.athlete_id.texts[this.#row.athlete];
    const choices = [known, 'the label of a row that a spreadsheet worked out'];
    const at = this.#context.athleteAt(this.#row.cells);
    this.resume({ ...this.#row, athlete: -1, problem: { code: 'athlete_ambiguous', args: { choices }, at, raw: '' } });
    this.reject();
  }

  /** Leaves the row at hand aside. */
  ignore(reason: IgnoredReason): void {
    const cells = filledCells(this.#row);
    this.#sink.counts.cells += cells;
    this.#writer.ignored(this.#row.line, -1, cells, reason);
  }

  /** Takes the row at hand for something said about the rows below it. */
  context(): void {
    this.#sink.counts.cells += filledCells(this.#row);
    this.#countDeadAndBeyond();
    this.#sink.counts.context += this.#row.live + this.#row.context;
  }

  /** @param isSlipped the cells beyond the last heading are counted with their row */
  #countDeadAndBeyond(isSlipped = false): void {
    const { cells, dead, beyond } = this.#row;
    const width = Math.min(cells.length, this.#fates.length);
    if (dead > 0) {
      for (let at = 0; at < width; at++) if (this.#fates[at] === FATE.dead && isFilled(cells[at])) this.#dead[at]++;
      for (const at of this.#readBests.splice(0)) this.#dead[at]--;
    }
    if (beyond === 0 || isSlipped) return;
    const found = beyond === 1 ? 'a cell' : `${beyond} cells`;
    const first = cells.findIndex((cell, at) => at >= this.#fates.length && isFilled(cell));
    // A remark beyond the last heading may speak of anybody.
    this.#writer.reject(first, undefined, 'row_too_long', { found }, beyond, this.#world.showNames ? cells[first] : '');
    this.#sink.counts.rejected += beyond;
  }

  #knownRow(): void {
    const { counts, attempts } = this.#sink;
    const { cells, live } = this.#row;
    if (this.#seesRepeats) attempts.noteRow(this.#context.athlete, cells);
    else attempts.startRow();
    this.#check?.startRow();
    const test = this.#needsTest ? this.#tests.read(cells[this.#testAt] ?? '') : undefined;
    const asked = test && 'code' in test ? undefined : test;
    if (live > 0 && this.#isSetAside(asked)) {
      this.#writer.ignored(this.#row.line, -1, live + this.#row.context, 'worked_out_row');
      return;
    }
    counts.context += this.#row.context;
    if (test && 'code' in test) {
      for (const column of this.#held) this.#painInHeld(column);
      if (live > 0 || this.hasStatus) this.#rejectTest(test);
      return;
    }
    this.#read(asked);
    if (this.#check) this.#compareWorkedOut(this.#check);
    this.#noteAgain();
    if (live === 0 && this.hasStatus) this.#statusAlone(asked);
  }

  /** Whether a row was worked out from others. What hurts is never set aside, and a best without trials is all there is. */
  #isSetAside(test: HeadingReading | undefined): boolean {
    const isOnly = test?.workedOut === 'best' && this.table.onlyBestOf.has(test.measure?.name ?? '');
    if (!this.#context.isWorkedOut && (!test?.workedOut || isOnly)) return false;
    for (const text of this.readingTexts()) if (hurts(text)) return false;
    return true;
  }

  /** Where a row is an athlete, a second one of the same day may be somebody else's under the wrong id: it is said. */
  #noteAgain(): void {
    if (!this.#isRowAnAthlete || this.#row.live === 0) return;
    const { athlete, day } = this.#context;
    const key = `${athlete} ${day}`;
    const first = this.#firstLines.get(key);
    if (first === undefined) this.#firstLines.set(key, this.#row.line);
    else {
      this.#againCount++;
      this.#again ??= { athlete: this.#world.dictionaries.athlete_id.texts[athlete], lines: [first, this.#row.line] };
    }
  }

  #sayAgain(): void {
    if (this.#again === undefined) return;
    const { athlete, lines } = this.#again;
    const rows = this.#againCount === 1 ? 'a row is' : `${this.#againCount} rows are`;
    const where = this.#frame.lines ? 'columns' : 'lines';
    this.#world.note(
      `${this.#file}: ${rows} of an athlete who has one already on that day, first ${athlete} (${where} ${lines.join(' and ')}); they are read as further trials: check that no id is wrong`,
    );
  }

  /** Reads the cells of readings, in the order of their columns. */
  #read(test: HeadingReading | undefined): void {
    const { cells } = this.#row;
    let next = 0;
    for (const column of this.#readings) {
      while (next < this.#beside.length && this.#beside[next].at < column.at) this.#beside[next++].read();
      const cell = cells[column.at];
      if (!isFilled(cell)) continue;
      // A column that names its own measure does not ask the row for one.
      const asked = column.measure || column.compound ? undefined : test;
      this.#count(this.#cells.read(column, trimmed(cell), asked));
    }
    while (next < this.#beside.length) this.#beside[next++].read();
  }

  /** Where the trials were not written down the best is all there is, unless a spreadsheet made it of nothing. */
  #readBest(column: IgnoredColumn, trialsAt: readonly number[]): void {
    const { cells } = this.#row;
    const raw = trimmed(cells[column.at] ?? '');
    const { reading } = column.workedOut!;
    if (raw === '' || trialsAt.some((at) => isFilled(cells[at]))) return;
    const target = this.#rowTargets.of(reading.measure!, reading, undefined, cells);
    const best = 'code' in target ? undefined : readCell(raw, target, this.#plan.decimal);
    if (best?.kind !== 'reading' || Number.isNaN(best.value) || best.value === 0) return;
    this.#count(this.#cells.read({ ...reading, at: column.at }, raw, undefined));
    this.#readBests.push(column.at);
  }

  #count(fate: Fate): void {
    const { counts } = this.#sink;
    if (fate === 'measured') counts.measured++;
    else if (fate === 'not_measured') counts.notMeasured++;
    else counts.rejected++;
  }

  #painInHeld(column: ReadingColumn): void {
    this.#cells.painInHeld(column, trimmed(this.#row.cells[column.at] ?? ''));
  }

  #statusAlone(test: HeadingReading | undefined): void {
    const raw = trimmed(this.#row.cells[this.#statusAt]);
    const fate = this.#cells.statusAlone(this.#readings, test, raw, this.#statusAt);
    if (fate === undefined) return;
    this.#sink.counts.context--;
    this.#count(fate);
  }

  #compareWorkedOut(check: WorkedOutCheck): void {
    const { cells, line } = this.#row;
    for (const column of this.#workedOut) {
      const raw = trimmed(cells[column.at] ?? '');
      const { reading } = column.workedOut!;
      if (raw === '' || reading.measure === undefined) continue;
      const side = this.#sides.of(reading.measure, settleOther(reading.side, this.table));
      const target = this.#rowTargets.of(reading.measure, reading, undefined, cells);
      if (typeof side !== 'number' || 'code' in target) continue;
      if (this.#readBests.includes(column.at)) continue;
      // A number that does not say its unit is not compared with numbers that do.
      if ((target.needsUnit || reading.alsoIn !== undefined) && !Number.isNaN(plainNumber(raw))) continue;
      check.compare(column, raw, side, target, this.#plan.decimal, lineOfCell(this.#frame, line, column.at));
    }
  }

  #rejectTest(test: TargetProblem): void {
    const at = this.#testAt;
    const raw = trimmed(this.#row.cells[at] ?? '');
    const own = raw === '' ? 0 : 1;
    this.#sink.counts.context -= own;
    this.#rejectRow({ ...test, at, raw }, this.#row.live + own);
  }

  /**
   * A row that is not taken may hide an alarm: its message says what it holds.
   * @param count filled cells that go with it
   */
  #rejectRow({ at, code, args, raw }: RowProblem, count: number): void {
    const { cells } = this.#row;
    // A cell without a digit is a name at worst, in a row that has slipped; only pain is a word worth saying.
    const held = [...this.#readings, ...this.#held].filter(
      (column) => /\d/.test(cells[column.at] ?? '') || hurts(cells[column.at] ?? ''),
    );
    const test = this.#needsTest ? this.#tests.read(cells[this.#testAt] ?? '') : undefined;
    const asked = test && 'code' in test ? undefined : test;
    const inPain = held.filter(({ at: place }) => hurts(cells[place] ?? ''));
    const vital = held.filter((column) => !inPain.includes(column) && measuresOf(column, asked).some(isVitalSign));
    const others = held.filter((column) => !inPain.includes(column) && !vital.includes(column));
    const say = (column: ReadingColumn): string => {
      const [measure] = column.measure || column.compound ? [] : measuresOf(column, asked);
      return `${measure?.label ?? column.heading} ${trimmed(cells[column.at]).slice(0, 20)}`;
    };
    const stray = this.#strayAlarms(cells);
    const urgent = [...inPain.map(say), ...stray, ...vital.map(say)].slice(0, MOST_URGENT);
    const shown = [...urgent, ...others.map(say).slice(0, Math.max(0, MOST_HELD - urgent.length))];
    const holds = held.length + stray.length > shown.length ? [...shown, '…'] : shown;
    const names = held.flatMap((column) => measuresOf(column, asked).map((measure) => measure.name));
    // A problem that is carried on from the row above has nothing in this one to show.
    const own = at >= 0 && !isFilled(cells[at]) ? '' : raw;
    this.#writer.reject(at, names.join(';') || undefined, code, args, count, own, holds.join(', '));
    this.#sink.counts.rejected += count;
  }

  /** Pressures and pain in a row that has slipped: they stand where no reading should. The rest of the cell may be a name. */
  #strayAlarms(cells: readonly string[]): string[] {
    const own = new Set([...this.#readings, ...this.#held].map(({ at }) => at));
    return cells.flatMap((cell, at) => {
      if (own.has(at) || !isFilled(cell)) return [];
      const heading = this.table.columns[at]?.heading || `column ${this.table.from + at + 1}`;
      const pressure = pressureIn(cell);
      if (pressure !== undefined) return [`${heading} ${pressure}`];
      return cell.length <= LONGEST_PAIN && /\p{L}/u.test(cell) && hurts(cell.trim()) ? [`${heading} pain`] : [];
    });
  }

  /**
   * The columns that were only counted: what is set aside, and what is rejected as a whole.
   * @param headingLine line of the headings, or where athletes stand across the columns their column
   */
  deadColumns(headingLine: number, batch: SheetSink['batch']): void {
    for (const [at, column] of this.table.columns.entries()) {
      const cells = this.#dead[at];
      if (cells === 0) continue;
      if (column.kind === 'ignored') this.#writer.ignored(headingLine, at, cells, column.reason, batch);
      else if (column.kind === 'rejected') {
        this.#writer.rejectColumn(headingLine, at, column.code, column.args, cells, batch);
      }
    }
    this.#sayAgain();
    for (const sentence of this.#check?.sentences() ?? []) this.#world.note(`${this.#file}: ${sentence}`);
  }
}

/** Whether a cell begins as a ditto mark may: not with a digit, and with a letter only as in do, ditto, same, as above, idem. */
function mayBeDitto(cell: string): boolean {
  const code = cell.charCodeAt(0) | 0x20;
  if (code >= 0x30 && code <= 0x39) return false;
  return code < 0x61 || code > 0x7a || code === 0x61 || code === 0x64 || code === 0x69 || code === 0x73;
}

/** Whether the cells of a row, blanks around them aside, read as a row of headings. */
function readsAs(cells: readonly string[], headings: readonly string[]): boolean {
  for (let at = 0; at < headings.length; at++) if (trimmed(cells[at] ?? '') !== headings[at]) return false;
  return true;
}
