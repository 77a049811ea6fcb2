import type { Correction } from './corrections.ts';
import { columnOfCell, type Frame, lineOfCell } from './frame.ts';
import type { SheetPlan, TablePlan } from './plan.ts';

/** corrections.csv is a table like those of bilat: its point is a decimal point, whatever the sheet uses. */
const DECIMAL_POINT = /^[-+]?\d+\.\d+$/;

/** Applies the corrections of one sheet, row by row; the answers hold for the row that was applied last. */
export class RowCorrections {
  readonly #table: TablePlan;
  readonly #frame: Frame;
  readonly #byLine: ReadonlyMap<number, readonly Correction[]> | undefined;
  readonly #decimal: SheetPlan['decimal'];
  readonly #confirmed = new Set<number>();
  readonly #voided = new Set<number>();
  readonly #originals = new Map<number, string>();

  constructor(
    table: TablePlan,
    frame: Frame,
    byLine: ReadonlyMap<number, readonly Correction[]> | undefined,
    decimal: SheetPlan['decimal'],
  ) {
    this.#decimal = decimal;
    this.#table = table;
    this.#frame = frame;
    this.#byLine = byLine;
  }

  /**
   * The cells of a row as corrections make them. One applies only where the cell still reads what it expects.
   * @param row line of the row, or where athletes stand across the columns its column
   */
  apply(cells: readonly string[], row: number): readonly string[] {
    if (this.#byLine === undefined) return cells;
    this.#confirmed.clear();
    this.#voided.clear();
    this.#originals.clear();
    let changed: string[] | undefined;
    for (const { entry, at } of this.#entries(row)) {
      const kind = this.#table.columns[at]?.kind;
      const takes = entry.action === 'value' ? kind === 'reading' || kind === 'role' : kind === 'reading';
      if (!takes || (cells[at] ?? '').trim() !== entry.raw) continue;
      entry.applied = true;
      entry.appliedAt = columnOfCell(this.#frame, row, at);
      if (entry.action === 'confirmed') this.#confirmed.add(at);
      else if (entry.action === 'void') this.#voided.add(at);
      else {
        this.#originals.set(at, entry.raw);
        changed ??= [...cells];
        const isNumber = this.#decimal === ',' && kind === 'reading' && DECIMAL_POINT.test(entry.value);
        changed[at] = isNumber ? entry.value.replace('.', ',') : entry.value;
      }
    }
    return changed ?? cells;
  }

  *#entries(row: number): Generator<{ entry: Correction; at: number }> {
    const { lines } = this.#frame;
    if (lines === undefined) {
      for (const entry of this.#byLine!.get(row) ?? []) yield { entry, at: this.#placeOf(entry) };
      return;
    }
    for (const at of this.#table.columns.keys()) {
      for (const entry of this.#byLine!.get(lineOfCell(this.#frame, row, at)) ?? []) {
        if (entry.column === columnOfCell(this.#frame, row, at)) yield { entry, at };
      }
    }
  }

  #placeOf({ column }: Correction): number {
    if (typeof column === 'number') return column - 1 - this.#frame.from;
    return this.#table.columns.findIndex(({ heading }) => heading.toLowerCase() === column);
  }

  /** Whether an attempt does not count. */
  isVoid(at: number): boolean {
    return this.#voided.has(at);
  }

  /** Whether a reading is right, however odd it looks. */
  isConfirmed(at: number): boolean {
    return this.#confirmed.has(at);
  }

  /** The cell as the sheet has it, whatever a correction made of it. */
  original(at: number, raw: string): string {
    return this.#originals.get(at) ?? raw;
  }
}
