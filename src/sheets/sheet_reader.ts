import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Measure } from '../protocol/types.ts';
import { csvCell } from '../tables/csv_text.ts';
import { plainNumber, readNumber } from '../units/numbers.ts';
import type { WrittenSide } from '../units/sides.ts';
import { SIDES } from '../units/sides.ts';
import {
  isQualitative,
  OBSERVATION_STATUSES,
  type ObservationStatus,
  readStatus,
  splitPain,
} from '../units/statuses.ts';
import type { Unit } from '../units/unit.ts';
import { unitText } from '../units/unit_text.ts';
import { readUnit } from '../units/written.ts';
import { isFilled, trimmed } from './blank.ts';
import { type CellReading, implausible, isPlausible, MISSING_NUMBERS, readCell } from './cells.ts';
import type { Correction } from './corrections.ts';
import { PURPOSES, type SheetEntry } from './entry.ts';
import { type HeadingReading, type HeadingWords, readHeading } from './headings.ts';
import type { ReadingColumn, SheetPlan, UnitFrom } from './plan.ts';
import { describeReading, nearestTest, unitOfColumn } from './recognise.ts';
import { type Place, pushReject } from './reject_sink.ts';
import { type IngestWorld, RowContext, type RowProblem } from './row_context.ts';
import type { Counts, IngestBatch } from './sheet_tables.ts';
import type { Target, Targets } from './targets.ts';

const STATUS = Object.fromEntries(OBSERVATION_STATUSES.map((status, code) => [status, code])) as Record<
  ObservationStatus,
  number
>;
const NONE = SIDES.indexOf('none');
const BOTH = SIDES.indexOf('both');
const MOST_REMEMBERED = 10_000;
/** Readings that the message of a rejected row names. */
const MOST_HELD = 6;

/** What a row's test cell names, or why nobody can say. */
type TestReading = HeadingReading | { readonly code: RejectCode; readonly args: RejectArgs };

/** What becomes of the cells of a column. */
const FATE = { dead: 0, context: 1, reading: 2 } as const;

/** Why the unit of a reading is not known. */
interface TargetProblem {
  readonly code: RejectCode;
  readonly args: RejectArgs;
}

/** Reads the rows below the headings of one sheet, by its plan. */
export class SheetReader {
  readonly counts: Counts;
  /** observations written into the batch so far; whoever takes the batch sets it back to 0 */
  rows = 0;
  readonly #plan: SheetPlan;
  readonly #entry: SheetEntry;
  readonly #world: IngestWorld;
  readonly #words: HeadingWords;
  readonly #file: string;
  readonly #context: RowContext;
  readonly #targets: Targets;
  readonly #readings: readonly ReadingColumn[];
  /** FATE of each column of the plan */
  readonly #fates: Uint8Array;
  /** filled cells of the columns that are only counted, by column */
  readonly #dead: Int32Array;
  readonly #roleAt: { readonly [role: string]: number };
  readonly #held: readonly ReadingColumn[];
  readonly #testAt: number;
  /** whether a column of readings leaves its measure to the row */
  readonly #needsTest: boolean;
  readonly #unitAt: number;
  readonly #statusAt: number;
  readonly #fixedTargets: readonly (Target | undefined)[];
  readonly #corrections: ReadonlyMap<number, readonly Correction[]> | undefined;
  readonly #codes: { file: number; station: number; purpose: number };
  readonly #tests = new Map<string, TestReading>();
  /** unit as a unit column writes it → target by measure */
  readonly #byUnit = new Map<string, (Target | TargetProblem)[]>();
  readonly #appearances = new Map<number, number>();
  /** hash of each athlete's latest row, to see a row that stands twice */
  readonly #latestRows = new Map<number, number>();
  /** heading rows as they stand, to know them when they come again */
  readonly #headingRows: string[][] = [];
  #lastUnit: string | undefined;
  #lastByMeasure: (Target | TargetProblem)[] | undefined;
  #lastTestCell: string | undefined;
  #lastTest: TestReading | undefined;
  #repeat = false;
  #confirmed: ReadonlySet<number> | undefined;
  #originals: ReadonlyMap<number, string> | undefined;
  #voided: ReadonlySet<number> | undefined;

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
    this.#words = words;
    this.#targets = targets;
    this.#corrections = corrections;
    this.counts = counts;
    const roleAt: Record<string, number> = {};
    for (const role of [
      'athlete_id',
      'name',
      'first_name',
      'last_name',
      'team',
      'sex',
      'date',
      'test',
      'side',
      'trial',
      'unit',
      'status',
      'tester',
      'device',
    ]) {
      roleAt[role] = plan.columns.find((column) => column.kind === 'role' && column.role === role)?.at ?? -1;
    }
    this.#roleAt = roleAt;
    this.#testAt = roleAt.test;
    this.#unitAt = roleAt.unit;
    this.#statusAt = roleAt.status;
    this.#context = new RowContext(world, file, entry, plan.dates, roleAt);
    this.#readings = plan.columns.filter((column) => column.kind === 'reading');
    this.#held = plan.columns.flatMap((column) => (column.kind === 'rejected' && column.held ? [column.held] : []));
    this.#needsTest = this.#testAt >= 0 && this.#readings.some(({ measure, compound }) => !measure && !compound);
    this.#fates = Uint8Array.from(plan.columns, ({ kind }) =>
      kind === 'role' ? FATE.context : kind === 'reading' ? FATE.reading : FATE.dead,
    );
    this.#dead = new Int32Array(plan.columns.length);
    this.#fixedTargets = this.#readings.map(({ measure, unit, unitFrom }) =>
      measure && unit && unitFrom && roleAt.unit < 0 ? targets.of(measure, unit, unitFrom) : undefined,
    );
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
    const cells = this.#corrected(written, line);
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
    if (this.#isHeadings(cells)) {
      this.#ignoreRow(batch, line, filled);
      return;
    }
    if (dead > 0) this.#countDead(cells);
    if (live + context > 0) this.#liveRow(cells, line, batch, live, context);
    if (beyond > 0) {
      const found = beyond === 1 ? 'a cell' : `${beyond} cells`;
      const first = cells.findIndex((cell, at) => at >= width && isFilled(cell));
      this.#reject(batch, line, first, undefined, 'row_too_long', { found }, beyond, cells[first]);
      counts.rejected += beyond;
    }
  }

  #countDead(cells: readonly string[]): void {
    const width = Math.min(cells.length, this.#fates.length);
    for (let at = 0; at < width; at++) if (this.#fates[at] === FATE.dead && isFilled(cells[at])) this.#dead[at]++;
  }

  #liveRow(cells: readonly string[], line: number, batch: IngestBatch, live: number, context: number): void {
    const { counts } = this;
    const problem = this.#context.read(cells);
    const hasStatus = this.#statusAt >= 0 && isFilled(cells[this.#statusAt]);
    if (problem && live === 0 && !hasStatus) {
      // A row that holds no reading (a team name between blocks, a spacer) loses none.
      counts.context += context;
      return;
    }
    if (problem) {
      this.#rejectRow(batch, line, problem, live + context, cells);
      return;
    }
    counts.context += context;
    this.#noteRepeat(cells);
    if (this.#held.length > 0) this.#painInHeldColumns(cells, line, batch);
    const test = this.#needsTest ? this.#test(cells) : undefined;
    if (test && 'code' in test) {
      const at = this.#testAt;
      const raw = (cells[at] ?? '').trim();
      if (live === 0 && !hasStatus) return;
      const own = raw === '' ? 0 : 1;
      counts.context -= own;
      this.#rejectRow(batch, line, { ...test, at, raw }, live + own, cells);
      return;
    }
    for (let index = 0; index < this.#readings.length; index++) {
      const column = this.#readings[index];
      const cell = cells[column.at];
      // A column that names its own measure does not ask the row for one.
      const asked = column.measure || column.compound ? undefined : test;
      if (isFilled(cell)) this.#cell(index, trimmed(cell), asked, cells, line, batch);
    }
    if (hasStatus && live === 0) this.#statusAlone(test, cells, line, batch);
  }

  /** Readings of a column without a unit are held back; that it hurt is not. The cells stay with their column's reject. */
  #painInHeldColumns(cells: readonly string[], line: number, batch: IngestBatch): void {
    for (const column of this.#held) {
      const raw = trimmed(cells[column.at] ?? '');
      if (readStatus(raw) !== 'pain' && splitPain(raw) === undefined) continue;
      for (const measure of measuresOf(column, undefined)) {
        const side = this.#side(measure, column, undefined, line, batch, raw, column.at, 0);
        if (side < 0) continue;
        const problem = { code: 'unit_unknown', args: {} } as const;
        this.#push(batch, measure, problem, side, column, undefined, Number.NaN, STATUS.pain, raw, line, column.at);
      }
    }
  }

  /** A status with an empty value still says what became of the attempt. */
  #statusAlone(test: HeadingReading | undefined, cells: readonly string[], line: number, batch: IngestBatch): void {
    if (this.#context.status === STATUS.measured) return;
    const at = this.#statusAt;
    const raw = (cells[at] ?? '').trim();
    const told = new Set<number>();
    let weight = 1;
    for (let index = 0; index < this.#readings.length; index++) {
      const column = this.#readings[index];
      for (const measure of measuresOf(column, test)) {
        const side = this.#side(measure, column, test, line, batch, raw, at, weight);
        if (side < 0) weight = 0;
        const key = measure.index * SIDES.length + side;
        if (side < 0 || told.has(key)) continue;
        told.add(key);
        const target = this.#target(index, measure, column, test, cells);
        this.#push(batch, measure, target, side, column, test, Number.NaN, this.#context.status, raw, line, at);
      }
    }
    if (weight === 0) this.counts.rejected += 1;
    else if (told.size > 0) this.counts.notMeasured += 1;
    if (weight === 0 || told.size > 0) this.counts.context -= 1;
  }

  #cell(
    index: number,
    raw: string,
    test: HeadingReading | undefined,
    cells: readonly string[],
    line: number,
    batch: IngestBatch,
  ): void {
    const column = this.#readings[index];
    const compound = test?.compound ?? column.compound;
    if (compound) {
      this.#compound(index, compound.parts, compound.between, raw, test, cells, line, batch);
      return;
    }
    const measure = test?.measure ?? column.measure!;
    const fate = this.#reading(index, measure, raw, raw, test, cells, line, batch, 1);
    if (fate === 'measured') this.counts.measured++;
    else if (fate === 'not_measured') this.counts.notMeasured++;
    else this.counts.rejected++;
  }

  /** Several numbers in one cell, such as 118/72: the cell counts once. A word (NT, N/A) holds for all of them. */
  #compound(
    index: number,
    parts: readonly Measure[],
    between: string,
    raw: string,
    test: HeadingReading | undefined,
    cells: readonly string[],
    line: number,
    batch: IngestBatch,
  ): void {
    const texts = raw.split(between).map((text) => text.trim());
    const number = readNumber(raw, this.#plan.decimal);
    if (number.kind === 'problem' && number.code === 'spreadsheet_error') {
      this.#reject(batch, line, this.#readings[index].at, parts[0].name, number.code, { raw }, 1, raw);
      this.counts.rejected++;
      return;
    }
    const whole = readStatus(raw) !== undefined || isQualitative(raw);
    if (!whole && (texts.length !== parts.length || texts.includes(''))) {
      const expected = parts.map((part) => part.label.toLowerCase()).join(` ${between} `);
      this.#reject(batch, line, this.#readings[index].at, parts[0].name, 'pair_incomplete', { raw, expected }, 1, raw);
      this.counts.rejected++;
      return;
    }
    let rejected = 0;
    let measured = 0;
    for (const [at, part] of parts.entries()) {
      const fate = this.#reading(
        index,
        part,
        whole ? raw : texts[at],
        raw,
        test,
        cells,
        line,
        batch,
        rejected > 0 ? 0 : 1,
      );
      if (fate === 'rejected') rejected++;
      if (fate === 'measured') measured++;
    }
    if (rejected > 0) this.counts.rejected++;
    else if (measured > 0) this.counts.measured++;
    else this.counts.notMeasured++;
  }

  /**
   * Reads one number or word and writes the observation or the reject.
   * @param weight cells that a reject of it stands for
   */
  #reading(
    index: number,
    measure: Measure,
    text: string,
    raw: string,
    test: HeadingReading | undefined,
    cells: readonly string[],
    line: number,
    batch: IngestBatch,
    weight: number,
  ): 'measured' | 'not_measured' | 'rejected' {
    const column = this.#readings[index];
    const { at } = column;
    const side = this.#side(measure, column, test, line, batch, raw, at, weight);
    if (side < 0) return 'rejected';
    const target = this.#fixedTargets[index] ?? this.#target(index, measure, column, test, cells);
    const rowStatus = this.#voided?.has(at) ? STATUS.void : this.#context.status;
    if (rowStatus > STATUS.pain) {
      this.#push(batch, measure, target, side, column, test, Number.NaN, rowStatus, raw, line, at);
      return 'not_measured';
    }
    if ('code' in target) {
      // A word such as NT needs no unit.
      const word = readStatus(text);
      if (word !== undefined && word !== 'measured') {
        this.#push(batch, measure, target, side, column, test, Number.NaN, STATUS[word], raw, line, at);
        return 'not_measured';
      }
      this.#reject(batch, line, at, measure.name, target.code, target.args, weight, raw);
      return 'rejected';
    }
    // A painful reading that cannot be read is still pain.
    const hurts = rowStatus === STATUS.pain || splitPain(text) !== undefined;
    let value = this.#easyNumber(text);
    let status = STATUS.measured;
    let used = target;
    if (!Number.isNaN(value)) value = target.convert(value);
    const easy = !Number.isNaN(value) && isPlausible(target, column.reversed ? -value : value, side === BOTH);
    if (!easy) {
      const reading = readCell(text, target, this.#plan.decimal);
      if (reading.kind === 'reject') {
        if (hurts) this.#push(batch, measure, target, side, column, test, Number.NaN, STATUS.pain, raw, line, at);
        this.#reject(batch, line, at, measure.name, reading.code, reading.args, weight, raw);
        return 'rejected';
      }
      value = reading.value;
      status = STATUS[reading.status];
      if (reading.cellUnit) used = this.#targets.of(measure, reading.cellUnit, 'cell');
    }
    if (Math.abs(value) === Number.POSITIVE_INFINITY) {
      this.#reject(batch, line, at, measure.name, 'number_unreadable', { raw }, weight, raw);
      return 'rejected';
    }
    if (column.reversed && !Number.isNaN(value)) value = -value;
    if (!easy && !Number.isNaN(value) && !isPlausible(used, value, side === BOTH) && !this.#confirmed?.has(at)) {
      const { code, args } = implausible(used, text, value, side === BOTH) as Extract<CellReading, { kind: 'reject' }>;
      const example = [this.#file, String(line), String(at + 1), raw].map(csvCell).join(',');
      if (hurts) this.#push(batch, measure, target, side, column, test, Number.NaN, STATUS.pain, raw, line, at);
      this.#reject(batch, line, at, measure.name, code, { ...args, example }, weight, raw);
      return 'rejected';
    }
    // Pain is never hidden behind another word of the same row.
    if (rowStatus === STATUS.pain) status = STATUS.pain;
    this.#push(batch, measure, used, side, column, test, value, status, raw, line, at);
    return Number.isNaN(value) ? 'not_measured' : 'measured';
  }

  /** A number that reads one way by itself; NaN: the cell is to be looked at with care. */
  #easyNumber(text: string): number {
    // Where the comma is the decimal mark, the point of 1.234 parts thousands.
    if (this.#plan.decimal === ',' && text.includes('.')) return Number.NaN;
    const value = plainNumber(text);
    return MISSING_NUMBERS.has(value) ? Number.NaN : value;
  }

  #push(
    batch: IngestBatch,
    measure: Measure,
    target: Target | TargetProblem,
    side: number,
    column: ReadingColumn,
    test: HeadingReading | undefined,
    value: number,
    status: number,
    raw: string,
    line: number,
    at: number,
  ): void {
    const { columns } = batch.observations;
    const row = this.rows++;
    const context = this.#context;
    columns.athlete_id.codes[row] = context.athlete;
    columns.team.codes[row] = context.team;
    columns.season.values[row] = context.season;
    columns.date.days[row] = context.day;
    columns.measure.codes[row] = measure.index;
    columns.side.codes[row] = side;
    columns.trial.values[row] = column.trial ?? test?.trial ?? (context.trial || this.#appearance(measure.index, side));
    columns.value.values[row] = value;
    const known = 'code' in target ? undefined : target;
    columns.unit.codes[row] = known ? known.unitCode : this.#world.dictionaries.unit.code(measure.unit.code);
    columns.status.codes[row] = status;
    columns.tester.codes[row] = context.tester;
    columns.device.codes[row] = context.device;
    columns.station.codes[row] = this.#codes.station;
    columns.purpose.codes[row] = this.#codes.purpose;
    columns.raw.values[row] = this.#original(at, raw);
    columns.file.codes[row] = this.#codes.file;
    columns.line.values[row] = line;
    columns.column.values[row] = at + 1;
    if (known === undefined || Number.isNaN(value)) return;
    columns.written_in.codes[row] = known.writtenCode;
    columns.unit_from.codes[row] = known.fromCode;
  }

  /** Number of the attempt where nothing says it: attempts of one athlete, day, measure and side in order of appearance. */
  #appearance(measure: number, side: number): number {
    const { athlete, day } = this.#context;
    // Athlete, day, measure and side in one number below 2^53: 2^22 athletes, 2^16 days, 2^12 measures.
    const key = ((athlete * 65536 + (day & 0xffff)) * 4096 + measure) * 4 + side;
    const seen = this.#appearances.get(key) ?? 0;
    if (this.#repeat) return Math.max(seen, 1);
    this.#appearances.set(key, seen + 1);
    return seen + 1;
  }

  /** A wide row that repeats the athlete's row before it cell for cell was pasted twice: its attempts get the same numbers. */
  #noteRepeat(cells: readonly string[]): void {
    if (this.#plan.layout === 'row_a_test' || this.#roleAt.trial >= 0) return;
    const { athlete } = this.#context;
    const hash = hashOf(cells);
    this.#repeat = this.#readings.length > 1 && this.#latestRows.get(athlete) === hash;
    this.#latestRows.set(athlete, hash);
  }

  #test(cells: readonly string[]): TestReading {
    const cell = cells[this.#testAt] ?? '';
    if (cell === this.#lastTestCell) return this.#lastTest!;
    const text = trimmed(cell);
    let test = this.#tests.get(text);
    if (test === undefined) {
      const readings = text === '' ? [] : readHeading(text, this.#words);
      if (readings.length === 1) test = readings[0];
      else if (readings.length === 0)
        test = { code: 'test_unknown', args: { raw: text, choices: nearestTest(text, this.#words) } };
      else test = { code: 'heading_ambiguous', args: { heading: text, choices: readings.map(describeReading) } };
      if (this.#tests.size < MOST_REMEMBERED) this.#tests.set(text, test);
    }
    this.#lastTestCell = cell;
    this.#lastTest = test;
    return test;
  }

  #target(
    index: number,
    measure: Measure,
    column: ReadingColumn,
    test: HeadingReading | undefined,
    cells: readonly string[],
  ): Target | TargetProblem {
    const fixed = this.#fixedTargets[index];
    if (fixed && fixed.measure === measure) return fixed;
    const written = this.#unitAt < 0 ? '' : trimmed(cells[this.#unitAt] ?? '');
    if (written === '') return this.#unwrittenTarget(measure, column, test);
    let byMeasure = written === this.#lastUnit ? this.#lastByMeasure : this.#byUnit.get(written);
    if (byMeasure === undefined) {
      byMeasure = [];
      if (this.#byUnit.size < MOST_REMEMBERED) this.#byUnit.set(written, byMeasure);
    }
    this.#lastUnit = written;
    this.#lastByMeasure = byMeasure;
    byMeasure[measure.index] ??= this.#writtenTarget(measure, written);
    const target = byMeasure[measure.index];
    const said = test?.unit ?? (column.unitFrom === 'heading' ? column.unit : undefined);
    if (said === undefined || 'code' in target || target.writtenIn.code === said.code) return target;
    const raw = `${written} in the row, ${unitText(said.code)} in the heading or test`;
    return { code: 'unit_mismatch', args: { raw, measure: measure.label, expected: unitText(measure.unit.code) } };
  }

  #writtenTarget(measure: Measure, written: string): Target | TargetProblem {
    const unit = readUnit(written, measure.unit);
    if (unit === 'unknown') return { code: 'unit_unknown', args: { raw: written, measure: measure.label } };
    return this.#fitting(measure, unit, 'unit_column', written);
  }

  #unwrittenTarget(measure: Measure, column: ReadingColumn, test: HeadingReading | undefined): Target | TargetProblem {
    if (test?.unit) return this.#fitting(measure, test.unit, 'heading', test.unitText ?? test.unit.code);
    if (column.unit && column.unitFrom) return this.#fitting(measure, column.unit, column.unitFrom, column.unit.code);
    const found = unitOfColumn(measure, undefined, this.#entry);
    if (found) return this.#fitting(measure, found.unit, found.from, found.unit.code);
    const { heading } = column;
    return { code: 'unit_unknown', args: { heading, measure: measure.label, example: `{${measure.name}: kgf}` } };
  }

  #fitting(measure: Measure, unit: Unit, from: UnitFrom, written: string): Target | TargetProblem {
    return unit.dimension === measure.unit.dimension
      ? this.#targets.of(measure, unit, from)
      : {
          code: 'unit_mismatch',
          args: { raw: written, measure: measure.label, expected: unitText(measure.unit.code) },
        };
  }

  /**
   * Code of the side, or -1 after the reject is written.
   * @param weight cells that the reject stands for; 0: none is written
   */
  #side(
    measure: Measure,
    column: ReadingColumn,
    test: HeadingReading | undefined,
    line: number,
    batch: IngestBatch,
    raw: string,
    at: number,
    weight: number,
  ): number {
    if (measure.sides === 'none') return NONE;
    const { side: ofRow, unreadSide } = this.#context;
    const named = column.side ?? test?.side;
    if (unreadSide !== '' || (named !== undefined && ofRow !== undefined && named !== ofRow)) {
      const contradiction = unreadSide || `${named} in the heading or test, ${ofRow} in the row`;
      const [place, cell] = unreadSide === '' ? [at, raw] : [this.#roleAt.side, unreadSide];
      if (weight > 0)
        this.#reject(batch, line, place, measure.name, 'side_unknown', { raw: contradiction }, weight, cell);
      return -1;
    }
    const written: WrittenSide | undefined = named ?? ofRow;
    if (written === undefined || written === 'none') {
      if (weight > 0)
        this.#reject(batch, line, at, measure.name, 'side_missing', { measure: measure.label }, weight, raw);
      return -1;
    }
    if (written !== 'dominant' && written !== 'other') return SIDES.indexOf(written);
    const dominant = this.#dominantSide(measure);
    if (dominant === undefined) {
      const expected = measure.dominance ?? 'dominant side, and the measure names no dominance column';
      if (weight > 0)
        this.#reject(batch, line, at, measure.name, 'side_needs_roster', { raw: written, expected }, weight, raw);
      return -1;
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

  #corrected(cells: readonly string[], line: number): readonly string[] {
    this.#confirmed = undefined;
    this.#originals = undefined;
    this.#voided = undefined;
    const entries = this.#corrections?.get(line);
    if (entries === undefined) return cells;
    const changed = [...cells];
    const confirmed = new Set<number>();
    const voided = new Set<number>();
    const originals = new Map<number, string>();
    for (const entry of entries) {
      const at =
        typeof entry.column === 'number'
          ? entry.column - 1
          : this.#plan.columns.findIndex((column) => column.heading.toLowerCase() === entry.column);
      if (at < 0 || this.#fates[at] === FATE.dead || (cells[at] ?? '').trim() !== entry.raw) continue;
      if (entry.action !== 'value' && this.#fates[at] !== FATE.reading) continue;
      entry.applied = true;
      if (entry.action === 'confirmed') confirmed.add(at);
      else if (entry.action === 'void') voided.add(at);
      else {
        originals.set(at, entry.raw);
        changed[at] = entry.value;
      }
    }
    this.#confirmed = confirmed;
    this.#voided = voided;
    this.#originals = originals;
    return changed;
  }

  /** The cell as the sheet has it, whatever a correction made of it. */
  #original(at: number, raw: string): string {
    return this.#originals?.get(at) ?? raw;
  }

  #isHeadings(cells: readonly string[]): boolean {
    for (const row of this.#headingRows) if (readsAs(cells, row)) return true;
    return false;
  }

  #ignoreRow(batch: IngestBatch, line: number, cells: number): void {
    const { columns } = batch.ignored;
    columns.file.push(this.#file);
    columns.line.push(line);
    columns.column.push(null);
    columns.heading.push(null);
    columns.cells.push(cells);
    columns.reason.push('repeated_header');
    this.counts.ignored += cells;
  }

  /** A row that is not taken may hide an alarm: its message says what it holds. */
  #rejectRow(batch: IngestBatch, line: number, problem: RowProblem, count: number, cells: readonly string[]): void {
    const { at, code, args, raw } = problem;
    // A cell without a digit is no reading, and in a row that has slipped it may be a name.
    const held = this.#readings.filter((column) => /\d/.test(cells[column.at] ?? ''));
    const shown = held
      .slice(0, MOST_HELD)
      .map(({ heading, at: place }) => `${heading} ${trimmed(cells[place]).slice(0, 20)}`);
    const holds = held.length > MOST_HELD ? [...shown, '…'] : shown;
    const names = held.flatMap((column) => measuresOf(column, undefined).map((measure) => measure.name));
    const place = { ...this.#place(line, at, names.join(';') || undefined), holds: holds.join(', ') };
    pushReject(batch.rejects, place, this.#original(at, raw), code, args, count);
    this.counts.rejected += count;
  }

  #reject(
    batch: IngestBatch,
    line: number,
    at: number,
    measure: string | undefined,
    code: RejectCode,
    args: RejectArgs,
    cells: number,
    raw: string,
  ): void {
    pushReject(batch.rejects, this.#place(line, at, measure), this.#original(at, raw), code, args, cells);
  }

  #place(line: number, at: number, measure: string | undefined): Place {
    return {
      file: this.#file,
      line,
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
      if (column.kind === 'ignored') {
        const { columns } = batch.ignored;
        columns.file.push(this.#file);
        columns.line.push(headingLine);
        columns.column.push(at + 1);
        columns.heading.push(column.heading);
        columns.cells.push(cells);
        columns.reason.push(column.reason);
        this.counts.ignored += cells;
      } else if (column.kind === 'rejected') {
        const place = {
          file: this.#file,
          line: headingLine,
          column: at + 1,
          heading: column.heading,
          station: this.#entry.station,
        };
        pushReject(batch.rejects, place, column.heading, column.code, column.args, cells);
        this.counts.rejected += cells;
      }
    }
  }
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

/** FNV-1a over the cells of a row. */
function hashOf(cells: readonly string[]): number {
  let hash = 0x811c9dc5;
  for (const cell of cells) {
    for (let at = 0; at < cell.length; at++) hash = Math.imul(hash ^ cell.charCodeAt(at), 0x01000193);
    hash = Math.imul(hash ^ 0x1f, 0x01000193);
  }
  return hash >>> 0;
}
