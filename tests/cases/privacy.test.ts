import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bilat, copyOfExamples, read, readCsv, tempFolder } from './bilat.ts';
import { SMALL } from './small.ts';

const outputs = (folder: string): [string, string][] =>
  readdirSync(path.join(folder, 'out')).map((file) => [file, read(folder, 'out', file)]);

describe('names', () => {
  const ROSTER = 'athlete_id,last_name,first_name,also_known_as\nA1,Umberfell,Quill,Quip\nA2,Ambermoor,Tansy,\n';
  // By name in either order, an unknown one, a nickname, one of two, a misspelling, and names in places of no athlete.
  const SHEET = `Athlete,Date,Tester,Grip L (kg),Grip R (kg),Remarks
"Umberfell, Quill",2026-08-17,Odo,40,50,Quill was late
Tansy Ambermoor,2026-08-17,Odo,40,5O,
Umberfel Quill,2026-08-17,Odo,40,50,
Zephrin Lowdown,2026-08-17,Odo,40,50,
Quip,2026-08-17,Odo,44,45,
`;
  const NAMES = /Umberf|Quill|Quip|Ambermoor|Tansy|Zephrin|Lowdown/i;
  const files = { ...SMALL, 'roster.csv': ROSTER, 'sheets/a.csv': SHEET };

  test('stand in no output, on neither stream', () => {
    const folder = tempFolder(files);
    for (const name of ['run', 'ingest', 'derive', 'flag', 'cohort', 'plan', 'coverage', 'outliers']) {
      const { code, stdout, stderr } = bilat([name], { cwd: folder });
      expect(code).toBe(0);
      expect(stdout + stderr).not.toMatch(NAMES);
    }
    for (const [file, text] of outputs(folder)) expect([file, NAMES.exec(text)?.[0]]).toEqual([file, undefined]);
    expect(readCsv(read(folder, 'out/results.csv')).map((row) => row.athlete_id)).toEqual(['A1', 'A2']);
  });

  test('stand there with --names, in the rejects too', () => {
    const folder = tempFolder(files);
    const { stdout } = bilat(['run', '--names'], { cwd: folder });
    expect(stdout.replace(/\s+/g, ' ')).toContain('Athlete "Zephrin Lowdown" is not on the roster.');
    expect(read(folder, 'out/rejects.csv')).toContain('Zephrin Lowdown');
  });

  test('of the example occur in no output; with --names the summary tells whom to see', () => {
    const folder = path.join(copyOfExamples(), 'examples/college');
    const people = readCsv(read(folder, 'roster.csv'));
    expect(people).toHaveLength(200);
    // The people of the roster, a nickname, and somebody on a sheet whom the roster does not know.
    const names = new Set(people.flatMap((row) => [row.last_name, row.first_name]));
    for (const name of ['Tib', 'Marrowcote', 'Quillmott', 'Odo']) names.add(name);
    const intake = read(folder, 'sheets/2025/intake.csv');
    expect(intake.match(/^.*(Tib Marrowcote|Quillmott, Odo)/gm)).toHaveLength(2);
    const all = new RegExp(`\\b(${[...names].join('|')})\\b`, 'gi');
    // The sheet by name holds a name a row: what is looked for can be found.
    expect(new Set(intake.match(all)).size).toBeGreaterThan(60);
    const commands = [
      ...['run', 'ingest', 'derive', 'flag', 'scan', 'check'],
      ...['cohort', 'plan', 'coverage', 'outliers'],
    ];
    const formats = { run: ['text', 'json'], scan: ['text', 'json'], check: ['text', 'json'] };
    for (const name of commands) {
      for (const format of formats[name as keyof typeof formats] ?? ['csv', 'json', 'markdown', 'table']) {
        const { code, stdout, stderr } = bilat([name, '--format', format], { cwd: folder });
        expect([name, format, code]).toEqual([name, format, 0]);
        expect([name, format, stdout.match(all), stderr.match(all)]).toEqual([name, format, null, null]);
      }
    }
    expect(bilat(['scan', '--columns'], { cwd: folder }).stdout.match(all)).toBeNull();
    const blank = bilat(['forms', '--station', 'Intake', '--team', 'Volleyball'], { cwd: folder });
    const team = people.filter((row) => row.team === 'Volleyball' && row.left_on === '');
    expect([blank.code, blank.stdout.match(all)]).toEqual([0, null]);
    expect(blank.stdout.match(/^K\d+/gm)).toEqual(team.map((row) => row.athlete_id));
    // Eleven tables, each with its metadata.
    expect(outputs(folder)).toHaveLength(22);
    for (const [file, text] of outputs(folder)) expect([file, text.match(all)]).toEqual([file, null]);
    const { stdout } = bilat(['run', '--names'], { cwd: folder });
    for (const [id, rest] of [
      ['K012', 'Rowing, tested 2026-08-17'],
      ['K172', 'Track, tested 2026-08-18'],
      ['K100', 'Soccer, tested 2026-08-18'],
    ]) {
      const { first_name, last_name } = people.find((row) => row.athlete_id === id)!;
      expect(stdout).toContain(`\n${id} ${first_name} ${last_name}, ${rest}\n`);
    }
    expect(stdout.replace(/\s+/g, ' ')).toContain('"Quillmott, Odo" is not on the roster.');
  }, 300_000);
});

describe('cells that a spreadsheet would run', () => {
  const FORMULAS = ['=1+1', '+1+1', '-1+1', '@SUM(A1)', '\t=1', '=HYPERLINK("http://x.test","y")'];
  const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
  const rows = FORMULAS.map(
    (text, at) =>
      `${[`${text}${at}`, '2026-08-17', text, '40', '50', text, text].map(quoted).join(',')}\nB${at},2026-08-17,,40,${quoted(text)},,\n`,
  );
  const ids = FORMULAS.flatMap((text, at) => [`${text}${at}`, `B${at}`]);
  const files = {
    ...SMALL,
    'sheets/a.csv': `ID,Date,Team,Grip L (kg),Grip R (kg),Tester,=HEADING()\n${rows.join('')}`,
    'roster.csv': `athlete_id\n${ids.map(quoted).join('\n')}\n`,
  };

  test('are guarded in every table', () => {
    const folder = tempFolder(files);
    expect(bilat(['run'], { cwd: folder })).toMatchObject({ code: 0 });
    let guarded = 0;
    for (const [file, text] of outputs(folder)) {
      if (!file.endsWith('.csv')) continue;
      for (const row of readCsv(text)) {
        for (const cell of Object.values(row)) {
          if (/^[=+\-@\t\r]/.test(cell)) expect(Number(cell)).not.toBeNaN();
          if (/^'[=+\-@\t\r]/.test(cell)) guarded++;
        }
      }
    }
    expect(guarded).toBeGreaterThan(FORMULAS.length * 4);
    const athletes = readCsv(read(folder, 'out/results.csv')).map((row) => row.athlete_id);
    expect(athletes).toContain("'=1+10");
  });

  test('come back as they were when bilat reads its own table', () => {
    const folder = tempFolder(files);
    const observations = bilat(['ingest'], { cwd: folder }).stdout;
    const results = JSON.parse(bilat(['derive', '-', '--format', 'json'], { cwd: folder, input: observations }).stdout);
    expect(results.map((row: { athlete_id: string }) => row.athlete_id)).toContain('=1+10');
    expect(bilat(['derive', '-'], { cwd: folder, input: observations }).stdout).toBe(
      bilat(['derive'], { cwd: folder }).stdout,
    );
  });
});

describe('words that JavaScript holds dear', () => {
  const WORDS = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'prototype'];

  test('are headings, ids, teams and tests like any others', () => {
    const wide = `ID,Date,Team,Grip L (kg),Grip R (kg),${WORDS.join(',')}\n${WORDS.map(
      (word) => `${word},2026-08-17,${word},40,50,1,2,3,4,5\n`,
    ).join('')}`;
    const long = `ID,Date,Test,Side,Value,Unit\n${WORDS.map((word) => `A1,2026-08-17,${word},L,40,kgf\n`).join('')}`;
    const folder = tempFolder({
      'protocol.yaml': SMALL['protocol.yaml'],
      'sheets/wide.csv': wide,
      'sheets/long.csv': long,
      'screening.yaml': `sheets: ["sheets/*.csv"]\npeople: { Proto: __proto__ }\nteams: { toString: { also: [valueOf] } }\n`,
      'roster.csv': `athlete_id\n${[...WORDS, 'A1'].join('\n')}\n`,
    });
    expect(bilat(['run'], { cwd: folder })).toMatchObject({ code: 0, stderr: '' });
    const results = readCsv(read(folder, 'out/results.csv'));
    expect(results.map((row) => row.athlete_id)).toEqual([...WORDS].sort());
    expect(new Set(results.map((row) => row.deficit_pct))).toEqual(new Set(['20']));
    const rejects = readCsv(read(folder, 'out/rejects.csv'));
    expect(rejects.filter((row) => row.code === 'heading_unknown').map((row) => row.heading)).toEqual(WORDS);
    expect(rejects.filter((row) => row.code === 'test_unknown').map((row) => row.raw)).toEqual(WORDS);
  });

  test('can be measures', () => {
    const protocol =
      'bilat: 1\nmeasures:\n  constructor: { label: Grip, unit: kgf, sides: each }\neveryone: [constructor]\n';
    const sheet = 'ID,Date,constructor L (kg),constructor R (kg)\nA1,2026-08-17,40,50\n';
    const folder = tempFolder({ 'protocol.yaml': protocol, 'sheets/a.csv': sheet });
    expect(readCsv(bilat(['derive'], { cwd: folder }).stdout)).toMatchObject([
      { measure: 'constructor', deficit_pct: '20' },
    ]);
  });
});
