import { describe, expect, test } from 'vitest';
import { readClearance } from '../../src/athletes/clearance.ts';
import { AthleteDirectory } from '../../src/athletes/directory.ts';
import { readReferrals } from '../../src/athletes/referrals.ts';
import { readRoster } from '../../src/athletes/roster.ts';
import { NameWords, shownCell } from '../../src/athletes/shown_cells.ts';
import { readWork } from '../../src/athletes/work.ts';
import { readExposures } from '../../src/outcomes/exposures.ts';
import { readHistory } from '../../src/outcomes/history.ts';
import { readInjuryLog } from '../../src/outcomes/injury_log.ts';
import { type Trouble, troubleText } from '../../src/problems/failure.ts';
import { readCorrections, unusedCorrections } from '../../src/sheets/corrections.ts';
import { spec, told } from './side_files.ts';

const DOMINANCE = ['kicking_foot', 'throwing_hand'];
const roster = (text: string) => readRoster(text, spec('roster.csv'), DOMINANCE, new Map());
const ROSTER = roster(
  "athlete_id,last_name,first_name,also_known_as,team\nA01,Roe-Smith,Jane,Quill,Rowing\nA02,O'Hara,Bo,,Judo\n",
);
const DIRECTORY = new AthleteDirectory(ROSTER, new Map([['Sparrow', 'A01']]), 'reject', false);

describe('a cell in a message', () => {
  test.each([
    ['groin rehab', 'programme', true],
    ['Sent to ER', 'status', true],
    ['lfet', 'side', true],
    ['2026-13-45', 'date', true],
    ['Jane', 'throwing_hand', false],
    ['jane 4', 'sex', false],
    ['JANE4', 'sex', false],
    ['Jane Doe said ok 4', 'status', false],
    ['ask Smith', 'status', false],
    ['OHARA', 'side', false],
    ['o’hara', 'side', false],
    ['Bo', 'side', false],
    ['Bo is out', 'status', true],
    ['sparrow', 'rule', false],
    ['Quill', 'rule', false],
    ['K109', 'athlete_id', true],
    ['k-109/2', 'athlete_id', true],
    ['Smith, Jane #12', 'athlete_id', false],
    ['Miller, Ann #12', 'athlete_id', false],
    ['Jane12', 'athlete_id', false],
    ['Miller', 'athlete_id', false],
    ['x'.repeat(201), 'status', false],
    ['', 'status', false],
    ['Ann Miller 4', 'status', false],
    ['Miller, Ann 4', 'team', false],
    ['Miller', 'throwing_hand', false],
    ['5 (Ann Miller)', 'days_lost', false],
    ['1 Sept Ann', 'date', false],
    ['1st of Sept', 'date', true],
    ['8/3/26 or 9/3/26', 'date', true],
    ['rihgt', 'side', true],
    ['Wright', 'side', false],
    ['Beth', 'side', false],
  ])('"%s" of %s is shown: %s', (cell, column, isShown) => {
    expect(shownCell(cell, column, DIRECTORY.names)).toBe(isShown ? ` "${cell}"` : '');
  });

  test.each([
    ['ask Jane', false],
    ['Jane', false],
    ['Jane4', true],
    ['3/4/26', true],
    ['no', true],
    ['', false],
  ])('"%s" where no name is known is shown: %s', (cell, isShown) => {
    expect(new NameWords([]).mayShow(cell, 'status')).toBe(isShown);
  });
});

const NAMES = [
  'Jane',
  'Smith',
  'Jane Roe-Smith',
  'Smith, Jane #12',
  'jane4',
  'Jane Roe 4',
  "O'Hara",
  'Roe-Smith 3/4/2026',
];
const NAME = /jane|smith|\broe\b|hara/i;

interface Reader {
  readonly columns: readonly string[];
  readonly read: (text: string) => readonly Trouble[];
}

const of = (columns: string, read: Reader['read']): Reader => ({ columns: columns.split(','), read });
const READERS: Readonly<Record<string, Reader>> = {
  roster: of(
    `athlete_id,last_name,first_name,also_known_as,team,sex,birth_date,entry_year,season,left_on,${DOMINANCE}`,
    (text) => roster(text).warnings,
  ),
  clearance: of(
    'athlete_id,date,status,region,side,until',
    (text) => readClearance(text, spec('c.csv'), DIRECTORY).warnings,
  ),
  referrals: of(
    'athlete_id,date,rule,seen_on,outcome,closed_on',
    (text) => readReferrals(text, spec('r.csv'), DIRECTORY, ['grip_low']).warnings,
  ),
  work: of(
    'athlete_id,programme,started,planned,done,stopped,reason',
    (text) => readWork(text, spec('w.csv'), DIRECTORY, ['more']).warnings,
  ),
  injuries: of(
    'athlete_id,date,region,side,days_lost,type,contact,setting,recurrent,team',
    (text) => readInjuryLog(text, spec('i.csv'), DIRECTORY).warnings,
  ),
  history: of(
    'athlete_id,region,side,date,surgery,full_return',
    (text) => readHistory(text, spec('h.csv'), DIRECTORY).warnings,
  ),
  corrections: of('file,line,column,raw,action,value,by,date', (text) => {
    const read = readCorrections(text, spec('k.csv'), DIRECTORY.names);
    return [...read.warnings, ...unusedCorrections(read.corrections, new Set(), DIRECTORY.names)];
  }),
  exposures: of(
    'season,team,athlete_exposures,athlete_id,kind',
    (text) =>
      readExposures(text, spec('e.csv'), DIRECTORY, { teamAliases: new Map(), rosterTeams: ['Rowing'] }).warnings,
  ),
};

const SOUND_CELLS: Readonly<Record<string, string>> = {
  ...{ athlete_id: 'A01', last_name: 'Roe-Smith', first_name: 'Jane', season: '2026' },
  ...{ file: 'hip.csv', line: '2', column: '2', action: 'void' },
};

const quoted = (cell: string): string => `"${cell.replaceAll('"', '""')}"`;

describe('no name is repeated, in whichever column it stands', () => {
  test.each(Object.entries(READERS))('%s', (_, { columns, read }) => {
    let warned = 0;
    for (const column of columns) {
      for (const name of NAMES) {
        const cells = columns.map((other) => (other === column ? name : (SOUND_CELLS[other] ?? '')));
        const other = columns.includes('last_name') ? `A02,O'Hara,Bo${','.repeat(columns.length - 3)}\n` : '';
        const warnings = read(`${columns}\n${cells.map(quoted).join(',')}\n${other}`);
        warned += warnings.length;
        for (const warning of warnings) expect(troubleText(warning)).not.toMatch(NAME);
      }
    }
    expect(warned).toBeGreaterThan(columns.length);
  });

  test('of a roster whose row has slipped, so that the name stands where no name should', () => {
    const { warnings } = roster(
      `athlete_id,last_name,first_name,sex,throwing_hand\nA01,,,F,Quarrel\nA02,Ash,Ivy,F,Quarrel\n`,
    );
    expect(told(warnings.filter(({ line }) => line !== undefined))).toEqual([
      'roster.csv:2:5: throwing_hand is none of left, right, both It is taken as unknown.',
      'roster.csv:3:5: throwing_hand is none of left, right, both It is taken as unknown.',
    ]);
  });

  test('of a list with a column of names that the roster does not have', () => {
    const list = 'Athlete,athlete_id,date,status\n"Finch, Ada",A01,2026-08-03,Finch is ok\n';
    const { warnings } = readClearance(list, spec('c.csv'), DIRECTORY);
    expect(told(warnings).filter((text) => /:2:/.test(text))).toEqual([
      'c.csv:2:4: status is none of cleared, limited, not_cleared, pending The athlete is not known to be cleared.',
    ]);
  });
});

test.each(['both?', 'left?', '? R', 'L/R'])('a dominant side "%s" is asked about', (cell) => {
  const { rows, warnings } = roster(`athlete_id,last_name,kicking_foot\nA01,Roe,${cell}\n`);
  expect(rows[0].dominance[0]).toBeNull();
  expect(told(warnings).at(-1)).toBe(
    `roster.csv:2:3: kicking_foot "${cell}" is none of left, right, both It is taken as unknown.`,
  );
});

test('rows that say the same as one before are told in one line', () => {
  const rows = Array.from({ length: 5 }, () => 'A01,2026-08-03,cleared');
  const { rows: kept, warnings } = readClearance(
    ['athlete_id,date,status', ...rows].join('\n'),
    spec('c.csv'),
    DIRECTORY,
  );
  expect(kept).toHaveLength(1);
  expect(told(warnings)).toEqual([
    'c.csv:3: says the same as line 2, and so do 3 more lines They count once. Take all but one of them out.',
  ]);
});
