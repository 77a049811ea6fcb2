import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvBytes } from '../../src/tables/csv_encode.ts';
import { LEDGER } from '../../src/tables/schemas.ts';
import { Table } from '../../src/tables/table.ts';
import { numberText } from './number_text.ts';

/** The one cell that a number becomes. */
function written(value: number): string {
  const table = new Table(LEDGER);
  table.extend(1);
  table.columns.cells.values[0] = value;
  const bytes = [...csvBytes(table as never)].map((piece) => Buffer.from(piece));
  return Buffer.concat(bytes).toString('utf8').split(',')[1];
}

describe('numbers in CSV', () => {
  it.each([
    0, -0, 1, -1, 10, 0.5, -0.05, 0.005, 0.001, 0.0005, 12.345, 12.3456, 999_999_999_999, 1e12, 1e-7, 1e21, 5e-324,
  ])('%s as ECMAScript prints it', (value) => {
    expect(written(value)).toBe(numberText(value));
  });

  it('as ECMAScript prints them, whatever they are (property)', () => {
    const decimal = fc
      .tuple(fc.integer({ min: -10_000_000, max: 10_000_000 }), fc.constantFrom(1, 10, 100, 1000, 10_000))
      .map(([n, d]) => n / d);
    fc.assert(
      fc.property(fc.oneof(decimal, fc.double({ noNaN: true, noDefaultInfinity: true })), (value) => {
        expect(written(value)).toBe(numberText(value));
      }),
    );
  });
});

describe('rows longer than a piece', () => {
  it('go out whole', () => {
    const table = new Table(LEDGER);
    table.extend(2);
    table.columns.file.codes[0] = table.columns.file.dictionary.code('é'.repeat(200_000));
    table.columns.file.codes[1] = table.columns.file.dictionary.code('b');
    let text = '';
    for (const piece of csvBytes(table as never)) text += Buffer.from(piece).toString('utf8');
    expect(text).toBe(`${'é'.repeat(200_000)},,,,,,\nb,,,,,,\n`);
  });
});
