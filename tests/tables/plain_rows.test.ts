import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutRows, RowCutter } from '../../src/tables/csv_rows.ts';
import { PlainRowCutter } from '../../src/tables/plain_rows.ts';

function cut(text: string, delimiter = ','): string[][] {
  const rows: string[][] = [];
  new PlainRowCutter(delimiter).cut(text, 0, text.length, rows);
  return rows;
}

describe('rows of text without quotes', () => {
  it.each([
    ['a row as wide as the one above it', 'K001,hop,1\nK001,hop,2\n'],
    ['a narrower and a wider row', 'a,b,c\na\na,b,c,d\n'],
    ['blank rows and blank cells', '\n,\n\n,,\na,,b\n'],
    ['a cell that begins like the one above it', 'ab,x\na,x\nabc,x\n'],
    ['a cell that goes on where the one above it has a delimiter', 'a,b\na b\n'],
  ])('are cut at each delimiter: %s', (_, text) => {
    // Worked out by hand: without quotes, each line feed ends a row and each delimiter a cell.
    const lines = text.split('\n').slice(0, -1);
    expect(cut(text)).toEqual(lines.map((line) => line.split(',')));
  });

  it('share the strings of cells that do not change', () => {
    const long = 'an athlete whose name is long';
    const [first, second] = cut(`${long};1\n${long};2\n`, ';');
    expect(second[0]).toBe(first[0]);
    expect(second).not.toBe(first);
  });
});

it('rows are the same however the text is cut into pieces, with quotes or without', () => {
  const cell = fc.constantFrom('', 'a', 'ab', '12.5', ' ', 'é', '"q,r"', '"two\nlines"');
  const rows = fc.array(fc.array(cell, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 12 });
  fc.assert(
    fc.property(rows, fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1 }), (table, lengths) => {
      const text = table.map((row) => `${row.join(',')}\n`).join('');
      const cutter = new RowCutter(',');
      const found: string[][] = [];
      for (let at = 0, piece = 0; at < text.length; piece++) {
        const end = at + lengths[piece % lengths.length];
        found.push(...cutter.push(text.slice(at, end)).rows);
        at = end;
      }
      found.push(...cutter.end().block.rows);
      expect(found).toEqual(cutRows(text, ',').rows);
      const plain = table.map((row) => row.map((one) => one.replaceAll('"', '')));
      expect(found).toEqual(plain);
    }),
  );
});
