import { describe, expect, it } from 'vitest';
import { type IngestGiven, ingestText } from './ingest_text.ts';
import { athletesOf, canWrite, WRITTEN_LAYOUTS, type WrittenLayout } from './written_layouts.ts';
import {
  type Dialect,
  LINE_ENDS,
  type Measured,
  PLAIN,
  type Rows,
  rowAt,
  type Style,
  textOf,
  WRITTEN_ROSTER,
  writtenHistory,
} from './written_sheets.ts';

/** One hop and one strength that nobody can read: a letter O in the place of a zero. */
const UNREADABLE = /\dO/;

const withUnreadable = (athletes: readonly Measured[]): readonly Measured[] =>
  athletes.map((athlete) => {
    if (athlete.id !== 'K003') return athlete;
    const { add, hop } = athlete;
    return {
      ...athlete,
      add: { ...add, right: ['2O', ...add.right.slice(1)] },
      hop: { ...hop, left: ['16O', ...hop.left.slice(1)] },
    };
  });

function styleFor(layout: WrittenLayout): Style {
  const unit = (['heading', 'column'] as const).find((one) => canWrite(layout, { ...PLAIN, unit: one }));
  return {
    ...PLAIN,
    who: 'last_first',
    unit: unit!,
    ...(canWrite(layout, { ...PLAIN, who: 'last_first' }) ? {} : { who: 'id' }),
  };
}

/** Line breaks in headings and in the cells that name a test, as a narrow column wraps them. */
const wrapped = (rows: Rows): Rows =>
  rows.map((row) => row.map((cell) => cell.replace(/^Hip (?=Add)/, 'Hip\n').replace(/^Ht$/, 'Standing\n height')));

/** Titles, one of them over two lines, and blank lines and rows on top. */
const titled = (rows: Rows): Rows => [
  ['Preseason screening,\n"the first"'],
  [],
  ...rows.slice(0, 0),
  ['', ''],
  ...rows,
  [],
  ['* NT: not\ntested'],
];

/** Remarks over several lines behind each row of an athlete. */
function withRemarks(rows: Rows): Rows {
  const width = Math.max(...rows.map((row) => row.length));
  const full = (row: readonly string[]): string[] => [...row, ...Array.from({ length: width - row.length }, () => '')];
  return rows.map((row, at) =>
    at === 0 ? [...full(row), 'Remarks'] : [...full(row), at % 2 === 0 ? 'fine,\n"really"\nfine' : ''],
  );
}

const history = writtenHistory();

function givenOf(layout: WrittenLayout): IngestGiven {
  return { roster: WRITTEN_ROSTER, entry: layout.entry, history: layout.usesHistory ? history : undefined, piece: 113 };
}

async function look(layout: WrittenLayout, rows: Rows, dialect: Omit<Dialect, 'encoding'>): Promise<string[]> {
  const text = textOf(rows, dialect);
  const { observations, rejects } = await ingestText(text, givenOf(layout));
  const wrong: string[] = [];
  for (const { line, column, raw } of [...observations, ...rejects]) {
    const cell = rowAt(text, line!, dialect.delimiter)[column! - 1]?.trim().replace(/\r\n?/g, '\n');
    if (cell !== raw!.replace(/\r\n?/g, '\n'))
      wrong.push(`${line}:${column} holds ${JSON.stringify(cell)}, not ${JSON.stringify(raw)}`);
  }
  expect(wrong).toEqual([]);
  expect(observations.length).toBeGreaterThan(10);
  return rejects.map(({ code, raw }) => `${code} ${UNREADABLE.test(raw!)}`);
}

const DIALECTS = (['LF', 'CRLF', 'mixed'] as const).map((lineEnd, at) => ({
  ...{ lineEnd, delimiter: ([',', ';', '\t'] as const)[at] },
  quotes: 'needed' as const,
}));

describe('line and column of every reading and reject, in every layout', () => {
  for (const [name, layout] of Object.entries(WRITTEN_LAYOUTS)) {
    const rows = layout.rows(withUnreadable(athletesOf(layout)), styleFor(layout));
    it.each(DIALECTS)(`${name}: $lineEnd`, async (dialect) => {
      const rejects = await look(layout, titled(wrapped(rows)), dialect);
      expect(new Set(rejects)).toEqual(new Set(['number_unreadable true']));
    });
  }

  it.each(['wide', 'two heading lines', 'a row a side', 'a row a test', 'averages and footnotes below', 'ditto marks'])(
    '%s, remarks over several lines behind the rows',
    async (name) => {
      const layout = WRITTEN_LAYOUTS[name];
      const rows = withRemarks(layout.rows(withUnreadable(athletesOf(layout)), styleFor(layout)));
      for (const dialect of DIALECTS) {
        const rejects = await look(layout, titled(rows), dialect);
        expect(new Set(rejects)).toEqual(new Set(['number_unreadable true']));
      }
    },
  );

  it('athletes across, remarks over several lines between the tests', async () => {
    const layout = WRITTEN_LAYOUTS['athletes across'];
    const [who, ...tests] = layout.rows(withUnreadable(athletesOf(layout)), styleFor(layout));
    const remark = ['Remarks', 'fine', 'fine,\nreally', '', '"so"\n\nso', '', ''];
    const rows = [['Preseason\nscreening'], who, remark, [], ...tests.slice(0, 4), [], ...tests.slice(4)];
    for (const dialect of DIALECTS) await look(layout, rows, dialect);
  });
});

describe('lines of what is left aside, rejected as a row or as a column', () => {
  it.each(Object.entries(LINE_ENDS))('%s', async (_, end) => {
    const rows = [
      '"Preseason screening,', // 1
      'the first"', // 2
      '', // 3
      'ID,Hop L,"Hop', // 4
      'norm",Remarks', // 5
      'K001,150,160,"fine,', // 6
      'really"', // 7
      'K999,151,160,', // 8
      '', // 9
      'Thrumbleford College,,,Page 2', // 10
      'ID,Hop L,"Hop', // 11
      'norm",Remarks', // 12
      'K002,152,160,', // 13
      'Average,151,160,', // 14
      '"* NT: not', // 15
      'tested"', // 16
    ];
    // A lone CR ends a line as well, but inside a cell it is a character of it: there the ends are not mixed.
    const text = rows.map((row, at) => row + end(at)).join('');
    const { observations, rejects, ignored } = await ingestText(text, {
      entry: { date: '2026-08-17' },
      roster: WRITTEN_ROSTER,
      piece: 5,
    });
    expect(observations.map(({ line, column, raw }) => `${line}:${column} ${raw}`)).toEqual(['6:2 150', '13:2 152']);
    expect(rejects.map(({ code, line, column }) => `${code} ${line}:${column}`)).toEqual([
      'heading_unknown 4:3',
      'athlete_unknown 8:1',
    ]);
    expect(ignored.map(({ reason, line }) => `${reason} ${line}`)).toEqual([
      'title_line 1',
      'remark 4',
      'page_header 10',
      'repeated_header 11',
      'summary_row 14',
      'footnote 15',
    ]);
  });
});
