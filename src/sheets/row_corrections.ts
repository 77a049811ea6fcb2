import type { Correction } from './corrections.ts';
import type { SheetPlan } from './plan.ts';

/** Applies the corrections of one sheet, row by row; the answers hold for the row that was applied last. */
export class RowCorrections {
  readonly #plan: SheetPlan;
  readonly #byLine: ReadonlyMap<number, readonly Correction[]> | undefined;
  readonly #confirmed = new Set<number>();
  readonly #voided = new Set<number>();
  readonly #originals = new Map<number, string>();

  constructor(plan: SheetPlan, byLine: ReadonlyMap<number, readonly Correction[]> | undefined) {
    this.#plan = plan;
    this.#byLine = byLine;
  }

  /** The cells of a row as corrections make them. One applies only where the cell still reads what it expects. */
  apply(cells: readonly string[], line: number): readonly string[] {
    if (this.#byLine === undefined) return cells;
    this.#confirmed.clear();
    this.#voided.clear();
    this.#originals.clear();
    const entries = this.#byLine.get(line);
    if (entries === undefined) return cells;
    const changed = [...cells];
    for (const entry of entries) {
      const at = this.#placeOf(entry);
      const kind = this.#plan.columns[at]?.kind;
      const takes = entry.action === 'value' ? kind === 'reading' || kind === 'role' : kind === 'reading';
      if (!takes || (cells[at] ?? '').trim() !== entry.raw) continue;
      entry.applied = true;
      if (entry.action === 'confirmed') this.#confirmed.add(at);
      else if (entry.action === 'void') this.#voided.add(at);
      else {
        this.#originals.set(at, entry.raw);
        changed[at] = entry.value;
      }
    }
    return changed;
  }

  #placeOf({ column }: Correction): number {
    if (typeof column === 'number') return column - 1;
    return this.#plan.columns.findIndex(({ heading }) => heading.toLowerCase() === column);
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
