import { describe, expect, test } from 'vitest';
import { teamFinder } from '../../src/screening/team_finder.ts';
import type { SheetEntry } from '../../src/sheets/entry.ts';
import { entryOfFile, nameFacts } from '../../src/sheets/from_name.ts';
import { readNamePattern } from '../../src/sheets/name_pattern.ts';
import type { DateOrder } from '../../src/units/dates.ts';

const TEAM_STATION_DATE = '{team}_{station}_{date}';
const PLAIN: SheetEntry = { files: ['sheets/*.csv'], purpose: 'test', units: new Map(), columns: new Map() };
const NO_DATE = 'no date is taken from it';

describe('what a name says', () => {
  test.each<[string, string, object]>([
    [
      TEAM_STATION_DATE,
      'sheets/2026/Rowing_grip_2026-08-17.csv',
      { team: 'Rowing', station: 'grip', date: '2026-08-17' },
    ],
    [TEAM_STATION_DATE, 'Rowing_grip_20260817.csv', { team: 'Rowing', station: 'grip', date: '2026-08-17' }],
    [TEAM_STATION_DATE, 'Rowing_grip_2026_08_17.csv', { team: 'Rowing', station: 'grip', date: '2026-08-17' }],
    [TEAM_STATION_DATE, 'Rowing_grip_17-08-2026.csv', { team: 'Rowing', station: 'grip', date: '2026-08-17' }],
    [TEAM_STATION_DATE, 'Rowing_grip_17_Aug_2026.csv', { team: 'Rowing', station: 'grip', date: '2026-08-17' }],
    [TEAM_STATION_DATE, 'Rowing_grip_17Aug2026.csv', { team: 'Rowing', station: 'grip', date: '2026-08-17' }],
    [TEAM_STATION_DATE, 'Rowing_grip_08172026.csv', { team: 'Rowing', station: 'grip', date: '2026-08-17' }],
    [TEAM_STATION_DATE, 'Rowing_grip_2026.08.17', { team: 'Rowing', station: 'grip', date: '2026-08-17' }],
    ['{date}-{team}', '2026-08-17-Rowing.csv', { team: 'Rowing', date: '2026-08-17' }],
    ['{team}-{station}', 'Water_polo-hip+strength.CSV', { team: 'Water polo', station: 'hip strength' }],
    ['{team}-{station}', 'Water__polo -__grip_.csv', { team: 'Water polo', station: 'grip' }],
    ['{station} by {tester}', 'Hip BY J_R.csv', { station: 'Hip', tester: 'J R' }],
    ['{station}-{device}', 'grip-DYN_2.csv', { station: 'grip', device: 'DYN_2' }],
    ['{}_{team}', 'final_Rowing.csv', { team: 'Rowing' }],
    ['{}_{}_{team}', 'v2_final_Rowing.csv', { team: 'Rowing' }],
    ['{team}_{}', 'Rowing_a.csv', { team: 'Rowing' }],
    ['({team}) [{station}].*', '(Rowing) [grip].*.csv', { team: 'Rowing', station: 'grip' }],
    ['{team}_{season}', 'Rowing_2026.csv', { team: 'Rowing', season: 2026 }],
    ['{team}_{season}', 'Rowing_2026-27.csv', { team: 'Rowing', season: 2026 }],
    ['{team}_{season}', 'Rowing_2026_27.csv', { team: 'Rowing', season: 2026 }],
    ['{team}_{season}', 'Rowing_26-27.csv', { team: 'Rowing', season: 2026 }],
    ['{team}_{season}', 'Rowing_2099-00.csv', { team: 'Rowing', season: 2099 }],
    ['{team}_{season}', 'Rowing_2026-2027.csv', { team: 'Rowing', season: 2026 }],
    // An accent may be a character of its own, as some systems keep names.
    ['Mädchen {team}', 'Ma\u0308dchen Rude\u0301r.csv', { team: 'Rudér' }],
  ])('%s and %s', (pattern, file, facts) => {
    expect(nameFacts(pattern, file, undefined)).toEqual({ facts });
  });

  test.each<[DateOrder, string, string]>([
    ['dmy', 'x_03-04-2026.csv', '2026-04-03'],
    ['mdy', 'x_03-04-2026.csv', '2026-03-04'],
    ['mdy', 'x_03042026.csv', '2026-03-04'],
    ['ymd', 'x_26-08-12.csv', '2026-08-12'],
    ['dmy', 'x_2026-03-04.csv', '2026-03-04'],
  ])('dates: %s settles %s', (dates, file, date) => {
    expect(nameFacts('x_{date}', file, dates)).toEqual({ facts: { date } });
  });
});

describe('what a name does not say', () => {
  const nothing = (pattern: string, why = `the name does not fit from_name "${pattern}"`) => ({
    facts: {},
    problem: `${why}: nothing is taken from it`,
  });

  test.each([
    [TEAM_STATION_DATE, 'Rowing-grip-2026-08-17.csv'],
    [TEAM_STATION_DATE, 'grip_2026-08-17.csv'],
    ['Hip {team}', 'Knee Rowing.csv'],
    ['{team}_{station}', '_grip.csv'],
    ['{team}_{station}', '__ _ .csv'],
    ['{team}', `${'a'.repeat(300)}.csv`],
    ['{team}{date}', 'Rowing2026-08-17.csv'],
  ])('a name that does not fit: %s and %s', (pattern, file) => {
    expect(nameFacts(pattern, file, undefined)).toEqual(nothing(pattern));
  });

  test('a name that can be parted in two ways gives nothing, and both are named', () => {
    expect(nameFacts(TEAM_STATION_DATE, 'Water_polo_grip_2026-08-17.csv', undefined)).toEqual(
      nothing(
        TEAM_STATION_DATE,
        `the name fits from_name "${TEAM_STATION_DATE}" in more than one way, as team "Water", station "polo grip" or as team "Water polo", station "grip"`,
      ),
    );
  });

  test.each<[string, DateOrder | undefined, string]>([
    [
      '03-04-2026',
      undefined,
      `the date "03-04-2026" of the name can be 2026-04-03 or 2026-03-04: ${NO_DATE} until dates: says which`,
    ],
    [
      '26-08-12',
      undefined,
      `the date "26-08-12" of the name can be 2012-08-26 or 2026-08-12: ${NO_DATE} until dates: says which`,
    ],
    [
      '08-17-2026',
      'dmy',
      `the date "08-17-2026" of the name is none as dates: dmy reads it, and the other way round 2026-08-17: ${NO_DATE}`,
    ],
    ['2026-02-30', undefined, `"2026-02-30" of the name is no date, as from_name "{team}_{date}" has it: ${NO_DATE}`],
    [
      '2026-08-17 (1)',
      undefined,
      `"2026-08-17 (1)" of the name is no date, as from_name "{team}_{date}" has it: ${NO_DATE}`,
    ],
    ['46251', undefined, `"46251" of the name is no date, as from_name "{team}_{date}" has it: ${NO_DATE}`],
    ['Aug 2026', undefined, `"Aug 2026" of the name is no date, as from_name "{team}_{date}" has it: ${NO_DATE}`],
  ])('the date %s under dates: %s', (written, dates, problem) => {
    expect(nameFacts('{team}_{date}', `Rowing_${written}.csv`, dates)).toEqual({ facts: { team: 'Rowing' }, problem });
  });

  test.each(['26', '2026-28', '2026-2028', '26-2027', '1850', '20266'])('the season %s', (written) => {
    expect(nameFacts('{team} {season}', `Rowing ${written}.csv`, undefined)).toEqual({
      facts: { team: 'Rowing' },
      problem: `"${written}" of the name is no season, as from_name "{team} {season}" has it: no season is taken from it`,
    });
  });

  test('no date to be found in any of several ways', () => {
    expect(nameFacts(TEAM_STATION_DATE, 'Water_polo_grip_August.csv', undefined)).toEqual(
      nothing(
        TEAM_STATION_DATE,
        `the name fits from_name "${TEAM_STATION_DATE}" in more than one way, and in none of them is there a date that can be read`,
      ),
    );
  });

  test('a long name and many parts cost no time', () => {
    const started = performance.now();
    const pattern = `${'{}_'.repeat(40)}{team}_{date}`;
    expect(nameFacts(pattern, `${'_'.repeat(250)}.csv`, undefined).facts).toEqual({});
    expect(nameFacts(pattern, `${'a_'.repeat(120)}x.csv`, undefined).facts).toEqual({});
    expect(performance.now() - started).toBeLessThan(2000);
  });
});

describe('known teams', () => {
  const teamOf = teamFinder({
    teamAliases: new Map([
      ['rowing', 'Rowing'],
      ['w. rowing', 'Rowing'],
    ]),
    rosterTeams: ['Water polo', 'Polo', 'Rowing'],
  });

  test.each([
    ['W_Rowing_grip_2026-08-17.csv', 'Rowing', 'grip'],
    ['ROWING_grip_strength_2026-08-17.csv', 'Rowing', 'grip strength'],
    ['water_polo_grip_2026-08-17.csv', 'Water polo', 'grip'],
    ['Fencing_grip_2026-08-17.csv', 'Fencing', 'grip'],
  ])('tell where the team ends: %s', (file, team, station) => {
    expect(nameFacts(TEAM_STATION_DATE, file, undefined, teamOf).facts).toEqual({ team, station, date: '2026-08-17' });
  });

  test('two that fit settle nothing', () => {
    const finder = teamFinder({ teamAliases: new Map(), rosterTeams: ['Water', 'Water polo'] });
    expect(nameFacts(TEAM_STATION_DATE, 'Water_polo_grip_2026-08-17.csv', undefined, finder).facts).toEqual({});
  });

  test('a spelling that two teams share without its punctuation is none', () => {
    const finder = teamFinder({ teamAliases: new Map(), rosterTeams: ['U-20', 'U 20', 'Rowing'] });
    expect(finder('u_20')).toBeUndefined();
    expect(finder('rowing ')).toBe('Rowing');
  });
});

describe('the entry of one file', () => {
  const entry = { ...PLAIN, purpose: 'makeup', dates: 'dmy', fromName: '{team}_{date}' } as const;

  test('has what the name says beside what the entry says', () => {
    expect(entryOfFile(entry, 'sheets/Rowing_03-04-2026.csv')).toEqual({
      ...entry,
      team: 'Rowing',
      date: '2026-04-03',
    });
  });

  test('has the problem of a name that does not fit, and no fact without its key', () => {
    expect(entryOfFile(entry, 'sheets/x.csv')).toEqual({
      ...entry,
      nameProblem: 'the name does not fit from_name "{team}_{date}": nothing is taken from it',
    });
  });

  test('without from_name it is the entry itself', () => {
    expect(entryOfFile(PLAIN, 'Rowing_2026-08-17.csv')).toBe(PLAIN);
  });
});

test.each([
  ['{team}', [{ kind: 'fact', fact: 'team' }]],
  [
    'Hip {team} {}',
    [{ kind: 'text', text: 'Hip ' }, { kind: 'fact', fact: 'team' }, { kind: 'text', text: ' ' }, { kind: 'any' }],
  ],
])('parts of %s', (pattern, parts) => {
  expect(readNamePattern(pattern)).toEqual({ parts, problems: [] });
});
