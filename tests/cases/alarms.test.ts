import { describe, expect, it } from 'vitest';
import { bilat, ROOT, read, tempFolder } from './bilat.ts';

// What must never be hidden: each case is an alarm beside something that could cover it.

const PROTOCOL = `bilat: 1
name: Alarms
measures:
  systolic: { label: Systolic pressure, unit: "mm[Hg]", sides: none, plausible: [60, 260], trials: { keep: mean } }
  grip: { label: Grip strength, unit: kgf, sides: each, plausible: [1, 150] }
rules:
  sys_140: { measure: systolic, field: value, at_least: 140, grade: refer, source: common practice }
  sys_160: { measure: systolic, field: value, at_least: 160, of: any_trial, grade: refer, source: common practice }
  grip_women: { measure: grip, field: value, below: 30, sex: F, grade: watch, source: invented }
everyone: [systolic, grip]
`;

/** The text of a run over one sheet with one row a test. */
function summary(rows: string, files: Record<string, string> = {}): string {
  const folder = tempFolder({
    'protocol.yaml': PROTOCOL,
    'sheets/a.csv': `id,date,test,side,trial,value,unit,status\n${rows}`,
    ...files,
  });
  const { code, stdout, stderr } = bilat(['run', '--folder', folder]);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  return stdout.replace(/\s+/g, ' ');
}

describe('an alarming pressure stays on the list', () => {
  it('after a day on which nothing was read', () => {
    const text = summary('A1,2026-08-12,systolic,,,190,,\nA1,2026-09-20,systolic,,,NT,,\n');
    expect(text).toContain('To see medical staff: 1 athlete Before training: 1 A1, no team, tested 2026-08-12');
    expect(text).toContain('highest reading 190 mmHg, limit 160 mmHg or more');
  });

  it('after a newer reading inside the limit, which is said', () => {
    const text = summary('A1,2026-08-12,systolic,,,190,,\nA1,2026-09-20,systolic,,,120,,\n');
    expect(text).toContain('To see medical staff: 1 athlete Before training: 1 A1, no team, tested 2026-08-12');
    expect(text).toContain('Read again since: see results.csv.');
  });

  it('when one date has a mistyped year', () => {
    const text = summary('A1,2026-08-12,systolic,,,190,,\nA2,2062-08-12,systolic,,,120,,\n');
    expect(text).toContain('Season 2026 has 1 athlete to see: findings.csv, grade refer.');
    expect(text).toContain('season 2062 stands 36 years after 2026: look for a mistyped year in the dates');
  });

  it('with its highest reading, although the mean breaks another rule', () => {
    const text = summary('A1,2026-08-12,systolic,,1,225,,\nA1,2026-08-12,systolic,,2,120,,\n');
    expect(text).toContain('highest reading 225 mmHg, limit 160 mmHg or more');
    expect(text).toContain('limit 140 mmHg or more');
  });

  it('with a dash in the status column', () => {
    expect(summary('A1,2026-08-12,systolic,,,190,,-\n')).toContain('highest reading 190 mmHg');
  });

  it('with a side that means nothing to it', () => {
    expect(summary('A1,2026-08-12,systolic,sitting,,190,,\n')).toContain('highest reading 190 mmHg');
  });

  it('in front of a lower one', () => {
    const text = summary('A1,2026-08-12,systolic,,,165,,\nB1,2026-08-12,systolic,,,225,,\n');
    expect(text.indexOf('B1,')).toBeLessThan(text.indexOf('A1,'));
  });
});

describe('an alarming pressure that cannot be taken is said at the top', () => {
  it.each(['>220', '18O', 'HIGH', '2200'])('%s', (cell) => {
    const text = summary(`A1,2026-08-12,systolic,,,${cell},,\n`);
    const top = text.slice(0, text.indexOf('Findings by rule'));
    expect(top).toContain(`Vital signs first: A1: `);
    expect(top).toContain(`"${cell}"`);
  });

  it.each([
    ['in the first row', 'X9,2026-08-12,systolic,,,188,,\nA1,2026-08-12,systolic,,,120,,\n'],
    ['after others', 'A1,2026-08-12,systolic,,,120,,\nX9,2026-08-12,systolic,,,188,,\n'],
  ])('with an athlete whom nobody knows, %s', (_, rows) => {
    const text = summary(rows, {
      'roster.csv': 'athlete_id,team\nA1,Rowing\n',
    });
    const top = text.slice(0, text.indexOf('Findings by rule'));
    expect(top).toContain(
      'Vital signs first: unknown athlete: Athlete "X9" is not on the roster. The row holds Systolic pressure 188.',
    );
  });
});

describe('pain is never hidden', () => {
  it.each([
    ['behind another word of the row', 'A1,2026-08-12,grip,L,,unable,kgf,pain\n'],
    ['behind a dash', 'A1,2026-08-12,grip,L,,-,kgf,pain\n'],
    ['in a reading that cannot be', 'A1,2026-08-12,grip,L,,3200 P,kgf,\n'],
    ['in a sentence', 'A1,2026-08-12,grip,L,,unable to finish due to pain,kgf,\n'],
    ['where the unit is not known', 'A1,2026-08-12,grip,L,,pain,stone,\n'],
    ['in a reading whose unit is not known', 'A1,2026-08-12,grip,L,,32 P,stone,\n'],
    ['under a status that says something else', 'A1,2026-08-12,grip,L,,32 P,kgf,refused\n'],
    ['in an attempt that does not count', 'A1,2026-08-12,grip,L,,pain,kgf,void\n'],
  ])('%s', (_, row) => {
    expect(summary(row)).toContain('Grip strength, left: pain during the test.');
  });

  it('in a column that is held back for its unit', () => {
    const folder = tempFolder({
      'protocol.yaml': PROTOCOL,
      'sheets/a.csv': 'id,date,Grip L,Grip R\nA1,2026-08-12,40,32 P\n',
    });
    const text = bilat(['run', '--folder', folder]).stdout.replace(/\s+/g, ' ');
    expect(text).toContain('Grip strength, right: pain during the test.');
    expect(text).toContain('held back');
  });
});

describe('pain is never invented', () => {
  it('"0 pain" is asked about', () => {
    const text = summary('A1,2026-08-12,grip,L,,0 pain,kgf,\nA1,2026-08-12,grip,R,,40,kgf,\n');
    expect(text).not.toContain('pain during the test');
    expect(text).toContain('"0 pain" is not a number');
  });
});

describe('a number that may mislead says so', () => {
  it('where the attempts lie far apart, or were painful', () => {
    const folder = tempFolder({
      'protocol.yaml': PROTOCOL.replace(
        'plausible: [1, 150] }',
        'plausible: [1, 150], trials: { spread_pct: 15 } }',
      ).replace(
        'everyone:',
        '  deficit: { measure: grip, field: deficit_pct, above: 10, grade: act, source: common practice }\neveryone:',
      ),
      'sheets/a.csv': 'id,date,Grip L 1 (kg),Grip L 2 (kg),Grip R 1 (kg),Grip R 2 (kg)\nA1,2026-08-12,95,43,44,44 P\n',
    });
    bilat(['run', '--folder', folder]);
    const { stdout } = bilat(['flag', '--folder', folder]);
    expect(stdout).toContain('above the limit of 10 %');
    expect(stdout).toContain('the attempts lie far apart: repeat the test first; read in pain');
  });
});

describe('what a run knows, flag knows too', () => {
  it('the sex that only the sheets say', () => {
    const folder = tempFolder({
      'protocol.yaml': PROTOCOL,
      'sheets/a.csv': 'id,date,sex,Grip L (kg),Grip R (kg)\nA1,2026-08-12,F,20,40\n',
    });
    bilat(['run', '--folder', folder]);
    const { stdout, stderr } = bilat(['flag', '--folder', folder]);
    expect(stderr).toBe('');
    expect(stdout.split('\n').filter((line) => line.includes('grip_women'))).toHaveLength(1);
  });
});

describe('remarks and teams', () => {
  it('remarks that only people can read are counted', () => {
    const folder = tempFolder({
      'protocol.yaml': PROTOCOL,
      'sheets/a.csv': 'id,date,Grip L (kg),Grip R (kg),Notes\nA1,2026-08-12,40,41,dizzy since the morning\n',
    });
    expect(bilat(['run', '--folder', folder]).stdout).toContain('1 remark not read by bilat either: read them');
  });

  it('a team in no sport group is said', () => {
    const folder = tempFolder({
      'protocol.yaml': `${PROTOCOL}sport_groups:\n  water: { label: Water, teams: [Rowing], measures: [grip] }\n`,
      'sheets/a.csv': 'id,date,team,Grip L (kg),Grip R (kg)\nA1,2026-08-12,Rowing Club,40,41\n',
    });
    const text = bilat(['run', '--folder', folder]).stdout.replace(/\s+/g, ' ');
    expect(text).toContain('team Rowing Club is in no sport group of the protocol: only the rules for everybody apply');
  });
});

describe('with the starter protocol', () => {
  const STARTER = read(ROOT, 'src/protocol/starter/protocol.yaml');
  const screened = (sheet: string): string => {
    const folder = tempFolder({ 'protocol.yaml': STARTER, 'sheets/a.csv': sheet });
    const { code, stdout } = bilat(['run', '--folder', folder]);
    expect(code).toBe(0);
    return stdout.replace(/\s+/g, ' ');
  };
  const HEAD = 'ID,Date,BP,HR\n';
  const top = (text: string): string => text.slice(0, text.indexOf('Findings by rule'));

  it('a pressure in a row without a day, or with a mistyped year, is to be taken again', () => {
    const text = screened(
      `${HEAD}A1,2026-08-17,118/72,60\nA2,,186/121,61\nA3,2062-08-17,190/125,62\nA4,2026-08-17,118/72,60\nA5,2026-08-17,118/72,60\n`,
    );
    expect(top(text)).toContain(
      'To take again while the athlete is in the building: 2 readings Vital signs first: A2:',
    );
    expect(top(text)).toContain('186/121');
    expect(top(text)).toContain('A3: Date "2062-08-17"');
    expect(top(text)).toContain('190/125');
  });

  it('pain under the pulse comes first, then who breaks most limits with one number', () => {
    const text = screened(
      `${HEAD}A1,2026-08-17,118/119,60\nA2,2026-08-17,164/80,60\nA3,2026-08-17,182/80,60\nA4,2026-08-17,150/119,60\nA5,2026-08-17,118/72,pain\n`,
    );
    const order = [...top(text).matchAll(/(A\d), no team, tested/g)].map(([, id]) => id);
    expect(order).toEqual(['A5', 'A3', 'A4', 'A2']);
    // 118/119 is not read: it may be 119/118.
    expect(top(text)).toContain('Not judged: Systolic pressure of 1 of 5 athletes: A1.');
    expect(top(text)).toContain('A1: "118/119"');
  });

  it('a year mistyped by one is asked about', () => {
    const text = screened(`${HEAD}A1,2026-08-17,118/72,60\nA2,2025-08-17,188/122,60\nA3,2026-08-17,118/72,60\n`);
    expect(top(text)).toContain('Season 2025 has 1 athlete to see: findings.csv, grade refer.');
    expect(text).toContain(
      'sheets/a.csv: beside readings of season 2026 it holds 3 of season 2025: look for a mistyped year',
    );
  });

  it('an empty list says that a column was not understood', () => {
    const text = screened('ID,Date,Arm thing,HR\nA1,2026-08-17,194/126,60\n');
    expect(top(text)).toContain(
      '0 athletes Nobody. No finding is not clearance. Not judged: Systolic pressure of anybody.',
    );
    expect(top(text)).toContain('Not judged: 1 column of sheets, not understood; see below.');
  });
});
