import { chmodSync, existsSync, mkdirSync, readdirSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { starterFiles, TEMPLATES } from '../../src/protocol/starter.ts';
import { schemaText } from '../../src/screening/schema_text.ts';
import { bash, bilat, contents, ROOT, read, readCsv, tempFolder } from './bilat.ts';

const TEXTS: Record<string, string> = Object.fromEntries([
  ...starterFiles().map(({ path, text }) => [path, text]),
  ...(['protocol', 'screening'] as const).map((kind) => [`schema/${kind}.schema.json`, schemaText(kind)]),
]);

const FILES = [
  'README.md',
  'protocol.yaml',
  'roster.csv',
  'schema/protocol.schema.json',
  'schema/screening.schema.json',
  'screening.yaml',
  'templates/hip.csv',
  'templates/intake.csv',
  'templates/knee.csv',
  'templates/landing.csv',
  'templates/reach.csv',
  'templates/shoulder.csv',
];

const MADE = `
  README.md       what goes where, and how to fill in a sheet
  roster.csv      who the athletes are: one line an athlete
  sheets/         the sheets of your stations go in here, saved as CSV
  templates/      blank sheets to print or fill in, one a station
  protocol.yaml   what is measured, the limits, the teams of each group
  screening.yaml  what the sheets do not say: team, day, units
  schema/         for editors: they complete and check the .yaml files

Next:

  1. Fill in roster.csv: an athlete_id and a team for each athlete.
  2. Copy your sheets into sheets/.
  3. Put your own team names into sport_groups: in protocol.yaml.
  4. Have your team physician confirm the limits in protocol.yaml.

Then type:

`;

const COMMANDS = `  bilat check    reads your lists and settings over, and names what is wrong
  bilat scan     shows how each sheet would be read
  bilat run      writes the tables to out/, and says what must be seen first
`;

/** Names in a folder, hidden ones too. */
const names = (folder: string): string[] => readdirSync(folder).sort();

describe('bilat new', () => {
  test('makes the folder, and says what is in it and what to type next', () => {
    const cwd = tempFolder();
    expect(bilat(['new', 'fall'], { cwd })).toEqual({
      code: 0,
      stdout: `Made the screening folder fall:\n${MADE}  cd fall\n${COMMANDS}`,
      stderr: '',
    });
    expect(names(cwd)).toEqual(['fall']);
    const folder = path.join(cwd, 'fall');
    expect(Object.keys(contents(folder))).toEqual(FILES);
    for (const file of FILES) expect(read(folder, file)).toBe(TEXTS[file]);
    expect(names(path.join(folder, 'sheets'))).toEqual([]);
    // Whoever may read the folder above may read this one.
    expect(statSync(folder).mode & 0o777).toBe(statSync(path.join(folder, 'sheets')).mode & 0o777);
  });

  test('no line is wider than a terminal of old', () => {
    const { stdout } = bilat(['new', 'fall'], { cwd: tempFolder() });
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  test('here, where the folder is empty: it is filled in place', () => {
    const cwd = tempFolder();
    const before = statSync(cwd).ino;
    expect(bilat(['new', '.'], { cwd })).toEqual({
      code: 0,
      stdout: `Made a screening folder here:\n${MADE}${COMMANDS}`,
      stderr: '',
    });
    expect(statSync(cwd).ino).toBe(before);
    expect(Object.keys(contents(cwd))).toEqual(FILES);
    expect(names(cwd)).toEqual([
      'README.md',
      'protocol.yaml',
      'roster.csv',
      'schema',
      'screening.yaml',
      'sheets',
      'templates',
    ]);
  });

  test('through a link to an empty folder', () => {
    const cwd = tempFolder({ 'disk/': '' });
    symlinkSync('disk', path.join(cwd, 'link'));
    expect(bilat(['new', 'link'], { cwd })).toMatchObject({ code: 0, stderr: '' });
    expect(Object.keys(contents(path.join(cwd, 'disk')))).toEqual(FILES);
  });

  test('a name with spaces and marks can be pasted back', () => {
    const cwd = tempFolder();
    const { stdout } = bilat(['new', 'fall $HOME "a"'], { cwd });
    expect(stdout).toContain('\n  cd "fall \\$HOME \\"a\\""\n');
    const [line] = /cd .*/.exec(stdout)!;
    expect(bash(`${line} && ls`, { cwd }).stdout.split('\n')).toContain('protocol.yaml');
  });

  test('makes the same bytes each time', () => {
    const cwd = tempFolder();
    bilat(['new', 'a'], { cwd });
    bilat(['new', 'b'], { cwd, env: { TZ: 'Pacific/Auckland', LC_ALL: 'de_DE.UTF-8' } });
    expect(contents(path.join(cwd, 'a'))).toEqual(contents(path.join(cwd, 'b')));
  });
});

describe('bilat new writes over nothing', () => {
  const refused = (args: readonly string[], cwd: string, code: number, stderr: string): void => {
    const before = contents(cwd);
    const [held] = [names(cwd)];
    expect(bilat(['new', ...args], { cwd })).toEqual({ code, stdout: '', stderr });
    expect(contents(cwd)).toEqual(before);
    expect(names(cwd)).toEqual(held);
  };
  const NOT_EMPTY = 'already, and nothing is written over\n  Name a folder that is not there yet, or an empty one.\n';

  test('a folder that holds one file, or several', () => {
    refused(['fall'], tempFolder({ 'fall/notes.txt': 'x' }), 2, `error: fall: holds notes.txt ${NOT_EMPTY}`);
    refused(
      ['fall'],
      tempFolder({ 'fall/b.csv': 'x', 'fall/a/': '', 'fall/c.csv': '' }),
      2,
      `error: fall: holds a and 2 more ${NOT_EMPTY}`,
    );
  });

  test('a folder that it has made before', () => {
    const cwd = tempFolder();
    bilat(['new', 'fall'], { cwd });
    refused(['fall'], cwd, 2, `error: fall: holds README.md and 6 more ${NOT_EMPTY}`);
  });

  test('a file', () => {
    refused(
      ['fall'],
      tempFolder({ fall: 'x' }),
      2,
      'error: fall: is a file already\n  Name a folder that is not there yet.\n',
    );
  });

  test.each(['no/fall', 'file/fall'])('a folder that is to lie where none is: %s', (name) => {
    refused(
      [name],
      tempFolder({ file: 'x' }),
      2,
      `error: ${name}: the folder that it is to lie in is not there\n  Make that one first, or write elsewhere.\n`,
    );
  });

  test('no name', () => {
    refused(
      [],
      tempFolder(),
      2,
      "error: missing required argument 'dir'\n  Name the folder to make: bilat new preseason\n",
    );
    refused([''], tempFolder(), 2, 'error: new takes the name of the folder to make, as in: bilat new screening\n');
  });

  test.skipIf(process.getuid?.() !== 0)('a place where writing is not allowed', () => {
    const cwd = tempFolder({ 'locked/': '' });
    chmodSync(cwd, 0o755);
    chmodSync(path.dirname(cwd), 0o755);
    const launcher = path.join(ROOT, 'bin/bilat.js');
    const line = `cd locked && chmod 555 . && setpriv --reuid=65534 --regid=65534 --clear-groups "${process.execPath}" "${launcher}" new fall`;
    expect(bash(line, { cwd })).toEqual({
      code: 3,
      stdout: '',
      stderr:
        'error: fall: Could not be written: permission is denied\n  Ask for the permission, or choose another place.\n',
    });
    expect(names(path.join(cwd, 'locked'))).toEqual([]);
  });

  test.skipIf(process.getuid?.() !== 0)('a disk that fills up leaves nothing behind', () => {
    const cwd = tempFolder({ 'disk/': '' });
    const line = `mount -t tmpfs -o size=64k none disk && { cd disk; bilat new fall; echo "code $?"; ls -A; mkdir here; bilat new here; echo "code $?"; ls -A here; cd ..; umount disk; }`;
    const { stdout, stderr } = bash(line, { cwd });
    // Not every machine lets its root mount a disk.
    if (/mount/.test(stderr)) return;
    expect(stdout).toBe('code 3\ncode 3\n');
    const message = 'Could not be written: no space is left on the disk\n  Free some space and run again.\n';
    expect(stderr).toBe(`error: fall: ${message}error: here: ${message}`);
  });
});

describe('the folder works', () => {
  function made(): string {
    const folder = path.join(tempFolder(), 'fall');
    expect(bilat(['new', folder])).toMatchObject({ code: 0 });
    return folder;
  }

  /** A template filled in for athletes A1 to A3 of a team, the same reading in every cell of a kind. */
  const LANDING = `ID,Team,Date,Single hop L1 (cm),Single hop R1 (cm),Drop landing faults
A1,Volleyball,2026-08-17,150,148,1
A2,Volleyball,2026-08-17,161,159,4
`;

  test('before there are sheets it says where they go', () => {
    const folder = made();
    const { code, stdout, stderr } = bilat(['run'], { cwd: folder });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toBe(
      `error: screening.yaml: no sheet was found: sheets: "sheets/**/*.csv" in screening.yaml matches no file
  Put the sheets into sheets/, or name them under sheets: in screening.yaml.
`,
    );
    expect(existsSync(path.join(folder, 'out'))).toBe(false);
  });

  test('with a roster of headings only the sheets say who the athletes are', () => {
    const folder = made();
    writeFileSync(path.join(folder, 'sheets/landing.csv'), LANDING);
    const { code, stdout, stderr } = bilat(['run'], { cwd: folder });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toContain('Season 2026: 2 athletes tested;');
    expect(stdout.replace(/\n +/g, ' ')).toContain(
      '- roster.csv: holds no athlete, so the sheets say who the athletes are. Fill it in, one line an athlete, so that',
    );
    expect(readCsv(read(folder, 'out/rejects.csv'))).toEqual([]);
    const findings = readCsv(read(folder, 'out/findings.csv'));
    expect(findings.map(({ athlete_id, sport_group, rule }) => [athlete_id, sport_group, rule])).toEqual([
      ['A2', 'landing', 'landing_faults_many'],
    ]);
  });

  test('once the roster lists athletes, others are asked about', () => {
    const folder = made();
    writeFileSync(path.join(folder, 'sheets/landing.csv'), LANDING);
    const roster = read(folder, 'roster.csv');
    expect(roster.trimEnd().split(',')).toHaveLength(11);
    writeFileSync(path.join(folder, 'roster.csv'), `${roster}A1,,,,Volleyball,F,,,,left,right\n`);
    expect(bilat(['run'], { cwd: folder })).toMatchObject({ code: 0, stderr: '' });
    const rejects = readCsv(read(folder, 'out/rejects.csv'));
    expect(new Set(rejects.map((row) => `${row.code} ${row.raw}`))).toEqual(new Set(['athlete_unknown A2']));
  });

  test('sheets in folders of sheets/ are found, and blank templates hold no reading', () => {
    const folder = made();
    mkdirSync(path.join(folder, 'sheets/2026/monday'), { recursive: true });
    writeFileSync(path.join(folder, 'sheets/2026/monday/landing.csv'), LANDING);
    writeFileSync(path.join(folder, 'sheets/hip.csv'), TEMPLATES.hip);
    const { stdout } = bilat(['run'], { cwd: folder });
    expect(stdout).toContain('- sheets/hip.csv: holds no reading\n');
    expect(new Set(readCsv(read(folder, 'out/ledger.csv')).map((row) => row.file))).toEqual(
      new Set(['sheets/2026/monday/landing.csv', 'sheets/hip.csv']),
    );
    expect(readCsv(read(folder, 'out/observations.csv'))).not.toEqual([]);
  });
});
