const LINE_FEED = '\n'.charCodeAt(0);

/**
 * Cuts text without quotes into rows. Neighbouring rows share most of their cells (athlete, date, team, unit): a cell
 * that reads as the one above it becomes the same string, which costs no new one and lets readers of the rows see by
 * comparing pointers that nothing has changed.
 */
export class PlainRowCutter {
  readonly #delimiter: string;
  #above: readonly string[] = [];

  constructor(delimiter: string) {
    this.#delimiter = delimiter;
  }

  /**
   * Appends the rows between two places of a text.
   * @param end just behind a line feed
   */
  cut(text: string, start: number, end: number, rows: string[][]): void {
    for (let from = start; from < end; ) {
      const lineEnd = text.indexOf('\n', from);
      const row = this.#row(text, from, lineEnd);
      rows.push(row);
      this.#above = row;
      from = lineEnd + 1;
    }
  }

  #row(text: string, start: number, lineEnd: number): string[] {
    const delimiter = this.#delimiter;
    const delimiterCode = delimiter.charCodeAt(0);
    // A copy is made in one go, and most of it stays as it is.
    const row = this.#above.slice();
    let width = 0;
    for (let from = start; from <= lineEnd; width++) {
      const above = width < row.length ? row[width] : '';
      const behind = from + above.length;
      const code = behind <= lineEnd ? text.charCodeAt(behind) : -1;
      if (width < row.length && (code === delimiterCode || code === LINE_FEED) && text.startsWith(above, from)) {
        from = behind + 1;
        continue;
      }
      const next = text.indexOf(delimiter, from);
      const cellEnd = next < 0 || next > lineEnd ? lineEnd : next;
      const cell = text.slice(from, cellEnd);
      if (width < row.length) row[width] = cell;
      else row.push(cell);
      from = cellEnd + 1;
    }
    if (row.length > width) row.length = width;
    return row;
  }
}
