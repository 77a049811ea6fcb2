type Rows = readonly (readonly string[])[];

/** A turned sheet may have so many cells a filled one, and no more: one long row must not blow it up. */
const MOST_CELLS_A_CELL = 8;
const ALWAYS_FINE = 100_000;

/** Whether rows can be turned into columns in time and room linear in their cells. */
export function canTurn(rows: Rows): boolean {
  let cells = 0;
  let width = 0;
  for (const row of rows) {
    cells += row.length;
    width = Math.max(width, row.length);
  }
  return width * rows.length <= Math.max(cells * MOST_CELLS_A_CELL, ALWAYS_FINE);
}

/** The columns of a sheet as rows: athletes that stood across the columns are then one below the other. */
export function turned(rows: Rows): string[][] {
  const width = rows.reduce((most, row) => Math.max(most, row.length), 0);
  return Array.from({ length: width }, (_, at) => rows.map((row) => row[at] ?? ''));
}
