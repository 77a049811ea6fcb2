import { describe, expect, it } from 'vitest';
import { ingestText } from './ingest_text.ts';
import { athletesOf, canWrite, WRITTEN_LAYOUTS } from './written_layouts.ts';
import {
  ATHLETES,
  expectedFacts,
  factsOf,
  PLAIN,
  type Rows,
  type Style,
  textOf,
  turnedRows,
  WRITTEN_ROSTER,
  writtenHistory,
} from './written_sheets.ts';

const IDS = new Set(ATHLETES.map(({ id }) => id));
const DAY = /^2026-08-1\d$/;
const NUMBER = /^\d+(?:\.\d+)?$/;

/** A fault that a hand makes in a row, and the sheet that comes of it; undefined: this row cannot have it. */
type Fault = (rows: Rows, at: number) => Rows | undefined;

const replaced = (rows: Rows, at: number, wanted: (cell: string) => boolean, by: string): Rows | undefined => {
  const column = rows[at].findIndex(wanted);
  if (column < 0) return undefined;
  return rows.map((row, index) => (index === at ? row.with(column, by) : row));
};

const inserted = (rows: Rows, at: number, row: readonly string[]): Rows => rows.toSpliced(at + 1, 0, row);

const isId = (cell: string): boolean => IDS.has(cell);
const widthOf = (rows: Rows): number => Math.max(...rows.map((row) => row.length));

/** The numbers of a row that may be readings, as others would be: an average that nobody labelled. */
const numbersLike = (row: readonly string[], label: string): string[] | undefined => {
  const numbers = row.map((cell) => (NUMBER.test(cell) && Number(cell) > 3 ? '21' : ''));
  if (!numbers.includes('21')) return undefined;
  return label === '' ? numbers : [label, ...numbers.slice(1)];
};

const FAULTS: { readonly [fault: string]: Fault } = {
  'a name is forgotten': (rows, at) => replaced(rows, at, isId, ''),
  'a name is nobody’s': (rows, at) => replaced(rows, at, isId, 'K999'),
  'a date is forgotten': (rows, at) => replaced(rows, at, (cell) => DAY.test(cell), ''),
  'a date is none': (rows, at) => replaced(rows, at, (cell) => DAY.test(cell), '2026-08-32'),
  'a blank row': (rows, at) => inserted(rows, at, []),
  'an average': (rows, at) => {
    const row = numbersLike(rows[at], 'Average');
    return row && inserted(rows, at, row);
  },
  'a page header': (rows, at) =>
    inserted(rows, at, ['Thrumbleford College', ...Array.from({ length: widthOf(rows) - 2 }, () => ''), 'Page 2']),
  'a page header with a number': (rows, at) =>
    inserted(rows, at, ['Thrumbleford College', ...Array.from({ length: widthOf(rows) - 2 }, () => ''), '21']),
  'a footnote': (rows, at) => inserted(rows, at, ['* 2 of them repeated']),
};

/** An average that nobody labelled, among rows of trials of which only the first is named, may be one of them. */
const AVERAGES: { readonly [fault: string]: Fault } = {
  'an average without a label': (rows, at) => {
    const row = numbersLike(rows[at], '');
    return row && inserted(rows, at, row);
  },
};

function faultsOf(layout: string): readonly (readonly [fault: string, make: Fault])[] {
  const isCarried = layout.startsWith('the name on the first');
  return Object.entries(isCarried ? FAULTS : { ...FAULTS, ...AVERAGES });
}

const history = writtenHistory();

/** The sheet with one fault of a kind, at a row that is another one for each layout and kind. */
function sheetWith(rows: Rows, make: Fault, turn: number): Rows | undefined {
  const sheets = rows.map((_, at) => make(rows, at)).filter((sheet) => sheet !== undefined);
  return sheets.length === 0 ? undefined : sheets[(turn * 7) % sheets.length];
}

describe('a fault in a sheet costs readings, and never makes one somebody else’s', () => {
  for (const [place, [name, layout]] of Object.entries(WRITTEN_LAYOUTS).entries()) {
    const isAcross = name.startsWith('athletes across');
    const style: Style = { ...PLAIN, unit: canWrite(layout, PLAIN) ? 'heading' : 'column' };
    const written = layout.rows(athletesOf(layout), style);
    const rows = isAcross ? turnedRows(written) : written;
    const expected = new Set(expectedFacts(athletesOf(layout), layout.measures));
    it(name, async () => {
      for (const [turn, [fault, make]] of faultsOf(name).entries()) {
        // Where rows go with one another there is more to get wrong.
        for (const more of rows.length > 12 ? [0, 1] : [0]) {
          const sheet = sheetWith(rows, make, place + turn + more);
          if (sheet === undefined) continue;
          const dialect = { delimiter: ';', lineEnd: 'LF', quotes: 'needed' } as const;
          const text = textOf(isAcross ? turnedRows(sheet) : sheet, dialect);
          const ingested = await ingestText(text, {
            roster: WRITTEN_ROSTER,
            entry: layout.entry,
            history: layout.usesHistory ? history : undefined,
          });
          const facts = factsOf(ingested);
          const wrong = facts.filter((fact) => !expected.has(fact));
          const where = `${fault}:\n${text}`;
          expect(wrong, where).toEqual([]);
          expect(new Set(facts).size, where).toBe(facts.length);
          // What is lost is told.
          if (facts.length < expected.size) expect(ingested.rejects.length, where).toBeGreaterThan(0);
          const { cells, measured, not_measured, context, ignored, rejected } = ingested.ledger[0];
          expect(measured + not_measured + context + ignored + rejected).toBe(cells);
        }
      }
    });
  }
});
