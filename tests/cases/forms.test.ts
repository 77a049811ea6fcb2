import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bilat, contents, read, readCsv, tempFolder } from './bilat.ts';

const PROTOCOL = `bilat: 1
name: Small battery
measures:
  grip: { label: Grip strength, unit: N, sides: each, plausible: [10, 1500], trials: { expect: 2 }, headings: [grip] }
  height: { label: Standing height, unit: cm, sides: none, plausible: [120, 240], headings: [height] }
  systolic: { label: Systolic pressure, unit: "mm[Hg]", sides: none, plausible: [60, 260], headings: [sbp] }
  hop: { label: Hop, unit: cm, sides: each, plausible: [10, 300], headings: [hop] }
derived:
  hop_by_height: { label: Hop by height, percent_of: [hop, height] }
everyone: [grip, systolic]
sport_groups:
  jumpers: { label: Jumpers, teams: [Volleyball], measures: [hop_by_height] }
`;
const ROSTER = `athlete_id,last_name,first_name,team,sex,left_on
A1,Emberbent,Falk,Rowing,M,
A2,Marrowbent,Kezzy,Rowing;Volleyball,F,
A3,Quarrel,Anwe,Volleyball,F,
A4,Sorrel,Fenna,Volleyball,F,2026-08-01
A5,Yarrow,Ilka,Rowing,F,
`;
const SCREENING = `sheets:
  - { files: sheets/gym.csv, station: Gym }
  - { files: sheets/hall.csv, station: Hall }
  - { files: sheets/blank-*.csv }
  - { files: sheets/later.csv, station: Pool }
teams: { Volleyball: { also: [VB] } }
`;
const FOLDER = {
  'protocol.yaml': PROTOCOL,
  'roster.csv': ROSTER,
  'screening.yaml': SCREENING,
  'sheets/gym.csv': 'ID,Date,Grip L 1 (lb),Grip R 1 (lb),SBP\nA1,2026-08-17,88,90,118\nA3,2026-08-17,71,70,\n',
  'sheets/hall.csv': 'ID,Date,Height (cm),Hop L (cm),Hop R (cm)\nA3,2026-08-17,180,150,151\n',
  'sheets/later.csv': 'ID,Date,Hop L (cm),Hop R (cm)\n',
  'clearance.csv': 'athlete_id,date,status\nA5,2026-08-16,not_cleared\n',
};
const cwd = tempFolder(FOLDER);
const forms = (...args: string[]) => bilat(['forms', ...args], { cwd });
const GYM =
  'athlete_id,team,date,tester,device,Grip strength L 1 (lbf),Grip strength L 2 (lbf),Grip strength R 1 (lbf),Grip strength R 2 (lbf),Systolic pressure (mmHg)';

describe('a sheet', () => {
  test('has who is still there, the tests of the station in the unit of its sheets, and holds', () => {
    const { code, stdout, stderr } = forms('--station', 'gym', '--team', 'rowing');
    expect(code).toBe(0);
    expect(stdout).toBe(`${GYM}\nA1,Rowing,,,,,,,,\nA2,Rowing,,,,,,,,\nA5,Rowing,,,,held,held,held,held,held\n`);
    expect(stderr).toContain(
      'note: 1 athlete held by medical staff on 2026-08-17: their cells say held; write the date into their rows too, or make the sheets with --on DATE\n',
    );
  });

  test('leaves out who has left, and takes the team by any spelling', () => {
    expect(forms('--station', 'Gym', '--team', 'VB').stdout).toBe(
      `${GYM}\nA2,Volleyball,,,,,,,,\nA3,Volleyball,,,,,,,,\n`,
    );
    const before = forms('--station', 'Gym', '--team', 'VB', '--on', '2026-07-15').stdout;
    expect(before.split('\n').slice(1)).toEqual([
      'A2,Volleyball,2026-07-15,,,,,,,',
      'A3,Volleyball,2026-07-15,,,,,,,',
      'A4,Volleyball,2026-07-15,,,,,,,',
      '',
    ]);
  });

  test('holds nothing that was read before, and names only where they are asked for', () => {
    const { stdout } = forms('--station', 'Gym', '--team', 'Rowing');
    expect(stdout).not.toMatch(/118|88|90|Kezzy|Falk/);
    const named = forms('--station', 'Gym', '--team', 'Rowing', '--names').stdout.split('\n');
    expect(named[0]).toBe(GYM.replace('athlete_id,', 'athlete_id,last_name,first_name,'));
    expect(named[2]).toBe('A2,Marrowbent,Kezzy,Rowing,,,,,,,,');
  });

  test('has the measures that are named, a derived one by its parts', () => {
    const { stdout } = forms('--measure', 'hop_by_height, systolic', '--team', 'Rowing', '--station', 'Corner');
    expect(stdout.split('\n')[0]).toBe(
      'athlete_id,team,date,tester,device,Standing height (cm),Systolic pressure (mmHg),Hop L (cm),Hop R (cm)',
    );
  });

  test('has only who still lacks something', () => {
    // A1 has all of the gym, A2 nothing, A3 no pressure, A5 is held.
    expect(forms('--station', 'Gym', '--team', 'Rowing', '--missing').stdout).toBe(`${GYM}\nA2,Rowing,,,,,,,,\n`);
    const nobody = forms('--measure', 'grip', '--team', 'Volleyball', '--missing', '--on', '2026-08-18');
    expect(nobody.stdout.split('\n').slice(1)).toEqual(['A2,Volleyball,2026-08-18,,,,,,', '']);
  });

  test('has everybody again in another season, whoever was tested in this one', () => {
    const next = forms('--station', 'Gym', '--team', 'Rowing', '--missing', '--season', '2027');
    expect(next.stdout.split('\n').slice(1)).toEqual(['A1,Rowing,,,,,,,,', 'A2,Rowing,,,,,,,,', '']);
  });

  test('of a coach has no column that is not for a coach', () => {
    const { code, stdout, stderr } = forms('--station', 'Gym', '--team', 'Rowing', '--audience', 'coach');
    expect([code, stdout.split('\n')[0]]).toEqual([0, GYM.replace(',Systolic pressure (mmHg)', '')]);
    expect(stdout).toContain('A5,Rowing,,,,held,held,held,held\n');
    expect(stderr).toContain('note: 1 measure is not on the sheets of a coach\n');
  });
});

describe('where sheets go', () => {
  test('one a station and team into a folder, which is made', () => {
    const out = path.join(tempFolder(), 'forms');
    const { code, stdout, stderr } = forms('-o', out);
    expect([code, stdout]).toEqual([0, '']);
    expect(stderr).toContain(`note: 4 sheets written to ${out}\n`);
    expect(stderr).toContain('note: A2 stands on the sheets of more than one team: test them once\n');
    expect(readdirSync(out).filter((name) => name.endsWith('.csv'))).toEqual([
      'gym-rowing.csv',
      'gym-volleyball.csv',
      'hall-rowing.csv',
      'hall-volleyball.csv',
    ]);
  });

  test('one into a file', () => {
    const file = path.join(tempFolder(), 'form.csv');
    expect(forms('--station', 'Gym', '--team', 'Rowing', '-o', file).code).toBe(0);
    expect(read(file)).toBe(forms('--station', 'Gym', '--team', 'Rowing').stdout);
    expect(JSON.parse(read(file.replace('.csv', '-metadata.json')))).toMatchObject({
      url: 'form.csv',
      'bilat:command': 'bilat forms',
    });
  });

  test('several are not run together on standard output or in a file', () => {
    const hint = 'name a folder with -o DIR, or one sheet with --station and --team';
    expect(forms().stderr).toContain(`error: there are 4 sheets, one a station and team: ${hint}\n`);
    expect(forms('-o', '-').code).toBe(2);
    const file = path.join(tempFolder(), 'form.csv');
    const { code, stderr } = forms('-o', file);
    expect([code, existsSync(file)]).toEqual([2, false]);
    expect(stderr).toContain(`error: -o: ${file} is one file, and there are 4 sheets\n`);
  });

  test('a blank one is replaced, one that was filled in is not, and then none is', () => {
    const out = tempFolder();
    expect(forms('-o', out).code).toBe(0);
    expect(forms('-o', out, '--on', '2026-08-18').code).toBe(0);
    expect(read(out, 'gym-volleyball.csv')).toContain('A3,Volleyball,2026-08-18');
    const filled = path.join(out, 'gym-rowing.csv');
    writeFileSync(filled, read(filled).replace('A1,Rowing,2026-08-18,,,', 'A1,Rowing,2026-08-18,,,88'));
    const before = contents(out);
    const { code, stderr } = forms('-o', out);
    expect([code, contents(out)]).toEqual([2, before]);
    expect(stderr).toContain(
      `error: ${filled}: This sheet was filled in since bilat made it\n  Write to another folder, or use --force to replace it.\n`,
    );
    expect(forms('-o', out, '--force').code).toBe(0);
    expect(read(filled)).not.toContain('88');
  });

  test("a file that is somebody else's is left alone", () => {
    const out = tempFolder({ 'gym-rowing.csv': 'mine\n' });
    const { code, stderr } = forms('-o', out);
    expect([code, readdirSync(out)]).toEqual([2, ['gym-rowing.csv']]);
    expect(stderr).toContain('This file exists, and nothing beside it says that bilat wrote it');
  });

  test('two that would lie in one file are refused', () => {
    const folder = tempFolder({
      ...FOLDER,
      'roster.csv': 'athlete_id,team\nA1,Track & Field\nA3,Track + Field\n',
    });
    const out = tempFolder();
    const { code, stderr } = bilat(['forms', '--station', 'Gym', '-o', out], { cwd: folder });
    expect([code, readdirSync(out)]).toEqual([2, []]);
    expect(stderr).toContain(
      'error: gym-track-field.csv: would hold two sheets, Gym, Track & Field and Gym, Track + Field, whose names differ in signs only\n  Make them one by one, with --station and --team.\n',
    );
  });

  test('a team cannot lead a file out of the folder', () => {
    const folder = tempFolder({ ...FOLDER, 'roster.csv': 'athlete_id,team\nA1,../../etc\nA3,\n' });
    const out = tempFolder();
    expect(bilat(['forms', '--station', 'Gym', '-o', out], { cwd: folder }).code).toBe(0);
    expect(readdirSync(out).filter((name) => name.endsWith('.csv'))).toEqual(['gym-etc.csv', 'gym-no-team.csv']);
  });
});

describe('in the folder of the sheets', () => {
  const filledFolder = (): string => {
    const folder = tempFolder(FOLDER);
    const file = path.join(folder, 'sheets', 'blank-gym.csv');
    const made = bilat(['forms', '--station', 'Gym', '--team', 'Rowing', '--on', '2026-08-19', '-o', file], {
      cwd: folder,
    });
    expect(made.code).toBe(0);
    return folder;
  };

  test('a blank one is no reading and no fault, and may be made again', () => {
    const folder = filledFolder();
    const { code, stdout } = bilat(['ingest', '--rejects', 'rejects.csv'], { cwd: folder });
    expect(code).toBe(0);
    const own = readCsv(stdout).filter(({ file }) => file === 'sheets/blank-gym.csv');
    expect(new Set(own.map(({ athlete_id, status, value }) => `${athlete_id} ${status} ${value}`))).toEqual(
      new Set(['A5 held ']),
    );
    expect(readCsv(read(folder, 'rejects.csv'))).toEqual([]);
    expect(bilat(['run'], { cwd: folder }).code).toBe(0);
    const file = path.join(folder, 'sheets', 'blank-gym.csv');
    const again = bilat(['forms', '--station', 'Gym', '--team', 'Rowing', '-o', file], { cwd: folder });
    expect([again.code, read(file)]).toEqual([
      0,
      `${GYM}\nA1,Rowing,,,,,,,,\nA2,Rowing,,,,,,,,\nA5,Rowing,,,,held,held,held,held,held\n`,
    ]);
  });

  test('one that was filled in is read where it belongs, and is never replaced', () => {
    const folder = filledFolder();
    const file = path.join(folder, 'sheets', 'blank-gym.csv');
    writeFileSync(
      file,
      read(file).replace('A2,Rowing,2026-08-19,,,,,,,', 'A2,Rowing,2026-08-19,BR,spare,80,82,P,unable,121'),
    );
    const { stdout } = bilat(['ingest', '--rejects', 'rejects.csv'], { cwd: folder });
    expect(readCsv(read(folder, 'rejects.csv'))).toEqual([]);
    const rows = readCsv(stdout).filter(({ athlete_id, file: sheet }) => athlete_id === 'A2' && /blank/.test(sheet));
    expect(
      rows.map((row) =>
        [row.measure, row.side, row.trial, row.status, row.raw, row.written_in, row.tester, row.device].join(' '),
      ),
    ).toEqual([
      'grip left 1 measured 80 [lbf_av] BR spare',
      'grip left 2 measured 82 [lbf_av] BR spare',
      'grip right 1 pain P  BR spare',
      'grip right 2 unable unable  BR spare',
      'systolic none 1 measured 121 mm[Hg] BR spare',
    ]);
    // One pound-force is 4.4482216152605 N exactly (NIST Special Publication 811, 2008, appendix B.8).
    expect(Number(rows[0].value)).toBeCloseTo(80 * 4.4482216152605, 9);
    const before = read(file);
    for (const more of [[], ['--force']]) {
      const args = ['forms', '--station', 'Gym', '--team', 'Rowing', '-o', file, ...more];
      const again = bilat(args, { cwd: folder });
      expect([again.code, read(file)]).toEqual([2, before]);
    }
  });
});

describe('before there are sheets', () => {
  const first = { 'protocol.yaml': PROTOCOL, 'roster.csv': ROSTER };

  test('a sheet has everything that the team is given', () => {
    const { code, stdout, stderr } = bilat(['forms', '--team', 'Volleyball'], {
      cwd: tempFolder(first),
    });
    expect(code).toBe(0);
    expect(stdout.split('\n')[0]).toBe(
      'athlete_id,team,date,tester,device,Grip strength L 1 (N),Grip strength L 2 (N),Grip strength R 1 (N),Grip strength R 2 (N),Standing height (cm),Systolic pressure (mmHg),Hop L (cm),Hop R (cm)',
    );
    // Nothing tells a day, so nobody knows that A4 has left.
    expect(
      stdout
        .split('\n')
        .slice(1)
        .map((row) => row.slice(0, 2)),
    ).toEqual(['A2', 'A3', 'A4', '']);
    expect(stderr).toContain(
      'note: nothing tells a day yet, so whoever has a left_on stands on the sheets too; --on DATE says the day\n',
    );
  });

  test('nobody can stand on a sheet where nobody is known', () => {
    const { code, stderr } = bilat(['forms'], { cwd: tempFolder({ 'protocol.yaml': PROTOCOL }) });
    expect(code).toBe(2);
    expect(stderr).toContain('error: nobody is known who could stand on a sheet\n  Fill in roster.csv');
  });

  test('a season that the roster knows and no reading is of is said', () => {
    const roster = ROSTER.replaceAll(/^(athlete_id.*)$/gm, '$1,entry_year').replaceAll(/^(A[1-5].*)$/gm, '$1,2027');
    const { stdout, stderr } = bilat(['forms', '--station', 'Gym', '--team', 'Rowing'], {
      cwd: tempFolder({ ...FOLDER, 'roster.csv': roster }),
    });
    expect(stdout.split('\n')).toHaveLength(5);
    expect(stderr).toContain(
      'note: these are sheets for season 2027, which the roster knows and no reading is of yet; --season 2026 makes those of the last season tested\n',
    );
  });
});

describe('wrong use', () => {
  const cure = 'Name what is measured there, as in --measure height,body_mass';
  test.each([
    [['--station', 'Gymm'], `error: --station: there is no station Gymm. Did you mean Gym? ${cure}\n`],
    [['--station', 'Kitchen'], `error: --station: there is no station Kitchen. Known: Gym, Hall, Pool. ${cure}\n`],
    [
      ['--station', 'pool'],
      `error: --station: no reading of station Pool was read yet, so nobody knows what it measures. ${cure}\n`,
    ],
    [['--team', 'Curling'], 'error: --team: there is no team Curling. Known: Rowing, Volleyball.\n'],
    [['--measure', 'gripp'], 'error: --measure: there is no measure gripp. Did you mean grip?\n'],
    [['--season', '26'], 'error: --season: "26" is no season; write the year in which it starts, as in 2026\n'],
    [
      ['--season', '2025', '--on', '2026-08-17'],
      'error: --season: 2026-08-17 lies in season 2026, not in 2025; leave one of them out\n',
    ],
    [['--station', 'Hall', '--team', 'Chess'], 'error: --team: there is no team Chess. Known: Rowing, Volleyball.\n'],
    [
      ['--measure', 'systolic', '--audience', 'coach'],
      'error: none of these measures is for the sheet of a coach; leave out --audience coach\n',
    ],
  ])('%j', (args, message) => {
    const { code, stdout, stderr } = forms(...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toContain(message);
  });

  test('a station at which a team is given nothing', () => {
    const folder = tempFolder({ ...FOLDER, 'roster.csv': ROSTER.replace('Rowing;Volleyball', 'Rowing') });
    const { code, stderr } = bilat(['forms', '--station', 'Hall', '--team', 'Rowing'], { cwd: folder });
    expect(code).toBe(2);
    expect(stderr).toContain('error: team Rowing is given no measure at Hall\n');
  });
});

test('ids and teams that a spreadsheet would run come back as they are', () => {
  const ids = ['=A3', '+A4', '-A5', '@A6'];
  const folder = tempFolder({
    ...FOLDER,
    'roster.csv': `athlete_id,team\n${ids.map((id) => `${id},=Crew\n`).join('')}`,
    'sheets/gym.csv': 'ID,Date,Grip L 1 (lb),Grip R 1 (lb),SBP\n=A3,2026-08-17,88,90,118\n',
    'sheets/hall.csv': 'ID,Date,Height (cm)\n',
    'clearance.csv': 'athlete_id,date,status\n',
  });
  const file = path.join(folder, 'sheets', 'blank-gym.csv');
  expect(bilat(['forms', '--station', 'Gym', '--on', '2026-08-19', '-o', file], { cwd: folder }).code).toBe(0);
  const blank = read(file);
  for (const id of ids) expect(blank).toContain(`\n'${id},'=Crew,2026-08-19,,,,,,,\n`);
  writeFileSync(file, blank.replaceAll(',2026-08-19,,,,,,,', ',2026-08-19,,,80,82,79,81,120'));
  const { stdout } = bilat(['ingest', '--rejects', 'rejects.csv'], { cwd: folder });
  expect(readCsv(read(folder, 'rejects.csv'))).toEqual([]);
  const rows = readCsv(stdout).filter(({ file: sheet }) => sheet === 'sheets/blank-gym.csv');
  // Four athletes with four grips and a pressure each; the table is harmless to spreadsheets in its turn.
  expect(rows).toHaveLength(20);
  expect(new Set(rows.map(({ athlete_id, team }) => `${athlete_id} ${team}`))).toEqual(
    new Set(ids.map((id) => `'${id} '=Crew`)),
  );
});

describe('who is limited', () => {
  const rules =
    'rules:\n  hop_short: { measure: hop, below: 100, grade: watch, region: knee, source: common practice, strength: weak }\n';
  const folderFor = (region: string): string =>
    tempFolder({
      ...FOLDER,
      'protocol.yaml': PROTOCOL + rules,
      'clearance.csv': `athlete_id,date,status,region\nA2,2026-08-16,limited,${region}\n`,
    });
  const hall = (region: string) =>
    bilat(['forms', '--measure', 'height,hop', '--team', 'Volleyball'], { cwd: folderFor(region) });
  const rowOf = (text: string): string => text.split('\n').find((line) => line.startsWith('A2,'))!;

  test('has held in the cells of that part of the body', () => {
    const { stdout, stderr } = hall('right knee');
    expect(rowOf(stdout)).toBe('A2,Volleyball,,,,,held,held');
    expect(stderr).toContain('1 athlete limited by medical staff on 2026-08-17: the cells of those tests say held; ');
  });

  test('has it in every cell where no rule has the region, and check says so', () => {
    expect(rowOf(hall('kneee').stdout)).toBe('A2,Volleyball,,,,held,held,held');
    const { stdout } = bilat(['check'], { cwd: folderFor('kneee') });
    expect(stdout.replace(/\s+/g, ' ')).toContain(
      'region "kneee" is no region of the rules: whoever is limited there is held from everything',
    );
    expect(stdout).toContain('Did you mean knee?');
  });
});
