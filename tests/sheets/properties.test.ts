import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { convert, parseUnit } from '../../src/units/unit.ts';
import { ROSTER } from './battery.ts';
import { type Ingested, type IngestGiven, ingestText, protocolOf } from './ingest_text.ts';

const protocol = protocolOf();
const NUMBER_OF_RUNS = 200;

const HEADINGS = [
  ...[
    'ID',
    'Name',
    'First',
    'Last',
    'Team',
    'Sex',
    'Date',
    'Test',
    'Side',
    'Trial',
    'Value',
    'Unit',
    'Status',
    'Tester',
  ],
  ...[
    'Hip Add L (kg)',
    'Hip Add R (kg)',
    'Hip Add 1 (lbs)',
    'Hip Add L',
    'Hop L',
    'Hop R',
    'Hop D',
    'Hop',
    'Ht',
    'Wt (lb)',
  ],
  ...['BP', 'BP 2', 'Sprint', 'Squat', 'Hip IR L', 'Reach L', 'Hop best', 'Remarks', 'Age', 'L', 'R', '1'],
  ...['', ' ', 'Thing', '__proto__', 'constructor', 'x,y', 'a;b', 'two\nlines', '"quoted"', '=1+1', 'Hop (kg)'],
];

const CELLS = [
  ...['', '', '', ' ', '\t', '20', '21.5', '7,5', '180', '150', '1', '2', '3', '-99', '-1', '0', '1e9', '99999'],
  ...[
    'NT',
    'DNT',
    'N/A',
    '#N/A',
    '#DIV/0!',
    '####',
    '-',
    'WNL',
    'pain',
    'P',
    '32 P',
    'unable',
    'inj',
    '>30',
    '~35',
    '1O',
  ],
  ...[
    '118/72',
    '118/',
    '118',
    '118 P',
    '5\'11"',
    '5-11',
    '5.11',
    '511',
    '71 in',
    '1.80 m',
    '0:01.92',
    '45°',
    '120#',
    '12.5cm',
  ],
  ...['K001', 'K002', 'k 3', 'K014', 'K0014', 'Bo Reed', 'Reed, Bo', 'Kim Moss', 'Zed', 'ID', 'Date', 'Hop L'],
  ...['2026-08-17', '17/08/2026', '03/04/2026', '31/02/2026', '45000', 'yesterday'],
  ...[
    'L',
    'R',
    'left',
    'both',
    'D',
    'ND',
    'X',
    'Hip Add',
    'Hop L',
    'BP',
    'Height',
    'Reach',
    'kg',
    'cm',
    'N',
    'ok',
    'void',
  ],
  ...['a,b', 'a;b', 'two\nlines', 'say "hi"', '"', "'", '=1+1', '\u00e9', '😀', 'x'.repeat(1200), '__proto__'],
];

const quoted = (cell: string, delimiter: string): string =>
  cell.startsWith('"') || cell.includes('\n') || cell.includes(delimiter) ? `"${cell.replaceAll('"', '""')}"` : cell;

interface Sheet {
  readonly text: string;
  readonly delimiter: string;
}

const anySheet: fc.Arbitrary<Sheet> = fc
  .record({
    titles: fc.array(fc.constantFrom('Hip station', '', 'Tester,J. Mill', '17 August'), { maxLength: 2 }),
    headings: fc.array(fc.constantFrom(...HEADINGS), { minLength: 1, maxLength: 9 }),
    rows: fc.array(fc.array(fc.constantFrom(...CELLS), { maxLength: 11 }), { maxLength: 14 }),
    athlete: fc.constantFrom('ID', 'Name', ''),
    delimiter: fc.constantFrom(',', ';', '\t'),
    lineEnds: fc.array(fc.constantFrom('\n', '\r\n', '\r'), { minLength: 1, maxLength: 3 }),
    lastLineEnd: fc.boolean(),
  })
  .map(({ titles, headings, rows, athlete, delimiter, lineEnds, lastLineEnd }) => {
    const first = athlete === '' ? [] : [athlete];
    const who = ['K001', 'K002', 'k 3', 'Bo Reed', 'K999', ''];
    const all = [
      ...titles.map((title) => [title]),
      [...first, ...headings],
      ...rows.map((row, at) => [...first.map(() => who[at % who.length]), ...row]),
    ];
    const lines = all.map((row) => row.map((cell) => quoted(cell, delimiter)).join(delimiter));
    const text = lines.map((line, at) => line + lineEnds[at % lineEnds.length]).join('');
    return { text: lastLineEnd ? text : text.replace(/(\r\n|\n|\r)$/, ''), delimiter };
  });

/** The rows of a sheet as the parser cuts them, each with the physical line on which it begins. */
function rowsOf({ text, delimiter }: Sheet): { line: number; cells: string[] }[] {
  const unified = text.replace(/\r\n?/g, '\n');
  const { data } = Papa.parse<string[]>(unified, { delimiter, newline: '\n' });
  let line = 1;
  return data.map((cells) => {
    const row = { line, cells };
    line += 1 + cells.reduce((sum, cell) => sum + cell.split('\n').length - 1, 0);
    return row;
  });
}

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

const WORLDS: readonly IngestGiven[] = [
  { entry: { date: '2026-08-17' } },
  { entry: { date: '2026-08-17', units: { hip_add: 'kgf' } }, roster: ROSTER },
  { roster: ROSTER, unlisted: 'keep' },
];
const anyWorld = fc.constantFrom(...WORLDS);

/** The delimiter is declared, so that the reader and the parser beside it cut the same cells. */
const given = (world: IngestGiven, { delimiter }: Sheet): IngestGiven => ({
  ...world,
  entry: { ...world.entry, delimiter: delimiter as ',' | ';' | '\t' },
});

/** A sheet of which nothing was read is counted in commas: nobody knows its delimiter. */
const isRead = ({ rejects }: Ingested): boolean => !rejects.some(({ line }) => line === null);

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
        for (const { value, unit, written_in, raw, status } of observations) {
          if (value === null) continue;
          expect(['measured', 'pain']).toContain(status);
          const written = convert(value, parseUnit(unit!)!, parseUnit(written_in!)!);
          const numbers = (raw!.match(/\d+(?:[.,]\d+)?/g) ?? []).map((text) => Number(text.replace(',', '.')));
          const isClock = /^\d+:\d/.test(raw!);
          const feet = /^[3-8] ?['-]/.test(raw!) ? numbers[0] * 12 + (numbers[1] ?? 0) : Number.NaN;
          const near = [...numbers, feet].some((number) => Math.abs(Math.abs(written) - number) <= 1e-9 * number);
          expect([raw, written, near || isClock]).toEqual([raw, written, true]);
        }
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

  it('a name is in no cell of any table, and in no note', async () => {
    const names = fc.constantFrom('Reed, Bo', 'Bo Reed', 'Kim Moss', 'Quentin Zeal', 'Zeal 2nd', 'Moss (K003)', '');
    // Names stand in their column only, and no row of the body may be taken for the headings.
    const others = CELLS.filter((cell) => !/Reed|Moss|ID|Date|Hop|Hip|BP|Height|Reach/.test(cell));
    const rows = fc.array(fc.tuple(names, fc.array(fc.constantFrom(...others), { maxLength: 9 })));
    const headings = fc.array(fc.constantFrom(...HEADINGS), { minLength: 1, maxLength: 6 });
    const where = fc.constantFrom('Name', 'Athlete', 'Last', 'ID', 'Remarks', 'nothing that is known');
    await fc.assert(
      fc.asyncProperty(where, headings, rows, anyWorld, async (heading, besides, cells, world) => {
        const table = [[heading, ...besides, 'Hop L'], ...cells.map(([name, row]) => [name, ...row])];
        const text = table.map((row) => row.map((cell) => quoted(cell, ',')).join(',')).join('\n');
        expect(JSON.stringify(await ingestText(text, world))).not.toMatch(/Reed|Moss|Zeal/);
      }),
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
    await fc.assert(
      fc.asyncProperty(marks, body, declared, async (mark, bytes, encoding) => {
        const head = `${mark}ID,Date,Hip Add L (kg),BP,Ht,Status\nK001,2026-08-17,20,118/72,180,\n`;
        const sheet = Buffer.concat([Buffer.from(head), bytes]);
        expectBalance(await ingestText(sheet, { entry: { date: '2026-08-17', encoding: encoding as 'utf-8' } }));
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('characters that matter to the reader, in any order, never throw', async () => {
    const pieces = fc.constantFrom(
      '"',
      ',',
      ';',
      '\t',
      '\n',
      '\r',
      'ID',
      'Hop L',
      'K001',
      '150',
      ' ',
      "'",
      '(',
      '[',
      '/',
      '#',
      '\u00a0',
    );
    await fc.assert(
      fc.asyncProperty(fc.array(pieces, { maxLength: 120 }), async (parts) => {
        expectBalance(await ingestText(parts.join(''), { entry: { date: '2026-08-17' } }));
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it.each([
    ['a cell of ten million characters', `ID,Hop L\nK001,"${'x'.repeat(10_000_000)}"\nK002,150\n`],
    ['one line of a million characters', `ID,Hop L\nK001,${'x'.repeat(1_000_000)}\n`],
    ['a million blank lines', `ID,Hop L\n${'\n'.repeat(1_000_000)}K001,150\n`],
    ['an open quote over two million characters', `ID,Hop L\nK001,"${'1,2\n'.repeat(500_000)}`],
    ['quotes that open and close', `ID,Hop L\n${'K001,"1"\n'.repeat(100_000)}`],
    ['200 000 cells in a row', `ID,Hop L\nK001,150${',1'.repeat(200_000)}\n`],
    ['headings of 300 000 characters', `ID,${'(a'.repeat(150_000)},Hop L\nK001,1,150\n`],
  ])('%s take no time', async (_, text) => {
    const started = performance.now();
    expectBalance(await ingestText(text, { entry: { date: '2026-08-17' } }));
    expect(performance.now() - started).toBeLessThan(10_000);
  });
});
