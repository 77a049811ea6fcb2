import { existsSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bilat, copyOfExamples, type Ended, read, readCsv, tempFolder } from './bilat.ts';

const PROTOCOL = `bilat: 1
name: Small battery
measures:
  grip:
    { label: Grip strength, unit: kgf, sides: each, plausible: [1, 150], headings: [grip],
      error: { sem: 1, basis: occasions, source: from memory } }
  squat_faults: { label: Squat faults, unit: "1", sides: none, better: lower, levels: [0, 1, 2, 3], headings: [squat] }
  systolic: { label: Systolic pressure, unit: "mm[Hg]", sides: none, plausible: [60, 260], headings: [sbp] }
rules:
  grip_weak: { measure: grip, below: 30, grade: act, programme: gripping, region: hand, source: common practice }
  grip_uneven: { measure: grip, field: deficit_pct, at_least: 10, grade: act, programme: one_hand, region: hand, source: common practice }
  faults_many: { measure: squat_faults, at_least: 2, grade: watch, programme: gripping, source: common practice }
  pressure_high: { measure: systolic, at_least: 140, grade: refer, programme: recheck, source: common practice }
programmes:
  gripping: { label: Grip work, owner: strength, shared: Squeeze together., individual: Squeeze alone., retest_days: 42 }
  one_hand: { label: Weaker hand, owner: strength, individual: Start on the weaker hand., retest_days: 28 }
  recheck: { label: Taken again, owner: medical, individual: Repeat it seated. }
everyone: [grip, squat_faults, systolic]
sharing: { from_share: 0.33, min_tested: 5, at_most_programmes: 2 }
`;
const SHEET = `ID,Date,Team,Grip L (kg),Grip R (kg),Squat,SBP (mmHg)
A1,2026-08-17,Rowing,20,21,0,150
A2,2026-08-17,Rowing,20,20,0,120
A3,2026-08-17,Rowing,20,20 P,0,118
A4,2026-08-17,Rowing,40,41,3,121
A5,2026-08-17,Rowing,40,28,0,121
B1,2026-08-17,Fencing,40,36,0,119
B2,2026-08-17,Fencing,40,20,0,119
`;
const CLEARANCE = `athlete_id,date,status,region,side,until
A2,2026-08-18,not_cleared,,,
A4,2026-08-18,cleared,,,
`;
const FOLDER = { 'protocol.yaml': PROTOCOL, 'sheets/a.csv': SHEET };
const CLEARED = { ...FOLDER, 'clearance.csv': CLEARANCE };

const brief = ({ stdout }: Ended): string[] =>
  readCsv(stdout).map(({ priority, scope, athlete_id, group, rules }) =>
    `${priority} ${scope} ${athlete_id || group} ${rules}`.trim(),
  );
const table = (args: readonly string[], cwd: string): Ended => bilat(['plan', ...args, '--format', 'table'], { cwd });

describe('bilat plan', () => {
  // Worked out by hand: of five rowers three read below 30 kgf on both hands (A5 on the right), so grip work is shared.
  test('gives the lines in the order in which staff act', () => {
    const done = bilat(['plan'], { cwd: tempFolder(CLEARED) });
    expect(done.code).toBe(0);
    expect(brief(done)).toEqual([
      '1 refer A1 pressure_high',
      '2 refer A3 pain',
      '3 hold A2 grip_weak',
      '4 shared Rowing grip_weak;faults_many',
      '5 left_out A1',
      '6 left_out A2',
      '7 left_out A3',
      '8 individual A3 grip_weak',
      // Margin over error: 40 points over 5.5, then 10 kgf over 1.96 twice, then 20 points over 6.
      '9 individual B2 grip_uneven',
      '10 individual A1 grip_weak',
      '11 individual B2 grip_weak',
      '12 individual A5 grip_uneven',
      '13 repeat B1 grip_uneven',
    ]);
    const [refer, , hold, shared, , , , own] = readCsv(done.stdout);
    expect(refer.instruction).toBe('Medical staff see the athlete before training. Taken again: Repeat it seated.');
    expect(hold).toMatchObject({
      instruction: 'Hold: no training until medical staff say so.',
      programme: '',
      retest_by: '',
    });
    expect(shared).toMatchObject({ team: 'Rowing', owner: 'strength', start: '2026-08-18', retest_by: '2026-09-28' });
    expect(shared.reason).toBe(
      // Wilson 95 % interval of 4 of 5: 0.376 to 0.964 (J Am Stat Assoc 1927;22:209-212, worked out by hand).
      '4 of 5 tested (80 %, 95 % interval 38 to 96 %): Grip strength below 30 kgf. More than half of everybody: check device, unit and tester first. 2 of the team do it. Left out: A1, A2, A3.',
    );
    expect(own.instruction).toBe('After medical staff have seen the athlete: Grip work: Squeeze alone.');
    expect(done.stderr).toContain('note: looked at from 2026-08-18, the last day of');
  });

  test('without a clearance file nobody is held, and the text says so', () => {
    const cwd = tempFolder(FOLDER);
    expect(brief(bilat(['plan'], { cwd })).filter((line) => line.includes('hold'))).toEqual([]);
    const { stdout } = table([], cwd);
    expect(stdout.replaceAll('\n', ' ')).toContain(
      'There is no clearance.csv: nobody is known to be cleared, and nobody is held back. ',
    );
    expect(table([], tempFolder(CLEARED)).stdout.replaceAll('\n', ' ')).toContain(
      '5 athletes have no line in clearance.csv, so nothing says that they are cleared: A1, A3, A5, B1, B2.',
    );
  });

  test('the text goes from medical staff to single athletes, with the rule of the priority and the cautions', () => {
    const { stdout } = table([], tempFolder(CLEARED));
    const headings = stdout.split('\n').filter((line) => /^(To|On|Repeat|What|Findings|Cautions)/.test(line));
    expect(headings).toEqual([
      'To medical staff: 2',
      'On hold: 1',
      'Repeat the test first: 1',
      'What teams do together: 1',
      'What athletes do alone: 5',
      'Findings without a line: 0',
      'Cautions',
    ]);
    expect(stdout).toContain('Priority: athletes whom medical staff see (now, before training, routinely;');
    expect(stdout).toContain('  3  A2, Rowing\n     Hold: no training until medical staff say so.\n');
    expect(stdout).toContain('  6  Without A2, Rowing: Grip work (strength staff)\n');
    expect(bilat(['plan', '--help']).stdout).toContain('Priority: athletes whom medical staff see');
  });

  test('a day is taken from the command line; nothing that alarms is left out for it', () => {
    const done = bilat(['plan', '--on', '2026-08-01'], { cwd: tempFolder(CLEARED) });
    expect(brief(done)[0]).toBe('1 refer A1 pressure_high');
    expect(readCsv(done.stdout)[0].start).toBe('2026-08-01');
    expect(done.stderr).toContain('findings of days after 2026-08-01 planned all the same\n');
  });

  test('work that was started keeps its day, and closed referrals go', () => {
    const cwd = tempFolder({
      ...CLEARED,
      'referrals.csv':
        'athlete_id,date,rule,seen_on,outcome,closed_on\nA1,2026-08-17,pressure_high,2026-08-18,normal,2026-08-18\n',
      'work.csv': 'athlete_id,programme,started,planned,done,stopped,reason\nB2,one_hand,2026-08-18,12,1,,\n',
    });
    const done = bilat(['plan', '--on', '2026-08-25', '--uncovered', 'rest.csv'], { cwd });
    expect(brief(done)[0]).toBe('1 refer A3 pain');
    const started = readCsv(done.stdout).find(
      ({ athlete_id, programme }) => athlete_id === 'B2' && programme === 'one_hand',
    )!;
    expect(started).toMatchObject({ start: '2026-08-18', retest_by: '2026-09-15' });
    expect(started.reason).toMatch(/ Started 2026-08-18, 1 of 12 sessions done\.$/);
    expect(read(cwd, 'rest.csv')).toBe(
      'athlete_id,date,rule,measure,side,grade,reason\n' +
        'A1,2026-08-17,pressure_high,systolic,none,refer,"referred on 2026-08-17, closed on 2026-08-18"\n',
    );
    expect(existsSync(path.join(cwd, 'rest-metadata.json'))).toBe(true);
  });

  test('options choose lines and leave their numbers as they are', () => {
    const cwd = tempFolder(CLEARED);
    const lines = (...args: string[]): string[] => brief(bilat(['plan', ...args], { cwd }));
    expect(lines('--owner', 'medical').map((line) => line.split(' ')[0])).toEqual(['1', '2', '3']);
    expect(lines('--team', 'fencing')).toEqual([
      '9 individual B2 grip_uneven',
      '11 individual B2 grip_weak',
      '13 repeat B1 grip_uneven',
    ]);
    expect(lines('--athlete', 'A5')).toEqual(['4 shared Rowing grip_weak;faults_many', '12 individual A5 grip_uneven']);
    expect(
      lines('--by', 'athlete')
        .map((line) => line.split(' ')[0])
        .slice(0, 4),
    ).toEqual(['4', '1', '5', '10']);
    expect(
      lines('--by', 'programme')
        .map((line) => line.split(' ')[0])
        .slice(0, 5),
    ).toEqual(['2', '3', '13', '4', '5']);
    const limited = bilat(['plan', '--limit', '2'], { cwd });
    expect(brief(limited)).toHaveLength(2);
    expect(limited.stderr).toContain('note: 2 lines of 13; --limit left off 11\n');
    const nobody = table(['--athlete', 'A4'], cwd);
    expect(nobody.stdout).toContain('Work list of season 2026, looked at from 2026-08-18: 1 of 13 lines\n');
    expect(table(['--owner', 'strength'], cwd).stdout).not.toContain('To medical staff');
  });

  test.each([
    [['--team', 'Rowin'], 'error: --team: there is no team "Rowin" (season 2026). Did you mean Rowing?\n'],
    [
      ['--athlete', 'Zed'],
      'error: --athlete: nobody has the id "Zed" (season 2026). Known: A1, A2, A3, A4, A5, B1, B2.\n',
    ],
    [['--limit', '0'], 'error: --limit: "0" is no whole number from 1 on\n'],
    [
      ['--audience', 'coach', '--uncovered', 'rest.csv'],
      'error: --uncovered: findings without a line are for medical staff; leave out --audience\n',
    ],
  ])('refuses %j with what to do', (args, message) => {
    const cwd = tempFolder(CLEARED);
    const done = bilat(['plan', ...args], { cwd });
    expect([done.code, done.stdout]).toEqual([2, '']);
    expect(done.stderr).toContain(message);
    expect(existsSync(path.join(cwd, 'rest.csv'))).toBe(false);
  });

  test.each(['table', 'csv', 'json', 'markdown'])(
    'as %s shows a coach neither pain nor pressure, mass or injuries',
    (format) => {
      const cwd = tempFolder(CLEARED);
      const { stdout, stderr, code } = bilat(['plan', '--audience', 'coach', '--format', format], { cwd });
      expect(code).toBe(0);
      expect(stdout + stderr).not.toMatch(/pain|pressure|mass|injur|systolic|mmHg|kgf/i);
      expect(stdout).toContain('Not available until medical staff say so.');
      expect(stdout).toContain('Squeeze together.');
    },
  );

  test('writes a table whose metadata names its columns', () => {
    const cwd = tempFolder(CLEARED);
    expect(bilat(['plan', '-o', 'plan.csv'], { cwd }).code).toBe(0);
    const metadata = JSON.parse(read(cwd, 'plan-metadata.json'));
    expect(metadata.tableSchema.columns.map(({ name }: { name: string }) => name).join(',')).toBe(
      'priority,scope,group,athlete_id,team,programme,owner,side,rules,grade,reason,instruction,start,retest_by',
    );
    expect(read(cwd, 'plan.csv')).toBe(bilat(['plan'], { cwd }).stdout);
  });

  test('a folder without results says so and gives no line', () => {
    const cwd = tempFolder({
      'protocol.yaml': PROTOCOL,
      'sheets/a.csv': 'ID,Date,Team,Squat\nA1,2026-08-17,Rowing,\n',
    });
    const done = table([], cwd);
    expect(done.code).toBe(0);
    expect(done.stdout).toContain('0 lines\n');
  });
});

describe('the example college', () => {
  test('every finding is in a line or has its reason, and the bytes are the same in any time zone', () => {
    const cwd = `${copyOfExamples()}/examples/college`;
    const done = bilat(['plan', '--uncovered', 'rest.csv', '--format', 'json'], { cwd });
    const lines: Record<string, string | null>[] = JSON.parse(done.stdout);
    const rest = readCsv(read(cwd, 'rest.csv'));
    const findings = readCsv(bilat(['flag'], { cwd }).stdout);
    for (const finding of findings) {
      const isLeft = rest.some((one) =>
        ['athlete_id', 'date', 'rule', 'measure', 'side'].every((name) => one[name] === finding[name]),
      );
      const isCovered = lines.some(
        ({ athlete_id, group, rules }) =>
          (rules ?? '').split(';').includes(finding.rule) &&
          (athlete_id === finding.athlete_id || (athlete_id === null && finding.team.split(';').includes(group ?? ''))),
      );
      expect(isLeft || isCovered, JSON.stringify(finding)).toBe(true);
    }
    expect(rest.every(({ reason }) => reason !== '')).toBe(true);
    const elsewhere = bilat(['plan', '--format', 'json'], {
      cwd,
      env: { TZ: 'Pacific/Kiritimati', LC_ALL: 'de_DE.UTF-8' },
    });
    expect(elsewhere.stdout).toBe(done.stdout);
  });
});

describe('conditions of work', () => {
  // A1 reads 150 mmHg and A3 was in pain at the grip: worked out by hand, both wait for medical staff.
  const WORK =
    'athlete_id,programme,started,planned,done,stopped,reason\nB2,one_hand,2026-08-17,12,3,2026-08-18,sore elbow\n';
  const cwd = tempFolder({ ...CLEARED, 'work.csv': WORK });
  const oneLine = (text: string): string => text.replace(/\s+/g, ' ');

  test.each([[[]], [['--audience', 'strength']]])('stand in the summary of run: %j', (flags) => {
    const said = oneLine(bilat(['run', ...flags], { cwd }).stdout);
    expect(said).toContain('Weaker hand (strength staff): A5 right; given up, decide whether to go on: B2 right.');
    expect(said).toContain('B2 right; after medical staff have seen them: A3 both sides, A1 both sides.');
    expect(said).not.toContain('sore elbow');
  });

  test('stand in its JSON', () => {
    const { work } = JSON.parse(bilat(['run', '--format', 'json'], { cwd }).stdout);
    const all = work.alone.flatMap(({ athletes }: { athletes: object[] }) => athletes);
    expect(all).toContainEqual({ athlete_id: 'A1', side: 'both', after_medical: true, stopped: false });
    expect(all).toContainEqual({ athlete_id: 'B2', side: 'right', after_medical: false, stopped: true });
    expect(all).toContainEqual({ athlete_id: 'A5', side: 'right', after_medical: false, stopped: false });
  });

  test('stand in the plan, for a coach too', () => {
    const lines = (...flags: string[]) => readCsv(bilat(['plan', ...flags], { cwd }).stdout);
    const own = lines().find(({ athlete_id, programme }) => athlete_id === 'B2' && programme === 'one_hand')!;
    expect(own.instruction).toBe('Decide whether to go on: Weaker hand: Start on the weaker hand.');
    expect(own.reason).toMatch(/^Stopped on 2026-08-18 after 3 of 12 sessions, see work\.csv, line 2\. /);
    const seen = lines('--audience', 'coach').find(
      ({ athlete_id, programme }) => athlete_id === 'B2' && programme === 'one_hand',
    );
    expect(seen).toMatchObject({ instruction: own.instruction, reason: '' });
  });
});
