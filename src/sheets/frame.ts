/** Where the cells of a table stand in their sheet. */
export interface Frame {
  /** column of the sheet, from 0, in which the table begins; where athletes stand across the columns its first line */
  readonly from: number;
  /** physical line of each line of the sheet, where athletes stand across the columns; else a row has one line */
  readonly lines?: readonly number[];
  /** cell of the row, from 0, at whose line the row as a whole stands, where athletes stand across the columns */
  readonly rowAt?: number;
}

/** The same frame, with the cell at whose line its rows stand. */
export function withRowAt(frame: Frame, rowAt: number): Frame {
  return {
    from: frame.from,
    rowAt,
    // Lines of a sheet across are known only with its text.
    get lines() {
      return frame.lines;
    },
  };
}

/**
 * Physical line of a cell.
 * @param row line of the row, or where athletes stand across the columns its column
 */
export function lineOfCell({ from, lines, rowAt = 0 }: Frame, row: number, at: number): number {
  return lines === undefined ? row : lines[from + (at < 0 ? rowAt : at)];
}

/** Column of a cell in the sheet, from 1. */
export function columnOfCell({ from, lines }: Frame, row: number, at: number): number {
  return lines === undefined ? from + at + 1 : row;
}
