import { existsSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bilat, contents, read, readCsv, tempFolder } from './bilat.ts';
import { PROTOCOL, SHEET, SMALL } from './small.ts';

const COMMANDS = ['run', 'ingest', 'derive', 'flag'];

describe.each(COMMANDS)('bilat %s', (name) => {
  const refused = (cwd: string, args: readonly string[], stderr: string): void => {
    const before = contents(cwd);
    expect(bilat([name, ...args], { cwd })).toEqual({ code: 2, stdout: '', stderr });
    expect(contents(cwd)).toEqual(before);
  };

  test('no folder to work in', () => {
    refused(
      tempFolder(),
      [],
      `error: There is no screening folder here: neither this folder nor one above it holds a screening.yaml
  Name it with --folder DIR, or make one with  bilat new DIR
`,
    );
  });

  test.each([
    ['nowhere', 'nowhere: there is no such folder\n  Name the folder that holds screening.yaml.'],
    ['file', 'file: is a file, and should be a screening folder\n  Name the folder that holds screening.yaml.'],
    [
      'empty',
      'empty: holds neither screening.yaml nor protocol.yaml\n  A screening folder needs a protocol.yaml and sheets in sheets/: bilat new DIR makes one.',
    ],
  ])('--folder %s', (folder, message) => {
    refused(tempFolder({ file: '', 'empty/': '' }), ['--folder', folder], `error: ${message}\n`);
  });

  test('a folder without a protocol', () => {
    refused(
      tempFolder({ 'screening.yaml': 'sheets: ["*.csv"]\n', 'a.csv': SHEET }),
      [],
      'error: protocol.yaml: there is no such file, and it should hold the protocol\n  Check the path.\n',
    );
  });

  test.each(['--protocol', '--roster'])('%s names no file', (flag) => {
    const what = flag.slice(2);
    refused(
      tempFolder(SMALL),
      [flag, 'nope'],
      `error: nope: there is no such file, and it should hold the ${what}\n  Check the path.\n`,
    );
  });

  test('a slip in the protocol: place and nearest key, every slip at once', () => {
    const slips = PROTOCOL.replace('unit: kgf', 'unti: kgf').replace('plausible: [120', 'plausble: [120');
    refused(
      tempFolder({ ...SMALL, 'protocol.yaml': slips }),
      [],
      `error: protocol.yaml:4:33: grip: unknown key "unti"
  Did you mean unit?
error: protocol.yaml:5:60: height: unknown key "plausble"
  Did you mean plausible?
`,
    );
  });

  test('a slip in screening.yaml', () => {
    const done = bilat([name], {
      cwd: tempFolder({ ...SMALL, 'screening.yaml': 'sheets: ["*.csv"]\nrooster: r.csv\n' }),
    });
    expect(done).toEqual({
      code: 2,
      stdout: '',
      stderr: 'error: screening.yaml:2:1: unknown key "rooster"\n  Did you mean roster?\n',
    });
  });

  test('no sheet', () => {
    const done = bilat([name], { cwd: tempFolder({ 'protocol.yaml': PROTOCOL }) });
    expect(done).toMatchObject({ code: 2, stdout: '' });
    expect(done.stderr).toContain('no sheet was found');
    expect(done.stderr).toContain('sheets: "sheets/*.csv" in screening.yaml matches no file');
  });
});

describe('sheets that the user names', () => {
  test.each([
    ['nope.csv', 'nope.csv: there is no such sheet\n  Check the path.'],
    ['sheets', 'sheets: is a folder, not a sheet\n  Name the sheets in it, or a screening folder with --folder.'],
  ])('bilat ingest sheets/a.csv %s', (name, message) => {
    expect(bilat(['ingest', 'sheets/a.csv', name], { cwd: tempFolder(SMALL) })).toEqual({
      code: 2,
      stdout: '',
      stderr: `error: ${message}\n`,
    });
  });

  test.each(['derive', 'flag'])('bilat %s with something that is no table of observations', (name) => {
    const folder = tempFolder(SMALL);
    const refused = (input: string): string => {
      const { code, stdout, stderr } = bilat([name, input], { cwd: folder });
      expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
      return stderr;
    };
    expect(refused('nope.csv')).toBe('error: nope.csv: there is no such file\n  Check the path.\n');
    expect(refused('sheets')).toBe(
      'error: sheets: is a folder, not a table\n  Name the file, or the folder with --folder.\n',
    );
    expect(refused('sheets/a.csv')).toBe(
      'error: sheets/a.csv:1: is not a table of bilat: it has no column athlete_id, team, season …\n' +
        `  Here goes what bilat ingest writes. For the sheet of a station: bilat ingest sheets/a.csv | bilat ${name} -\n`,
    );
  });

  test('outside the folder it is read, and named by its way from there', () => {
    const folder = tempFolder({ 'screened/protocol.yaml': PROTOCOL, 'mail/a.csv': SHEET });
    const { code, stdout } = bilat(['ingest', 'mail/a.csv', '--folder', 'screened'], { cwd: folder });
    expect(code).toBe(0);
    expect(new Set(readCsv(stdout).map((row) => row.file))).toEqual(new Set(['../mail/a.csv']));
  });

  test('inside the folder it is read as its entry says', () => {
    const entry =
      'sheets:\n  - { files: "sheets/*.csv", station: Gym }\n  - { files: "sheets/more/*.csv", station: Hall }\n';
    const folder = tempFolder({ ...SMALL, 'sheets/more/b.csv': SHEET, 'screening.yaml': entry });
    const { stdout } = bilat(['ingest', 'more/b.csv'], { cwd: path.join(folder, 'sheets') });
    expect(readCsv(stdout)[0]).toMatchObject({ file: 'sheets/more/b.csv', station: 'Hall' });
  });

  test('corrections of other sheets are not missed', () => {
    const corrections = 'file,line,column,raw,action,value,by,date\nsheets/a.csv,4,6,17.5,value,175,me,2026-08-18\n';
    const folder = tempFolder({ ...SMALL, 'sheets/b.csv': SHEET, 'corrections.csv': corrections });
    expect(bilat(['ingest', 'sheets/b.csv'], { cwd: folder }).stderr).not.toContain('correction');
    expect(bilat(['ingest', 'sheets/a.csv'], { cwd: folder }).stderr).toContain(', 0 rejected.\n');
    const stale = corrections.replace('17.5', '71.5');
    const said = bilat(['ingest'], { cwd: tempFolder({ ...SMALL, 'corrections.csv': stale }) }).stderr;
    expect(said).toContain('note: corrections.csv:2: sheets/a.csv:4, column 6 does not read "71.5"\n');
  });
});

describe('sheets of the folder that hold nothing', () => {
  const SHEETS = {
    ...SMALL,
    'sheets/empty.csv': '',
    'sheets/head.csv': 'ID,Date,Grip L (kg),Grip R (kg)\n',
    'sheets/folder.csv/': '',
    'sheets/zip.csv': Buffer.from('PK\u0003\u0004\u0014\u0000\u0000', 'latin1'),
    'sheets/letter.csv': 'Dear coach,\nplease find the sheet attached.\n',
  };
  const LISTED = `sheets: ["sheets/*.csv", sheets/folder.csv, sheets/gone.csv, "sheets/2025-*.csv"]\n`;

  test('the others are read, and the summary says of each what is wrong', () => {
    const folder = tempFolder({ ...SHEETS, 'screening.yaml': LISTED });
    const { code, stdout, stderr } = bilat(['run'], { cwd: folder });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toContain(
      'Season 2026: 3 athletes tested; 7 sheets and 7 observations in all. Looked at\nfrom 2026-08-17.\n',
    );
    expect(stdout).toContain(', and 5 sheets as a whole\n');
    const text = stdout.replace(/\n {2,}/g, ' ');
    expect(text).toContain('\nsheets/empty.csv, the whole sheet: The file holds nothing. Ask the station');
    expect(text).toContain('\nsheets/folder.csv, the whole sheet: The file cannot be read: it is a directory.');
    expect(text).toContain('\nsheets/gone.csv, the whole sheet: The file cannot be read: there is no such file.');
    expect(text).toContain('\nsheets/letter.csv, the whole sheet: No line with headings was found');
    expect(text).toContain('\nsheets/zip.csv, the whole sheet: The file is not a text file');
    expect(text).toContain('\n- sheets/head.csv: holds no reading\n');
    expect(text).toContain('\n- sheets: "sheets/2025-*.csv" in screening.yaml matches no file\n');
    expect(readCsv(read(folder, 'out/rejects.csv')).map(({ file, code }) => [file, code])).toEqual([
      ['sheets/a.csv', 'implausible'],
      ['sheets/empty.csv', 'file_empty'],
      ['sheets/letter.csv', 'header_missing'],
      ['sheets/zip.csv', 'file_not_text'],
      ['sheets/folder.csv', 'file_unreadable'],
      ['sheets/gone.csv', 'file_unreadable'],
    ]);
  });

  test.each(['ingest', 'derive'])('bilat %s says it on standard error', (name) => {
    const { code, stderr } = bilat([name], { cwd: tempFolder({ ...SHEETS, 'screening.yaml': LISTED }) });
    expect(code).toBe(0);
    expect(stderr).toContain('note: sheets/empty.csv: The file holds nothing. ');
    expect(stderr).toContain('note: sheets/gone.csv: The file cannot be read: there is no such file. ');
    expect(stderr).toContain('note: sheets/head.csv: holds no reading\n');
  });
});

describe('which files are sheets', () => {
  const sheetsOf = (folder: string): string[] => {
    expect(bilat(['run', '--folder', folder])).toMatchObject({ code: 0, stderr: '' });
    return readCsv(read(folder, 'out/ledger.csv')).map((row) => row.file);
  };

  test.each(['../other/*.csv', '/etc/*.csv', 'sheets/{a,../../other/b}.csv', '~/x.csv'])(
    'a pattern that leaves the folder: %s',
    (pattern) => {
      const folder = tempFolder({ ...SMALL, 'screening.yaml': `sheets: ["${pattern}"]\n`, 'other/b.csv': SHEET });
      expect(bilat(['run', '--folder', folder])).toEqual({
        code: 2,
        stdout: '',
        stderr: `error: screening.yaml:1:10: sheets "${pattern}" leaves the screening folder
  Write the path from the folder on, without .. in it.
`,
      });
    },
  );

  test('links that leave the folder are not followed, whether to a sheet or on the way to one', () => {
    const outside = tempFolder({ 'b.csv': SHEET });
    const folder = tempFolder({ ...SMALL, 'screening.yaml': 'sheets: ["sheets/**/*.csv", sheets/way/b.csv]\n' });
    symlinkSync(path.join(outside, 'b.csv'), path.join(folder, 'sheets/link.csv'));
    symlinkSync(outside, path.join(folder, 'sheets/way'));
    const { stdout } = bilat(['run', '--folder', folder]);
    expect(readCsv(read(folder, 'out/ledger.csv')).map((row) => row.file)).toEqual(['sheets/a.csv']);
    for (const name of ['link.csv', 'way/b.csv']) {
      expect(stdout.split(`- sheets/${name}: is a link that leaves the folder, and is not read\n`)).toHaveLength(2);
    }
  });

  test('links inside the folder are followed, and each sheet is read once', () => {
    const folder = tempFolder({ ...SMALL, 'old/b.csv': SHEET, 'screening.yaml': 'sheets: ["sheets/**/*.csv"]\n' });
    symlinkSync('../old/b.csv', path.join(folder, 'sheets/b.csv'));
    symlinkSync('a.csv', path.join(folder, 'sheets/c.csv'));
    symlinkSync('..', path.join(folder, 'sheets/round'));
    expect(sheetsOf(folder)).toEqual(['sheets/a.csv', 'sheets/b.csv']);
  });

  test('tables of a run are none, however wide the pattern', () => {
    const folder = tempFolder({ ...SMALL, 'screening.yaml': 'sheets: ["**/*.csv"]\n' });
    expect(sheetsOf(folder)).toEqual(['sheets/a.csv']);
    expect(sheetsOf(folder)).toEqual(['sheets/a.csv']);
  });

  test.each([['-o', 'sheets'], []])('a run does not put its tables among the sheets: %s %s', (...args) => {
    const folder = tempFolder({
      ...SMALL,
      'screening.yaml': `sheets: ["sheets/*.csv"]\n${args.length ? '' : 'out: sheets\n'}`,
    });
    expect(bilat(['run', ...args], { cwd: folder })).toEqual({
      code: 2,
      stdout: '',
      stderr: 'error: sheets: holds sheets, and the tables would lie among them\n  Name another folder.\n',
    });
    expect(existsSync(path.join(folder, 'sheets/results.csv'))).toBe(false);
  });
});
