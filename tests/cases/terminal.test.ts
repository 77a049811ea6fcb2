import { describe, expect, test } from 'vitest';
import { bash, copyOfExamples, LAUNCHER, tempFolder } from './bilat.ts';
import { SMALL } from './small.ts';

const hasScript = bash('script -qec true /dev/null').code === 0;

const quoted = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;

/** What a terminal of some columns shows of a command line, and its exit code. */
function onTerminal(line: string, cwd: string, columns = 80): { shown: string; code: number | null } {
  const program = `bilat() { ${quoted(process.execPath)} ${quoted(LAUNCHER)} "$@"; }`;
  const session = `stty cols ${columns} rows 24; ${program}; ${line}`;
  const env = { SHELL: '/bin/bash', TERM: 'xterm' };
  const { stdout, code } = bash(`script -qec ${quoted(session)} /dev/null`, { cwd, env });
  return { shown: stdout.replaceAll('\r\n', '\n'), code };
}

describe.skipIf(!hasScript)('on a terminal', () => {
  test('tables are set for the eye, the most telling columns first', () => {
    const { shown, code } = onTerminal('bilat derive 2>/dev/null', tempFolder(SMALL));
    expect({ shown, code }).toEqual({
      code: 0,
      shown: `athlete_id  team     date        measure  unit  left  right  value  deficit_pct
A1          Rowing   2026-08-17  grip     kgf     40     50                  20
A1          Rowing   2026-08-17  height   cm                   180
A2          Rowing   2026-08-17  grip     kgf     40     41             2.43902
A3          Fencing  2026-08-17  grip     kgf     38

Not shown for lack of width: season, weaker, gap, difference, direction_pct, symmetry_angle, trials_left, trials_right, status.
`,
    });
  });

  test.each([
    ['ingest', 13972],
    ['derive', 8762],
    ['flag', 491],
  ])('bilat %s: no line is wider than the terminal, which gets the first rows of %d', (name, rows) => {
    const cwd = `${copyOfExamples()}/examples/college`;
    for (const columns of [40, 80, 132]) {
      const { shown, code } = onTerminal(`bilat ${name} 2>/dev/null`, cwd, columns);
      expect(code).toBe(0);
      const lines = shown.split('\n');
      const [heading, ...table] = lines.slice(0, lines.indexOf(''));
      expect(heading).toMatch(/^athlete_id {2,}/);
      expect(table).toHaveLength(50);
      for (const line of table) expect(line).toMatch(/^K\d{3} /);
      for (const line of [heading, ...table]) expect(line.length).toBeLessThanOrEqual(columns);
      expect(shown).toContain(`\n${rows - 50} more rows; write all with -o FILE or --format csv.\n`);
    }
  });

  test('headings stand out, unless colour is not wanted', () => {
    const folder = tempFolder(SMALL);
    const bold = '\u001b[1mTo see medical staff';
    // Whoever runs the tests may want no colour themselves.
    const plain = 'unset NO_COLOR; export TERM=xterm; ';
    expect(onTerminal(`${plain}bilat run`, folder).shown).toContain(bold);
    for (const line of [
      'NO_COLOR=1 bilat run',
      'bilat run --no-color',
      'bilat --no-color run',
      'TERM=dumb bilat run',
    ]) {
      const { shown } = onTerminal(plain + line, folder);
      expect(shown).toContain('\nTo see medical staff');
      expect(shown).not.toContain('\u001b');
    }
  });

  test('escape sequences of a sheet never reach it', () => {
    const steered = 'A\u001b]0;title\u0007\u009b31m\u202e1';
    const sheet = `ID,Date,Team,Grip L (kg),Grip R (kg),\u001b[2JHeading\n${steered},2026-08-17,\u001b[2JRow,40,\u001b[31m50,1\n`;
    const folder = tempFolder({ ...SMALL, 'sheets/a.csv': sheet, 'sheets/\u001b[5mblink.csv': '' });
    const lines = ['ingest', 'derive', 'flag'].flatMap((name) =>
      ['', '--format csv', '--format json', '--format markdown', '--format table'].map((flags) => `${name} ${flags}`),
    );
    for (const line of ['run --no-color', 'run --format json', ...lines]) {
      const { shown } = onTerminal(`bilat ${line}`, folder);
      expect(shown.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\u202e]/u);
    }
  });
});
