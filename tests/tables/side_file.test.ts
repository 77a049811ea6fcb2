import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { Failure, troubleText } from '../../src/problems/failure.ts';
import { ignoredNote, readSideFile } from '../../src/tables/side_file.ts';

const NEEDED = ['athlete_id'];
const OPTIONAL = ['team', 'side', 'date'];
const said = (columns: Readonly<Record<string, string>> = {}) => ({
  key: 'roster',
  file: 'roster.csv',
  columns: new Map(Object.entries(columns)),
});
const read = (text: string, columns: Readonly<Record<string, string>> = {}) =>
  readSideFile(text, said(columns), NEEDED, OPTIONAL);

function refusal(text: string, columns: Readonly<Record<string, string>> = {}) {
  try {
    read(text, columns);
  } catch (error) {
    expect(error).toBeInstanceOf(Failure);
    return (error as Failure).troubles;
  }
  throw new Error('was not refused');
}

describe('headings below other lines', () => {
  test.each<[string, string, Readonly<Record<string, string>>, number[], number]>([
    ['titles of one cell', 'Example College\nExport of 8/10/2026\nathlete_id,team\nK1,Judo\n', {}, [1, 2], 4],
    ['titles filled up', 'Example College,,\n,,\nathlete_id,team\nK1,Judo\n', {}, [1], 4],
    ['a title with marks', 'Judo, rowing, golf\nathlete_id;team\nK1;Judo\n', {}, [1], 3],
    ['a label of a team', 'Team,Judo\nathlete_id,team\nK1,Judo\n', {}, [1], 3],
    ['mapped headings', 'Team,Judo\n"Student ID",team\nK1,Judo\n', { 'student id': 'athlete_id' }, [1], 3],
    ['none', 'athlete_id,team\nK1,Judo\n', {}, [], 2],
  ])('%s', (_, text, columns, aside, line) => {
    const found = read(text, columns);
    expect(found.aside).toEqual(aside);
    expect(found.rows.map((row) => [row.line, row.get('athlete_id'), row.get('team')])).toEqual([[line, 'K1', 'Judo']]);
    const lines = aside.length === 1 ? 'line 1 stands above the headings, and is left aside' : undefined;
    if (lines) expect(ignoredNote(said(), found).map(({ message }) => message)).toContain(lines);
  });

  test('of other programs are found as well, and the cure is there to paste', () => {
    const [trouble, ...others] = refusal('Example College,,\n"Student ID",Sport,Year\nK1,Judo,2\n');
    expect(others).toEqual([]);
    expect([trouble.line, trouble.message]).toEqual([2, 'has no column athlete_id. Is it "Student ID"?']);
    expect(trouble.hint).toBe(
      'Say what its headings are: put into screening.yaml, in place of roster: if it is there:',
    );
    expect(trouble.paste).toEqual([
      'roster:',
      '  file: roster.csv',
      '  columns:',
      '    "Student ID": athlete_id',
      '    "Sport": team',
    ]);
    expect(troubleText(trouble).split('\n').slice(2).join('\n')).toBe(
      trouble.paste!.map((one) => `    ${one}`).join('\n'),
    );
  });

  test('that are said already stay in what is to be pasted', () => {
    const [trouble] = refusal('Number,"Sport ""now""",Leg\nK1,Judo,left\n', { 'sport "now"': 'team', leg: 'ignore' });
    expect(parse(trouble.paste!.join('\n'))).toEqual({
      roster: { file: 'roster.csv', columns: { Number: 'athlete_id', 'Sport "now"': 'team', Leg: 'ignore' } },
    });
  });

  test('a word of the table is not taken for a heading', () => {
    const [trouble] = refusal('Nr,Mannschaft,Bein\nK1,Judo,left\nK2,Judo,hand\n');
    expect(trouble.line).toBe(1);
  });
});

describe('no headings', () => {
  const HEAD = 'has no line of headings that bilat knows among the first 12: this one';
  const TAIL = 'Are there lines above the headings, or no headings at all?';
  test('the message shows a title', () => {
    const [trouble] = refusal('Example College,,\nNr,Mannschaft\nK1,Judo\n');
    expect([trouble.line, trouble.message]).toEqual([1, `${HEAD} reads "Example College". ${TAIL}`]);
    expect(trouble.paste).toBeUndefined();
  });

  test('and no athlete', () => {
    const [trouble] = refusal('Reed,Bo,Judo\nAsh,Ivy,Judo\n');
    expect(trouble.message).toBe(`${HEAD} is read for them. ${TAIL}`);
    expect(refusal('Bo Reed\nIvy Ash\n')[0].message).not.toContain('Reed');
  });
});

test.each(['1.csv', 'my roster.csv', 'yes', 'lists/a: b.csv', '#1.csv'])(
  'a file named %s is pasted so that it is read',
  (file) => {
    const spec = { ...said(), file };
    const found = readSideFile('athlete_id,Sport\nK1,Judo\n', spec, NEEDED, OPTIONAL);
    const [{ paste }] = ignoredNote(spec, found);
    expect(parse(paste!.join('\n'))).toEqual({ roster: { file, columns: { Sport: 'team' } } });
  },
);
