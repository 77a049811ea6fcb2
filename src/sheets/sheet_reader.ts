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
import { Attempts } from './attempts.ts';
import { isFilled, trimmed } from './blank.ts';
import { type CellReading, implausible, isPlausible, MISSING_NUMBERS, readCell } from './cells.ts';
import type { Correction } from './corrections.ts';
import { PURPOSES, ROLES, type SheetEntry } from './entry.ts';
import type { HeadingReading, HeadingWords } from './headings.ts';
import type { ReadingColumn, SheetPlan } from './plan.ts';
import { type Place, pushReject } from './reject_sink.ts';
import { type IngestWorld, RowContext, type RowProblem } from './row_context.ts';
import { RowCorrections } from './row_corrections.ts';
import { RowTargets, type TargetProblem } from './row_targets.ts';
import type { Counts, IngestBatch } from './sheet_tables.ts';
import type { Target, Targets } from './targets.ts';
import { TestCells } from './test_cells.ts';

const STATUS = Object.fromEntries(OBSERVATION_STATUSES.map((status, code) => [status, code])) as Record<
  ObservationStatus,
  number
>;
const NONE = SIDES.indexOf('none');
const BOTH = SIDES.indexOf('both');
/** Readings that the message of a rejected row names. */
const MOST_HELD = 6;

/** What becomes of the cells of a column. */
const FATE = { dead: 0, context: 1, reading: 2 } as const;

type Fate = 'measured' | 'not_measured' | 'rejected';

/** Reads the rows below the headings of one sheet, by its plan. */
export class SheetReader {
  readonly counts: Counts;
  /** observations written into the batch so far; whoever takes the batch sets it back to 0 */
  rows = 0;
  readonly #plan: SheetPlan;
  readonly #entry: SheetEntry;
  readonly #world: IngestWorld;
  readonly #file: string;
  readonly #context: RowContext;
  readonly #targets: Targets;
  readonly #rowTargets: RowTargets;
  readonly #tests: TestCells;
  readonly #attempts = new Attempts();
  readonly #corrections: RowCorrections;
  readonly #readings: readonly ReadingColumn[];
  /** columns held back for want of a unit */
  readonly #held: readonly ReadingColumn[];
  /** FATE of each column of the plan */
  readonly #fates: Uint8Array;
  /** filled cells of the columns that are only counted, by column */
  readonly #dead: Int32Array;
  readonly #roleAt: { readonly [role: string]: number };
  readonly #statusAt: number;
  /** whether a column of readings leaves its measure to the row */
  readonly #needsTest: boolean;
  /** whether a row that stands twice can be told from two attempts */
  readonly #seesRepeats: boolean;
  readonly #codes: { readonly file: number; readonly station: number; readonly purpose: number };
  /** heading rows as they stand, to know them when they come again */
  readonly #headingRows: string[][] = [];
  // The row at hand.
  #cells: readonly string[] = [];
  #line = 0;
  #batch!: IngestBatch;

  constructor(
    plan: SheetPlan,
    file: string,
    entry: SheetEntry,
    world: IngestWorld,
    words: HeadingWords,
    targets: Targets,
    counts: Counts,
    corrections: ReadonlyMap<number, readonly Correction[]> | undefined,
  ) {
    this.#plan = plan;
    this.#file = file;
    this.#entry = entry;
    this.#world = world;
    this.#targets = targets;
    this.counts = counts;
    const placeOf = (role: string): number =>
      plan.columns.find((column) => column.kind === 'role' && column.role === role)?.at ?? -1;
    this.#roleAt = Object.fromEntries(ROLES.map((role) => [role, placeOf(role)]));
    this.#statusAt = this.#roleAt.status;
    this.#context = new RowContext(world, file, entry, plan.dates, this.#roleAt);
    this.#corrections = new RowCorrections(plan, corrections);
    this.#tests = new TestCells(words);
    this.#readings = plan.columns.filter((column) => column.kind === 'reading');
    this.#held = plan.columns.flatMap((column) => (column.kind === 'rejected' && column.held ? [column.held] : []));
    this.#rowTargets = new RowTargets(targets, entry, this.#readings, this.#roleAt.unit);
    this.#needsTest = this.#roleAt.test >= 0 && this.#readings.some(({ measure, compound }) => !measure && !compound);
    this.#seesRepeats = plan.layout !== 'row_a_test' && this.#roleAt.trial < 0 && this.#readings.length > 1;
    this.#fates = Uint8Array.from(plan.columns, ({ kind }) =>
      kind === 'role' ? FATE.context : kind === 'reading' ? FATE.reading : FATE.dead,
    );
    this.#dead = new Int32Array(plan.columns.length);
    const { dictionaries } = world;
    this.#codes = {
      file: dictionaries.file.code(file),
      station: entry.station === undefined ? -1 : dictionaries.station.code(entry.station),
      purpose: PURPOSES.indexOf(entry.purpose),
    };
  }

  /** Most observations that one row can give. */
  get widest(): number {
    const columns = [...this.#readings, ...this.#held];
    return columns.reduce((sum, { compound }) => sum + (compound ? compound.parts.length : 1), 0);
  }

  /** Remembers a heading row, so that a page break which repeats it is known. */
  headingRow(cells: readonly string[]): void {
    this.#headingRows.push(cells.map((cell) => cell.trim()));
  }

  /** Counts a heading cell as part of its column. */
  countHeading(at: number): void {
    if (this.#fates[at] === FATE.dead) this.#dead[at]++;
    else this.counts.context++;
  }

  /** Reads one row into the batch. Its non-empty cells all end in one of the counts. */
  row(written: readonly string[], line: number, batch: IngestBatch): void {
    const cells = this.#corrections.apply(written, line);
    this.#cells = cells;
    this.#line = line;
    this.#batch = batch;
    const { counts } = this;
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
    const filled = live + context + dead + beyond;
    if (filled === 0) return;
    counts.cells += filled;
    if (this.#isHeadings()) {
      this.#ignore(line, undefined, filled, 'repeated_header', batch);
      return;
    }
    if (dead > 0) this.#countDead();
    if (live + context > 0) this.#liveRow(live, context);
    if (beyond > 0) {
      const found = beyond === 1 ? 'a cell' : `${beyond} cells`;
      const first = cells.findIndex((cell, at) => at >= width && isFilled(cell));
      this.#reject(first, undefined, 'row_too_long', { found }, beyond, cells[first]);
      counts.rejected += beyond;
    }
  }

  #countDead(): void {
    const cells = this.#cells;
    const width = Math.min(cells.length, this.#fates.length);
    for (let at = 0; at < width; at++) if (this.#fates[at] === FATE.dead && isFilled(cells[at])) this.#dead[at]++;
  }

  /** @param live filled cells of readings, @param context filled cells that say who, when and what */
  #liveRow(live: number, context: number): void {
    const { counts } = this;
    const cells = this.#cells;
    const problem = this.#context.read(cells);
    const hasStatus = this.#statusAt >= 0 && isFilled(cells[this.#statusAt]);
    if (problem && (live > 0 || hasStatus)) {
      this.#rejectRow(problem, live + context);
      return;
    }
    counts.context += context;
    // A row that holds no reading (a team name between blocks, a spacer) loses none.
    if (problem) return;
    if (this.#seesRepeats) this.#attempts.noteRow(this.#context.athlete, cells);
    if (this.#held.length > 0) this.#painInHeldColumns();
    const test = this.#needsTest ? this.#tests.read(cells[this.#roleAt.test] ?? '') : undefined;
    if (test && 'code' in test) {
      if (live > 0 || hasStatus) this.#rejectTest(test, live);
      return;
    }
    for (const column of this.#readings) {
      const cell = cells[column.at];
      // A column that names its own measure does not ask the row for one.
      if (isFilled(cell)) this.#cell(column, trimmed(cell), column.measure || column.compound ? undefined : test);
    }
    if (hasStatus && live === 0) this.#statusAlone(test);
  }

  #rejectTest(test: TargetProblem, live: number): void {
    const at = this.#roleAt.test;
    const raw = (this.#cells[at] ?? '').trim();
    const own = raw === '' ? 0 : 1;
    this.counts.context -= own;
    this.#rejectRow({ ...test, at, raw }, live + own);
  }

  /** Readings of a column without a unit are held back; that it hurt is not. The cells stay with their column's reject. */
  #painInHeldColumns(): void {
    for (const column of this.#held) {
      const raw = trimmed(this.#cells[column.at] ?? '');
      if (!hurts(raw)) continue;
      for (const measure of measuresOf(column, undefined)) {
        const side = this.#side(measure, column, undefined, raw, column.at, 0);
        if (side >= 0) this.#push(measure, undefined, side, column, undefined, Number.NaN, STATUS.pain, raw, column.at);
      }
    }
  }

  /** A status with an empty value still says what became of the attempt. */
  #statusAlone(test: HeadingReading | undefined): void {
    if (this.#context.status === STATUS.measured || this.#context.status < 0) return;
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
    if (weight === 0) this.counts.rejected += 1;
    else if (told.size > 0) this.counts.notMeasured += 1;
    if (weight === 0 || told.size > 0) this.counts.context -= 1;
  }

  #cell(column: ReadingColumn, raw: string, test: HeadingReading | undefined): void {
    const compound = column.compound ?? test?.compound;
    const measure = column.measure ?? test?.measure;
    const fate = compound
      ? this.#compound(column, compound, raw, test)
      : this.#reading(column, measure!, raw, raw, test, 1);
    if (fate === 'measured') this.counts.measured++;
    else if (fate === 'not_measured') this.counts.notMeasured++;
    else this.counts.rejected++;
  }

  /** Several numbers in one cell, such as 118/72: the cell counts once. A word (NT, N/A) holds for all of them. */
  #compound(column: ReadingColumn, { parts, between }: Compound, raw: string, test: HeadingReading | undefined): Fate {
    const number = readNumber(raw, this.#plan.decimal);
    if (number.kind === 'problem' && number.code === 'spreadsheet_error') {
      this.#reject(column.at, parts[0].name, number.code, { raw }, 1, raw);
      return 'rejected';
    }
    const texts = raw.split(between).map((text) => text.trim());
    const isWord = readStatus(raw) !== undefined || isQualitative(raw);
    if (!isWord && (texts.length !== parts.length || texts.includes(''))) {
      const expected = parts.map((part) => part.label.toLowerCase()).join(` ${between} `);
      this.#reject(column.at, parts[0].name, 'pair_incomplete', { raw, expected }, 1, raw);
      return 'rejected';
    }
    const fates = new Set<Fate>();
    for (const [at, part] of parts.entries()) {
      fates.add(this.#reading(column, part, isWord ? raw : texts[at], raw, test, fates.has('rejected') ? 0 : 1));
    }
    return fates.has('rejected') ? 'rejected' : fates.has('measured') ? 'measured' : 'not_measured';
  }

  /**
   * Reads one number or word and writes the observation or the reject.
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
    const { at } = column;
    const side = this.#side(measure, column, test, raw, at, weight);
    if (side < 0) return 'rejected';
    const target = this.#rowTargets.of(measure, column, test, this.#cells);
    const rowStatus = this.#corrections.isVoid(at) ? STATUS.void : this.#context.status;
    if (rowStatus <= STATUS.measured && !('code' in target)) {
      const value = this.#easyNumber(text, target, column.reversed);
      if (Number.isFinite(value) && isPlausible(target, value, side === BOTH)) {
        this.#push(measure, target, side, column, test, value, STATUS.measured, raw, at);
        return 'measured';
      }
    }
    return this.#careful(column, measure, text, raw, test, weight, side, target, rowStatus);
  }

  /** A number that reads one way by itself, in the measure's unit; NaN: the cell is to be looked at with care. */
  #easyNumber(text: string, target: Target, reversed: boolean): number {
    // Where the comma is the decimal mark, the point of 1.234 parts thousands.
    if (this.#plan.decimal === ',' && text.includes('.')) return Number.NaN;
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
  ): Fate {
    const { at } = column;
    const isPain = rowStatus === STATUS.pain || hurts(text);
    const without = (status: number): Fate => {
      this.#push(measure, target, side, column, test, Number.NaN, isPain ? STATUS.pain : status, raw, at);
      return 'not_measured';
    };
    if (rowStatus > STATUS.pain) return without(rowStatus);
    const reading = 'code' in target ? wordAlone(text, target) : readCell(text, target, this.#plan.decimal);
    if (reading.kind === 'reading' && Number.isNaN(reading.value)) return without(STATUS[reading.status]);
    const refused =
      reading.kind === 'reject' ? reading : this.#refusal(reading, target as Target, column, side, text, raw);
    if (refused) {
      if (isPain) without(STATUS.pain);
      this.#reject(at, measure.name, refused.code, refused.args, weight, raw);
      return 'rejected';
    }
    const { value, cellUnit } = reading as Extract<CellReading, { kind: 'reading' }>;
    const used = cellUnit ? this.#targets.of(measure, cellUnit, 'cell') : target;
    const status = isPain ? STATUS.pain : STATUS.measured;
    this.#push(measure, used, side, column, test, column.reversed ? -value : value, status, raw, at);
    return 'measured';
  }

  /** Why a number that could be read is not taken. */
  #refusal(
    { value }: Extract<CellReading, { kind: 'reading' }>,
    target: Target,
    { at, reversed }: ReadingColumn,
    side: number,
    text: string,
    raw: string,
  ): TargetProblem | undefined {
    if (!Number.isFinite(value)) return { code: 'number_unreadable', args: { raw } };
    const signed = reversed ? -value : value;
    if (isPlausible(target, signed, side === BOTH) || this.#corrections.isConfirmed(at)) return undefined;
    const { code, args } = implausible(target, text, signed, side === BOTH);
    const example = [this.#file, String(this.#line), String(at + 1), raw].map(csvCell).join(',');
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
  ): void {
    const { columns } = this.#batch.observations;
    const row = this.rows++;
    const context = this.#context;
    const known = target === undefined || 'code' in target ? undefined : target;
    const trial = column.trial ?? test?.trial ?? context.trial;
    columns.athlete_id.codes[row] = context.athlete;
    columns.team.codes[row] = context.team;
    columns.season.values[row] = context.season;
    columns.date.days[row] = context.day;
    columns.measure.codes[row] = measure.index;
    columns.side.codes[row] = side;
    columns.trial.values[row] = trial || this.#attempts.next(context.athlete, context.day, measure.index, side);
    columns.value.values[row] = value;
    columns.unit.codes[row] = known ? known.unitCode : this.#world.dictionaries.unit.code(measure.unit.code);
    columns.status.codes[row] = status;
    columns.tester.codes[row] = context.tester;
    columns.device.codes[row] = context.device;
    columns.station.codes[row] = this.#codes.station;
    columns.purpose.codes[row] = this.#codes.purpose;
    columns.raw.values[row] = this.#corrections.original(at, raw);
    columns.file.codes[row] = this.#codes.file;
    columns.line.values[row] = this.#line;
    columns.column.values[row] = at + 1;
    if (known === undefined || Number.isNaN(value)) return;
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
    if (measure.sides === 'none') return NONE;
    const { side: ofRow, unreadSide } = this.#context;
    const named = column.side ?? test?.side;
    const refuse = (code: RejectCode, args: RejectArgs, place = at, cell = raw): -1 => {
      if (weight > 0) this.#reject(place, measure.name, code, args, weight, cell);
      return -1;
    };
    if (unreadSide !== '') return refuse('side_unknown', { raw: unreadSide }, this.#roleAt.side, unreadSide);
    if (named !== undefined && ofRow !== undefined && named !== ofRow) {
      return refuse('side_unknown', { found: `the heading or test says ${named}, the row ${ofRow}` });
    }
    const written = named ?? ofRow;
    if (written === undefined || written === 'none') return refuse('side_missing', { measure: measure.label });
    if (written !== 'dominant' && written !== 'other') return SIDES.indexOf(written);
    const dominant = this.#dominantSide(measure);
    if (dominant === undefined) {
      const expected = measure.dominance ?? 'dominant side, and the measure names no dominance column';
      return refuse('side_needs_roster', { raw: written, expected });
    }
    const isLeft = (dominant === 'left') === (written === 'dominant');
    return SIDES.indexOf(isLeft ? 'left' : 'right');
  }

  #dominantSide(measure: Measure): 'left' | 'right' | undefined {
    if (measure.dominance === undefined) return undefined;
    const { athlete, season } = this.#context;
    const row = this.#world.gatherer.rosterRow(this.#world.dictionaries.athlete_id.texts[athlete], season);
    const side = row?.dominance[this.#world.dominanceColumns.indexOf(measure.dominance)];
    return side === 'left' || side === 'right' ? side : undefined;
  }

  #isHeadings(): boolean {
    for (const row of this.#headingRows) if (readsAs(this.#cells, row)) return true;
    return false;
  }

  #ignore(line: number, at: number | undefined, cells: number, reason: string, { ignored }: IngestBatch): void {
    const { columns } = ignored;
    columns.file.push(this.#file);
    columns.line.push(line);
    columns.column.push(at === undefined ? null : at + 1);
    columns.heading.push(at === undefined ? null : this.#plan.columns[at].heading);
    columns.cells.push(cells);
    columns.reason.push(reason);
    this.counts.ignored += cells;
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
    pushReject(this.#batch.rejects, place, this.#corrections.original(at, raw), code, args, count);
    this.counts.rejected += count;
  }

  #reject(
    at: number,
    measure: string | undefined,
    code: RejectCode,
    args: RejectArgs,
    cells: number,
    raw: string,
  ): void {
    pushReject(this.#batch.rejects, this.#place(at, measure), this.#corrections.original(at, raw), code, args, cells);
  }

  #place(at: number, measure: string | undefined): Place {
    return {
      file: this.#file,
      line: this.#line,
      column: at < 0 ? undefined : at + 1,
      heading: at < 0 ? undefined : this.#plan.columns[at]?.heading,
      athleteId: this.#context.athlete < 0 ? null : this.#world.dictionaries.athlete_id.texts[this.#context.athlete],
      measure,
      season: this.#context.season || undefined,
      station: this.#entry.station,
    };
  }

  /** The columns that were only counted: what is set aside, and what is rejected as a whole. */
  deadColumns(headingLine: number, batch: IngestBatch): void {
    for (const [at, column] of this.#plan.columns.entries()) {
      const cells = this.#dead[at];
      if (cells === 0) continue;
      const { heading } = column;
      if (column.kind === 'ignored') this.#ignore(headingLine, at, cells, column.reason, batch);
      else if (column.kind === 'rejected') {
        const place = { file: this.#file, line: headingLine, column: at + 1, heading, station: this.#entry.station };
        pushReject(batch.rejects, place, heading, column.code, column.args, cells);
        this.counts.rejected += cells;
      }
    }
  }
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
