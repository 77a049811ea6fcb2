import { describe, expect, it } from 'vitest';
import { readRoster } from '../../src/athletes/roster.ts';
import { ingest } from '../../src/sheets/ingest.ts';
import { isVitalSign } from '../../src/sheets/row_cells.ts';
import { ingestWorld } from '../../src/sheets/world.ts';
import { ROSTER } from './battery.ts';
import { codes, entryOf, type IngestGiven, ingestText, protocolOf, shorts } from './ingest_text.ts';

const withRoster: IngestGiven = { roster: ROSTER };

/** Athlete, season and measures of each reject, as later stages see them. */
async function toldOf(text: string): Promise<unknown[][]> {
  const roster = readRoster(ROSTER, { file: 'roster.csv', columns: new Map() }, [], new Map());
  const sheet = { file: 'sheet.csv', entry: entryOf(), open: () => [Buffer.from(text)] };
  const told: unknown[][] = [];
  for await (const { rejects } of ingest([sheet], protocolOf(), ingestWorld(protocolOf(), { roster }), new Map())) {
    const { athlete_id, season, measure } = rejects.columns;
    for (let at = 0; at < rejects.length; at++) told.push([athlete_id.get(at), season.get(at), measure.get(at)]);
  }
  return told;
}

const COMMAS = 'ID,Date,Hop L,Hop R\nK001,2026-08-17,150,151\nK002,2026-08-17,152,153\n';
const TABS = 'K003\t2026-08-17\t154\t155\nK005\t2026-08-17\t156\t157\n';
const READ = ['hop left 1 = 150', 'hop right 1 = 151', 'hop left 1 = 152', 'hop right 1 = 153'];

describe('rows of a second laptop, parted by another mark', () => {
  it.each([
    ['tabs', TABS, withRoster],
    ['tabs', TABS, {}],
    ['semicolons', TABS.replaceAll('\t', ';'), withRoster],
    ['semicolons', TABS.replaceAll('\t', ';'), {}],
    ['semicolons', TABS.replaceAll('\t', ';').replaceAll('4;', '4,5;'), withRoster],
  ])('are rejected one by one: %s', async (found, rows, given) => {
    for (const entry of [{}, { delimiter: ',' as const }]) {
      const ingested = await ingestText(COMMAS + rows, { ...given, entry });
      expect(shorts(ingested)).toEqual(READ);
      expect(codes(ingested)).toEqual(['delimiter_unknown @4:-', 'delimiter_unknown @5:-']);
      expect(ingested.rejects[1].message).toBe(
        `The row is parted by ${found}, and the sheet by commas. The row holds K005, 2026-08-17, 156, 157.`,
      );
      expect(ingested.ignored).toEqual([]);
    }
  });

  it('name their athlete and season, for whoever looks for a reading', async () => {
    expect(await toldOf(COMMAS + TABS)).toEqual([
      ['K003', 2026, null],
      ['K005', 2026, null],
    ]);
  });

  it('with headings of their own: the sheet is to be parted, and both parts are named', async () => {
    const ingested = await ingestText(`${COMMAS}Athlete\tDate\tHop L\tHop R\tHt\n${TABS}`, withRoster);
    expect(codes(ingested)).toEqual(['delimiter_unknown @-:-']);
    expect(ingested.rejects[0].message).toBe(
      'The columns could be parted by commas or tabs: lines 1 to 3 are parted by commas and lines 4 to 6 by tabs.',
    );
    expect(ingested.rejects[0].suggestion).toBe(
      'Two sheets stand in one file: save each part as a sheet of its own, under its headings.',
    );
  });

  it.each([
    [',', ['4:-', '5:-', '6:-'], READ],
    ['\t', ['1:-', '2:-', '3:-'], ['hop left 1 = 154', 'hop right 1 = 155', 'hop left 1 = 156', 'hop right 1 = 157']],
  ] as const)(
    'with a mark named in screening.yaml nothing of the other part is set aside: %j',
    async (delimiter, at, read) => {
      const text = `${COMMAS}Athlete\tDate\tHop L\tHop R\n${TABS}`;
      const ingested = await ingestText(text, { ...withRoster, entry: { delimiter } });
      expect(shorts(ingested)).toEqual(read);
      expect(codes(ingested)).toEqual(at.map((place) => `delimiter_unknown @${place}`));
      expect(ingested.ignored).toEqual([]);
      expect(ingested.notes).toEqual([]);
    },
  );

  it('are not set aside with a column of remarks', async () => {
    const sheet = 'Age,ID,Date,Hop L\n20,K001,2026-08-17,150\n20\tK002\t2026-08-17\t151\n';
    const ingested = await ingestText(sheet, withRoster);
    expect(ingested.rejects.map(({ code, line, cells }) => [code, line, cells])).toEqual([['delimiter_unknown', 3, 1]]);
    expect(ingested.ledger[0]).toMatchObject({ cells: 9, measured: 1, context: 5, ignored: 2, rejected: 1 });
  });

  it('in a sheet whose athletes stand across', async () => {
    const text = 'ID,K001,K002\nHop L,150,152\nHop R\t151\t153\n';
    const ingested = await ingestText(text, { ...withRoster, entry: { date: '2026-08-17' } });
    expect(shorts(ingested)).toEqual(['hop left 1 = 150', 'hop left 1 = 152']);
    expect(ingested.rejects.map(({ code, cells }) => [code, cells])).toEqual([['delimiter_unknown', 1]]);
    expect(ingested.ignored).toEqual([]);
  });
});

const HEAD = 'Name,Date,BP,HR\nBo Reed,8/15/2026,118/72,62\n';
const LAST = '"O\'Hara, Lee",,118/72,62\n';

describe('a row whose cells are not apart', () => {
  it.each([
    ['in quotes', '"Moss Kim,9/9/2026,202/125,60"', 'commas in one cell', '202/125, 9/9/2026, 60'],
    ['by semicolons', 'Zoe Odegard;9/9/2026;202/125;60', 'semicolons', '202/125, 9/9/2026, 60'],
    ['by tabs', 'Zoe Odegard\t9/9/2026\t202/125', 'tabs', '202/125, 9/9/2026'],
    ['by one tab', 'Zoe Odegard\t202/125', 'tabs', '202/125'],
    ['by blanks', 'Zoe Odegard 202/125', 'blanks', '202/125'],
    ['by blanks, of somebody unknown', 'Zed Nobody 202/125', 'blanks', '202/125'],
    ['by blanks, with an id', 'K002 9/9/2026 60', 'blanks', 'K002, 9/9/2026, 60'],
    ['with pain', 'Zoe Odegard;9/9/2026;118/72;pain', 'semicolons', 'pain, 118/72, 9/9/2026'],
  ])('is rejected, and its day is not that of the rows below: %s', async (_, row, found, holds) => {
    const ingested = await ingestText(`${HEAD}${row}\n${LAST}`, withRoster);
    expect(codes(ingested)).toEqual(['delimiter_unknown @3:-', 'date_missing @4:2']);
    expect(ingested.rejects[0].message).toBe(
      `The row is parted by ${found}, and the sheet by commas. The row holds ${holds}.`,
    );
    expect(ingested.ignored).toEqual([]);
    expect(JSON.stringify(ingested.rejects)).not.toMatch(/Odegard|Zoe|Moss|Zed/);
    const { cells, context, measured, rejected } = ingested.ledger[0];
    expect(cells).toBe(measured! + context! + rejected!);
  });

  it('says of which vital signs it may be', async () => {
    expect(await toldOf(`${HEAD}Zoe Odegard;9/9/2026;202/125;60\n`)).toEqual([
      ['K002', 2026, 'systolic;diastolic;pulse'],
    ]);
  });

  it.each([
    '* NT = not tested',
    'NB: from 140/90 on the trainer looks again',
    'Best of three trials, on the same day',
    'Page 2 of 3',
    '"Tested in the gym, by two testers, one a side"',
  ])('is no footnote: %s', async (line) => {
    const ingested = await ingestText(`${HEAD}${line}\n`, withRoster);
    expect(codes(ingested)).toEqual([]);
    expect(ingested.ignored).toHaveLength(1);
  });

  it('a line that names an athlete is no footnote either', async () => {
    const ingested = await ingestText(`${HEAD}* K002 stopped early\n`, withRoster);
    expect(codes(ingested)).toEqual(['athlete_missing @3:-']);
    expect(ingested.rejects[0].message).toBe('The row holds a line of text that names an athlete.');
  });
});

describe('a row of an athlete known by a first name that may be a label', () => {
  it('is rejected with its readings, and is no line that says a day', async () => {
    const ingested = await ingestText(`${HEAD}Max,8/15/2026,196/125,62\nZoe Odegard,8/15/2026,118/72,62\n`, withRoster);
    expect(codes(ingested)).toEqual(['athlete_unknown @3:1']);
    expect(ingested.rejects[0].message).toContain('The row holds BP 196/125, HR 62.');
    expect(ingested.notes).toEqual([]);
  });
});

describe('what a rejected row holds', () => {
  it('names pain first and vital signs next, however wide the sheet', async () => {
    const hops = Array.from({ length: 8 }, (_, at) => `Hop L ${at + 1}`).join(',');
    const text = `ID,Date,${hops},Grip R,BP\nK001,,150,151,152,153,154,155,156,157,40 pain,182/110\n`;
    const { rejects } = await ingestText(text, withRoster);
    expect(rejects[0].message).toBe(
      'The row has no date. The row holds Grip R 40 pain, BP 182/110, Hop L 1 150, Hop L 2 151, Hop L 3 152, Hop L 4 153, ….',
    );
  });

  it('tells a pressure that stands in the column of the dates', async () => {
    const { rejects } = await ingestText('Name,Date,BP\nBo Reed 8/15/2026,201/125,62\n', withRoster);
    expect(rejects[0].message).toContain('The row holds Date 201/125, BP 62.');
  });
});

it('vital signs are pressures and the pulse', () => {
  const { measures } = protocolOf();
  expect(measures.filter(isVitalSign).map(({ name }) => name)).toEqual(['systolic', 'diastolic', 'pulse']);
});
