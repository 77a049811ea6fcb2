import fc from 'fast-check';
import { expect, it } from 'vitest';
import { csvBytes } from '../../src/tables/csv_encode.ts';
import { csvCell } from '../../src/tables/csv_text.ts';
import { PackedCells } from '../../src/tables/packed_cells.ts';
import { type Schema, Table } from '../../src/tables/table.ts';
import { numberText } from './number_text.ts';

const SCHEMA = [
  { name: 'athlete_id', kind: 'text', title: 'athlete' },
  { name: 'date', kind: 'date', title: 'day' },
  { name: 'value', kind: 'number', title: 'number' },
  { name: 'raw', kind: 'string', title: 'cell as written' },
] as const satisfies Schema;

it('packed cells hold their bytes and the comma behind them', () => {
  const cells = new PackedCells();
  for (const text of ['K001', '', 'Løper', 'a "b", c']) cells.add(text);
  const bytes = Buffer.from(cells.words.buffer);
  const texts = cells.starts.map((start, at) => bytes.toString('utf8', start * 4, start * 4 + cells.lengths[at]));
  expect(texts).toEqual(['K001,', ',', 'Løper,', '"a ""b"", c",']);
});

it('a row is its cells joined by commas, whether or not columns say the same in every row', () => {
  const text = fc.oneof(fc.constantFrom('K001', '=1+1', 'a,b', 'x'.repeat(1500)), fc.string({ maxLength: 12 }));
  const row = fc.record({
    athlete_id: fc.option(text),
    date: fc.constantFrom(null, '2026-08-12', '2026-08-13'),
    value: fc.option(fc.double({ noNaN: true, noDefaultInfinity: true })),
    raw: fc.option(text),
  });
  fc.assert(
    fc.property(fc.array(row, { minLength: 1, maxLength: 300 }), fc.boolean(), (rows, repeated) => {
      const shown = repeated ? rows.map((one) => ({ ...rows[0], raw: one.raw })) : rows;
      const table = new Table(SCHEMA);
      for (const one of shown) {
        table.columns.athlete_id.push(one.athlete_id);
        table.columns.date.push(one.date);
        table.columns.value.push(one.value);
        table.columns.raw.push(one.raw);
      }
      const written = Buffer.concat([...csvBytes(table)].map((piece) => Buffer.from(piece))).toString('utf8');
      const expected = shown.map(({ athlete_id, date, value, raw }) =>
        [csvCell(athlete_id ?? ''), date ?? '', value === null ? '' : numberText(value), csvCell(raw ?? '')].join(','),
      );
      expect(written).toBe(`${expected.join('\n')}\n`);
    }),
  );
});
