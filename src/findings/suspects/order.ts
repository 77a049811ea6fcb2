/** What rows are put in order by: a whole number from 0 to below `size`. */
export interface SortKey {
  readonly of: (row: number) => number;
  readonly size: number;
}

/** Puts rows into another array in the order of a key; rows alike stay as they were. Counting sort: linear in rows and size. */
function sortInto(sorted: Int32Array, rows: Int32Array, { of, size }: SortKey): void {
  const ends = new Int32Array(size + 1);
  for (const row of rows) ends[of(row) + 1]++;
  for (let at = 1; at <= size; at++) ends[at] += ends[at - 1];
  for (const row of rows) sorted[ends[of(row)]++] = row;
}

/** The rows 0 to count − 1 in the order of several keys, the first of them the most important. */
export function orderedBy(count: number, keys: readonly SortKey[]): Int32Array {
  let rows = new Int32Array(count);
  let spare = new Int32Array(count);
  for (let row = 0; row < count; row++) rows[row] = row;
  for (const key of [...keys].reverse()) {
    sortInto(spare, rows, key);
    [rows, spare] = [spare, rows];
  }
  return rows;
}

/** A key by any numbers, however far apart: each becomes its rank. */
export function ranked(values: ArrayLike<number>, count: number): SortKey {
  const distinct = new Set<number>();
  for (let row = 0; row < count; row++) distinct.add(values[row]);
  const ranks = new Map([...distinct].sort((a, b) => a - b).map((value, rank): [number, number] => [value, rank]));
  return { of: (row) => ranks.get(values[row])!, size: ranks.size };
}

/** A key by codes that may be −1. */
export function coded(codes: ArrayLike<number>, size: number): SortKey {
  return { of: (row) => codes[row] + 1, size: size + 1 };
}
