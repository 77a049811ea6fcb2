import { describe, expect, test } from 'vitest';
import { type KnownTeams, readExposures } from '../../src/outcomes/exposures.ts';
import { DIRECTORY, holdsForAnyText, spec, standsLongCells, told } from '../athletes/side_files.ts';

const HEADER = 'season,team,athlete_exposures,athlete_id,kind';
const SPEC = spec('exposures.csv');
const TEAMS: KnownTeams = {
  teamAliases: new Map([
    ['row', 'Rowing'],
    ['golf', 'Golf'],
  ]),
  rosterTeams: ['Rowing', 'Water polo'],
};
const read = (lines: readonly string[], teams = TEAMS, header = HEADER) =>
  readExposures([header, ...lines].join('\n'), SPEC, DIRECTORY, teams);

test('rows as they are written', () => {
  const { rows, warnings } = read([
    '2026,ROW,4120,,practice',
    '2026,water polo,0,-,',
    '2025,,61.5,"Ash, Ivy",game',
    '2025,Rowing,,,',
  ]);
  expect(warnings).toEqual([]);
  expect(rows).toEqual([
    { line: 2, season: 2026, team: 'Rowing', athleteId: '', kind: 'practice', athleteExposures: 4120 },
    { line: 3, season: 2026, team: 'Water polo', athleteId: '', kind: '', athleteExposures: 0 },
    { line: 4, season: 2025, team: '', athleteId: 'K103', kind: 'game', athleteExposures: 61.5 },
    { line: 5, season: 2025, team: 'Rowing', athleteId: '', kind: '', athleteExposures: null },
  ]);
});

describe('what is said of cells that cannot be read', () => {
  const SEASON = 'Write the year in which the season starts. No season counts the row.';
  test.each([
    ['26,Rowing,410,,', `exposures.csv:2:1: season "26" is not a year of four digits ${SEASON}`],
    ['2026/27,Rowing,410,,', `exposures.csv:2:1: season "2026/27" is not a year of four digits ${SEASON}`],
    [',Rowing,410,,', `exposures.csv:2:1: season is not given ${SEASON}`],
    [
      '2026,Rowign,410,,',
      'exposures.csv:2:2: team "Rowign" is no team of the roster Did you mean Rowing? No team of the roster counts the row.',
    ],
    [
      '2026,Golf,410,,',
      'exposures.csv:2:2: team "Golf" is no team of the roster Known: Rowing, Water polo. No team of the roster counts the row.',
    ],
    ['2026,,410,,', 'exposures.csv:2:2: team is not given, and no athlete either No team counts the row.'],
    [
      '2026,Rowing,"1,250",,',
      'exposures.csv:2:3: athlete_exposures "1,250" is not a number from 0 on It may be 1250 or 1.25. It is taken as unknown.',
    ],
    [
      '2026,Rowing,1.250,,',
      'exposures.csv:2:3: athlete_exposures "1.250" is not a number that reads one way It may be 1.25 or 1250. It is taken as unknown.',
    ],
    ['2026,Rowing,-3,,', 'exposures.csv:2:3: athlete_exposures "-3" is not a number from 0 on It is taken as unknown.'],
    [
      '2026,Rowing,410 h,,',
      'exposures.csv:2:3: athlete_exposures "410 h" is not a number from 0 on It is taken as unknown.',
    ],
    [
      '2026,Rowing,about 400,,',
      'exposures.csv:2:3: athlete_exposures "about 400" is not a number from 0 on It is taken as unknown.',
    ],
    ['2026,Rowing,41,K999,', 'exposures.csv:2:4: athlete_id "K999" is nobody on the roster The row is left out.'],
  ])('%s', (line, message) => {
    expect(told(read([line]).warnings)).toEqual([message]);
  });

  test('a number that cannot be read is unknown, never 0, and a team that nobody knows stays as written', () => {
    const { rows } = read(['26,Rowign,"1,250",,']);
    expect(rows).toMatchObject([{ season: null, team: 'Rowign', athleteExposures: null }]);
  });

  test('any team will do where the roster names none', () => {
    expect(read(['2026,Golf,410,,'], { teamAliases: new Map() }).warnings).toEqual([]);
  });

  test('of two figures for one thing neither holds; the same twice counts once', () => {
    const { rows, warnings } = read([
      '2026,Rowing,4120,,practice',
      '2026,Row,412,,Practice',
      '2026,Rowing,300,,game',
      '2026,Rowing,300,,game',
      '2026,Rowing,40,K001,practice',
      '2025,Rowing,3900,,practice',
    ]);
    expect(rows.map(({ line, athleteExposures }) => [line, athleteExposures])).toEqual([
      [2, null],
      [3, null],
      [4, 300],
      [6, 40],
      [7, 3900],
    ]);
    expect(told(warnings)).toEqual([
      'exposures.csv:3: is a second figure for the season, team, athlete and kind of line 2 Neither is used. Take one of the two out, or write their sum in one row.',
      'exposures.csv:5: says the same as line 4 It counts once. Take one of the two out.',
    ]);
  });

  test('a missing column', () => {
    expect(() => read(['2026,Rowing'], TEAMS, 'season,team')).toThrow('has no column athlete_exposures.');
  });
});

test('any text is read, or refused with a Failure', () => {
  holdsForAnyText(HEADER, (text) => readExposures(text, SPEC, DIRECTORY, TEAMS));
});

test('long cells', () => standsLongCells(HEADER, (text) => readExposures(text, SPEC, DIRECTORY, TEAMS)));
