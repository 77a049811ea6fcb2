import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convert, parseUnit } from '../../src/units/unit.ts';
import { anyWorld, CELLS, given, HEADINGS, isRead, NUMBER_OF_RUNS, quoted, rowsOf, type Sheet } from './any_sheet.ts';
import { type Ingested, ingestText, type Observation, protocolOf } from './ingest_text.ts';
import { anySheet } from './made_sheet.ts';

const protocol = protocolOf();

const filledCells = (sheet: Sheet): number =>
  rowsOf(sheet).reduce((sum, { cells }) => sum + cells.filter((cell) => cell.trim() !== '').length, 0);

const sum = (numbers: readonly (number | null)[]): number =>
  numbers.reduce<number>((total, each) => total + (each ?? 0), 0);

function expectBalance({ ledger, rejects, ignored }: Ingested): void {
  const [row] = ledger;
  expect(ledger).toHaveLength(1);
  expect(row.cells).toBe(sum([row.measured, row.not_measured, row.context, row.ignored, row.rejected]));
  expect(sum(rejects.map(({ cells }) => cells))).toBe(row.rejected);
  expect(sum(ignored.map(({ cells }) => cells))).toBe(row.ignored);
  for (const count of Object.values(row)) if (typeof count === 'number') expect(count).toBeGreaterThanOrEqual(0);
}

/** Every number that a hand could have meant by a cell: points and commas as either, feet and inches, clock times. */
function numbersIn(raw: string): number[] {
  const text = raw.replace(/½/g, ' 1/2').replaceAll('’', "'");
  const whole = (text.match(/\d+/g) ?? []).map(Number);
  const broken = (text.match(/\d*[.,]\d+/g) ?? []).map((number) => Number(number.replace(',', '.')));
  const scientific = (text.match(/\d+(?:\.\d+)?e[+-]?\d+/gi) ?? []).map(Number);
  const thousands = (text.match(/\d{1,3}(?:[,. ']\d{3})+/g) ?? []).map((number) => Number(number.replace(/\D/g, '')));
  const all = [...whole, ...broken];
  const pairs = all.slice(1).flatMap((second, at) => {
    const first = all[at];
    return [first * 12 + second, first + second / 100, first * 60 + second];
  });
  const fractions = whole.length >= 3 ? [whole[0] + whole[1] / whole[2]] : [];
  const clocks = (text.match(/\d+:\d+(?:\.\d+)?/g) ?? []).map((clock) => {
    const [minutes, seconds] = clock.split(':').map(Number);
    return minutes * 60 + seconds;
  });
  return [...all, ...scientific, ...thousands, ...pairs, ...fractions, ...clocks];
}

function expectWritten({ value, unit, written_in, raw, status }: Observation): void {
  if (value === null) return;
  expect(['measured', 'pain']).toContain(status);
  const written = Math.abs(convert(value, parseUnit(unit!)!, parseUnit(written_in!)!));
  const isNear = numbersIn(raw!).some((number) => Math.abs(written - number) <= 1e-9 * number);
  expect([raw, written, isNear]).toEqual([raw, written, true]);
}

describe('over generated sheets', () => {
  it('the ledger adds up', async () => {
    await fc.assert(
      fc.asyncProperty(anySheet, anyWorld, fc.constantFrom(1, 7, 65_536), async (sheet, world, piece) => {
        const ingested = await ingestText(sheet.text, { ...given(world, sheet), piece });
        expectBalance(ingested);
        if (isRead(ingested)) expect(ingested.ledger[0].cells).toBe(filledCells(sheet));
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('line and column point at the cell', async () => {
    await fc.assert(
      fc.asyncProperty(anySheet, anyWorld, async (sheet, world) => {
        const { observations, rejects } = await ingestText(sheet.text, given(world, sheet));
        const lines = new Map(rowsOf(sheet).map(({ line, cells }) => [line, cells]));
        for (const { line, column, raw } of observations) {
          expect(lines.get(line!)?.[column! - 1]?.trim()).toBe(raw);
        }
        for (const { line, column, raw, code } of rejects) {
          if (line === null || code === null) continue;
          expect(lines.has(line)).toBe(true);
          // A name is not repeated, a long cell is cut, and the headings of one column may stand on two lines.
          if (column === null || raw === null || raw.length > 1000) continue;
          if (code.startsWith('heading_') || code.startsWith('unit_')) continue;
          const cell = lines.get(line)?.[column - 1]?.trim();
          // What may be a name is not repeated.
          if (raw === '…') continue;
          // An athlete may be named in two columns.
          if (code.startsWith('athlete_')) expect(raw).toContain(cell ?? '');
          else expect([code, cell]).toEqual([code, raw]);
        }
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('every value is written in the sheet, up to its unit', async () => {
    await fc.assert(
      fc.asyncProperty(anySheet, anyWorld, async (sheet, world) => {
        const { observations } = await ingestText(sheet.text, given(world, sheet));
        for (const observation of observations) expectWritten(observation);
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('every observation is one that the contract allows', async () => {
    await fc.assert(
      fc.asyncProperty(anySheet, anyWorld, async (sheet, world) => {
        const { observations } = await ingestText(sheet.text, given(world, sheet));
        for (const { measure, side, trial, value, status, date, season, athlete_id } of observations) {
          const known = protocol.byName.get(measure!)!;
          expect(known.derivation).toBeUndefined();
          expect(known.sides === 'none' ? ['none'] : ['left', 'right', 'both']).toContain(side);
          expect(trial).toBeGreaterThanOrEqual(1);
          if (status === 'measured') expect(value).not.toBeNull();
          else if (status !== 'pain') expect(value).toBeNull();
          expect([athlete_id, date, season]).not.toContain(null);
          if (value !== null && known.plausible && side !== 'both') {
            expect(value).toBeGreaterThanOrEqual(known.plausible[0] - 1e-9);
            expect(value).toBeLessThanOrEqual(known.plausible[1] + 1e-9);
          }
        }
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('pieces of any length give the same tables', async () => {
    await fc.assert(
      fc.asyncProperty(anySheet, anyWorld, fc.integer({ min: 1, max: 40 }), async (sheet, world, piece) => {
        const whole = await ingestText(sheet.text, world);
        expect(await ingestText(sheet.text, { ...world, piece })).toEqual(whole);
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('rows stand in the order of their lines and columns, what holds for a whole line first', async () => {
    const inOrder = (rows: readonly { line: number | null; column: number | null }[]): void => {
      const keys = rows.map(({ line, column }) => [line ?? 0, column ?? 0]);
      expect(keys).toEqual([...keys].sort((one, other) => one[0] - other[0] || one[1] - other[1]));
    };
    /** Both sides may stand in one cell, each with its own count of trials. */
    const trialsInOrder = (rows: readonly Observation[]): void => {
      const latest = new Map<string, number>();
      for (const { line, column, measure, side, trial } of rows) {
        const cell = [line, column, measure, side].join(' ');
        expect(trial).toBeGreaterThanOrEqual(latest.get(cell) ?? 1);
        latest.set(cell, trial!);
      }
    };
    await fc.assert(
      fc.asyncProperty(anySheet, anyWorld, async (sheet, world) => {
        const { observations, rejects, ignored } = await ingestText(sheet.text, given(world, sheet));
        for (const rows of [observations, rejects, ignored]) inOrder(rows);
        trialsInOrder(observations);
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('a name is in no cell of any table, and in no note', async () => {
    const names = fc.constantFrom(
      'Reed, Bo',
      'Bo Reed',
      'Kim Moss',
      'Quentin Zeal',
      'Zeal 2nd',
      'Moss (K003)',
      '',
      '"',
    );
    // Names stand in their column only, and no row of the body may be taken for the headings.
    const others = CELLS.filter((cell) => !/Reed|Moss|ID|Date|Hop|Hip|BP|Height|Reach/.test(cell));
    const rows = fc.array(fc.tuple(names, fc.array(fc.constantFrom(...others), { maxLength: 9 })));
    const headings = fc.array(fc.constantFrom(...HEADINGS), { minLength: 1, maxLength: 6 });
    const where = fc.constantFrom('Name', 'Athlete', 'Last', 'ID', 'Remarks', 'nothing that is known');
    await fc.assert(
      fc.asyncProperty(
        where,
        headings,
        rows,
        anyWorld,
        fc.boolean(),
        async (heading, besides, cells, world, across) => {
          const table = [[heading, ...besides, 'Hop L'], ...cells.map(([name, row]) => [name, ...row])];
          const width = Math.max(...table.map((row) => row.length));
          const turned = Array.from({ length: width }, (_, at) => table.map((row) => row[at] ?? ''));
          const text = (across ? turned : table)
            .map((row) => row.map((cell) => quoted(cell, ',')).join(','))
            .join('\n');
          const { athletes, ...tables } = await ingestText(text, world);
          expect(JSON.stringify([tables, athletes])).not.toMatch(/Reed|Moss|Zeal/);
        },
      ),
      { numRuns: NUMBER_OF_RUNS },
    );
  });
});

describe('arbitrary input', () => {
  it('bytes never throw', async () => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 600 }), fc.integer({ min: 1, max: 64 }), async (bytes, piece) => {
        expectBalance(await ingestText(bytes, { piece }));
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('bytes behind a heading line never throw', async () => {
    const marks = fc.constantFrom('', '\ufeff');
    const body = fc.uint8Array({ maxLength: 400 });
    const declared = fc.constantFrom(undefined, 'utf-8', 'utf-16le', 'utf-16be', 'windows-1252');
    const layout = fc.constantFrom(undefined, 'down', 'across');
    await fc.assert(
      fc.asyncProperty(marks, body, declared, layout, async (mark, bytes, encoding, direction) => {
        const head = `${mark}ID,Date,Hip Add L (kg),BP,Ht,Status\nK001,2026-08-17,20,118/72,180,\n`;
        const sheet = Buffer.concat([Buffer.from(head), bytes]);
        const entry = { date: '2026-08-17', encoding: encoding as 'utf-8', layout: direction as 'down' };
        expectBalance(await ingestText(sheet, { entry }));
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('characters that matter to the reader, in any order, never throw', async () => {
    const pieces = fc.constantFrom(
      ...['"', ',', ';', '\t', '\n', '\r', 'ID', 'Hop L', 'K001', '150', ' ', "'", '(', '[', '/', '#', '\u00a0', 'L/R'],
      ...[
        'Average',
        'Page 2',
        '* ',
        'Date',
        'Team',
        'Rowing',
        '-"-',
        '→',
        '½',
        '°',
        '\u0300',
        '\ufeff',
        '\u200b',
        '😀',
      ],
    );
    await fc.assert(
      fc.asyncProperty(fc.array(pieces, { maxLength: 120 }), async (parts) => {
        expectBalance(await ingestText(parts.join(''), { entry: { date: '2026-08-17' } }));
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });
});
