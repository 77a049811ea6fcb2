import { describe, expect, it } from 'vitest';
import { headingWords } from '../../src/sheets/headings.ts';
import type { TablePlan } from '../../src/sheets/plan.ts';
import { recognise } from '../../src/sheets/recognise.ts';
import { entryOf, type Ingested, type IngestGiven, ingestText, protocolOf, shortOf } from './ingest_text.ts';
import { rowAt, WRITTEN_ROSTER } from './written_sheets.ts';

const entry = { date: '2026-08-17' };
const TEAMS = new Map([
  ['rowing', 'Rowing'],
  ['fencing', 'Fencing'],
]);

const protocol = protocolOf();
const words = headingWords(protocol);
const isTeam = (text: string): boolean => TEAMS.has(text.toLowerCase());

/** `down, headings 0-0: wide at 0`; with several rows an athlete: `wide at 0, 3 rows an athlete`. */
function planOf(head: string): string {
  const plan = recognise(head, { protocol, words, entry: entryOf(entry), isTeam });
  if ('code' in plan) return plan.code;
  const tableOf = ({ layout, from, rowsPerAthlete }: TablePlan): string =>
    `${layout} at ${from}${rowsPerAthlete === undefined ? '' : `, ${rowsPerAthlete} rows an athlete`}`;
  return `${plan.direction}, headings ${plan.headingRows.join('-')}: ${plan.tables.map(tableOf).join(' | ')}`;
}

const read = (sheet: string, given: IngestGiven = {}): Promise<Ingested> =>
  ingestText(sheet, { entry, teamAliases: TEAMS, ...given });

/** `K001 hop left 1 = 150` */
const readings = ({ observations }: Ingested): string[] =>
  observations.map((observation) => `${observation.athlete_id} ${shortOf(observation)}`);
/** `footnote @4:- of 1` */
const asides = ({ ignored }: Ingested): string[] =>
  ignored.map(({ reason, line, column, cells }) => `${reason} @${line ?? '-'}:${column ?? '-'} of ${cells}`);
/** `athlete_missing @4` */
const refusals = ({ rejects }: Ingested): string[] => rejects.map(({ code, line }) => `${code} @${line}`);

type Ledger = readonly [
  cells: number,
  measured: number,
  notMeasured: number,
  context: number,
  ignored: number,
  rejected: number,
];

function ledgerOf({ ledger: [sheet] }: Ingested): Ledger {
  const { cells, measured, not_measured, context, ignored, rejected } = sheet;
  return [cells, measured, not_measured, context, ignored, rejected];
}

interface Case {
  readonly sheet: readonly string[];
  readonly plan: string;
  readonly readings: readonly string[];
  readonly ignored?: readonly string[];
  /** counted by hand */
  readonly ledger: Ledger;
}

/** A kilogram-force is 9.80665 N: 20 → 196.133, 21 → 205.93965, 22 → 215.7463, 23 → 225.55295. */
const LAYOUTS: { readonly [name: string]: Case } = {
  wide: {
    sheet: ['ID,Date,Hip Add L (kg),Hip Add R (kg),Ht', 'K001,2026-08-17,20,NT,180', "K002,2026-08-17,21,,5'7"],
    plan: 'down, headings 0-0: wide at 0',
    readings: [
      'K001 hip_add left 1 = 196.133',
      'K001 hip_add right 1 not_tested',
      'K001 height 1 = 180',
      'K002 hip_add left 1 = 205.93965',
      'K002 height 1 = 170.18',
    ],
    ledger: [14, 4, 1, 9, 0, 0],
  },
  'two heading lines': {
    sheet: ['ID,Hip Add (kg),,Ht', ',L,R,', 'K001,20,21,180'],
    plan: 'down, headings 0-1: two_heading_lines at 0',
    readings: ['K001 hip_add left 1 = 196.133', 'K001 hip_add right 1 = 205.93965', 'K001 height 1 = 180'],
    ledger: [9, 3, 0, 6, 0, 0],
  },
  'a row a side, named on the first': {
    sheet: ['ID,Side,Hop 1,Hop 2', 'K001,L,150,151', ',R,152,unable', 'K002,L,153,154', ',R,155,156'],
    plan: 'down, headings 0-0: row_a_side at 0, 2 rows an athlete',
    readings: [
      'K001 hop left 1 = 150',
      'K001 hop left 2 = 151',
      'K001 hop right 1 = 152',
      'K001 hop right 2 unable',
      'K002 hop left 1 = 153',
      'K002 hop left 2 = 154',
      'K002 hop right 1 = 155',
      'K002 hop right 2 = 156',
    ],
    ledger: [18, 7, 1, 10, 0, 0],
  },
  'a row a test': {
    sheet: ['ID,Test,Side,Trial,Value,Unit', 'K001,Hip Add,L,1,20,kg', 'K001,Hip Add,L,2,P,kg', 'K001,Ht,,,180,cm'],
    plan: 'down, headings 0-0: row_a_test at 0',
    readings: ['K001 hip_add left 1 = 196.133', 'K001 hip_add left 2 pain', 'K001 height 1 = 180'],
    ledger: [22, 2, 1, 19, 0, 0],
  },
  'athletes across': {
    sheet: ['ID,K001,K002', 'Date,2026-08-17,2026-08-18', 'Hop L,150,151', 'Hop R,152,NT'],
    plan: 'across, headings 0-0: wide at 0',
    // In the order of the lines, not of the athletes.
    readings: [
      'K001 hop left 1 = 150',
      'K002 hop left 1 = 151',
      'K001 hop right 1 = 152',
      'K002 hop right 1 not_tested',
    ],
    ledger: [12, 3, 1, 8, 0, 0],
  },
  'athletes across, the test once over its sides': {
    sheet: ['ID,,K001,K002', 'Hop,L,150,151', ',R,152,153', 'Ht,,180,N/A'],
    plan: 'across, headings 0-1: two_heading_lines at 0',
    readings: [
      'K001 hop left 1 = 150',
      'K002 hop left 1 = 151',
      'K001 hop right 1 = 152',
      'K002 hop right 1 = 153',
      'K001 height 1 = 180',
      'K002 height 1 not_applicable',
    ],
    ledger: [13, 5, 1, 7, 0, 0],
  },
  'athletes across with an average at the end': {
    sheet: ['ID,K001,K002,Average', 'Hop L,150,151,150.5', 'Hop R,152,153,152.5'],
    plan: 'across, headings 0-0: wide at 0',
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 151', 'K001 hop right 1 = 152', 'K002 hop right 1 = 153'],
    ignored: ['summary_row @-:4 of 3'],
    ledger: [12, 4, 0, 5, 3, 0],
  },
  'athletes across in two blocks': {
    sheet: ['ID,K001,K002', 'Hop L,150,151', '', 'ID,K003,K004', 'Hop L,152,153'],
    plan: 'across, headings 0-0: wide at 0 | wide at 3',
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 151', 'K003 hop left 1 = 152', 'K004 hop left 1 = 153'],
    ledger: [12, 4, 0, 8, 0, 0],
  },
  'athletes across, each over two sides': {
    sheet: ['ID,K001,,K002,', 'Side,L,R,L,R', 'Hop,150,151,152,NT'],
    plan: 'across, headings 0-0: row_a_side at 0, 2 rows an athlete',
    readings: [
      'K001 hop left 1 = 150',
      'K001 hop right 1 = 151',
      'K002 hop left 1 = 152',
      'K002 hop right 1 not_tested',
    ],
    ledger: [13, 3, 1, 9, 0, 0],
  },
  'athletes across, a column of units': {
    sheet: ['ID,Unit,K001,K002', 'Hip Add L,kg,20,21', 'Ht,cm,180,170'],
    plan: 'across, headings 0-1: two_heading_lines at 0',
    readings: [
      ...[
        'K001 hip_add left 1 = 196.133',
        'K002 hip_add left 1 = 205.93965',
        'K001 height 1 = 180',
        'K002 height 1 = 170',
      ],
    ],
    ledger: [12, 4, 0, 8, 0, 0],
  },
  'two tables, both with the name on the first of two trials': {
    sheet: [
      'ID,Trial,Hop L,,ID,Trial,Hop R',
      ...['K001,1,150,,K002,1,152', ',2,151,,,2,153', 'K002,1,154,,K001,1,156', ',2,155,,,2,157'],
    ],
    plan: 'down, headings 0-0: wide at 0, 2 rows an athlete | wide at 4, 2 rows an athlete',
    readings: [
      ...['K001 hop left 1 = 150', 'K002 hop right 1 = 152', 'K001 hop left 2 = 151', 'K002 hop right 2 = 153'],
      ...['K002 hop left 1 = 154', 'K001 hop right 1 = 156', 'K002 hop left 2 = 155', 'K001 hop right 2 = 157'],
    ],
    ledger: [26, 8, 0, 18, 0, 0],
  },
  'two tables over a page break': {
    sheet: [
      ...['Strength,,,Body,', 'ID,Hop L,,ID,Ht', 'K001,150,,K001,180', 'Thrumbleford College,,,,Page 2'],
      ...['ID,Hop L,,ID,Ht', 'K002,151,,K002,170'],
    ],
    plan: 'down, headings 1-1: wide at 0 | wide at 3',
    readings: ['K001 hop left 1 = 150', 'K001 height 1 = 180', 'K002 hop left 1 = 151', 'K002 height 1 = 170'],
    ignored: [
      ...['title_line @1:- of 2', 'page_header @4:- of 1', 'page_header @4:- of 1'],
      ...['repeated_header @5:- of 2', 'repeated_header @5:- of 2'],
    ],
    ledger: [20, 4, 0, 8, 8, 0],
  },
  'team blocks with the headings again': {
    sheet: [
      'Rowing',
      'ID,Hop L,Hop R',
      'K001,150,151',
      'K002,152,153',
      '',
      'Fencing',
      'ID,Hop L,Hop R',
      'K003,154,155',
    ],
    plan: 'down, headings 1-1: wide at 0',
    readings: [
      'K001 hop left 1 = 150',
      'K001 hop right 1 = 151',
      'K002 hop left 1 = 152',
      'K002 hop right 1 = 153',
      'K003 hop left 1 = 154',
      'K003 hop right 1 = 155',
    ],
    ignored: ['repeated_header @7:- of 3'],
    ledger: [17, 6, 0, 8, 3, 0],
  },
  'a further block in another order': {
    sheet: ['ID,Hop L,Ht', 'K001,150,180', 'ID,Ht,Hop R', 'K002,170,151'],
    plan: 'down, headings 0-0: wide at 0',
    readings: ['K001 hop left 1 = 150', 'K001 height 1 = 180', 'K002 height 1 = 170', 'K002 hop right 1 = 151'],
    ledger: [12, 4, 0, 8, 0, 0],
  },
  'a page header and the headings again': {
    sheet: ['ID,Hop L', 'K001,150', 'Thrumbleford College,Page 2', 'ID,Hop L', 'K002,151'],
    plan: 'down, headings 0-0: wide at 0',
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 151'],
    ignored: ['page_header @3:- of 2', 'repeated_header @4:- of 2'],
    ledger: [10, 2, 0, 4, 4, 0],
  },
  'two tables without a blank column': {
    sheet: ['ID,Hop L,ID,Ht', 'K001,150,K002,170', 'K002,151,K001,180'],
    plan: 'down, headings 0-0: wide at 0 | wide at 2',
    readings: ['K001 hop left 1 = 150', 'K002 height 1 = 170', 'K002 hop left 1 = 151', 'K001 height 1 = 180'],
    ledger: [12, 4, 0, 8, 0, 0],
  },
  'two tables with a blank column, the right one shorter': {
    sheet: ['ID,Hop L,,Athlete,Ht', 'K001,150,,K002,170', 'K002,151,,,'],
    plan: 'down, headings 0-0: wide at 0 | wide at 3',
    readings: ['K001 hop left 1 = 150', 'K002 height 1 = 170', 'K002 hop left 1 = 151'],
    ledger: [10, 3, 0, 7, 0, 0],
  },
  'a name at the end is no second table': {
    sheet: ['ID,Hop L,Ht,Name', 'K001,150,180,"Reed, Bo"'],
    plan: 'down, headings 0-0: wide at 0',
    readings: ['K001 hop left 1 = 150', 'K001 height 1 = 180'],
    ledger: [8, 2, 0, 6, 0, 0],
  },
  'averages and footnotes below': {
    sheet: [
      'ID,Hop L,Hop R',
      'K001,150,151',
      'K002,152,153',
      'Average,151,152',
      'SD,1.4,1.4',
      'Min,150,151',
      'Max,152,153',
      'Mean,151,152',
      '* NT: not tested',
    ],
    plan: 'down, headings 0-0: wide at 0',
    readings: ['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K002 hop left 1 = 152', 'K002 hop right 1 = 153'],
    ignored: [
      'summary_row @4:- of 3',
      'summary_row @5:- of 3',
      'summary_row @6:- of 3',
      'summary_row @7:- of 3',
      'summary_row @8:- of 3',
      'footnote @9:- of 1',
    ],
    ledger: [25, 4, 0, 5, 16, 0],
  },
  'trials beside their best and mean': {
    sheet: ['ID,Hop L 1,Hop L 2,Hop L best,Hop L avg', 'K001,150,152,152,151', 'K002,140,,140,140'],
    plan: 'down, headings 0-0: wide at 0',
    readings: ['K001 hop left 1 = 150', 'K001 hop left 2 = 152', 'K002 hop left 1 = 140'],
    ignored: ['worked_out @1:4 of 3', 'worked_out @1:5 of 3'],
    ledger: [14, 3, 0, 5, 6, 0],
  },
  'nothing but the best': {
    sheet: ['ID,Hop L best,Hop R best,BP', 'K001,150,151,118/72'],
    plan: 'down, headings 0-0: wide at 0',
    readings: ['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K001 systolic 1 = 118', 'K001 diastolic 1 = 72'],
    ledger: [8, 3, 0, 5, 0, 0],
  },
  'the name on the first of three trials': {
    sheet: [
      'ID,Trial,Hop L,Hop R',
      'K001,1,150,151',
      ',2,152,153',
      ',3,154,P',
      'K002,1,140,141',
      ',2,142,143',
      ',3,144,145',
    ],
    plan: 'down, headings 0-0: wide at 0, 3 rows an athlete',
    readings: [
      'K001 hop left 1 = 150',
      'K001 hop right 1 = 151',
      'K001 hop left 2 = 152',
      'K001 hop right 2 = 153',
      'K001 hop left 3 = 154',
      'K001 hop right 3 pain',
      'K002 hop left 1 = 140',
      'K002 hop right 1 = 141',
      'K002 hop left 2 = 142',
      'K002 hop right 2 = 143',
      'K002 hop left 3 = 144',
      'K002 hop right 3 = 145',
    ],
    ledger: [24, 11, 1, 12, 0, 0],
  },
  'the name on the first of two, without a trial column': {
    sheet: ['ID,Hop L', 'K001,150', ',151', 'K002,152', ',153', 'K003,154', ',155'],
    plan: 'down, headings 0-0: wide at 0, 2 rows an athlete',
    readings: [
      'K001 hop left 1 = 150',
      'K001 hop left 2 = 151',
      'K002 hop left 1 = 152',
      'K002 hop left 2 = 153',
      'K003 hop left 1 = 154',
      'K003 hop left 2 = 155',
    ],
    ledger: [11, 6, 0, 5, 0, 0],
  },
  'athletes with different numbers of trials': {
    sheet: [
      'ID,Trial,Hop L',
      ...['K001,1,150', ',2,151', ',3,152', 'K002,1,153', ',2,154', 'K003,1,155', ',2,156', ',3,157'],
    ],
    plan: 'down, headings 0-0: wide at 0, 3 rows an athlete',
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K001 hop left 3 = 152', 'K002 hop left 1 = 153'],
      ...['K002 hop left 2 = 154', 'K003 hop left 1 = 155', 'K003 hop left 2 = 156', 'K003 hop left 3 = 157'],
    ],
    ledger: [22, 8, 0, 14, 0, 0],
  },
  'a mean below the trials, by the trial column': {
    sheet: ['ID,Trial,Hop L', 'K001,1,150', ',2,152', ',Mean,151', 'K002,1,140', ',2,142', ',Mean,141'],
    plan: 'down, headings 0-0: wide at 0, 3 rows an athlete',
    readings: ['K001 hop left 1 = 150', 'K001 hop left 2 = 152', 'K002 hop left 1 = 140', 'K002 hop left 2 = 142'],
    ignored: ['worked_out_row @4:- of 2', 'worked_out_row @7:- of 2'],
    ledger: [17, 4, 0, 9, 4, 0],
  },
  'ditto marks': {
    sheet: [
      'ID,Date,Test,Side,Value (kg)',
      'K001,2026-08-17,Hip Add,L,20',
      'ditto,"""",do.,R,21',
      'K002,"""","""",L,22',
      '"""","""","""","""",23',
    ],
    plan: 'down, headings 0-0: row_a_test at 0',
    // A ditto mark names the athlete: no row here goes without.
    readings: [
      'K001 hip_add left 1 = 196.133',
      'K001 hip_add right 1 = 205.93965',
      'K002 hip_add left 1 = 215.7463',
      'K002 hip_add left 2 = 225.55295',
    ],
    ledger: [25, 4, 0, 21, 0, 0],
  },
  'several trials in a cell': {
    sheet: ['ID,Hop L,Hop R', 'K001,"150, NT, 152",153;154', 'K002,NT,"150\n151"'],
    plan: 'down, headings 0-0: wide at 0',
    readings: [
      'K001 hop left 1 = 150',
      'K001 hop left 2 not_tested',
      'K001 hop left 3 = 152',
      'K001 hop right 1 = 153',
      'K001 hop right 2 = 154',
      'K002 hop left 1 not_tested',
      'K002 hop right 1 = 150',
      'K002 hop right 2 = 151',
    ],
    ledger: [9, 3, 1, 5, 0, 0],
  },
  'both sides in a cell': {
    sheet: ['ID,Hop L/R,Hip IR R/L', 'K001,150/151,30/35', 'K002,NT,40/NT'],
    plan: 'down, headings 0-0: wide at 0',
    readings: [
      'K001 hop left 1 = 150',
      'K001 hop right 1 = 151',
      'K001 hip_ir right 1 = 30',
      'K001 hip_ir left 1 = 35',
      'K002 hop left 1 not_tested',
      'K002 hop right 1 not_tested',
      'K002 hip_ir right 1 = 40',
      'K002 hip_ir left 1 not_tested',
    ],
    ledger: [9, 3, 1, 5, 0, 0],
  },
  'a pressure and its recheck, in a cell and in columns': {
    sheet: ['ID,BP,Pulse', 'K001,148/92 → 132/84,60', 'ID,SBP 1,DBP 1,SBP 2,DBP 2', 'K002,148,92,132,84'],
    plan: 'down, headings 0-0: wide at 0',
    readings: [
      'K001 systolic 1 = 148',
      'K001 diastolic 1 = 92',
      'K001 systolic 2 = 132',
      'K001 diastolic 2 = 84',
      'K001 pulse 1 = 60',
      'K002 systolic 1 = 148',
      'K002 diastolic 1 = 92',
      'K002 systolic 2 = 132',
      'K002 diastolic 2 = 84',
    ],
    ledger: [16, 6, 0, 10, 0, 0],
  },
  'a date above': {
    sheet: ['Preseason screening', 'Date,2026-08-17', 'ID,Hop L', 'K001,150'],
    plan: 'down, headings 2-2: wide at 0',
    readings: ['K001 hop left 1 = 150'],
    ignored: ['title_line @1:- of 1'],
    ledger: [7, 1, 0, 5, 1, 0],
  },
};

describe('layouts', () => {
  it.each(Object.entries(LAYOUTS))('%s', async (_, { sheet, plan, readings: wanted, ignored = [], ledger }) => {
    const text = `${sheet.join('\n')}\n`;
    expect(planOf(text)).toBe(plan);
    const ingested = await read(text);
    expect(refusals(ingested)).toEqual([]);
    expect(readings(ingested)).toEqual(wanted);
    expect(asides(ingested)).toEqual(ignored);
    expect(ledgerOf(ingested)).toEqual(ledger);
  });

  it('a line with the name of a team speaks for the rows below it', async () => {
    const { observations } = await read(`${LAYOUTS['team blocks with the headings again'].sheet.join('\n')}\n`);
    expect(observations.map(({ athlete_id, team }) => `${athlete_id} ${team}`)).toEqual([
      ...['K001 Rowing', 'K001 Rowing', 'K002 Rowing', 'K002 Rowing', 'K003 Fencing', 'K003 Fencing'],
    ]);
  });

  it('a date above holds for rows without one, until another stands above', async () => {
    const { observations, notes } = await ingestText(
      'Date: 17/08/2026\nID,Hop L\nK001,150\n\nDate: 18/08/2026\nID,Hop L\nK002,151\n',
    );
    expect(observations.map(({ athlete_id, date }) => `${athlete_id} ${date}`)).toEqual([
      'K001 2026-08-17',
      'K002 2026-08-18',
    ]);
    expect(notes).toHaveLength(2);
  });
});

interface Danger {
  readonly sheet: readonly string[];
  readonly readings: readonly string[];
  readonly rejects?: readonly string[];
  readonly ignored?: readonly string[];
  readonly given?: IngestGiven;
}

/** The invented athletes, three of whom are called like a row that a spreadsheet worked out. */
const NAMED_LIKE_LABELS = `athlete_id,last_name,first_name,also_known_as
K001,Reed,Bo,Max
K002,Quill,Ada,Sum
K003,Vale,Ivo,Test
`;

const DANGERS: { readonly [name: string]: Danger } = {
  'an average without a label below a wide sheet': {
    sheet: ['ID,Hop L,Hop R', 'K001,150,151', 'K002,152,153', ',151,152'],
    readings: ['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K002 hop left 1 = 152', 'K002 hop right 1 = 153'],
    rejects: ['athlete_missing @4'],
  },
  'an average without a label below trials with their numbers': {
    sheet: ['ID,Trial,Hop L', 'K001,1,150', ',2,151', 'K002,1,152', ',2,153', ',,151.5'],
    readings: ['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K002 hop left 1 = 152', 'K002 hop left 2 = 153'],
    rejects: ['athlete_missing @6'],
  },
  'a number too many below trials with their numbers': {
    sheet: ['ID,Trial,Hop L', 'K001,1,150', ',2,151', 'K002,1,152', ',2,153', ',3,151.5'],
    readings: ['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K002 hop left 1 = 152', 'K002 hop left 2 = 153'],
    rejects: ['athlete_missing @6'],
  },
  'an average without a label below trials without numbers': {
    sheet: ['ID,Hop L', 'K001,150', ',151', 'K002,152', ',153', 'K003,154', ',155', ',152.5'],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K002 hop left 1 = 152', 'K002 hop left 2 = 153'],
      ...['K003 hop left 1 = 154', 'K003 hop left 2 = 155'],
    ],
    rejects: ['athlete_missing @8'],
  },
  'averages without a label below a row a side': {
    sheet: ['ID,Side,Hop', 'K001,L,150', ',R,151', 'K002,L,152', ',R,153', ',L,151', ',R,152'],
    readings: ['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K002 hop left 1 = 152', 'K002 hop right 1 = 153'],
    rejects: ['athlete_missing @6', 'athlete_missing @7'],
  },
  'an average without a label at the end of athletes across': {
    sheet: ['ID,K001,K002,', 'Hop L,150,151,150.5'],
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 151'],
    rejects: ['athlete_missing @1'],
  },
  'athletes called like what a spreadsheet works out': {
    sheet: ['Athlete,Hop L', 'Max,150', 'Sum,151', 'Test,152'],
    given: { roster: NAMED_LIKE_LABELS },
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 151', 'K003 hop left 1 = 152'],
  },
  'Max, whom nobody knows, alone below the last athlete': {
    sheet: ['Athlete,Hop L', '"Vale, Ivo",150', 'Max,150'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K003 hop left 1 = 150'],
    rejects: ['athlete_unknown @3'],
  },
  'Max between Min and Mean': {
    sheet: ['Athlete,Hop L', '"Vale, Ivo",150', '"Quill, Ada",154', 'Min,150', 'Max,154', 'Mean,152'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K003 hop left 1 = 150', 'K005 hop left 1 = 154'],
    ignored: ['summary_row @4:- of 2', 'summary_row @5:- of 2', 'summary_row @6:- of 2'],
  },
  'a forgotten name where every row is named': {
    sheet: ['ID,Hop L', 'K001,150', ',151', 'K003,152', 'K004,153'],
    readings: ['K001 hop left 1 = 150', 'K003 hop left 1 = 152', 'K004 hop left 1 = 153'],
    rejects: ['athlete_missing @3'],
  },
  'a forgotten name where trials are numbered': {
    sheet: [
      'ID,Trial,Hop L',
      'K001,1,150',
      ',2,151',
      ',1,152',
      ',2,153',
      'K003,1,154',
      ',2,155',
      'K004,1,156',
      ',2,157',
    ],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K003 hop left 1 = 154', 'K003 hop left 2 = 155'],
      ...['K004 hop left 1 = 156', 'K004 hop left 2 = 157'],
    ],
    rejects: ['athlete_missing @4', 'athlete_missing @5'],
  },
  'a forgotten name where rows are sides': {
    sheet: ['ID,Side,Hop', 'K001,L,150', ',R,151', ',L,152', ',R,153', 'K003,L,154', ',R,155', 'K004,L,156', ',R,157'],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K003 hop left 1 = 154', 'K003 hop right 1 = 155'],
      ...['K004 hop left 1 = 156', 'K004 hop right 1 = 157'],
    ],
    rejects: ['athlete_missing @4', 'athlete_missing @5'],
  },
  'a forgotten name where rows are tests': {
    sheet: [
      'ID,Test,Side,Value',
      ...['K001,Hop,L,150', ',Hop,R,151', ',Lunge,L,10', ',Hop,L,152', ',Hop,R,153', ',Lunge,L,11'],
      ...['K003,Hop,L,154', ',Hop,R,155', ',Lunge,L,12', 'K004,Hop,L,156', ',Hop,R,157', ',Lunge,L,13'],
    ],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K001 lunge left 1 = 10', 'K003 hop left 1 = 154'],
      ...['K003 hop right 1 = 155', 'K003 lunge left 1 = 12', 'K004 hop left 1 = 156', 'K004 hop right 1 = 157'],
      'K004 lunge left 1 = 13',
    ],
    rejects: ['athlete_missing @5', 'athlete_missing @6', 'athlete_missing @7'],
  },
  'a forgotten name where trials have no numbers': {
    sheet: ['ID,Hop L', 'K001,150', ',151', ',152', ',153', 'K003,154', ',155', 'K004,156', ',157', 'K005,158', ',159'],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K003 hop left 1 = 154', 'K003 hop left 2 = 155'],
      ...['K004 hop left 1 = 156', 'K004 hop left 2 = 157', 'K005 hop left 1 = 158', 'K005 hop left 2 = 159'],
    ],
    rejects: ['athlete_missing @4', 'athlete_missing @5'],
  },
  'sides that come twice for everybody, as trials do': {
    sheet: [
      'ID,Side,Hop',
      ...['K001,L,150', ',R,151', ',L,152', ',R,153', 'K002,L,154', ',R,155', ',L,156', ',R,157'],
      ...['K003,L,158', ',R,159', ',L,160', ',R,161'],
    ],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K001 hop left 2 = 152', 'K001 hop right 2 = 153'],
      ...['K002 hop left 1 = 154', 'K002 hop right 1 = 155', 'K002 hop left 2 = 156', 'K002 hop right 2 = 157'],
      ...['K003 hop left 1 = 158', 'K003 hop right 1 = 159', 'K003 hop left 2 = 160', 'K003 hop right 2 = 161'],
    ],
  },
  'a forgotten name where others have ditto marks': {
    sheet: ['ID,Trial,Hop L', 'K001,1,150', '"""",2,151', ',1,152', '"""",2,153', 'K003,1,154', '"""",2,155'],
    readings: ['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K003 hop left 1 = 154', 'K003 hop left 2 = 155'],
    rejects: ['athlete_missing @4', 'athlete_missing @5'],
  },
  'one forgotten name where every other row of sides is named': {
    sheet: ['ID,Side,Hop', 'K001,L,150', 'K001,R,151', ',L,152', 'K002,R,153', 'K003,L,154', 'K003,R,155'],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K002 hop right 1 = 153'],
      ...['K003 hop left 1 = 154', 'K003 hop right 1 = 155'],
    ],
    rejects: ['athlete_missing @4'],
  },
  'one forgotten name where every other row of trials is named': {
    sheet: ['ID,Trial,Hop L', 'K001,1,150', 'K001,2,151', 'K002,1,152', ',2,153', 'K003,1,154', 'K003,2,155'],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K002 hop left 1 = 152'],
      ...['K003 hop left 1 = 154', 'K003 hop left 2 = 155'],
    ],
    rejects: ['athlete_missing @5'],
  },
  'one forgotten name where every other row of tests is named': {
    sheet: [
      'ID,Test,Side,Value',
      ...['K001,Hop,L,150', 'K001,Hop,R,151', 'K001,Ht,,180', ',Hop,L,152', 'K002,Hop,R,153', 'K002,Ht,,170'],
      ...['K003,Hop,L,154', 'K003,Hop,R,155', 'K003,Ht,,175'],
    ],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K001 height 1 = 180', 'K002 hop right 1 = 153'],
      ...['K002 height 1 = 170', 'K003 hop left 1 = 154', 'K003 hop right 1 = 155', 'K003 height 1 = 175'],
    ],
    rejects: ['athlete_missing @5'],
  },
  'a forgotten name beside a date and no plain number': {
    sheet: [
      ...['ID,Date,Hop L,Ht,BP', 'K001,2026-08-17,150,180,118/72', ',2026-08-17,32 P,,', ',2026-08-17,NT,,'],
      ...[',2026-08-17,"150, NT, 152",5’11”,148/92 → 132/84', 'K002,2026-08-17,151,170,120/80'],
    ],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 height 1 = 180', 'K001 systolic 1 = 118', 'K001 diastolic 1 = 72'],
      ...['K002 hop left 1 = 151', 'K002 height 1 = 170', 'K002 systolic 1 = 120', 'K002 diastolic 1 = 80'],
    ],
    rejects: ['athlete_missing @3', 'athlete_missing @4', 'athlete_missing @5'],
  },
  'a trial without a name below an average': {
    sheet: ['ID,Trial,Hop L', 'K001,1,150', 'Average,,151', ',2,152', 'K002,1,153', ',2,154', 'K003,1,155', ',2,156'],
    readings: [
      ...['K001 hop left 1 = 150', 'K002 hop left 1 = 153', 'K002 hop left 2 = 154'],
      ...['K003 hop left 1 = 155', 'K003 hop left 2 = 156'],
    ],
    ignored: ['summary_row @3:- of 2'],
    rejects: ['athlete_missing @4'],
  },
  'a ditto mark below an average': {
    sheet: ['ID,Side,Hop', 'K001,L,150', 'Average,,151', '"""",R,152', 'K002,L,153', '"""",R,154'],
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 153', 'K002 hop right 1 = 154'],
    ignored: ['summary_row @3:- of 2'],
    rejects: ['athlete_missing @4'],
  },
  'a forgotten name in a further block of another kind': {
    sheet: [
      ...['ID,Trial,Hop L', 'K001,1,150', ',2,151', 'K002,1,152', ',2,153', 'K003,1,154', ',2,155'],
      ...['', 'ID,Ht', 'K001,180', ',175', 'K003,170'],
    ],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K002 hop left 1 = 152', 'K002 hop left 2 = 153'],
      ...['K003 hop left 1 = 154', 'K003 hop left 2 = 155', 'K001 height 1 = 180', 'K003 height 1 = 170'],
    ],
    rejects: ['athlete_missing @11'],
  },
  'rows without a name below an athlete whom nobody knows': {
    sheet: ['ID,Trial,Hop L', 'K001,1,150', ',2,151', 'K999,1,152', ',2,153', 'K002,1,154', ',2,155'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K002 hop left 1 = 154', 'K002 hop left 2 = 155'],
    rejects: ['athlete_unknown @4', 'athlete_unknown @5'],
  },
  'rows without a name below a first athlete whom nobody knows': {
    sheet: ['ID,Trial,Hop L', 'K999,1,152', ',2,153', 'K001,1,150', ',2,151', 'K002,1,154', ',2,155'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K002 hop left 1 = 154', 'K002 hop left 2 = 155'],
    rejects: ['athlete_unknown @2', 'athlete_unknown @3'],
  },
  'rows without a name below a day that is none': {
    sheet: ['ID,Date,Trial,Hop L', 'K001,2026-08-17,1,150', ',,2,151', 'K002,2026-08-32,1,152', ',,2,153'],
    readings: ['K001 hop left 1 = 150', 'K001 hop left 2 = 151'],
    rejects: ['date_invalid @4', 'date_invalid @5'],
  },
  'a ditto mark below an athlete whom nobody knows': {
    sheet: ['ID,Hop L,Hop R', 'K001,150,151', 'K999,152,153', '"""",154,155', 'K002,156,157'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K002 hop left 1 = 156', 'K002 hop right 1 = 157'],
    rejects: ['athlete_unknown @3', 'athlete_unknown @4'],
  },
  'a ditto mark with nothing above it': {
    sheet: ['ID,Hop L', '"""",150', 'K002,151'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K002 hop left 1 = 151'],
    rejects: ['athlete_missing @2'],
  },
  'a ditto mark below a blank row': {
    sheet: ['ID,Hop L', 'K001,150', '', '"""",151', 'K002,152'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 152'],
    rejects: ['athlete_missing @4'],
  },
  'a ditto mark below the headings again': {
    sheet: ['ID,Hop L', 'K001,150', 'ID,Hop L', '"""",151', 'K002,152'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 152'],
    ignored: ['repeated_header @3:- of 2'],
    rejects: ['athlete_missing @4'],
  },
  'a blank row between the trials of an athlete': {
    sheet: ['ID,Trial,Hop L', 'K001,1,150', '', ',2,151', 'K002,1,152', ',2,153', 'K003,1,154', ',2,155'],
    readings: [
      ...['K001 hop left 1 = 150', 'K002 hop left 1 = 152', 'K002 hop left 2 = 153'],
      ...['K003 hop left 1 = 154', 'K003 hop left 2 = 155'],
    ],
    rejects: ['athlete_missing @4'],
  },
  'a page break between the trials of an athlete': {
    sheet: [
      'ID,Trial,Hop L',
      'K001,1,150',
      ',2,151',
      'K002,1,152',
      'Page 2',
      'ID,Trial,Hop L',
      ',2,153',
      'K003,1,154',
      ',2,155',
    ],
    readings: [
      ...['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K002 hop left 1 = 152'],
      ...['K003 hop left 1 = 154', 'K003 hop left 2 = 155'],
    ],
    ignored: ['page_header @5:- of 1', 'repeated_header @6:- of 3'],
    rejects: ['athlete_missing @7'],
  },
  'an average below one of two tables': {
    sheet: ['ID,Hop L,,ID,Ht', 'K001,150,,K001,180', 'K002,151,,K002,170', 'Average,150.5,,,175'],
    readings: ['K001 hop left 1 = 150', 'K001 height 1 = 180', 'K002 hop left 1 = 151', 'K002 height 1 = 170'],
    ignored: ['summary_row @4:- of 2'],
    rejects: ['athlete_missing @4'],
  },
  'ids on the left and the names of others on the right, a blank column between': {
    sheet: ['ID,Hop L,,Athlete,Ht', 'K001,150,,"Quill, Ada",170', 'K005,151,,"Reed, Bo",180'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K001 hop left 1 = 150', 'K005 height 1 = 170', 'K005 hop left 1 = 151', 'K001 height 1 = 180'],
  },
  'a column of norms': {
    sheet: ['ID,Hop L,Hop L norm,Team norm', 'K001,150,160,158', 'K002,152,160,158'],
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 152'],
    rejects: ['heading_unknown @1', 'heading_unknown @1'],
  },
  'footnotes with numbers in them': {
    sheet: ['ID,Hop L', 'K001,150', 'K002,152', '* 2 hops repeated on 18 Aug', 'Note: 3 athletes absent', 'n = 2'],
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 152'],
    ignored: ['footnote @4:- of 1', 'footnote @5:- of 1', 'summary_row @6:- of 1'],
  },
  'a page header with a number where a reading stands': {
    sheet: ['ID,Hop L', 'K001,150', 'Thrumbleford College,152', 'ID,Hop L', 'K002,151'],
    given: { roster: WRITTEN_ROSTER },
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 151'],
    ignored: ['repeated_header @4:- of 2'],
    rejects: ['athlete_unknown @3'],
  },
  'a row that is carried on from an average': {
    sheet: ['ID,Trial,Hop L', 'K001,1,150', ',2,151', 'K002,1,152', ',2,153', 'Average,1,151', ',2,152'],
    readings: ['K001 hop left 1 = 150', 'K001 hop left 2 = 151', 'K002 hop left 1 = 152', 'K002 hop left 2 = 153'],
    ignored: ['summary_row @6:- of 3', 'summary_row @7:- of 2'],
  },
  'an average among the athletes and a forgotten name below it': {
    sheet: ['ID,Hop L', 'K001,150', 'K002,152', 'Average,151', ',154', 'K003,155'],
    readings: ['K001 hop left 1 = 150', 'K002 hop left 1 = 152', 'K003 hop left 1 = 155'],
    ignored: ['summary_row @4:- of 2'],
    rejects: ['athlete_missing @5'],
  },
};

describe('neighbours that must not be read wrongly', () => {
  it.each(Object.entries(DANGERS))('%s', async (_, { sheet, readings: wanted, rejects = [], ignored = [], given }) => {
    const ingested = await read(`${sheet.join('\n')}\n`, given);
    expect(readings(ingested)).toEqual(wanted);
    expect(refusals(ingested)).toEqual(rejects);
    expect(asides(ingested)).toEqual(ignored);
    const [cells, ...fates] = ledgerOf(ingested);
    expect(fates.reduce((sum, count) => sum + count, 0)).toBe(cells);
  });

  it('Max of the roster between Min and Mean is not read as if Max had hopped', async () => {
    const sheet = 'Athlete,Hop L\n"Vale, Ivo",150\n"Quill, Ada",154\nMin,150\nMax,154\nMean,152\n';
    const ingested = await read(sheet, { roster: NAMED_LIKE_LABELS });
    expect(readings(ingested)).toEqual(['K003 hop left 1 = 150', 'K002 hop left 1 = 154']);
  });

  it('names behind readings that are not those of the ids: what stands behind them is given to nobody else', async () => {
    const sheet = 'ID,Hop L,Athlete,Ht\nK001,150,"Quill, Ada",170\nK005,151,"Reed, Bo",180\n';
    const ingested = await read(sheet, { roster: WRITTEN_ROSTER });
    const heights = readings(ingested).filter((reading) => reading.includes('height'));
    expect(heights).not.toContain('K001 height 1 = 170');
    expect(heights).not.toContain('K005 height 1 = 180');
  });

  it('new headings without the one of the athletes do not let columns be read by the old ones', async () => {
    const ingested = await read('ID,Hop L,Hop R\nK001,150,151\n,Hop R,Hop L\nK002,152,153\nK003,154,155\n');
    expect(readings(ingested)).not.toContain('K002 hop left 1 = 152');
    expect(readings(ingested)).not.toContain('K003 hop left 1 = 154');
  });

  it.each(['Rowing,Hop R,Hop L', '#,Hop R,Hop L', 'Fencing squad,Hop R,Hop L'])(
    'new headings with another word over the athletes do not let columns be read by the old ones: %s',
    async (line) => {
      const ingested = await read(`ID,Hop L,Hop R\nK001,150,151\n${line}\nK002,152,153\n`);
      expect(readings(ingested)).not.toContain('K002 hop left 1 = 152');
      expect(readings(ingested)).not.toContain('K002 hop right 1 = 153');
    },
  );

  it('headings on two lines that come again with other units are new headings', async () => {
    const ingested = await read(
      'ID,Hip Add L,Hip Add R\n,kg,kg\nK001,20,21\nID,Hip Add L,Hip Add R\n,lb,lb\nK002,44,45\n',
    );
    // 44 lbf and 45 lbf; a pound-force is 4.4482216152605 N.
    expect(readings(ingested)).toEqual([
      'K001 hip_add left 1 = 196.133',
      'K001 hip_add right 1 = 205.93965',
      'K002 hip_add left 1 = 195.721751',
      'K002 hip_add right 1 = 200.169973',
    ]);
    expect(refusals(ingested)).toEqual([]);
  });

  it('headings on two lines that come again with the sides the other way round are new headings', async () => {
    const ingested = await read('ID,Hop,\n,L,R\nK001,150,151\nID,Hop,\n,R,L\nK002,152,153\n');
    expect(readings(ingested)).toEqual([
      ...['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K002 hop right 1 = 152', 'K002 hop left 1 = 153'],
    ]);
    expect(refusals(ingested)).toEqual([]);
  });

  it('headings on one line that come again with a line of units below are new headings', async () => {
    const ingested = await read('ID,Hop L,Hop R\nK001,150,151\nID,Hop L,Hop R\n,in,in\nK002,60,61\n');
    expect(readings(ingested)).toEqual([
      ...['K001 hop left 1 = 150', 'K001 hop right 1 = 151', 'K002 hop left 1 = 152.4', 'K002 hop right 1 = 154.94'],
    ]);
  });

  it.each(['Date: 18/08/2026', 'Date,18/08/2026', 'Tuesday 18 August 2026', '18/08/2026'])(
    'a line %s between the athletes does not leave those below with the day before',
    async (line) => {
      const { observations } = await ingestText(`Date: 17/08/2026\nID,Hop L\nK001,150\n${line}\nK002,151\n`);
      const told = observations.map(({ athlete_id, date }) => `${athlete_id} ${date}`);
      expect(told[0]).toBe('K001 2026-08-17');
      expect(told).not.toContain('K002 2026-08-17');
    },
  );

  it.each(['Team: Fencing', 'Team,Fencing', 'Fencing'])(
    'a line %s between the athletes does not leave those below with the team above',
    async (line) => {
      const { observations } = await read(`Team: Rowing\nID,Hop L\nK001,150\n${line}\nK003,151\n`);
      const told = observations.map(({ athlete_id, team }) => `${athlete_id} ${team}`);
      expect(told[0]).toBe('K001 Rowing');
      expect(told).not.toContain('K003 Rowing');
    },
  );

  it('a best that differs from its trials is told, with its line', async () => {
    const { notes, observations } = await read(
      'ID,Hop L 1,Hop L 2,Hop L best\nK001,150,152,152\nK002,140,142,160\nK003,150.4,151,151\n',
    );
    expect(observations).toHaveLength(6);
    expect(notes).toEqual([
      'sheet.csv: "Hop L best" differs from the trials beside it on line 3: it says 160 cm, they give 142 cm; the trials are used',
    ]);
  });

  it('a best or mean that a spreadsheet has rounded is as good as its trials', async () => {
    const { notes } = await read(
      'ID,Hop L 1,Hop L 2,Hop L best,Hop L avg\nK001,150.2,152.4,152,151.3\nK002,140,141,141,141\nK003,140,NT,140,140\n',
    );
    // 151.3 and, of 140 and 141, 140.5 shown as 141.
    expect(notes).toEqual([]);
  });

  it('a best without its unit is in that of its trials', async () => {
    const right = await read('ID,Hip Add L 1 (kg),Hip Add L 2 (kg),Hip Add L best\nK001,20,21,21\nK002,22,20,22\n');
    expect(right.notes).toEqual([]);
    const wrong = await read('ID,Hip Add L 1 (kg),Hip Add L 2 (kg),Hip Add L best\nK001,20,21,21\nK002,22,20,20\n');
    expect(wrong.notes).toEqual([
      expect.stringContaining('"Hip Add L best" differs from the trials beside it on line 3'),
    ]);
  });

  it('a best beside trials that stand below each other, in one cell or in pairs is no reason for a note', async () => {
    for (const sheet of [
      'ID,Trial,Hop L,Hop L best\nK001,1,150,155\n,2,155,\n,3,152,\nK002,1,150,151\n,2,151,\n,3,149,\n',
      'ID,Hop L,Hop L best\nK001,"150, 155",155\nK002,"140, 141",141\n',
      'ID,Hop 1 L/R,Hop 2 L/R,Hop L best,Hop R best\nK001,150/151,152/153,152,153\n',
      'ID,Test,Side,1,2,3,Best\nK001,Hop,L,150,151,152,152\nK001,Hop,R,150,151,153,153\n',
      'ID,Side,Hop 1,Hop 2,Hop best\nK001,L,150,151,151\nK001,R,150,152,152\n',
      'ID,Sprint 1,Sprint 2,Sprint best\nK001,3.12,3.05,3.05\n',
    ]) {
      const { notes, rejects, observations } = await read(sheet);
      expect([notes, rejects]).toEqual([[], []]);
      expect(observations.length).toBeGreaterThan(1);
    }
  });

  it('points to each cell of a sheet with two tables by its line and column', async () => {
    const sheet = 'ID,Hop L,,Athlete,Ht\nK001,1O,,K002,1T0\nK002,151,,K003,170\n';
    const { observations, rejects } = await read(sheet);
    for (const { line, column, raw } of [...observations, ...rejects]) {
      expect(rowAt(sheet, line!, ',')[column! - 1]).toBe(raw);
    }
    expect(rejects.map(({ line, column }) => `${line}:${column}`)).toEqual(['2:2', '2:5']);
  });
});
