import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { scanText } from '../../src/cli/render/scan.ts';
import { columnsYaml } from '../../src/screening/scan_columns.ts';
import type { ColumnScan, SheetScan } from '../../src/sheets/scan.ts';
import { entryOf } from '../sheets/ingest_text.ts';
import { anySheet } from '../sheets/made_sheet.ts';
import { type Given, scanned, thereAndBack } from './scanned.ts';

const DAY = '2026-08-17';
const SETTING = { width: 80, color: false };

const columnsOf = ({ blocks }: SheetScan): ColumnScan[] =>
  blocks.flatMap(({ tables }) => tables.flatMap((table) => table.columns));

/** Place, heading and what it is read as, in few words. */
function shortOf({ place, heading, kind, role, measure, side, trial, unit, code, reason }: ColumnScan): string {
  const said = role ?? code ?? reason ?? [measure, side, trial, unit].filter((part) => part !== undefined).join(' ');
  return `${place} ${heading} ${kind === 'reading' ? '=' : kind} ${said}`;
}

const shorts = (scan: SheetScan): string[] => columnsOf(scan).map(shortOf);

/** Sheets as people make them, and what the folder says of some. */
const SHEETS: Readonly<Record<string, readonly [string, Given['entry']?]>> = {
  wide: [`ID,Date,Hop L 1,Hop R 1,Grip L (kg)\nK001,${DAY},140,150,30\nK002,${DAY},NT,151 P,pain\n`],
  'held back': [`ID,Date,Hip Add L,Hip Add R,Knee ext L\nK001,${DAY},25,26,100\nK002,${DAY},P,NT,120\n`],
  'two heading lines': [`ID;Date;Hip Add (kg);;Hop (cm);\n;;L;R;L;R\nK001;17.08.2026;27,5;27,2;140;137\n`],
  across: [`Hip station,,\nDate,${DAY},${DAY}\nID,K001,K002\nHip Add L (kg),25,26\n"Hop\nR",140,P\nFoo,1,2\nLate,,\n`],
  'side by side': [
    `ID,Date,Hop L,Hop R,,ID,Date,Lunge L,Lunge R\nK001,${DAY},140,141,,K002,${DAY},7,8\nK003,${DAY},120,121,,K014,${DAY},9,10\n`,
  ],
  'block by block': [
    `Rowing\nID,Date,Hop L,Hop R\nK001,${DAY},140,141\n\nFencing\nID,Date,Lunge L,Lunge R\nK002,${DAY},7,8\n\nID,Date,Hop L,Hop R\nK003,${DAY},130,131\n`,
  ],
  'two columns for one thing': [`ID,Date,Hop L,Hop L,Hop R,Notes\nK001,${DAY},140,141,150,late\n`],
  'the same under titles': [`Screening,,,\nTester: Jo,,,\nID,Hop L,Hop L,Hop R\nK001,140,141,150\n`, { date: DAY }],
  'no heading': [`ID,Date,,Hop L\nK001,${DAY},5,140\n`],
  'no heading over the athletes': [`,Date,Hop L,Hop R\nK001,${DAY},140,141\nK002,${DAY},150,151\n`],
  'headings that YAML would take for something else': [
    `ID,Date,"Hop ""L"" [cm]","{Hop R}",'Lunge L',"Lunge: R",007,true,"a\nb",# c,- d,__proto__\nK001,${DAY},140,141,7,8,1,2,3,4,5,6\n`,
  ],
  'headings like places': [`ID,Date,Column 4,Hop L,Hop L,column 9,column5\nK001,${DAY},5,140,141,1,2\n`],
  'a row a test': [
    `ID,Date,Test,Side,Trial,Value,Unit,Status\nK001,${DAY},Hop,L,1,140,cm,ok\nK001,${DAY},Hip add,R,1,20,kg,pain\nK001,${DAY},Hop,R,1,,,unable\n`,
  ],
  'a unit in the heading of values': [
    `ID,Date,Test,Side,Value (kg)\nK001,${DAY},Hip add,L,20\nK002,${DAY},Hip abd,R,21\n`,
  ],
  'a unit in heading and column': [
    `ID,Date,Side,Hip Add (kg),Unit\nK001,${DAY},L,20,kg\nK001,${DAY},R,21,lb\nK002,${DAY},R,21,\n`,
  ],
  'units in the cells': [`ID,Date,Hip Add L,Wt\nK001,${DAY},20 kg,70\nK002,${DAY},44 lb,150 lb\n`],
  'a best beside trials': [`ID,Date,Hop L 1,Hop L 2,Hop best L,LSI,Notes\nK001,${DAY},140,141,141,99,ok\n`],
  'a best alone': [`ID,Date,Hop best L,Hop best R\nK001,${DAY},140,141\n`],
  pressure: [`ID,Date,BP,Ht\nK001,${DAY},118/72,"5'11"""\nK002,${DAY},148/92 → 132/84,180\nK003,${DAY},118,71 in\n`],
  'both sides in a cell': [`ID,Date,Hop\nK001,${DAY},140/141\nK002,${DAY},150/151\nK003,${DAY},NT\n`],
  'a heading that can mean two things': [`ID,Date,Reach L,Hop R\nK001,${DAY},5,140\n`],
  'sides by use': [`ID,Date,Hip add kicking (N),Hip add plant (N)\nK001,${DAY},200,210\nK002,${DAY},200,220\n`],
  'dates that show their order': [`ID,Date,Hop L\nK001,05/08/2026,140\nK002,17/08/2026,150\n`],
  'a status column': [`ID,Date,Status,Hop L\nK001,${DAY},ok,140\n`],
  'a sheet that screening.yaml speaks of': [
    `No,When,Thing L,Thing R\nK001,${DAY},-30,31\n`,
    {
      team: 'Rowing',
      season: 2026,
      station: 'Grip',
      purpose: 'makeup',
      units: { hip_add: '[lbf_av]' },
      columns: {
        No: { role: 'athlete_id' },
        When: { role: 'date' },
        'Thing L': { measure: 'grip', side: 'left', trial: 1, unit: 'kgf', sign: 'reversed' },
        'column 4': { measure: 'grip', side: 'right' },
      },
    },
  ],
  'no sheet': ['PK\u0003\u0004'],
};

describe('columns: made of a scan', () => {
  test.each(Object.entries(SHEETS))('gives the same observations: %s', async (_, [content, entry]) => {
    const { before, after } = await thereAndBack(content, { entry });
    expect(after).toEqual(before);
  });

  test('the sheets above are read at all', async () => {
    const counts = await Promise.all(
      Object.values(SHEETS).map(async ([content, entry]) => (await thereAndBack(content, { entry })).before.length),
    );
    expect(counts.filter((count) => count === 0)).toHaveLength(1);
  });

  test('gives the same observations of any sheet', async () => {
    await fc.assert(
      fc.asyncProperty(anySheet, async ({ text }) => {
        const { before, after } = await thereAndBack(text, { entry: { date: DAY } });
        expect(after).toEqual(before);
      }),
      { numRuns: 100 },
    );
  });

  test('says a heading as it stands, whatever signs it holds', async () => {
    const [content] = SHEETS['headings that YAML would take for something else'];
    const { entry } = await thereAndBack(content);
    expect([...entry.columns.keys()]).toEqual(['id', 'date', 'hop "l" [cm]', '{hop r}', "'lunge l'", 'lunge: r']);
  });

  test('leaves what is not understood for people to settle', async () => {
    const { yaml } = await thereAndBack(`ID,Date,Hip Add L,Pusle,Hop L,Hop L,Notes\nK001,${DAY},25,60,140,141,x\n`);
    expect(yaml).toBe(`sheets:
  - files: sheets/sheet.csv
    encoding: utf-8
    delimiter: ","
    layout: down
    columns:
      "ID": athlete_id
      "Date": date
      # Heading "Hip Add L" says no unit, and a unit for Hip adduction strength is never guessed: its readings are held back.
      # "Hip Add L": { measure: hip_add, side: left, unit: … } # unit: kgf or "[lbf_av]" or N
      # Heading "Pusle" names no measure and no role that is known.
      # "Pusle": { measure: pulse }
      "Hop L": { measure: hop, side: left } # no unit is named: read in that of the protocol
      # Heading "Hop L" stands for hop, left, as an earlier column does.
      # "column 6": { measure: hop, side: left, trial: 2 }
      # "Notes": ignore # left aside: a column of remarks; set to ignore, nobody is told to read it
`);
  });

  test.each([
    ['sheets/hip (1).csv', 'files: sheets/hip [(]1[)].csv'],
    ['sheets/[hip]!.csv', 'files: sheets/[[]hip[]]?.csv'],
    [
      '-',
      '# put the sheet from standard input here: screening.yaml reads sheets inside its folder only\n    files: sheets/sheet.csv',
    ],
    [
      '../hip.csv',
      '# put ../hip.csv here: screening.yaml reads sheets inside its folder only\n    files: sheets/hip.csv',
    ],
  ])('names the file %s and no other', async (file, line) => {
    const scan = await scanned(SHEETS.wide[0], { file });
    expect(columnsYaml([{ scan, entry: entryOf() }])).toContain(line);
  });

  test('neighbours that are read alike share an entry', async () => {
    const scans = await Promise.all(
      ['wide', 'wide', 'pressure'].map((name, at) => scanned(SHEETS[name][0], { file: `sheets/${at}.csv` })),
    );
    const yaml = columnsYaml(scans.map((scan) => ({ scan, entry: entryOf() })));
    expect(yaml.match(/^ {2}- .*/gm)).toEqual(['  - files: [ sheets/0.csv, sheets/1.csv ]', '  - files: sheets/2.csv']);
  });
});

describe('a scan', () => {
  test('says of each column what it is read as', async () => {
    expect(shorts(await scanned(SHEETS['held back'][0]))).toEqual([
      '1 ID role athlete_id',
      '2 Date role date',
      '3 Hip Add L rejected unit_unknown',
      '4 Hip Add R rejected unit_unknown',
      '5 Knee ext L rejected unit_unknown',
    ]);
    expect(shorts(await scanned(SHEETS['side by side'][0]))).toEqual([
      '1 ID role athlete_id',
      '2 Date role date',
      '3 Hop L = hop left cm',
      '4 Hop R = hop right cm',
      '6 ID role athlete_id',
      '7 Date role date',
      '8 Lunge L = lunge left cm',
      '9 Lunge R = lunge right cm',
    ]);
  });

  test('speaks of physical lines where athletes stand across the columns', async () => {
    const scan = await scanned(SHEETS.across[0]);
    expect(shorts(scan)).toEqual([
      '1  ignored title_line',
      '2 Date role date',
      '3 ID role athlete_id',
      '4 Hip Add L (kg) = hip_add left kgf',
      '5 Hop\nR = hop right cm',
      '7 Foo rejected heading_unknown',
      '8  ignored footnote',
    ]);
    expect(columnsOf(scan).map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect(scanText(scan, SETTING)).toMatch(/^sheets\/sheet\.csv: 7 lines, 6 understood; 3 readings, 1 not measured/);
  });

  test('says why', async () => {
    const scan = await scanned(`ID,Date,Hip Add L (lbs),Grip R,Hop\nK001,${DAY},50,40,140/141\n`);
    expect(columnsOf(scan).map(({ why }) => why)).toEqual([
      ['the heading says so'],
      ['the heading says so'],
      ['"Hip Add" names it', 'lbs in the heading, taken as lbf'],
      ['"Grip" names it', 'kgf by written_in: of the protocol'],
      [
        '"Hop" names it',
        'the cells hold both sides, and left is taken to stand first',
        'cm by the protocol, none is named',
      ],
    ]);
  });

  test('says what settles a column, and never which unit a force has', async () => {
    const scan = await scanned(
      `ID,Date,Hip Add L,Knee ext R,Pusle,Reach L,Hop L,Hop L,,Status\nK001,${DAY},25,99,60,5,140,141,7,ok\n`,
    );
    expect(scan.unitLines).toEqual([
      'units: { hip_add: kgf, knee_torque: kgf.m }',
      'units: { hip_add: "[lbf_av]", knee_torque: "[ft_i].[lbf_av]" }',
      'units: { hip_add: N, knee_torque: N.m }',
    ]);
    const lines = columnsOf(scan).map((column) => column.lines);
    expect(lines.filter((line) => line !== undefined)).toEqual([
      ['"Pusle": { measure: pulse }', '"Pusle": ignore'],
      ['"Reach L": { measure: reach_a, side: left }', '"Reach L": { measure: reach_b, side: left }'],
      ['"column 8": { measure: hop, side: left, trial: 2 }', '"column 8": ignore'],
      ['"column 9": { measure: … }', '"column 9": ignore'],
      ['"Status": status', '"Status": ignore'],
    ]);
  });

  test.each([
    ['Gripp L 2 (lbs)', '{ measure: grip, side: left, trial: 2, unit: "[lbf_av]" }'],
    ['Weigth [lb]', '{ measure: body_mass, unit: "[lb_av]" }'],
    ['Reach L (in)', '{ measure: reach_a, side: left, unit: "[in_i]" }'],
    ['Hopp', '{ measure: hop, side: … }'],
    ['Thing (lb)', '{ measure: …, unit: … }'],
    ['Thing lbs', '{ measure: …, unit: … }'],
    ['Thing', '{ measure: … }'],
  ])('a line for "%s" loses nothing that the heading says', async (heading, said) => {
    const scan = await scanned(`ID,Date,Hop L,${heading}\nK001,${DAY},140,7\n`);
    expect(columnsOf(scan)[3].lines?.[0]).toBe(`"${heading}": ${said}`);
  });

  test('counts each cell once, at its column, and agrees with the ledger', async () => {
    const content = `ID,Date,Hop L,BP,Hip Add R\nK001,${DAY},140,118/x,20\nK002,${DAY},NT,120/70,P\nX9,${DAY},1,2,3\nK003,${DAY},999,N/A,\n`;
    const scan = await scanned(content);
    expect(columnsOf(scan).map(({ heading, cells }) => [heading, ...Object.values(cells)])).toEqual([
      ['ID', 0, 0, 0, 0, 0],
      ['Date', 0, 0, 0, 0, 0],
      // read, not measured, rejected, ignored, pain kept
      ['Hop L', 2, 1, 1, 0, 0],
      ['BP', 1, 1, 2, 0, 0],
      ['Hip Add R', 0, 0, 4, 0, 1],
    ]);
    expect(scan.ledger).toMatchObject({ measured: 3, not_measured: 2, rejected: 7 });
  });

  test('agrees with the ledger on any sheet, and its lines fit', async () => {
    await fc.assert(
      fc.asyncProperty(anySheet, async ({ text }) => {
        const scan = await scanned(text, { entry: { date: DAY } });
        const sum = (fate: 'read' | 'notMeasured' | 'rejected'): number =>
          columnsOf(scan).reduce((total, { cells }) => total + cells[fate], 0);
        const { measured, not_measured, rejected } = scan.ledger;
        expect([sum('read'), sum('notMeasured')]).toEqual([measured, not_measured]);
        expect(sum('rejected')).toBeLessThanOrEqual(rejected!);
        const lines = scanText(scan, { width: 60, color: false }).split('\n');
        // What is there to be copied is not wrapped.
        expect(lines.filter((line) => !line.startsWith('      ') && line.length > 60)).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });

  test('is the same however the bytes arrive', async () => {
    for (const [content, entry] of Object.values(SHEETS)) {
      expect(await scanned(content, { entry, piece: 7 })).toEqual(await scanned(content, { entry }));
    }
  });

  test('tells what is said of all rows, and by whom', async () => {
    const content = `Preseason,,\nTeam: Rowing,,\nDate: 17 August 2026,,\n"Tester:\nJo",,\nID,Hop L,Hop R\nK001,140,150\n`;
    const { facts } = await scanned(content, { entry: { date: '2026-08-18', fromName: '{date}_{}' } });
    expect(facts).toEqual([
      { what: 'date', text: '2026-08-18', from: 'file_name' },
      { what: 'date', text: '17 August 2026', from: 'title', line: 3, overruled: true },
      { what: 'team', text: 'Rowing', from: 'title', line: 2 },
      { what: 'tester', text: 'Jo', from: 'title', line: 4 },
    ]);
  });

  test('blocks under the same headings are shown once', async () => {
    const text = scanText(await scanned(SHEETS['block by block'][0]), SETTING);
    expect(text).toContain('  Headings in line 2, and 1 more time below: a row an athlete.\n');
    expect(text).toContain('  3  Hop L    hop, left, in cm; 2 read\n');
    expect(text).toContain('  Headings in line 6: a row an athlete.\n');
  });

  test('a sheet that cannot be read says why, and what to do', async () => {
    expect(scanText(await scanned('PK\u0003\u0004'), SETTING)).toBe(`sheets/sheet.csv: cannot be read.
  The file is not a text file: it holds a workbook or zip archive. Open it in
  the spreadsheet program and save it as CSV (UTF-8).
`);
    expect(scanText(await scanned('Bo,40\nZoë,50\n'), SETTING)).toMatch(
      /^sheets\/sheet\.csv: cannot be read; 0 readings, 4 cells not read\.\n {2}No line with headings was found\./,
    );
  });

  test('shows no name, nor a line beside athletes across the columns, unless names are asked for', async () => {
    const content = `Quill was late,,\nDate,${DAY},${DAY}\nAthlete,Zephrin Lowdown,Quill\nHop L,140,150\nHop R,140,O5\nQuill left early,,\n`;
    const quiet = await scanned(content);
    expect(
      JSON.stringify(quiet) + scanText(quiet, SETTING) + columnsYaml([{ scan: quiet, entry: entryOf() }]),
    ).not.toMatch(/Quill|Zephrin|Lowdown/);
    expect(JSON.stringify(await scanned(content, { showNames: true }))).toMatch(/Quill was late/);
  });
});
