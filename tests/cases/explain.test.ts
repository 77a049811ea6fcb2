import { existsSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bash, bilat, copyOfExamples, read, tempFolder } from './bilat.ts';
import { PROTOCOL, SMALL } from './small.ts';

const EXAMPLE = path.join(copyOfExamples(), 'examples/college');
const EXAMPLE_NAME = /^name: (.+)$/m.exec(read(EXAMPLE, 'protocol.yaml'))![1];
const widths = (text: string): number[] => text.split('\n').map((line) => line.length);

describe('a name', () => {
  test('of a rule: name, kind and title, then what it is and what it rests on', () => {
    const { code, stdout, stderr } = bilat(['explain', 'adductor_ratio_low'], { cwd: EXAMPLE });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(
      /^adductor_ratio_low \(rule\): Adduction to abduction ratio, left or right, below\n {2}0\.8\n {2}A finding if /,
    );
    const labels = [...stdout.matchAll(/^ {2}([A-Z][a-z ]+?) {2,}\S/gm)].map(([, label]) => label);
    expect(labels).toEqual(['Formula', 'Source', 'Caution', 'Where', 'See also']);
    expect(stdout).toContain(`  Formula   adductor_ratio = hip_adduction / hip_abduction, on each side;
            adductor_ratio value < 0.8
  Source    Am J Sports Med 2001;29:124-128`);
    expect(stdout).toMatch(/ Evidence: .+\bprofessional men in\b/);
    expect(stdout).toContain(`
  Caution   A limit predicts little for one athlete: many who break it are never
            injured, and many who keep it are. At the limit the 95 % measurement
            error is ±0.122: nearer to the limit than that a finding is
            within_error.
`);
    expect(stdout.endsWith(`\n\nProtocol: ${EXAMPLE_NAME} (protocol.yaml).\n`)).toBe(true);
  });

  test('of several kinds is told for each, and narrowed by a kind', () => {
    const all = bilat(['explain', 'worse']);
    expect(all).toMatchObject({ code: 0, stderr: '' });
    expect(all.stdout).toMatch(/^worse \(verdict\): /m);
    expect(all.stdout).toMatch(/^worse \(field\): /m);
    const { stdout } = bilat(['explain', 'verdict', 'worse']);
    expect(stdout.match(/^worse \(/gm)).toEqual(['worse (']);
    expect(stdout).toMatch(/^worse \(verdict\): /);
  });

  test('several are told in turn; spaces, hyphens and capitals are taken', () => {
    const { code, stdout } = bilat(['explain', 'Deficit-PCT', 'within error', 'unit', 'unknown', 'run']);
    expect(code).toBe(0);
    expect([...stdout.matchAll(/^(\w+) \(([a-z ]+)\): /gm)].map(([, name, kind]) => `${kind} ${name}`)).toEqual(
      expect.arrayContaining([
        'column deficit_pct',
        'certainty within_error',
        'reject code unit_unknown',
        'command run',
      ]),
    );
    expect(stdout).not.toContain('Protocol:');
  });

  test('is no wider than 80 columns through a pipe', () => {
    const { stdout } = bilat(['explain', 'findings', 'hip_adduction', 'systolic_high', 'heading_unknown'], {
      cwd: EXAMPLE,
    });
    expect(Math.max(...widths(stdout))).toBeLessThanOrEqual(80);
  });
});

test('the examples of its help work where the examples lie', () => {
  const { stdout } = bilat(['explain', '--help']);
  const examples = stdout.slice(stdout.indexOf('Examples:\n')).trimEnd().split('\n').slice(1);
  expect(examples).toHaveLength(2);
  for (const example of examples) {
    expect(bash(example, { cwd: path.join(EXAMPLE, '../..') })).toMatchObject({ code: 0, stderr: '' });
  }
});

describe('the protocol', () => {
  test('is the starter where there is no folder, and that is said', () => {
    const { code, stdout } = bilat(['explain', 'hip_adduction']);
    expect(code).toBe(0);
    expect(stdout).toMatch(
      /\nProtocol: .+ \(the starter that comes with bilat, as there is\n {2}no screening folder here\)\.\n$/,
    );
  });

  test('is that of --folder, and of --protocol', () => {
    expect(bilat(['explain', 'squat_faults', '--folder', EXAMPLE])).toMatchObject({ code: 0 });
    const folder = tempFolder({ 'mine.yaml': 'bilat: 1\nname: Mine\nmeasures:\n  toe: { unit: cm, sides: none }\n' });
    const { stdout } = bilat(['explain', 'toe', '--protocol', 'mine.yaml'], { cwd: folder });
    expect(stdout).toMatch(/^toe \(measure\): toe\n {2}Tested with one attempt, in cm;/);
    expect(stdout).toMatch(/Protocol: Mine \(mine\.yaml\)\.\n$/);
  });

  test('is the one that screening.yaml names, whatever else is wrong there', () => {
    const folder = tempFolder({
      'screening.yaml': 'protocol: inner/own.yaml\nsheets: 7\ncolour: red\n',
      'inner/own.yaml': 'bilat: 1\nname: Own\nmeasures:\n  toe: { unit: cm, sides: none }\n',
    });
    expect(bilat(['explain', 'toe'], { cwd: path.join(folder, 'inner') })).toMatchObject({
      code: 0,
      stdout: expect.stringContaining('Protocol: Own (inner/own.yaml).'),
    });
  });

  test('that is broken leaves the rest, with a note', () => {
    const folder = tempFolder({ ...SMALL, 'protocol.yaml': PROTOCOL.replace('measures:', 'measurs:') });
    const { code, stdout, stderr } = bilat(['explain', 'within_error'], { cwd: folder });
    expect(code).toBe(0);
    expect(stdout).toMatch(/^within_error \(certainty\): /);
    expect(stderr).toMatch(
      /^note: the protocol cannot be read \(protocol\.yaml:\d+:\d+: .+; bilat check lists what is wrong\n$/,
    );
    const lost = bilat(['explain', 'grip'], { cwd: folder });
    expect(lost).toMatchObject({ code: 2, stdout: '' });
    expect(lost.stderr).toContain('error: nothing is known by the name of "grip"');
  });

  test('that is not there leaves the rest in a folder, and is refused where it is named', () => {
    const folder = tempFolder({ 'screening.yaml': 'protocol: gone.yaml\nsheets: ["*.csv"]\n' });
    expect(bilat(['explain', 'share'], { cwd: folder })).toMatchObject({
      code: 0,
      stderr: expect.stringContaining('(gone.yaml: there is no such file, and it should hold the protocol)'),
    });
    expect(bilat(['explain', 'share', '--protocol', 'gone.yaml'], { cwd: folder })).toMatchObject({
      code: 2,
      stdout: '',
      stderr: expect.stringContaining('error: gone.yaml: there is no such file, and it should hold the protocol'),
    });
    expect(bilat(['explain', 'share', '--folder', 'nowhere'], { cwd: folder })).toMatchObject({ code: 2, stdout: '' });
  });

  test('cannot steer the terminal', () => {
    const folder = tempFolder({
      'protocol.yaml': 'bilat: 1\nmeasures:\n  toe: { label: "Toe \\e[31m", unit: cm, sides: none }\n',
    });
    const { stdout } = bilat(['explain', 'toe'], { cwd: folder });
    expect(stdout).not.toContain('\u001b');
    expect(stdout).toContain('Toe \ufffd[31m');
  });
});

describe('without a name', () => {
  const { code, stdout, stderr } = bilat(['explain'], { cwd: EXAMPLE });

  test('lists what can be explained by kind, in columns', () => {
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const headings = stdout.split('\n').filter((line) => /^[A-Z][a-z ]+$/.test(line));
    expect(headings.slice(0, 6)).toEqual(['Measures', 'Rules', 'Programmes', 'Sport groups', 'Tables', 'Columns']);
    expect(headings).toContain('Reject codes');
    expect(headings).toContain('Commands');
    expect(Math.max(...widths(stdout))).toBeLessThanOrEqual(80);
    for (const name of ['adductor_ratio_low', 'deficit_pct', 'within_error', 'heading_unknown', 'worked_out', 'scan']) {
      expect(stdout).toMatch(new RegExp(`(^| {2})${name}( {2}|$)`, 'm'));
    }
  });

  test('a kind alone lists its names with their titles', () => {
    const { stdout: list } = bilat(['explain', 'programmes'], { cwd: EXAMPLE });
    const lines = list.slice(list.indexOf('\nProgrammes\n')).split('\n');
    expect(lines[1]).toBe('Programmes');
    expect(lines.slice(2).map((line) => line.replace(/ {2,}/g, ' '))).toContain(' adductor_strength Adductor strength');
  });
});

describe('a name that is not known', () => {
  test.each([
    [
      ['adductor_ration'],
      'nothing is known by the name of "adductor_ration"; nearest: adductor_ratio, adductor_ratio_low',
    ],
    [['column', 'deficit_pc'], 'there is no column "deficit_pc"; nearest: deficit_pct'],
    [['kilimanjaro'], 'nothing is known by the name of "kilimanjaro"; bilat explain lists what can be explained'],
    [
      ['x'.repeat(90)],
      `nothing is known by the name of "${'x'.repeat(57)}…"; bilat explain lists what can be explained`,
    ],
    [[''], 'nothing is known by the name of ""; bilat explain lists what can be explained'],
  ])('%j', (words, message) => {
    expect(bilat(['explain', ...words], { cwd: EXAMPLE })).toEqual({
      code: 2,
      stdout: '',
      stderr: `error: ${message}\n`,
    });
  });
});

describe('one name of several that is not known', () => {
  const unknown = 'error: nothing is known by the name of "kilimanjaro"; bilat explain lists what can be explained\n';

  test('does not keep the others from being explained', () => {
    const { code, stdout, stderr } = bilat(['explain', 'LSI', 'kilimanjaro'], { cwd: EXAMPLE });
    expect({ code, stderr }).toEqual({ code: 2, stderr: unknown });
    expect(stdout).toMatch(/^limb symmetry index \(statistic\): /);
  });

  test('is on a line of its own, as is the next', () => {
    const { stderr } = bilat(['explain', 'kilimanjaro', 'unit_unknown', 'sharee'], { cwd: EXAMPLE });
    expect(stderr.split('\n')).toEqual([
      unknown.trimEnd(),
      '  nothing is known by the name of "sharee"; nearest: share, shared',
      '',
    ]);
  });

  test('writes no file and no half of an array', () => {
    const folder = tempFolder({});
    const wanted = ['explain', 'LSI', 'kilimanjaro'];
    expect(bilat([...wanted, '-o', 'words.txt'], { cwd: folder })).toMatchObject({ code: 2, stdout: '' });
    expect(existsSync(path.join(folder, 'words.txt'))).toBe(false);
    expect(bilat([...wanted, '--format', 'json'], { cwd: folder })).toMatchObject({ code: 2, stdout: '' });
  });
});

describe('what groups need', () => {
  const flat = (...words: string[]): string =>
    bilat(['explain', ...words], { cwd: EXAMPLE }).stdout.replace(/\s+/g, ' ');

  test.each(['recheck', 'cohort', 'plan', 'coverage'])(
    'the table %s is of this version, and has its columns',
    (name) => {
      const text = flat('table', name);
      expect(text).not.toContain('Not in this version yet');
      expect(text).toContain(`As out/${name}.csv in the screening folder.`);
      expect(text).toMatch(/ Columns: [a-z_]+(, [a-z_]+)+ and [a-z_]+\. /);
    },
  );

  test('a table of a later version says so', () => {
    expect(flat('table', 'trend')).toContain('Not in this version yet');
    expect(flat('column', 'expected_after')).toContain('Not in this version yet');
  });

  test.each([
    ['who is missing', 'make-up list (word): who is missing, and whom to call'],
    ['who must be called', 'make-up list (word): who is missing, and whom to call'],
    ['what does the whole team do', 'shared work (word): what a whole team does together'],
    ['what is priority', 'priority (column): order of the work list'],
    ['why is nobody flagged', 'nobody flagged (word): why a rule finds nobody'],
    ['held', 'held (availability): not cleared, or nobody can say'],
    ['shared', 'shared (plan scope): work of a whole team'],
    ['hold', 'hold (plan scope): nothing to be done with the athlete for now'],
  ])('%s: %s', (question, head) => {
    for (const words of [question.split(' '), [question]]) {
      const { code, stdout, stderr } = bilat(['explain', ...words], { cwd: EXAMPLE });
      expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
      expect(stdout.replace(/\s+/g, ' ')).toContain(`${head} `);
    }
  });

  test('the words of a kind are listed, and narrowed to', () => {
    const { stdout } = bilat(['explain', 'plan', 'scopes'], { cwd: EXAMPLE });
    expect(stdout).toMatch(/^Plan scopes\n/);
    const names = [...stdout.matchAll(/^ {2}(\S+) {2,}\S/gm)].map(([, name]) => name);
    expect(names).toEqual(['refer', 'hold', 'repeat', 'shared', 'left_out', 'individual']);
    const { stdout: one } = bilat(['explain', 'plan', 'scope', 'refer'], { cwd: EXAMPLE });
    expect(one.match(/^refer \(.+?\)/gm)).toEqual(['refer (plan scope)']);
  });
});

describe('what the summary of run prints', () => {
  test('share is a column of cohort too, and in percent in the summary', () => {
    const { stdout } = bilat(['explain', 'column', 'share'], { cwd: EXAMPLE });
    expect(stdout.replace(/\s+/g, ' ')).toContain(
      'In cohort from 0 to 1: 7 of 20 is 0.35. In the summary of run in percent, rounded:',
    );
  });

  test.each(['rule', 'grade', 'beyond', 'tested', 'share'])('its column %s is explained', (name) => {
    const { code, stdout } = bilat(['explain', name], { cwd: EXAMPLE });
    expect(code).toBe(0);
    expect(stdout).toMatch(new RegExp(`^${name} \\(`, 'm'));
  });
});

describe('--format json', () => {
  test('is an array of one object a line, unknown is null', () => {
    const { stdout } = bilat(['explain', 'measure', 'grip', '--format', 'json'], { cwd: EXAMPLE });
    expect(stdout.split('\n')).toHaveLength(4);
    expect(JSON.parse(stdout)).toEqual([
      {
        name: 'grip',
        kind: 'measure',
        title: 'Grip strength',
        definition: expect.stringContaining('Tested with 2 attempts on each side, in kgf; the best is kept.'),
        formula: null,
        unit: 'kgf: kilogram-force, the kg that a dynamometer shows; 1 kgf is 9.80665 N',
        source: expect.stringMatching(/ \(measurement error\)\.$/),
        caution: expect.stringContaining('95 of 100 readings lie within ±3.53 kgf'),
        where: 'The protocol, under measures. In the battery of everyone.',
        see: ['deficit_pct'],
        also: expect.arrayContaining(['Grip strength', 'grip', 'hand grip']),
        later: false,
        protocol: EXAMPLE_NAME,
      },
    ]);
  });

  test('of all goes to a file that ends in .json', () => {
    const folder = tempFolder({ 'mine.txt': 'kept' });
    expect(bilat(['explain', '-o', 'words.json'], { cwd: folder })).toEqual({ code: 0, stdout: '', stderr: '' });
    expect(JSON.parse(read(folder, 'words.json')).length).toBeGreaterThan(200);
    expect(bilat(['explain', 'share', '-o', 'mine.txt'], { cwd: folder }).code).toBe(2);
    expect(read(folder, 'mine.txt')).toBe('kept');
  });
});
