import { describe, expect, it } from 'vitest';
import { readRoster, readSex, readTeams } from '../../src/athletes/roster.ts';
import { Failure, troubleText } from '../../src/problems/failure.ts';
import { isoDay, parseIsoDay } from '../../src/units/days.ts';

const aliases = new Map([['row', 'Rowing']]);
const read = (text: string, columns: Record<string, string> = {}, dominance: string[] = []) =>
  readRoster(text, { file: 'roster.csv', columns: new Map(Object.entries(columns)) }, dominance, aliases);

describe('the roster', () => {
  it('is read with everything that it says', () => {
    const { rows, warnings } = read(
      'athlete_id,last_name,first_name,also_known_as,team,sex,birth_date,entry_year,season,left_on,foot\n' +
        'K001,Reed,Bo, Bobo ; B ,ROW;Fencing;Rowing,w,2005-03-09,2024,2026,2027-01-31,L\n',
      {},
      ['foot'],
    );
    expect(warnings).toEqual([]);
    expect({ ...rows[0], birthDay: isoDay(rows[0].birthDay!), leftDay: isoDay(rows[0].leftDay!) }).toEqual({
      athleteId: 'K001',
      lastName: 'Reed',
      firstName: 'Bo',
      alsoKnownAs: ['Bobo', 'B'],
      teams: ['Rowing', 'Fencing'],
      sex: 'F',
      birthDay: '2005-03-09',
      entryYear: 2024,
      season: 2026,
      leftDay: '2027-01-31',
      dominance: ['left'],
    });
  });

  it.each([
    ['semicolons', 'athlete_id;team\nK001;Rowing\n'],
    ['tabs', 'athlete_id\tteam\nK001\tRowing\n'],
    ['blank lines first', '\n \nathlete_id;team\nK001;Rowing\n'],
    ['a quoted heading', '"athlete_id","team"\nK001,Rowing\n'],
    ['capitals and blanks', ' Athlete_ID , TEAM \nK001,Rowing\n'],
    ['carriage returns', 'athlete_id,team\r\nK001,Rowing\r\n'],
  ])('may be written with %s', (_, text) => {
    expect(read(text).rows.map(({ athleteId, teams }) => [athleteId, ...teams])).toEqual([['K001', 'Rowing']]);
  });

  it('takes headings of its own through columns:', () => {
    const { rows } = read('Student no,Club,team\nK001,Rowing,old\n', {
      'student no': 'athlete_id',
      club: 'team',
      team: 'ignore',
    });
    expect([rows[0].athleteId, rows[0].teams]).toEqual(['K001', ['Rowing']]);
  });

  it('says what it cannot read, by line and column, and takes it as unknown', () => {
    const { rows, warnings } = read(
      'athlete_id,birth_date,entry_year,season,foot\n,,,,\nK001,31/02/2005,24,,\n,2005-01-01,,,\nK002,01/02/2005,,x,sideways\n',
      {},
      ['foot', 'hand'],
    );
    expect(rows.map(({ athleteId, birthDay, dominance }) => [athleteId, birthDay, ...dominance])).toEqual([
      ['K001', null, null, null],
      ['K002', null, null, null],
    ]);
    expect(warnings.map((warning) => troubleText(warning).split('\n')[0]).sort()).toEqual([
      'roster.csv: has no column hand, which the protocol names as dominance',
      'roster.csv:3:2: birth_date "31/02/2005" is not a date that reads one way: write YYYY-MM-DD',
      'roster.csv:3:3: entry_year "24" is not a year of four digits',
      'roster.csv:4: has no athlete_id',
      'roster.csv:5:2: birth_date "01/02/2005" is not a date that reads one way: write YYYY-MM-DD',
      'roster.csv:5:4: season "x" is not a year of four digits',
      'roster.csv:5:5: foot is none of left, right, both',
    ]);
  });

  it('holds one row an athlete and season', () => {
    const { rows, warnings } = read(
      'athlete_id,team,season\nK001,Rowing,2025\nK001,Fencing,2026\nK001,Rowing,2026\nK002,Rowing,\nK002,Fencing,\n',
    );
    expect(rows.map(({ athleteId, teams, season }) => [athleteId, teams[0], season])).toEqual([
      ['K001', 'Rowing', 2025],
      ['K001', 'Fencing', 2026],
      ['K002', 'Rowing', null],
    ]);
    expect(warnings.map(({ line, message }) => [line, message])).toEqual([
      [4, 'athlete_id "K001" stands twice for season 2026'],
      [6, 'athlete_id "K002" stands twice'],
    ]);
  });

  it.each([
    ['no athlete_id', 'id,team\nK001,Rowing\n', /no column athlete_id/],
    ['two columns for one thing', 'athlete_id,team,Team\nK001,Rowing,Fencing\n', /second column for team/],
    ['an open quote', 'athlete_id,team\nK001,"Rowing\n', /roster\.csv:2: a quote opens here/],
    ['nothing', '\n\n', /is empty/],
  ])('with %s is refused', (_, text, message) => {
    expect(() => read(text)).toThrow(Failure);
    expect(() => read(text)).toThrow(message);
  });

  it('names the near heading', () => {
    expect(() => read('athlete id,team\nK001,Rowing\n')).toThrow('Is it "athlete id"?');
  });

  it('gives the whole line that settles the headings of another program', () => {
    expect(() => read('"Student ID",Last,First,Sport,Gender,DOB,Year\nK001,Oak,Ida,Rowing,F,2005-01-31,2\n')).toThrow(
      'roster.csv:1: has no column athlete_id. Is it "Student ID"?\n' +
        '  Say what its headings are: put into screening.yaml:\n' +
        '    file: roster.csv\n' +
        '    columns:\n' +
        '      "Student ID": athlete_id\n' +
        '      "Last": last_name\n' +
        '      "First": first_name\n' +
        '      "Sport": team\n' +
        '      "Gender": sex\n' +
        '      "DOB": birth_date',
    );
  });
});

describe('dates whose order of day and month is open', () => {
  const days = (text: string) => {
    const { rows, warnings } = read(text);
    return [rows.map(({ birthDay }) => birthDay), warnings.map(troubleText)];
  };

  it('are settled by the others of their column', () => {
    expect(days('athlete_id,birth_date\nK001,06/03/2006\nK002,12/31/2005\n')).toEqual([
      [parseIsoDay('2006-06-03'), parseIsoDay('2005-12-31')],
      [],
    ]);
  });

  it('stay unknown where nothing or both is shown, and that is said once', () => {
    const once = (line: number, cell: string, more: string): string =>
      `roster.csv:${line}:2: birth_date "${cell}" is not a date that reads one way: write YYYY-MM-DD\n` +
      `  It is taken as unknown.${more}`;
    expect(days('athlete_id,birth_date\nK001,06/03/2006\nK002,05/04/2005\nK003,05/05/2005\n')).toEqual([
      [null, null, parseIsoDay('2005-05-05')],
      [once(2, '06/03/2006', ' So in 1 more row.')],
    ]);
    expect(days('athlete_id,birth_date\nK001,06/03/2006\nK002,31/12/2005\nK003,12/31/2005\n')).toEqual([
      [null, parseIsoDay('2005-12-31'), parseIsoDay('2005-12-31')],
      [once(2, '06/03/2006', '')],
    ]);
  });
});

it('an ignored column that may be one of the contract is said to be', () => {
  expect(read('athlete_id,Sport,shoe\nK001,Rowing,44\n').warnings.map(troubleText)).toEqual([
    'roster.csv: columns "Sport", "shoe" not used\n' +
      '  If that is meant, put into screening.yaml:\n' +
      '    file: roster.csv\n' +
      '    columns:\n' +
      '      "Sport": team',
  ]);
});

it('a row that goes beyond the headings is said to have slipped, perhaps', () => {
  expect(read('athlete_id,last_name,team\nK001,Oak, Ida,Rowing\nK002,Elm,Rowing,\n').warnings.map(troubleText)).toEqual(
    [
      'roster.csv:2: has a cell beyond the last heading, so that cells may stand under wrong headings\n' +
        '  Look at the row; a comma inside a text wants quotes around the text.',
    ],
  );
});

it('sex is read as F, M or as recorded', () => {
  expect(['f', 'Female', 'W', 'm', 'MEN', 'x', ' ', 'Open'].map(readSex)).toEqual([
    'F',
    'F',
    'F',
    'M',
    'M',
    'x',
    null,
    'Open',
  ]);
});

it('teams are parted by semicolons, each once and by its own name', () => {
  expect(readTeams(' ROW ; Fencing;;row', aliases)).toEqual(['Rowing', 'Fencing']);
});
