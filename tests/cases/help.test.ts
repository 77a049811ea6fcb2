import { existsSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bash, bilat, copyOfExamples, ROOT, read, tempFolder } from './bilat.ts';
import { PROTOCOL } from './small.ts';

const COMMANDS = 'new forms check scan run ingest outliers coverage derive flag cohort plan explain'.split(' ');
const { version } = JSON.parse(read(ROOT, 'package.json'));

test.each([['--version'], ['-V']])('%s prints the version of the package', (flag) => {
  expect(bilat([flag])).toEqual({ code: 0, stdout: `${version}\n`, stderr: '' });
});

test('without arguments the usage goes to standard error, and the exit code says so', () => {
  const { code, stdout, stderr } = bilat([]);
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toMatch(/^Usage: bilat /);
});

test('help names every command and what the exit codes mean', () => {
  const { code, stdout, stderr } = bilat(['--help']);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  for (const name of COMMANDS) expect(stdout).toMatch(new RegExp(`^  ${name} `, 'm'));
  expect(stdout).toContain('Exit codes: 0 done; 1 done, and something that --fail-on names was found;');
});

describe.each(COMMANDS)('bilat %s --help', (name) => {
  const { code, stdout, stderr } = bilat([name, '--help']);
  const examples = stdout.slice(stdout.indexOf('Examples:\n')).trimEnd().split('\n').slice(1);

  test('is printed to standard output, no wider than a terminal of old', () => {
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(new RegExp(`^Usage: bilat ${name} `));
    const usage = stdout.slice(0, stdout.indexOf('Examples:\n'));
    for (const line of usage.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  test('is what "help" with the name prints too', () => expect(bilat(['help', name]).stdout).toBe(stdout));

  test('has two examples or more', () => expect(examples.length).toBeGreaterThanOrEqual(2));

  test.each(examples)('an example works where the examples lie: %s', (example) => {
    const folder = tempFolder();
    const done = bash(example.replaceAll('/tmp/', `${folder}/`), { cwd: copyOfExamples() });
    // The example has athletes to refer, and some of the examples ask for an exit code that tells.
    expect(done).toMatchObject({ code: example.includes('--fail-on') ? 1 : 0 });
    for (const [, file] of example.matchAll(/\/tmp\/(\S+)/g)) expect(existsSync(path.join(folder, file))).toBe(true);
    expect(done.stderr).not.toContain('error:');
  });
});

describe('wrong use ends with 2, one sentence and what was probably meant', () => {
  test.each([
    [['fliag'], "error: unknown command 'fliag'\n(Did you mean flag?)\n"],
    [['run', '--foler', 'x'], "error: unknown option '--foler'\n(Did you mean --folder?)\n"],
    [['derive', '--fromat', 'json'], "error: unknown option '--fromat'\n(Did you mean --format?)\n"],
    [['run', 'x'], "error: too many arguments for 'run'. Expected 0 arguments but got 1.\n"],
    [
      ['run', 'hip.csv'],
      "error: too many arguments for 'run'. Expected 0 arguments but got 1.\n" +
        '  run takes the sheets that screening.yaml names. To look at one: bilat scan hip.csv  To read it: bilat ingest hip.csv\n',
    ],
    [
      ['run', '.'],
      "error: too many arguments for 'run'. Expected 0 arguments but got 1.\n  A folder is named with --folder: bilat run --folder .\n",
    ],
    [
      ['--folder', '.', 'run', '--names'],
      "error: unknown option '--folder'\n  Options stand after the command: bilat run --folder . --names\n",
    ],
    [
      ['flag', '--less-than', '0.8'],
      "error: unknown option '--less-than'\n" +
        '  A limit is a rule of protocol.yaml, as in  below: 0.8  and bilat flag judges by it. To see what is there: bilat explain\n',
    ],
    [
      ['run', '--season', '2026'],
      "error: unknown option '--season'\n  run takes everything in the folder; season is a column of its tables (bilat flag --format csv).\n",
    ],
    [
      ['flag', '--json'],
      "error: unknown option '--json'\n  The form is said with --format: bilat flag --format json\n",
    ],
    [
      ['derive', '--out', 'r.csv'],
      "error: unknown option '--out'\n  Where to write is said with -o: bilat derive -o r.csv\n",
    ],
    [
      ['ingest', '--file=hip.csv'],
      "error: unknown option '--file=hip.csv'\n  Files are named without an option: bilat ingest hip.csv\n",
    ],
    [['import', 'hip.csv'], "error: unknown command 'import'\n  What it does is done by: bilat ingest hip.csv\n"],
    [
      ['why', 'within', 'error'],
      "error: unknown command 'why'\n  What it does is done by: bilat explain within error\n",
    ],
    [['new'], "error: missing required argument 'dir'\n  Name the folder to make: bilat new preseason\n"],
    // What a command would refuse is not advised.
    [['scan', '--csv'], "error: unknown option '--csv'\n"],
    [['explain', '--season'], "error: unknown option '--season'\n"],
    [
      ['new', '--out', 'fall'],
      "error: unknown option '--out'\n  The folder is named without an option: bilat new fall\n",
    ],
    [
      ['hip L.csv'],
      'error: unknown command \'hip L.csv\'\n  To see how a sheet would be read: bilat scan "hip L.csv"\n',
    ],
    [['screen'], "error: unknown command 'screen'\n  What it does is done by: bilat run\n"],
    [['run', '--folder'], "error: option '--folder <dir>' argument missing\n"],
    [
      ['flag', '--format', 'xml'],
      "error: option '--format <format>' argument 'xml' is invalid. Allowed choices are table, csv, json, markdown.\n",
    ],
    [['run', '-o', '-'], 'error: -o of run names a folder; the summary goes to standard output by itself\n'],
    [
      ['run', '--fail-on', 'red'],
      'error: --fail-on: "red" is not known; it finds rejects, recheck, watch, act, refer\n',
    ],
    [['run', '--fail-on', ''], 'error: --fail-on: "" is not known; it finds rejects, recheck, watch, act, refer\n'],
    [
      ['flag', '--fail-on', 'recheck'],
      'error: --fail-on: "recheck" is not found by this command; it finds watch, act, refer\n',
    ],
    [['ingest', '--fail-on', 'refer'], 'error: --fail-on: "refer" is not found by this command; it finds rejects\n'],
    [
      ['flag', '--fail-on', 'act,rejects'],
      'error: --fail-on: "rejects" is not found by this command; it finds watch, act, refer\n',
    ],
    [['scan', '--columns', '--format', 'json'], 'error: --columns prints YAML; leave --format out\n'],
    [
      ['scan', '--format', 'csv'],
      "error: option '--format <format>' argument 'csv' is invalid. Allowed choices are text, json.\n",
    ],
    [['scna'], "error: unknown command 'scna'\n(Did you mean scan?)\n"],
    [['derive', '--fail-on', 'act'], "error: unknown option '--fail-on'\n"],
  ])('bilat %j', (args, stderr) => {
    expect(bilat(args)).toEqual({ code: 2, stdout: '', stderr });
  });

  test.each(['derive', 'flag'])('%s of a sheet is answered with the way through ingest', (command) => {
    const folder = tempFolder({ 'protocol.yaml': PROTOCOL, 'hip.csv': 'athlete_id,date\nA1,2026-08-17\n' });
    expect(bilat([command, 'hip.csv'], { cwd: folder })).toEqual({
      code: 2,
      stdout: '',
      stderr:
        'error: hip.csv:1: is not a table of bilat: it has no column team, season, measure …\n' +
        `  Here goes what bilat ingest writes. For the sheet of a station: bilat ingest hip.csv | bilat ${command} -\n`,
    });
  });
});
