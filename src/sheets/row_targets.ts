import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Measure } from '../protocol/types.ts';
import type { Unit } from '../units/unit.ts';
import { unitText } from '../units/unit_text.ts';
import { readUnit } from '../units/written.ts';
import { trimmed } from './blank.ts';
import { unitOfColumn } from './column_units.ts';
import type { SheetEntry } from './entry.ts';
import type { HeadingReading } from './headings.ts';
import type { ReadingColumn, TablePlan, UnitFrom } from './plan.ts';
import { isBodyHeight, type Target, type Targets } from './targets.ts';

const MOST_REMEMBERED = 10_000;

/** Why the unit of a reading is not known. */
export interface TargetProblem {
  readonly code: RejectCode;
  readonly args: RejectArgs;
}

/** Settles the unit of each reading: from a unit column, the heading or test, screening.yaml or the protocol. */
export class RowTargets {
  readonly #targets: Targets;
  readonly #entry: SheetEntry;
  /** unit column, -1: none */
  readonly #unitAt: number;
  readonly #unitsInColumn: readonly string[];
  readonly #unitsOfTests: TablePlan['unitsOfTests'];
  /** target of each column that needs nothing of its row */
  readonly #fixed = new Map<ReadingColumn, Target>();
  /** unit as a unit column writes it → target by measure */
  readonly #byUnit = new Map<string, (Target | TargetProblem)[]>();
  #lastUnit: string | undefined;
  #lastByMeasure: (Target | TargetProblem)[] | undefined;

  /**
   * @param unitAt column of units, -1: none
   * @param shown units that the head of the sheet shows in it, and in the cells of readings
   */
  constructor(
    targets: Targets,
    entry: SheetEntry,
    columns: readonly ReadingColumn[],
    unitAt: number,
    shown: Pick<TablePlan, 'unitsInColumn' | 'unitsOfTests'>,
  ) {
    this.#unitsOfTests = shown.unitsOfTests;
    this.#targets = targets;
    this.#entry = entry;
    this.#unitAt = unitAt;
    this.#unitsInColumn = shown.unitsInColumn;
    if (unitAt >= 0) return;
    for (const column of columns) {
      const { measure, unit, unitFrom } = column;
      if (measure && unit && unitFrom) this.#fixed.set(column, targets.of(measure, unit, unitFrom));
    }
  }

  /** @param test what the row's test cell says, where the column leaves its measure to it */
  of(
    measure: Measure,
    column: ReadingColumn,
    test: HeadingReading | undefined,
    cells: readonly string[],
  ): Target | TargetProblem {
    const written = this.#unitAt < 0 ? '' : trimmed(cells[this.#unitAt] ?? '');
    if (written === '') return this.#fixed.get(column) ?? this.#unwritten(measure, column, test);
    let byMeasure = written === this.#lastUnit ? this.#lastByMeasure : this.#byUnit.get(written);
    if (byMeasure === undefined) {
      byMeasure = [];
      if (this.#byUnit.size < MOST_REMEMBERED) this.#byUnit.set(written, byMeasure);
    }
    this.#lastUnit = written;
    this.#lastByMeasure = byMeasure;
    byMeasure[measure.index] ??= this.#written(measure, written);
    const target = byMeasure[measure.index];
    const said = test?.unit ?? (column.unitFrom === 'heading' ? column.unit : undefined);
    if (said === undefined || 'code' in target || target.writtenIn.code === said.code) return target;
    const found = `the row says ${written}, the heading or test ${unitText(said.code)}`;
    return { code: 'unit_mismatch', args: { raw: written, measure: measure.label, found } };
  }

  #written(measure: Measure, written: string): Target | TargetProblem {
    const unit = readUnit(written, measure.unit);
    if (unit === 'unknown') return { code: 'unit_unknown', args: { raw: written, measure: measure.label } };
    return this.#fitting(measure, unit, 'unit_column', written);
  }

  #inHeading(measure: Measure, written: string): Target | TargetProblem {
    const unit = readUnit(written, measure.unit);
    if (unit === 'unknown') return { code: 'unit_unknown', args: { raw: written, measure: measure.label } };
    return this.#fitting(measure, unit, 'heading', written);
  }

  #unwritten(measure: Measure, column: ReadingColumn, test: HeadingReading | undefined): Target | TargetProblem {
    if (test?.unit) return this.#fitting(measure, test.unit, 'heading', test.unitText ?? test.unit.code);
    if (column.unit && column.unitFrom) return this.#assumed(measure, column.unit, column.unitFrom);
    if (column.unitText !== undefined) return this.#inHeading(measure, column.unitText);
    const found = unitOfColumn(measure, undefined, this.#entry);
    if (found) return this.#assumed(measure, found.unit, found.from);
    return this.#targets.of(measure, measure.unit, 'cell', true);
  }

  /** A unit that only the protocol names is not assumed where the unit column names another for its neighbours. */
  #assumed(measure: Measure, unit: Unit, from: UnitFrom): Target | TargetProblem {
    const isSaid = from !== 'protocol' && from !== 'written_in';
    const isOther = (written: string): boolean => {
      const named = readUnit(written, measure.unit);
      return named !== 'unknown' && named.dimension === unit.dimension && named.factor !== unit.factor;
    };
    const inCells = this.#unitsOfTests.get(measure.name) ?? [];
    const isMixed = this.#unitsInColumn.some(isOther) || inCells.some(({ factor }) => factor !== unit.factor);
    // Heights are told apart by their size.
    if (isSaid || !isMixed || isBodyHeight(measure)) return this.#fitting(measure, unit, from, unit.code);
    return this.#targets.of(measure, measure.unit, 'cell', true);
  }

  #fitting(measure: Measure, unit: Unit, from: UnitFrom, written: string): Target | TargetProblem {
    if (unit.dimension === measure.unit.dimension) return this.#targets.of(measure, unit, from);
    const expected = unitText(measure.unit.code);
    return { code: 'unit_mismatch', args: { raw: written, measure: measure.label, expected } };
  }
}
