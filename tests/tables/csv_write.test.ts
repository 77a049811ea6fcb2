import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTable } from '../../src/tables/csv_read.ts';
import { csvCell, guarded, unguarded } from '../../src/tables/csv_text.ts';
import { csvText } from '../../src/tables/csv_write.ts';
import { OBSERVATIONS } from '../../src/tables/schemas.ts';
import { Table } from '../../src/tables/table.ts';

describe('cells that a spreadsheet would run', () => {
  it.each([
    ['=1+1', "'=1+1"],
    ['@cmd', "'@cmd"],
    ['+note', "'+note"],
    ['-', "'-"],
    ["'=x", "''=x"],
    ['-12.5', '-12.5'],
    ['+3', '+3'],
    ['plain', 'plain'],
    ["O'Neil", "O'Neil"],
  ])('%s is written %s and read back', (text, safe) => {
    expect(guarded(text)).toBe(safe);
    expect(unguarded(safe)).toBe(text);
  });

  it('quotes what RFC 4180 asks for', () => {
    expect(csvCell('a,b')).toBe('"a,b"');
    expect(csvCell('a "b"')).toBe('"a ""b"""');
    expect(csvCell('=a,b')).toBe('"\'=a,b"');
  });

  it('gives back every text (property)', () => {
    fc.assert(fc.property(fc.string(), (text) => unguarded(guarded(text)) === text));
  });
});

describe('a table written and read', () => {
  it('is the same table (property)', async () => {
    const cell = fc.string({ unit: fc.constantFrom('a', 'B', ',', '"', '\n', ' ', '=', '-', '7', 'é') });
    const row = fc.record({
      id: cell,
      raw: cell,
      value: fc.double({ noNaN: true, noDefaultInfinity: true }),
      day: fc.integer({ min: 0, max: 30_000 }),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(row, { maxLength: 20 }), async (rows) => {
        const table = new Table(OBSERVATIONS);
        for (const { id, raw, value, day } of rows) {
          for (const spec of OBSERVATIONS) {
            if (spec.name === 'athlete_id') table.columns.athlete_id.push(id);
            else if (spec.name === 'raw') table.columns.raw.push(raw);
            else if (spec.name === 'value') table.columns.value.push(value);
            else if (spec.name === 'date') table.columns.date.pushDay(day);
            else (table.column(spec.name) as { push(value: null): void }).push(null);
          }
        }
        const bytes = [Buffer.from([...csvText(table as never)].join(''))];
        const back: unknown[] = [];
        for await (const batch of readTable(OBSERVATIONS, 'observations.csv', bytes)) back.push(...batch.rows());
        const plain = (values: Iterable<object>): unknown => JSON.parse(JSON.stringify([...values]));
        expect(plain(back as object[])).toEqual(plain(table.rows()));
      }),
    );
  });

  it('names line and column of a cell that is no number', async () => {
    const header = OBSERVATIONS.map((spec) => spec.name).join(',');
    const cells = OBSERVATIONS.map((spec) => (spec.name === 'value' ? 'many' : '')).join(',');
    const read = async () => {
      for await (const _ of readTable(OBSERVATIONS, 'observations.csv', [Buffer.from(`${header}\n${cells}\n`)]));
    };
    await expect(read()).rejects.toThrow('observations.csv:2:8: value "many" is not a number');
  });

  it('says which columns another file lacks, and which command reads sheets', async () => {
    const read = async () => {
      for await (const _ of readTable(OBSERVATIONS, 'hip.csv', [Buffer.from('athlete_id,date\nK001,2026-08-12\n')]));
    };
    await expect(read()).rejects.toThrow(
      /hip\.csv:1: is not a table of bilat: it has no column team, season, measure ….*\n.*bilat ingest hip\.csv/,
    );
  });
});
