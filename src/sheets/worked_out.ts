import { round9 } from '../stats/round9.ts';
import { withUnit } from '../units/unit_text.ts';
import { type CellReading, readCell } from './cells.ts';
import type { IgnoredColumn, WorkedOut } from './plan.ts';
import type { Target } from './targets.ts';

interface Trial {
  readonly measure: number;
  /** position in SIDES */
  readonly side: number;
  readonly value: number;
}

interface Difference {
  readonly heading: string;
  readonly line: number;
  readonly said: number;
  readonly found: number;
  readonly unit: string;
  rows: number;
}

/** Half a step of the last written decimal: a spreadsheet shows rounded what it worked out. */
function halfStep(raw: string): number {
  const decimals = /[.,](\d+)/.exec(raw)?.[1].length ?? 0;
  return 0.5 * 10 ** -decimals;
}

/** Compares the bests and means that a spreadsheet worked out with the trials beside them. */
export class WorkedOutCheck {
  #trials: Trial[] = [];
  readonly #differences = new Map<string, Difference>();

  startRow(): void {
    if (this.#trials.length > 0) this.#trials = [];
  }

  /** A reading of the row at hand, in the measure's unit; NaN: a word that says why there is none. */
  trial(measure: number, side: number, value: number): void {
    this.#trials.push({ measure, side, value });
  }

  /**
   * Compares one worked-out cell of the row with its trials.
   * @param side position in SIDES
   */
  compare(
    { heading, workedOut }: IgnoredColumn,
    raw: string,
    side: number,
    target: Target,
    decimal: '.' | ',' | undefined,
    line: number,
  ): void {
    const { measure } = target;
    const values = this.#trials.flatMap((trial) =>
      trial.measure === measure.index && trial.side === side && !Number.isNaN(trial.value) ? [trial.value] : [],
    );
    const reading = readCell(raw, target, decimal);
    if (values.length === 0 || reading.kind !== 'reading' || Number.isNaN(reading.value)) return;
    const found = worked(workedOut!.kind, values, measure.better === 'lower');
    const tolerance = target.convert(halfStep(raw)) - target.convert(0);
    if (Math.abs(found - reading.value) <= Math.abs(tolerance) * (1 + 1e-9)) return;
    const known = this.#differences.get(heading);
    if (known) known.rows++;
    else {
      const { value: said } = reading as Extract<CellReading, { kind: 'reading' }>;
      this.#differences.set(heading, { heading, line, said, found, unit: measure.unit.code, rows: 1 });
    }
  }

  /** A sentence on each column that does not agree with its trials. */
  *sentences(): Generator<string> {
    for (const { heading, line, said, found, unit, rows } of this.#differences.values()) {
      const where = rows === 1 ? `on line ${line}` : `on ${rows} rows, first on line ${line}`;
      const [is, was] = [found, said].map((value) => withUnit(String(Number(round9(value).toPrecision(6))), unit));
      yield `"${heading.slice(0, 60)}" differs from the trials beside it ${where}: it says ${was}, they give ${is}; the trials are used`;
    }
  }
}

function worked(kind: WorkedOut['kind'], values: readonly number[], lowerIsBetter: boolean): number {
  if (kind === 'mean') return values.reduce((sum, value) => sum + value, 0) / values.length;
  return lowerIsBetter ? Math.min(...values) : Math.max(...values);
}
