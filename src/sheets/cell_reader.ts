import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Compound, Measure } from '../protocol/types.ts';
import { csvCell } from '../tables/csv_text.ts';
import { plainNumber, readNumber } from '../units/numbers.ts';
import { isQualitative, readStatus } from '../units/statuses.ts';
import type { Unit } from '../units/unit.ts';
import { unitText } from '../units/unit_text.ts';
import { type CellParts, cellParts } from './cell_parts.ts';
import { type CellReading, implausible, isPlausible, MISSING_NUMBERS, readCell } from './cells.ts';
import { compoundReadings, isPressurePair, pressureWays } from './compound_cells.ts';
import type { HeadingReading } from './headings.ts';
import type { ReadingColumn, SheetPlan, TablePlan } from './plan.ts';
import { hurts, measuresOf } from './row_cells.ts';
import type { IngestWorld, RowContext } from './row_context.ts';
import type { RowCorrections } from './row_corrections.ts';
import { isSideOpen, type RowSides } from './row_sides.ts';
import type { RowTargets, TargetProblem } from './row_targets.ts';
import type { RowWriter } from './row_writer.ts';
import { BOTH, LEFT, RIGHT, STATUS } from './status_codes.ts';
import { settleOther } from './table_plans.ts';
import { isBodyHeight, type Target, type Targets } from './targets.ts';
import type { WorkedOutCheck } from './worked_out.ts';

export type Fate = 'measured' | 'not_measured' | 'rejected';

/** A cell of readings of one measure. */
interface Cell {
  readonly column: ReadingColumn;
  readonly measure: Measure;
  /** as the sheet has it */
  readonly raw: string;
  /** what the row's test cell says, where the column leaves its measure to it */
  readonly test: HeadingReading | undefined;
}

/** One of the readings of a cell. */
interface Part {
  readonly text: string;
  /** the number that it plainly is; undefined: nobody has looked */
  readonly number?: number;
  /** side that its place in the cell gives, as a position in SIDES; -1: as column and row say */
  readonly side: number;
  /** place among the trials of the cell, from 0, and how many there are */
  readonly index: number;
  readonly count: number;
}

const whole = (text: string, side = -1): Part => ({ text, side, index: 0, count: 1 });

/** What the cells of one table are read with. */
export interface CellSurroundings {
  readonly plan: SheetPlan;
  readonly table: TablePlan;
  readonly file: string;
  readonly world: IngestWorld;
  readonly context: RowContext;
  readonly sides: RowSides;
  readonly targets: Targets;
  readonly rowTargets: RowTargets;
  readonly corrections: RowCorrections;
  readonly writer: RowWriter;
  /** told of every reading, to compare bests and means with them */
  readonly check: WorkedOutCheck | undefined;
}

/** Reads the cells of readings in rows whose athlete is known, and writes what they hold. */
export class CellReader {
  readonly #around: CellSurroundings;
  readonly #context: RowContext;
  readonly #writer: RowWriter;
  readonly #decimal: SheetPlan['decimal'];
  /** columns of which it was said that left is taken to stand first */
  readonly #pairColumns = new Set<number>();
  /** columns of which it was said that cells are in several units */
  readonly #unitColumns = new Set<number>();

  constructor(around: CellSurroundings) {
    this.#around = around;
    this.#context = around.context;
    this.#writer = around.writer;
    this.#decimal = around.plan.decimal;
  }

  /** Reads one cell. Whatever it holds, it counts once. */
  read(column: ReadingColumn, raw: string, test: HeadingReading | undefined): Fate {
    const compound = column.compound ?? test?.compound;
    if (compound) return this.#compound(column, compound, raw, test);
    const cell: Cell = { column, measure: (column.measure ?? test?.measure)!, raw, test };
    const number = plainNumber(raw);
    const isWord = Number.isNaN(number) || MISSING_NUMBERS.has(number);
    return isWord ? this.#parted(cell) : this.#one(cell, { text: raw, number, side: -1, index: 0, count: 1 }, 1);
  }

  /** Several numbers in one cell, such as 118/72, and perhaps their recheck. A word (NT, N/A) holds for all of them. */
  #compound(column: ReadingColumn, compound: Compound, raw: string, test: HeadingReading | undefined): Fate {
    const { parts, between } = compound;
    const number = readNumber(raw, this.#decimal);
    if (number.kind === 'problem' && number.code === 'spreadsheet_error') {
      this.#writer.reject(column.at, parts[0].name, number.code, { raw }, 1, raw);
      return 'rejected';
    }
    const cells = parts.map((measure): Cell => ({ column, measure, raw, test }));
    const isWord = readStatus(raw) !== undefined || isQualitative(raw);
    const readings = isWord ? [parts.map(() => raw)] : compoundReadings(raw, compound, this.#decimal);
    if (readings === undefined) {
      const expected = parts.map((part) => part.label.toLowerCase()).join(` ${between} `);
      return this.#notApart(cells, 'pair_incomplete', { raw, expected });
    }
    const ways = isPressurePair(compound) ? this.#upsideDown(cells, readings) : undefined;
    if (ways) {
      return this.#notApart(cells, 'number_ambiguous', { raw, choices: ways, expected: 'the larger one first' });
    }
    return this.#several(
      readings.flatMap((texts, index) =>
        cells.map((cell, at) => ({ cell, part: { text: texts[at], side: -1, index, count: readings.length } })),
      ),
    );
  }

  /** A cell of several measures that is rejected whole. That it hurt is kept. */
  #notApart(cells: readonly Cell[], code: RejectCode, args: RejectArgs): Fate {
    const [{ column, measure, raw }] = cells;
    if (hurts(raw)) for (const cell of cells) this.#painAlone(cell);
    this.#writer.reject(column.at, measure.name, code, args, 1, raw);
    return 'rejected';
  }

  /** The two ways of the first pressure whose first number is not the larger, unless nobody asks for its number. */
  #upsideDown(cells: readonly Cell[], readings: readonly (readonly string[])[]): readonly string[] | undefined {
    const { column, test } = cells[0];
    const { corrections } = this.#around;
    if (this.#context.status > STATUS.pain || corrections.isVoid(column.at) || corrections.isConfirmed(column.at)) {
      return undefined;
    }
    const targets = cells.map(({ measure }) => this.#targetOf(measure, column, test));
    for (const parts of readings) {
      const [first, second] = parts.map((text, at) => {
        const target = targets[at];
        const reading = 'code' in target ? undefined : readCell(text, target, this.#decimal);
        // What cannot be is told as such, and the other half is kept.
        const isRead = reading?.kind === 'reading' && isPlausible(target as Target, reading.value, false);
        return isRead ? reading.value * cells[at].measure.unit.factor : Number.NaN;
      });
      if (first <= second) return pressureWays(parts, first === second);
    }
    return undefined;
  }

  /** A cell that is no plain number: mostly one reading, sometimes several trials or both sides. */
  #parted(cell: Cell): Fate {
    const { column, measure, raw } = cell;
    const parts = this.#partsOf(cell);
    if (parts.kind === 'problem') {
      // That it hurt is kept, whatever else the cell says.
      if (parts.hurts) this.#painAlone(cell);
      this.#writer.reject(column.at, measure.name, parts.code, { raw, ...parts.args }, 1, raw);
      return 'rejected';
    }
    if (parts.kind === 'one') return this.#single(cell, parts.text);
    if (parts.kind === 'trials') {
      const count = parts.texts.length;
      return this.#several(parts.texts.map((text, index) => ({ cell, part: { text, side: -1, index, count } })));
    }
    const sides = parts.texts.map((text, index) => whole(text, this.#sideOfPart(column, parts.named ?? false, index)));
    // One cell's readings stand in the order of their trials.
    sides.sort((a, b) => this.#trialsOf(measure, a.side) - this.#trialsOf(measure, b.side));
    return this.#several(sides.map((part) => ({ cell, part })));
  }

  #partsOf({ column, measure, raw, test }: Cell): CellParts {
    const target = this.#targetOf(measure, column, test);
    if ('code' in target) return { kind: 'one', text: raw };
    return cellParts(raw, {
      target,
      decimal: this.#decimal,
      sideOpen: isSideOpen(measure, column.side ?? test?.side, this.#context),
      trialGiven: this.#trialOf(column, test) > 0,
      reversed: column.reversed,
    });
  }

  /** Readings of one cell: it is rejected, and counted, with the first of them that cannot be taken. */
  #several(readings: readonly { readonly cell: Cell; readonly part: Part }[]): Fate {
    const fates = new Set<Fate>();
    for (const { cell, part } of readings) fates.add(this.#one(cell, part, fates.has('rejected') ? 0 : 1));
    return fates.has('rejected') ? 'rejected' : fates.has('measured') ? 'measured' : 'not_measured';
  }

  /** A cell that holds one reading or word. A word in a column of pairs (NT) holds for both sides. */
  #single(cell: Cell, text: string): Fate {
    const { column, measure, raw, test } = cell;
    if (!isSideOpen(measure, column.side ?? test?.side, this.#context)) return this.#one(cell, whole(text), 1);
    const status = readStatus(text);
    const isPair = (column.sides ?? test?.sides) !== undefined;
    if (isPair && status !== undefined && status !== 'measured') {
      return this.#several([LEFT, RIGHT].map((side) => ({ cell, part: whole(text, side) })));
    }
    // What is no reading at all is not asked for its side.
    const target = this.#targetOf(measure, column, test);
    const reading = 'code' in target ? undefined : readCell(text, target, this.#decimal);
    if (reading?.kind !== 'reject') return this.#one(cell, whole(text), 1);
    if (hurts(raw)) this.#painAlone(cell);
    this.#writer.reject(column.at, measure.name, reading.code, reading.args, 1, raw);
    return 'rejected';
  }

  #trialsOf(measure: Measure, side: number): number {
    return this.#writer.sink.attempts.countOf(this.#context.athlete, this.#context.day, measure.index, side);
  }

  #trialOf(column: ReadingColumn, test: HeadingReading | undefined): number {
    return column.trial ?? test?.trial ?? this.#context.trial;
  }

  #targetOf(measure: Measure, column: ReadingColumn, test: HeadingReading | undefined): Target | TargetProblem {
    return this.#around.rowTargets.of(measure, column, test, this.#writer.row.cells);
  }

  /** Left stands first, unless the heading says otherwise or the cell itself names the sides; that it was so read is said. */
  #sideOfPart(column: ReadingColumn, named: boolean, index: number): number {
    const leftFirst = named || column.sides !== 'right_left';
    const isSaid = named || (column.sides !== undefined && !column.sidesByCells);
    if (!isSaid && !this.#pairColumns.has(column.at)) {
      this.#pairColumns.add(column.at);
      this.#around.world.note(
        `${this.#around.file}: "${column.heading.slice(0, 60)}" holds both sides in one cell; the first is taken as the left one: write L/R or R/L into the heading, or say sides: in screening.yaml under columns:`,
      );
    }
    return (index === 0) === leftFirst ? LEFT : RIGHT;
  }

  /**
   * Reads one number or word and writes the observation or the reject.
   * @param weight cells that a reject of it stands for
   */
  #one(cell: Cell, part: Part, weight: number): Fate {
    const { column, measure, test } = cell;
    const side = part.side >= 0 ? part.side : this.#side(cell, weight);
    if (side < 0) {
      if (hurts(part.text)) this.#painAlone(cell);
      return 'rejected';
    }
    const target = this.#targetOf(measure, column, test);
    const status = this.#around.corrections.isVoid(column.at) ? STATUS.void : this.#context.status;
    if (status <= STATUS.measured && !('code' in target) && column.alsoIn === undefined && !target.needsUnit) {
      const value = this.#easyNumber(part, target, column.reversed);
      if (Number.isFinite(value) && isPlausible(target, value, side === BOTH)) {
        this.#write(cell, part, side, target, value, STATUS.measured);
        return 'measured';
      }
    }
    return this.#careful(cell, part, weight, side, target, status);
  }

  /** A number that reads one way by itself, in the measure's unit; NaN: the cell is to be looked at with care. */
  #easyNumber({ text, number }: Part, target: Target, reversed: boolean): number {
    // Where the comma is the decimal mark, the point of 1.234 parts thousands; 5.11 feet may be 5 ft 11 in.
    if ((this.#decimal === ',' || target.bodyHeightInFeet) && text.includes('.')) return Number.NaN;
    const value = number ?? plainNumber(text);
    if (Number.isNaN(value) || MISSING_NUMBERS.has(value)) return Number.NaN;
    return reversed ? -target.convert(value) : target.convert(value);
  }

  /** Words, marks, units, statuses and numbers that cannot be. That it hurt is kept, whatever else the cell says. */
  #careful(
    cell: Cell,
    part: Part,
    weight: number,
    side: number,
    target: Target | TargetProblem,
    rowStatus: number,
  ): Fate {
    const { column, measure, raw } = cell;
    const isPain = rowStatus === STATUS.pain || hurts(part.text);
    const without = (status: number): Fate => {
      this.#write(cell, part, side, target, Number.NaN, isPain ? STATUS.pain : status);
      return 'not_measured';
    };
    if (rowStatus > STATUS.pain) return without(rowStatus);
    const reading = 'code' in target ? wordAlone(part.text, target) : readCell(part.text, target, this.#decimal);
    if (reading.kind === 'reading' && Number.isNaN(reading.value)) return without(STATUS[reading.status]);
    const refused =
      reading.kind === 'reject' ? reading : this.#refusal(cell, part.text, reading, target as Target, side);
    if (refused) {
      if (isPain) without(STATUS.pain);
      this.#writer.reject(column.at, measure.name, refused.code, refused.args, weight, raw);
      return 'rejected';
    }
    const { value, cellUnit } = reading as Extract<CellReading, { kind: 'reading' }>;
    if (cellUnit) this.#noteOtherUnit(column, measure, cellUnit);
    const used = cellUnit ? this.#around.targets.of(measure, cellUnit, 'cell') : target;
    this.#write(cell, part, side, used, column.reversed ? -value : value, isPain ? STATUS.pain : STATUS.measured);
    return 'measured';
  }

  /** A unit in a cell, far below the head of the sheet, that the numbers above it may have been written in too. */
  #noteOtherUnit(column: ReadingColumn, measure: Measure, unit: Unit): void {
    const isAssumed = column.unitFrom === 'protocol' || column.unitFrom === 'written_in';
    if (!isAssumed || column.alsoIn || column.unit?.factor === unit.factor || isBodyHeight(measure)) return;
    if (this.#unitColumns.has(column.at)) return;
    this.#unitColumns.add(column.at);
    const { line } = this.#writer.place(column.at, undefined);
    this.#around.world.note(
      `${this.#around.file}: "${column.heading.slice(0, 60)}" names no unit, and line ${line} is in ${unitText(unit.code)}; numbers that name none are read in ${unitText(column.unit!.code)}: check them`,
    );
  }

  /** Why a number that could be read is not taken. */
  #refusal(
    { column, raw }: Cell,
    text: string,
    { value, cellUnit }: Extract<CellReading, { kind: 'reading' }>,
    target: Target,
    side: number,
  ): TargetProblem | undefined {
    const { at, heading, reversed, alsoIn } = column;
    const { name, label } = target.measure;
    if (!Number.isFinite(value)) return { code: 'number_unreadable', args: { raw } };
    if (target.needsUnit && cellUnit === undefined) {
      return { code: 'unit_unknown', args: { heading, measure: label, example: `{${name}: kgf}` } };
    }
    // A unit column speaks for its row.
    if (alsoIn && cellUnit === undefined && target.from !== 'unit_column') {
      const found = `other cells of the column are in "${unitText(alsoIn.code)}"`;
      const example = [target.measure.unit.code, alsoIn.code].map((code) => `{${name}: ${quotedCode(code)}}`);
      return {
        code: 'unit_unknown',
        args: { raw, measure: label, found, example: [...new Set(example)].join(' or units: ') },
      };
    }
    const signed = reversed ? -value : value;
    if (isPlausible(target, signed, side === BOTH) || this.#around.corrections.isConfirmed(at)) return undefined;
    const { code, args } = implausible(target, text, signed, side === BOTH, cellUnit);
    const { line, column: place } = this.#writer.place(at, undefined);
    const example = [this.#around.file, String(line), String(place), raw].map(csvCell).join(',');
    return { code, args: { ...args, example } };
  }

  #write(
    { column, measure, raw, test }: Cell,
    { index, count }: Part,
    side: number,
    target: Target | TargetProblem | undefined,
    value: number,
    status: number,
    at = column.at,
  ): void {
    const trial = this.#trialOf(column, test);
    this.#writer.observation({ measure, target, side, trial, index, count, value, status, raw, at });
    this.#around.check?.trial(measure.index, side, value);
  }

  /**
   * Code of the side, or -1 after the reject is written.
   * @param weight cells that the reject stands for; 0: none is written
   * @param at column in which the reject stands where the side column is not at fault
   */
  #side({ column, measure, raw, test }: Cell, weight: number, at = column.at): number {
    const { sides, table, context } = this.#around;
    const side = sides.of(measure, settleOther(column.side ?? test?.side, table));
    if (typeof side === 'number') return side;
    const { code, args, cell } = side;
    if (weight > 0) {
      this.#writer.reject(cell === undefined ? at : context.sideAt, measure.name, code, args, weight, cell ?? raw);
    }
    return -1;
  }

  /** Readings of a column without a unit are held back; that it hurt is not. The cells stay with their column's reject. */
  painInHeld(column: ReadingColumn, raw: string): void {
    if (!hurts(raw)) return;
    for (const measure of measuresOf(column, undefined)) {
      const cell = { column, measure, raw, test: undefined };
      const side = this.#side(cell, 0);
      if (side >= 0) this.#write(cell, whole(raw), side, undefined, Number.NaN, STATUS.pain);
    }
  }

  /** Pain whose reading cannot be taken: on the side that is known, else on both. */
  #painAlone(cell: Cell): void {
    const { column, measure, raw, test } = cell;
    const isOpen = isSideOpen(measure, column.side ?? test?.side, this.#context);
    for (const side of isOpen ? [LEFT, RIGHT] : [this.#side(cell, 0)]) {
      if (side >= 0) this.#write(cell, whole(raw), side, undefined, Number.NaN, STATUS.pain);
    }
  }

  /**
   * A status with an empty value still says what became of the attempt.
   * @param at the status column
   * @returns undefined if it says nothing of any measure
   */
  statusAlone(
    columns: readonly ReadingColumn[],
    test: HeadingReading | undefined,
    raw: string,
    at: number,
  ): Fate | undefined {
    const { status } = this.#context;
    if (status === STATUS.measured || status < 0) return undefined;
    const told = new Set<string>();
    let isRejected = false;
    for (const column of columns) {
      for (const measure of measuresOf(column, test)) {
        const cell = { column, measure, raw, test };
        const side = this.#side(cell, isRejected ? 0 : 1, at);
        isRejected ||= side < 0;
        const key = `${measure.index} ${side}`;
        if (side < 0 || told.has(key)) continue;
        told.add(key);
        this.#write(cell, whole(raw), side, undefined, Number.NaN, status, at);
      }
    }
    return isRejected ? 'rejected' : told.size > 0 ? 'not_measured' : undefined;
  }
}

/** A UCUM code as YAML in braces has it: what holds a bracket or the like stands in quotes. */
const quotedCode = (code: string): string => (/^[A-Za-z][A-Za-z0-9]*$/.test(code) ? code : `"${code}"`);

/** A word such as NT needs no unit; a number whose unit nobody knows is refused for that. */
function wordAlone(text: string, problem: TargetProblem): CellReading {
  const status = readStatus(text);
  return status === undefined || status === 'measured'
    ? { kind: 'reject', ...problem }
    : { kind: 'reading', value: Number.NaN, status };
}
