import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { bilat, contents, copyOfExamples, type Ended, ROOT, read, readCsv, tempFolder } from './bilat.ts';

type Row = Record<string, string>;

const RECHECK_COLUMNS =
  'athlete_id,team,season,date,measure,side,trial,value,unit,kind,score,low,high,suggestion,file,line,column';
/** Where days and numbers are written in another way. */
const ABROAD = { TZ: 'Pacific/Auckland', LC_ALL: 'de_DE.UTF-8' };

const reference = (name: string): string => read(ROOT, 'tests/reference/a1-survey', name);

/** The recheck list of a folder, by column name. */
function listOf(folder: string, ...args: readonly string[]): Row[] {
  return rowsOf(bilat(['outliers', '--folder', folder, ...args]));
}

function rowsOf({ code, stdout }: Ended): Row[] {
  expect(code).toBe(0);
  expect(stdout.split('\n')[0]).toBe(RECHECK_COLUMNS);
  return readCsv(stdout);
}

interface Flagged {
  readonly flagged: readonly { readonly id: string; readonly value: number; readonly z: number }[];
}

// tests/reference/a1-survey: data `survey` of the R package MASS 7.3-58.2, outliers by R 4.2.2 with mad(constant = 1).
describe('outliers of 237 students', () => {
  const wanted = JSON.parse(reference('robust_outliers.json')) as {
    readonly all: Record<string, Flagged>;
    readonly by_sex: Record<string, Record<string, Flagged>>;
  };
  const people = readCsv(reference('people.csv'));
  const MEASURES: Row = {
    deficit: 'deficit_pct',
    span_writing: 'span_writing_cm',
    pulse: 'pulse_bpm',
    height: 'height_cm',
    age: 'age_y',
  };
  const UNITS: Row = { deficit: '"%"', span_writing: 'cm', pulse: '/min', height: 'cm', age: '"1"' };

  function survey(roster: string): Row[] {
    const measures = Object.keys(MEASURES).map(
      (name) => `  ${name}: {label: ${name}, unit: ${UNITS[name]}, sides: none}`,
    );
    const columns = Object.entries(MEASURES).map(
      ([name, column]) => `${column}: {measure: ${name}, unit: ${UNITS[name]}}`,
    );
    const heads = ['id', ...Object.values(MEASURES)];
    return listOf(
      tempFolder({
        'protocol.yaml': `bilat: 1\nname: Survey\nmeasures:\n${measures.join('\n')}\n`,
        'screening.yaml': `sheets:\n  - files: sheets/people.csv\n    date: 2026-08-12\n    columns: {${columns.join(', ')}}\n`,
        'sheets/people.csv': `${heads.join(',')}\n${people.map((row) => heads.map((head) => row[head]).join(',')).join('\n')}\n`,
        'roster.csv': roster,
      }),
    );
  }

  /** Everybody flagged is listed, as an outlier or as something that is likelier still; nobody else is an outlier. Counts outliers. */
  function expectAgreement(rows: readonly Row[], measure: string, flagged: Flagged['flagged']): number {
    const listed = rows.filter((row) => row.measure === measure);
    const outliers = listed.filter(({ kind }) => kind === 'outlier');
    expect(flagged.filter(({ id }) => !listed.some(({ athlete_id }) => athlete_id === id))).toEqual([]);
    for (const { athlete_id, value, score } of outliers) {
      const want = flagged.find(({ id }) => id === athlete_id);
      expect(want, `${athlete_id} ${measure}`).toBeDefined();
      expect(Number(value)).toBe(want!.value);
      expect(Math.abs(Number(score) - want!.z)).toBeLessThanOrEqual(1e-9 * Math.abs(want!.z) + 1e-10);
    }
    return outliers.length;
  }

  it('of all, where no sex is known', () => {
    const rows = survey(`athlete_id\n${people.map(({ id }) => id).join('\n')}\n`);
    const outliers = Object.keys(MEASURES).map((measure) =>
      expectAgreement(rows, measure, wanted.all[measure].flagged),
    );
    // Of 29 flagged some look like slips of a digit or a unit, and stand among those.
    expect(outliers.reduce((sum, count) => sum + count, 0)).toBeGreaterThanOrEqual(10);
  }, 60_000);

  it('within each sex', () => {
    const rows = survey(`athlete_id,sex\n${people.map(({ id, sex }) => `${id},${sex}`).join('\n')}\n`);
    for (const measure of ['deficit', 'span_writing', 'pulse', 'height']) {
      const both = Object.values(wanted.by_sex).flatMap((sex) => sex[measure].flagged);
      expectAgreement(rows, measure, both);
    }
  }, 60_000);
});

describe('edges of the robust z', () => {
  const PROTOCOL = `bilat: 1
name: Edges
measures:
  reach: {label: Reach, unit: cm, sides: none, headings: [reach]}
  known: {label: Known, unit: cm, sides: none, headings: [known], error: {sem: 2, basis: occasions, source: common practice}}
  fault: {label: Faults, unit: "1", sides: none, levels: [0, 1, 2, 3], headings: [faults]}
`;
  const sheet = (reaches: readonly number[], column = 'Reach (cm)'): string =>
    `ID,${column}\n${reaches.map((reach, at) => `A${String(at).padStart(2, '0')},${reach}`).join('\n')}\n`;
  const list = (content: string): Row[] =>
    listOf(
      tempFolder({
        'protocol.yaml': PROTOCOL,
        'screening.yaml': 'sheets:\n  - files: sheets/a.csv\n    date: 2026-08-12\n',
        'sheets/a.csv': content,
      }),
    ).filter(({ kind }) => kind === 'outlier');
  const alike = Array.from({ length: 20 }, (_, at) => (at < 14 ? 70 : 70.5));

  it('where more than half are alike the mean distance takes the place of the MAD, and three steps must be passed', () => {
    expect(list(sheet([...alike, 71.5]))).toEqual([]);
    const [row] = list(sheet([...alike, 72.1]));
    // Worked out by hand: 21 scores, six of them 0.5 and one 2.1 from the median of 70: mean distance 5.1/21.
    expect(row).toMatchObject({ athlete_id: 'A20', value: '72.1', low: '68.5', high: '71.5', line: '22', column: '2' });
    expect(Number(row.score)).toBeCloseTo(2.1 / (1.253314 * (5.1 / 21)), 9);
  });

  it('or the error of the protocol', () => {
    expect(list(sheet([...alike, 73.9], 'Known (cm)'))).toEqual([]);
    expect(list(sheet([...alike, 74.1], 'Known (cm)'))).toHaveLength(1);
  });

  it('nineteen athletes are too few, and scores in levels have no outliers', () => {
    const wide = Array.from({ length: 19 }, (_, at) => 61 + at);
    expect(list(sheet([...wide.slice(1), 104.2]))).toEqual([]);
    expect(list(sheet([...wide, 104.2]))).toHaveLength(1);
    expect(
      list(
        sheet(
          Array.from({ length: 40 }, (_, at) => (at === 7 ? 3 : 0)),
          'Faults',
        ),
      ),
    ).toEqual([]);
  });

  it('exactly at 3.5 is none', () => {
    // Worked out by hand: 21 around a median of 70 whose MAD is 0.6745·2: 7 away is a z of 3.5.
    const cut = (highest: number): number[] => [
      63,
      highest,
      70,
      ...Array.from({ length: 9 }, () => [70 - 1.349, 70 + 1.349]).flat(),
    ];
    expect(list(sheet(cut(77)))).toEqual([]);
    expect(list(sheet(cut(77.001))).map(({ value }) => value)).toEqual(['77.001']);
  });
});

describe('bilat outliers on the example', () => {
  const college = path.join(ROOT, 'examples/college');
  let whole: Ended;
  let text: Ended;
  beforeAll(() => {
    whole = bilat(['outliers', '--folder', college]);
    text = bilat(['outliers', '--folder', college, '--format', 'table', '--fail-on', 'recheck']);
  });

  it('lists the tester who reads low, and the pressure that is one', () => {
    const rows = rowsOf(whole).filter(({ season }) => season === '2026');
    const apart = rows.filter(({ athlete_id, kind }) => kind === 'outlier' && athlete_id === '');
    expect(apart.map(({ measure }) => measure)).toContain('hip_adduction');
    const [adduction] = apart.filter(({ measure }) => measure === 'hip_adduction');
    expect(adduction).toMatchObject({ unit: '%', file: 'sheets/2026/hip.csv', line: '', season: '2026' });
    expect(adduction.suggestion).toMatch(/M\. Orrin reads [\d.]+ % above T\. Vale \(95 % interval/);
    // README of the examples: T. Vale reads low by about 8 %.
    expect(Number(adduction.value)).toBeGreaterThan(4);
    expect(Number(adduction.value)).toBeLessThan(13);
    expect(rows).toContainEqual(
      expect.objectContaining({
        athlete_id: 'K034',
        measure: 'systolic',
        kind: 'outlier',
        file: 'sheets/2026/intake.csv',
      }),
    );
  });

  it('changes nothing, and is the same list in any time zone and locale, after a run and from its tables', () => {
    const folder = path.join(copyOfExamples(), 'examples/college');
    const list = (...args: string[]) => bilat(['outliers', ...args, '--folder', folder], { env: ABROAD });
    const before = contents(folder);
    expect(list().stdout).toBe(whole.stdout);
    expect(contents(folder)).toEqual(before);
    expect(bilat(['run', '--folder', folder]).code).toBe(0);
    expect(list().stdout).toBe(whole.stdout);
    const outliers = (rows: readonly Row[]): Row[] => rows.filter(({ kind }) => kind === 'outlier');
    const named = rowsOf(list(path.join(folder, 'out/observations.csv')));
    expect(outliers(named)).toEqual(outliers(rowsOf(whole)));
  });

  it('one station, by any spelling', () => {
    const files = new Set(listOf(college, '--station', 'hip').map(({ file }) => file.replace(/^.*\//, '')));
    expect([...files].every((file) => file.startsWith('hip'))).toBe(true);
    expect(files.size).toBeGreaterThan(0);
  });

  it('is refused to a coach, and tells strength staff of no vital sign', () => {
    expect(bilat(['outliers', '--folder', college, '--audience', 'coach'])).toMatchObject({
      code: 2,
      stdout: '',
      stderr: expect.stringContaining('a coach sees neither'),
    });
    const strength = bilat(['outliers', '--folder', college, '--audience', 'strength']);
    expect(strength.stdout).not.toMatch(/pressure|systolic|pulse/i);
    const all = rowsOf(whole);
    const vital = all.filter(({ measure }) => /systolic|diastolic|pulse/.test(measure));
    expect(vital.length).toBeGreaterThan(1);
    expect(strength.stderr).toContain(`note: ${vital.length} rows are not shown to strength staff\n`);
    expect(rowsOf(strength).length).toBe(all.length - vital.length);
  });

  it('--fail-on recheck', () => {
    expect(text.code).toBe(1);
    expect(text.stderr).toMatch(/Exit code 1, because --fail-on found \d+ lines of the recheck list\.\n$/);
  });

  it('the text of the newest season counts what the others have', () => {
    const { stdout } = text;
    expect(stdout).toMatch(/^Season 2026: \d+ lines to look at again\n/);
    expect(stdout).toMatch(/About \d+(\.\d+)? of \d+ scores would stand out by chance alone/);
    expect(stdout).toMatch(/Lines of other seasons: 2025 \(\d+\), 2024 \(\d+\); --season shows them\./);
    expect(stdout).toContain('Vital signs first:\n');
    const rows = rowsOf(whole);
    const of = (season: string): number => rows.filter((row) => row.season === season).length;
    expect(stdout.replace(/\s+/g, ' ')).toContain(`2025 (${of('2025')}), 2024 (${of('2024')})`);
  });

  it('ids stand without names unless they are asked for', () => {
    const roster = readCsv(read(college, 'roster.csv')).find(({ athlete_id }) => athlete_id === 'K034')!;
    expect(text.stdout).not.toContain(roster.last_name);
    const named = bilat(['outliers', '--folder', college, '--format', 'table', '--names']).stdout;
    expect(named).toContain(`K034 ${roster.first_name} ${roster.last_name}, Systolic pressure`);
  });
});

describe('what is asked for and what comes out', () => {
  const reaches = (season: number): string =>
    `ID,Date,Tester,Reach (cm)\n${Array.from({ length: 30 }, (_, at) => `A${at + 10},${season}-08-12,Vale,${at === 12 ? 104.2 : 70 + ((at * 7) % 13)}`).join('\n')}\n`;
  const folder = tempFolder({
    'protocol.yaml':
      'bilat: 1\nname: Reach\nmeasures:\n  reach: {label: Reach, unit: cm, sides: none, headings: [reach]}\n',
    'screening.yaml': 'sheets:\n  - {files: sheets/a.csv, station: Bench}\n  - {files: sheets/b.csv, station: Floor}\n',
    'sheets/a.csv': reaches(2025),
    'sheets/b.csv': reaches(2026),
  });
  const refused = (...args: string[]): string => {
    const { code, stdout, stderr } = bilat(['outliers', '--folder', folder, ...args]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    return stderr;
  };

  it('a station that is not there is answered with those that are', () => {
    expect(refused('--station', 'Flor')).toContain(
      '--station: nothing was read at a station Flor. Did you mean Floor?',
    );
    expect(refused('--station', 'Laundry')).toContain('Known: Bench, Floor.');
    expect(listOf(folder, '--station', 'bench').map(({ file }) => file)).toEqual(['sheets/a.csv']);
  });

  it('seasons that were read, and no others', () => {
    expect(listOf(folder).map(({ season }) => season)).toEqual(['2025', '2026']);
    expect(listOf(folder, '--season', '2025').map(({ season }) => season)).toEqual(['2025']);
    expect(refused('--season', '2019')).toContain(
      'nobody was tested in season 2019; seasons with readings: 2025, 2026',
    );
    expect(refused('--season', 'last')).toContain('"last" is no season');
  });

  it('--fail-on finds the recheck list and nothing else', () => {
    expect(bilat(['outliers', '--folder', folder, '--season', '2025', '--fail-on', 'recheck'])).toMatchObject({
      code: 1,
      stderr: expect.stringContaining('--fail-on found 1 line of the recheck list.'),
    });
    expect(refused('--fail-on', 'refer')).toContain('"refer" is not found by this command; it finds recheck');
  });

  it('a file is written with its metadata; its ending sets the form', () => {
    const made = tempFolder();
    for (const name of ['recheck.csv', 'recheck.json']) {
      expect(bilat(['outliers', '--folder', folder, '-o', path.join(made, name)]).code).toBe(0);
    }
    expect(read(made, 'recheck.csv').split('\n')[0]).toBe(RECHECK_COLUMNS);
    expect(JSON.parse(read(made, 'recheck-metadata.json'))).toMatchObject({ tableSchema: expect.anything() });
    const rows = JSON.parse(read(made, 'recheck.json')) as Record<string, unknown>[];
    expect(rows).toMatchObject([
      { athlete_id: 'A22', season: 2025, kind: 'outlier', line: 14, column: 4 },
      { athlete_id: 'A22', season: 2026, kind: 'outlier', line: 14, column: 4 },
    ]);
    expect(Object.keys(rows[0]).join(',')).toBe(RECHECK_COLUMNS);
  });
});

describe('what corrections say', () => {
  const SHEET = `ID,Date,Reach (cm)\n${Array.from({ length: 30 }, (_, at) => `A${String(at).padStart(2, '0')},2026-08-12,${at === 12 ? 173.3 : 70 + ((at * 7) % 13)}`).join('\n')}\n`;
  const folder = (corrections: string): string =>
    tempFolder({
      'protocol.yaml':
        'bilat: 1\nname: Reach\nmeasures:\n  reach: {label: Reach, unit: cm, sides: none, headings: [reach]}\n',
      'screening.yaml': 'sheets: [{files: sheets/a.csv}]\ncorrections: corrections.csv\n',
      'sheets/a.csv': SHEET,
      'corrections.csv': `file,line,column,raw,action,value,by,date\n${corrections}`,
    });

  it('a reading that is confirmed is not listed, by number or heading; one that changed since is', () => {
    const ids = (corrections: string): string[] => listOf(folder(corrections)).map(({ athlete_id }) => athlete_id);
    expect(ids('')).toContain('A12');
    expect(ids('sheets/a.csv,14,3,173.3,confirmed,,me,2026-08-13\n')).not.toContain('A12');
    expect(ids('sheets/a.csv,14,Reach (cm),173.3,confirmed,,me,2026-08-13\n')).not.toContain('A12');
    expect(ids('sheets/a.csv,14,3,172,confirmed,,me,2026-08-13\n')).toContain('A12');
  });
});
