import { describe, expect, it } from 'vitest';
import { type Ingested, ingestSheets, ingestText, type Observation } from './ingest_text.ts';
import { ENCODINGS, LINE_ENDS, type Rows } from './written_sheets.ts';

/** Invented readings as hands would write them: adduction L1 R1 L2 R2 in kilograms, height. */
const ATHLETES = [
  ['K001', '2026-08-17', '20', '21.5', '22', '20.5', '180'],
  ['K002', '2026-08-17', '18', 'NT', '32 P', '17', '5’11”'],
  ['K003', '2026-08-18', '25.5', '25', 'unable', '', "5'7"],
  ['K004', '2026-08-18', '45 lbs', '210 N', '', '30', 'N/A'],
] as const;

const LAYOUTS: { readonly [layout: string]: Rows } = {
  wide: [
    ['ID', 'Date', 'Hip Add L 1 (kg)', 'Hip Add R 1 (kg)', 'Hip Add L 2 (kg)', 'Hip Add R 2 (kg)', 'Ht'],
    ...ATHLETES,
  ],
  'two heading lines': [
    ['ID', 'Date', 'Hip Add (kg)', '', '', '', 'Ht'],
    ['', '', 'L 1', 'R 1', 'L 2', 'R 2', ''],
    ...ATHLETES,
  ],
  'a row a side': [
    ['ID', 'Date', 'Side', 'Hip Add 1 (kg)', 'Hip Add 2 (kg)', 'Ht'],
    ...ATHLETES.flatMap(([id, date, left1, right1, left2, right2, height]) => [
      [id, date, 'L', left1, left2, height],
      [id, date, 'Right', right1, right2, ''],
    ]),
  ],
  'a row a test': [
    ['ID', 'Date', 'Test', 'Side', 'Trial', 'Value', 'Unit'],
    ...ATHLETES.flatMap(([id, date, left1, right1, left2, right2, height]) => [
      [id, date, 'Hip Add', 'L', '1', left1, 'kg'],
      [id, date, 'Hip Adduction', 'R', '1', right1, 'kg'],
      [id, date, 'adductors', 'L', '2', left2, 'kg'],
      [id, date, 'Hip Add R', '', '2', right2, 'kg'],
      [id, date, 'Height', '', '', height, ''],
    ]),
  ],
};

const DELIMITERS = [',', ';', '\t'] as const;

function written(rows: Rows, delimiter: string, lineEnd: (at: number) => string): string {
  return rows.map((row, at) => row.join(delimiter) + lineEnd(at)).join('');
}

const PLACES = ['file', 'line', 'column', 'raw', 'written_in', 'unit_from'] as const;

/** Observations without what tells where they stood, in one order. */
function facts({ observations }: Ingested): string[] {
  return observations
    .map((observation: Observation) => {
      const fact: Record<string, unknown> = { ...observation };
      for (const place of PLACES) delete fact[place];
      return JSON.stringify(fact);
    })
    .sort();
}

const reference = facts(await ingestText(written(LAYOUTS.wide, ',', LINE_ENDS.LF)));

describe('one data set', () => {
  it('is read whole', async () => {
    const { observations, rejects, ledger } = await ingestText(written(LAYOUTS.wide, ',', LINE_ENDS.LF));
    // 7 columns × 4 athletes and the headings, two cells blank: 33. Worked out by hand.
    expect(ledger).toEqual([
      { file: 'sheet.csv', cells: 33, measured: 15, not_measured: 3, context: 15, ignored: 0, rejected: 0 },
    ]);
    expect([observations.length, rejects.length]).toEqual([18, 0]);
  });

  for (const [layout, rows] of Object.entries(LAYOUTS)) {
    for (const delimiter of DELIMITERS) {
      for (const [lineEnd, mark] of Object.entries(LINE_ENDS)) {
        it.each(Object.entries(ENCODINGS))(
          `${layout}, ${JSON.stringify(delimiter)}, ${lineEnd}, %s`,
          async (_, encode) => {
            const ingested = await ingestText(encode(written(rows, delimiter, mark)), { piece: 7 });
            expect(ingested.rejects).toEqual([]);
            expect(facts(ingested)).toEqual(reference);
          },
        );
      }
    }
  }

  it('with decimal commas', async () => {
    for (const rows of Object.values(LAYOUTS)) {
      const commas = rows.map((row) => row.map((cell) => cell.replace(/(\d)\.(\d)/, '$1,$2')));
      expect(facts(await ingestText(written(commas, ';', LINE_ENDS.LF)))).toEqual(reference);
      const quoted = commas.map((row) => row.map((cell) => (cell.includes(',') ? `"${cell}"` : cell)));
      const entry = { decimal: ',' as const };
      expect(facts(await ingestText(written(quoted, ',', LINE_ENDS.LF), { entry }))).toEqual(reference);
    }
  });

  it('with its columns in another order', async () => {
    for (const rows of [LAYOUTS.wide, LAYOUTS['a row a side'], LAYOUTS['a row a test']]) {
      const turned = rows.map((row) => [...row].reverse());
      expect(facts(await ingestText(written(turned, ',', LINE_ENDS.LF)))).toEqual(reference);
    }
  });

  it('with its rows in another order', async () => {
    const [headings, ...rows] = LAYOUTS['a row a test'];
    expect(facts(await ingestText(written([headings, ...rows.reverse()], ',', LINE_ENDS.LF)))).toEqual(reference);
  });

  it('on two sheets', async () => {
    const [headings, ...rows] = LAYOUTS.wide;
    const halves = [rows.slice(0, 2), rows.slice(2)].map((half, at) => ({
      file: `${at}.csv`,
      content: written([headings, ...half], ',', LINE_ENDS.LF),
    }));
    expect(facts(await ingestSheets(halves))).toEqual(reference);
  });

  it('with title lines, blank lines and rows, and remarks', async () => {
    const rows = [
      ['Preseason screening'],
      [],
      ...LAYOUTS.wide.map((row, at) => [...row, at === 0 ? 'Remarks' : '"fine; ""really"",\nfine"']),
      [],
      ['', '', '', '', '', '', '', ''],
    ];
    const ingested = await ingestText(written(rows, ',', LINE_ENDS.CRLF));
    expect(facts(ingested)).toEqual(reference);
    expect(ingested.ignored.map(({ reason, cells }) => [reason, cells])).toEqual([
      ['title_line', 1],
      ['remark', 5],
    ]);
  });
});

it('a sheet that is not UTF-8 is read as Windows-1252, and that is said', async () => {
  const { notes } = await ingestText(ENCODINGS['Windows-1252'](written(LAYOUTS.wide, ',', LINE_ENDS.LF)));
  expect(notes).toEqual([expect.stringMatching(/^sheet\.csv: is not UTF-8 and is read as Windows-1252/)]);
});
