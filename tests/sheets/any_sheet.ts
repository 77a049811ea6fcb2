import fc from 'fast-check';
import Papa from 'papaparse';
import { ROSTER } from './battery.ts';
import type { Ingested, IngestGiven } from './ingest_text.ts';

/** A sheet as text, and the mark that parts its cells. */
export interface Sheet {
  readonly text: string;
  readonly delimiter: string;
}

/** The same sheets in every run; others with BILAT_SEED, more of them with BILAT_RUNS in the environment. */
fc.configureGlobal({ seed: Number(process.env.BILAT_SEED ?? 17) });

export const NUMBER_OF_RUNS = Number(process.env.BILAT_RUNS ?? 100);

export const HEADINGS = [
  ...['ID', 'Name', 'First', 'Last', 'Team', 'Sex', 'Date', 'Test', 'Side', 'Trial', 'Value', 'Unit', 'Status'],
  ...['Tester', 'Hip Add L (kg)', 'Hip Add R (kg)', 'Hip Add 1 (lbs)', 'Hip Add L', 'Hop L', 'Hop R', 'Hop D', 'Hop'],
  ...['Ht', 'Wt (lb)', 'BP', 'BP 2', 'Sprint', 'Squat', 'Hip IR L', 'Reach L', 'Hop best', 'Remarks', 'Age', 'L', 'R'],
  ...['1', '', ' ', 'Thing', '__proto__', 'constructor', 'x,y', 'a;b', 'two\nlines', '"quoted"', '=1+1', 'Hop (kg)'],
];

export const CELLS = [
  ...['', '', '', ' ', '\t', '20', '21.5', '7,5', '180', '150', '1', '2', '3', '-99', '-1', '0', '1e9', '99999'],
  ...['NT', 'DNT', 'N/A', '#N/A', '#DIV/0!', '####', '-', 'WNL', 'pain', 'P', '32 P', 'unable', 'inj', '>30', '~35'],
  ...['1O', '118/72', '118/', '118', '118 P', '148/92 → 132/84', '150/160', '150; 152; 149', 'L 150 R 160', '0-135'],
  ...['5\'11"', '5-11', '5.11', '511', '71 in', '1.80 m', '0:01.92', '45°', '120#', '12.5cm', '32, 34, 33', '35 40'],
  ...['K001', 'K002', 'k 3', 'K014', 'K0014', 'Bo Reed', 'Reed, Bo', 'Kim Moss', 'Zed', 'ID', 'Date', 'Hop L'],
  ...['2026-08-17', '17/08/2026', '03/04/2026', '31/02/2026', '45000', 'yesterday', 'do.', '-"-', 'ditto', 'Average'],
  ...['L', 'R', 'left', 'both', 'D', 'ND', 'X', 'Hip Add', 'Hop L', 'BP', 'Height', 'Reach', 'kg', 'cm', 'N', 'ok'],
  ...['void', 'a,b', 'a;b', 'two\nlines', 'say "hi"', '"', "'", '=1+1', '\u00e9', '😀', 'x'.repeat(1200), '__proto__'],
  ...['Page 2 of 3', 'Rowing', '* sore', 'Mean', 'SD', 'Max', 'Team avg', 'Team: Rowing', 'Key: NT = not tested'],
];

/** A cell as a spreadsheet program writes it. */
export const quoted = (cell: string, delimiter: string): string =>
  cell.startsWith('"') || cell.includes('\n') || cell.includes(delimiter) ? `"${cell.replaceAll('"', '""')}"` : cell;

export const anyDelimiter = fc.constantFrom(',', ';', '\t');
export const anyLineEnds = fc.array(fc.constantFrom('\n', '\r\n', '\r'), { minLength: 1, maxLength: 3 });

/** A sheet of rows of cells, its lines ended in turn by these. */
export function writtenSheet(
  rows: readonly (readonly string[])[],
  delimiter: string,
  lineEnds: readonly string[],
  lastLineEnd: boolean,
): Sheet {
  const lines = rows.map((row) => row.map((cell) => quoted(cell, delimiter)).join(delimiter));
  // A carriage return before an empty line and its line feed would be one line end, not two.
  const endOf = (at: number): string => (lines[at + 1] === '' ? '\n' : lineEnds[at % lineEnds.length]);
  const text = lines.map((line, at) => line + endOf(at)).join('');
  return { text: lastLineEnd ? text : text.replace(/(\r\n|\n|\r)$/, ''), delimiter };
}

/** Headings and cells without any sense. */
export const jumbledSheet: fc.Arbitrary<Sheet> = fc
  .record({
    titles: fc.array(fc.constantFrom('Hip station', '', 'Tester,J. Mill', '17 August'), { maxLength: 2 }),
    headings: fc.array(fc.constantFrom(...HEADINGS), { minLength: 1, maxLength: 9 }),
    rows: fc.array(fc.array(fc.constantFrom(...CELLS), { maxLength: 11 }), { maxLength: 14 }),
    athlete: fc.constantFrom('ID', 'Name', ''),
    delimiter: anyDelimiter,
    lineEnds: anyLineEnds,
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
    return writtenSheet(all, delimiter, lineEnds, lastLineEnd);
  });

/** The rows of a sheet as the parser cuts them, each with the physical line on which it begins. */
export function rowsOf({ text, delimiter }: Sheet): { line: number; cells: string[] }[] {
  const unified = text.replace(/\r\n?/g, '\n');
  const { data } = Papa.parse<string[]>(unified, { delimiter, newline: '\n' });
  let line = 1;
  return data.map((cells) => {
    const row = { line, cells };
    line += 1 + cells.reduce((sum, cell) => sum + cell.split('\n').length - 1, 0);
    return row;
  });
}

const WORLDS: readonly IngestGiven[] = [
  { entry: { date: '2026-08-17' } },
  { entry: { date: '2026-08-17', units: { hip_add: 'kgf' } }, roster: ROSTER },
  { roster: ROSTER, unlisted: 'keep' },
];

/** What ingest knows beside the sheet. */
export const anyWorld: fc.Arbitrary<IngestGiven> = fc.constantFrom(...WORLDS);

/** The delimiter is declared, so that the reader and the parser beside it cut the same cells. */
export const given = (world: IngestGiven, { delimiter }: Sheet): IngestGiven => ({
  ...world,
  entry: { ...world.entry, delimiter: delimiter as ',' | ';' | '\t' },
});

/** A sheet of which nothing was read is counted in commas: nobody knows its delimiter. */
export const isRead = ({ rejects }: Ingested): boolean => !rejects.some(({ line }) => line === null);
