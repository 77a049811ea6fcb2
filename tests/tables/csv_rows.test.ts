import { describe, expect, it } from 'vitest';
import { type Delimiter, lineOf, RowCutter } from '../../src/tables/csv_rows.ts';

/** Rows with their lines, from a text that arrives in pieces of a given length. */
function cut(text: string, piece = text.length || 1, delimiter: Delimiter = ',') {
  const cutter = new RowCutter(delimiter);
  const rows: [number, readonly string[]][] = [];
  for (let at = 0; at < text.length; at += piece) {
    const block = cutter.push(text.slice(at, at + piece));
    for (const [index, row] of block.rows.entries()) rows.push([lineOf(block, index), row]);
  }
  const { block, openQuote } = cutter.end();
  for (const [index, row] of block.rows.entries()) rows.push([lineOf(block, index), row]);
  return { rows, openQuote };
}

const CASES: { name: string; text: string; delimiter?: Delimiter; rows: [number, string[]][]; open?: number }[] = [
  { name: 'nothing', text: '', rows: [] },
  { name: 'a header alone', text: 'a,b', rows: [[1, ['a', 'b']]] },
  {
    name: 'a final line break adds no row',
    text: 'a,b\n1,2\n',
    rows: [
      [1, ['a', 'b']],
      [2, ['1', '2']],
    ],
  },
  {
    name: 'mixed line ends',
    text: 'a,b\r\n1,2\n3,4\r\n',
    rows: [
      [1, ['a', 'b']],
      [2, ['1', '2']],
      [3, ['3', '4']],
    ],
  },
  {
    name: 'carriage returns alone',
    text: 'a,b\r1,2\r',
    rows: [
      [1, ['a', 'b']],
      [2, ['1', '2']],
    ],
  },
  {
    name: 'blank lines keep their number',
    text: 'a\n\n\n1\n',
    rows: [
      [1, ['a']],
      [2, ['']],
      [3, ['']],
      [4, ['1']],
    ],
  },
  {
    name: 'a quoted line break counts as a line',
    text: 'a,b\n"x\ny",1\n2,3\n',
    rows: [
      [1, ['a', 'b']],
      [2, ['x\ny', '1']],
      [4, ['2', '3']],
    ],
  },
  {
    name: 'a quoted CRLF counts once',
    text: 'a,b\r\n"x\r\ny",1\r\n2,3\r\n',
    rows: [
      [1, ['a', 'b']],
      [2, ['x\ny', '1']],
      [4, ['2', '3']],
    ],
  },
  { name: 'doubled quotes', text: '"a ""b""",c\n', rows: [[1, ['a "b"', 'c']]] },
  { name: 'an inch mark inside a cell is no quote', text: '5\'11",180\n', rows: [[1, ['5\'11"', '180']]] },
  {
    name: 'semicolons',
    text: 'a;b\n1,5;2\n',
    delimiter: ';',
    rows: [
      [1, ['a', 'b']],
      [2, ['1,5', '2']],
    ],
  },
  {
    name: 'tabs',
    text: 'a\tb\n1\t2\n',
    delimiter: '\t',
    rows: [
      [1, ['a', 'b']],
      [2, ['1', '2']],
    ],
  },
  {
    name: 'an open quote',
    text: 'a,b\n1,2\n3,"x\ny\n',
    rows: [
      [1, ['a', 'b']],
      [2, ['1', '2']],
    ],
    open: 3,
  },
];

describe('rows and the physical lines on which they begin', () => {
  for (const { name, text, delimiter, rows, open } of CASES) {
    for (const piece of [1, 2, 3, 7, 1000]) {
      it(`${name}, in pieces of ${piece}`, () => {
        const found = cut(text, piece, delimiter);
        expect(found.rows).toEqual(rows);
        expect(found.openQuote?.line).toBe(open);
      });
    }
  }

  it('reads a quoted cell of 10 MB that arrives in small pieces', () => {
    const long = 'x'.repeat(10_000_000);
    const { rows } = cut(`a,b\n"${long}",1\n2,3\n`, 65_536);
    expect(rows.map(([line, row]) => [line, row.map((cell) => cell.length)])).toEqual([
      [1, [1, 1]],
      [2, [10_000_000, 1]],
      [3, [1, 1]],
    ]);
  });
});
