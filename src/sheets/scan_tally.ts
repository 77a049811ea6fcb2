import type { IgnoredReason } from '../problems/ignored.ts';
import { REJECTS, type RejectCode } from '../problems/rejects.ts';
import type { Ignored, Observations, Rejects } from '../tables/schemas.ts';
import { plainNumber } from '../units/numbers.ts';
import type { Direction } from './plan.ts';
import type { CellFates, IgnoredScan, RejectScan } from './scan_types.ts';

type Counts = { -readonly [fate in keyof CellFates]: CellFates[fate] };

/** A cell that may yet turn out to be rejected: one part of it was read. */
interface OpenCell {
  readonly counts: Counts;
  readonly fate: 'read' | 'notMeasured';
}

const MOST_PLACES = 3;
const NO_CELLS: CellFates = { read: 0, notMeasured: 0, rejected: 0, ignored: 0, painKept: 0 };

/**
 * Counts by column what became of the cells of one sheet, from the tables that ingest writes. A cell counts once:
 * rejected, else read, else not measured.
 */
export class ScanTally {
  rejectRows = 0;
  readonly #rejects = new Map<string, { -readonly [part in keyof RejectScan]: RejectScan[part] }>();
  readonly #ignored = new Map<string, { -readonly [part in keyof IgnoredScan]: IgnoredScan[part] }>();
  /** where the blocks begin, ascending: lines of headings, or columns of them where athletes stand across */
  readonly #starts: number[] = [];
  /** by block and place */
  readonly #blocks: Map<number, Counts>[] = [];
  readonly #open = new Map<string, OpenCell>();
  #isAcross = false;
  #lastLine = -1;
  #lastColumn = -1;
  #lastCell: { counts: Counts; fate: OpenCell['fate'] } | undefined;

  /** @param start line of the headings; where athletes stand across the columns, column of them */
  startBlock(direction: Direction, start: number): void {
    this.#isAcross = direction === 'across';
    this.#starts.push(start);
    this.#blocks.push(new Map());
  }

  /** @param place column from 1; where athletes stand across the columns, physical line */
  cells(block: number, place: number): CellFates {
    return this.#blocks[block]?.get(place) ?? NO_CELLS;
  }

  rejects(): RejectScan[] {
    return [...this.#rejects.values()];
  }

  ignored(): IgnoredScan[] {
    return [...this.#ignored.values()];
  }

  #countsAt(line: number, column: number): Counts | undefined {
    const along = this.#isAcross ? column : line;
    const counts = this.#blocks[this.#blockAt(along)];
    if (counts === undefined) return undefined;
    const place = this.#isAcross ? line : column;
    let found = counts.get(place);
    if (found === undefined) {
      found = { ...NO_CELLS };
      counts.set(place, found);
    }
    return found;
  }

  /** The last block that begins at a line or before it; -1: none. */
  #blockAt(along: number): number {
    const starts = this.#starts;
    let low = 0;
    let high = starts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (starts[middle] <= along) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  }

  /** Whether a place is that of the headings: what is said there holds for a whole column. */
  #isWholeColumn(line: number | null, column: number | null): boolean {
    if (line === null || column === null) return false;
    const along = this.#isAcross ? column : line;
    return this.#starts[this.#blockAt(along)] === along;
  }

  /** Several observations of one cell follow each other. */
  takeObservations({ columns, length }: Observations): void {
    for (let row = 0; row < length; row++) {
      const line = columns.line.values[row];
      const column = columns.column.values[row];
      const fate = Number.isNaN(columns.value.values[row]) ? 'notMeasured' : 'read';
      if (line !== this.#lastLine || column !== this.#lastColumn) {
        this.#lastLine = line;
        this.#lastColumn = column;
        this.#newCell(line, column, fate, columns.raw.values[row]);
      } else if (fate === 'read' && this.#lastCell?.fate === 'notMeasured') {
        const { counts } = this.#lastCell;
        counts.notMeasured--;
        counts.read++;
        this.#lastCell.fate = 'read';
      }
    }
  }

  #newCell(line: number, column: number, fate: OpenCell['fate'], raw: string): void {
    const counts = this.#countsAt(line, column);
    this.#lastCell = counts && { counts, fate };
    if (this.#lastCell === undefined) return;
    this.#lastCell.counts[fate]++;
    // A plain number is one reading, and nothing of it is rejected.
    if (Number.isNaN(plainNumber(raw))) this.#open.set(`${line} ${column}`, this.#lastCell);
  }

  takeRejects(rejects: Rejects): void {
    this.rejectRows += rejects.length;
    for (const { line, column, code, cells, message, suggestion } of rejects.rows()) {
      const counts = line === null || column === null ? undefined : this.#countsAt(line, column);
      if (counts) {
        const open = this.#open.get(`${line} ${column}`);
        if (open) open.counts[open.fate]--;
        this.#open.delete(`${line} ${column}`);
        counts.rejected += cells!;
      }
      if (this.#isWholeColumn(line, column)) {
        // The pain of a column that is held back is kept; its cells count with their column.
        counts!.painKept = counts!.notMeasured;
        counts!.notMeasured = 0;
        continue;
      }
      let kind = this.#rejects.get(code!);
      if (kind === undefined) {
        const { title } = REJECTS[code as RejectCode];
        kind = { code: code as RejectCode, title, count: 0, cells: 0, places: [], message: '', suggestion: '' };
        this.#rejects.set(code!, kind);
        kind.message = message ?? '';
        kind.suggestion = suggestion ?? '';
      }
      kind.count++;
      kind.cells += cells!;
      if (kind.places.length < MOST_PLACES) kind.places = [...kind.places, { line, column }];
    }
  }

  takeIgnored(ignored: Ignored): void {
    for (const { line, column, cells, reason } of ignored.rows()) {
      if (this.#isWholeColumn(line, column)) {
        this.#countsAt(line!, column!)!.ignored += cells!;
        continue;
      }
      const kind = this.#ignored.get(reason!);
      if (kind === undefined) {
        this.#ignored.set(reason!, { reason: reason as IgnoredReason, rows: 1, cells: cells!, line, column });
      } else {
        kind.rows++;
        kind.cells += cells!;
      }
    }
  }
}
