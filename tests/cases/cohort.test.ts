import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { SEEDED } from '../seeded.ts';
import { bilat, copyOfExamples, read, readCsv, tempFolder } from './bilat.ts';
import { agrees, LONGITUDINAL_SHEET, longitudinalProtocol, unzipped } from './longitudinal.ts';

type Row = Record<string, string>;

const COLUMNS =
  'season,group_kind,group,rule,eligible,tested,flagged,flagged_partial,pain,unable,missing,share,share_low,share_high,' +
  'worse_left,worse_right,others_tested,others_flagged,ratio,ratio_low,ratio_high,decision';

function cohort(folder: string, ...args: string[]): Row[] {
  const { code, stdout, stderr } = bilat(['cohort', '--folder', folder, ...args]);
  expect({ code, stderr: stderr.replace(/^note: .*\n/gm, '') }).toEqual({ code: 0, stderr: '' });
  expect(stdout.slice(0, stdout.indexOf('\n'))).toBe(COLUMNS);
  return readCsv(stdout);
}

// tests/reference/c-longitudinal: seeded R script (seed 7301, R 4.2.2), own work.
describe('500 simulated athletes over four seasons', () => {
  const wanted = readCsv(unzipped('expected_prevalence'));
  const of = (by: string): Row[] => wanted.filter((row) => row.by === by);
  const ruleOf = ({ test: measure, beyond }: Row): string => `${measure}_${beyond}`;
  let folder = '';
  let apart: Row[] = [];
  let pooled: Row[] = [];
  const find = (rows: readonly Row[], season: string, kind: string, group: string, rule: string): Row | undefined =>
    rows.find((row) => row.season === season && row.group_kind === kind && row.group === group && row.rule === rule);

  beforeAll(() => {
    folder = tempFolder({
      'protocol.yaml': longitudinalProtocol('best'),
      'screening.yaml': LONGITUDINAL_SHEET,
      'sheets/observations.csv': unzipped('observations'),
    });
    apart = cohort(folder);
    pooled = cohort(folder, '--season', 'pooled');
  }, 120_000);

  const differs = (row: Row, got: Row | undefined): boolean =>
    got?.flagged !== row.x ||
    got.tested !== row.n ||
    !agrees(got.share, row.p) ||
    !agrees(got.share_low, row.low) ||
    !agrees(got.share_high, row.high);

  test('prevalence by season and test, with its interval', () => {
    const rows = of('season');
    expect(rows).toHaveLength(32);
    const wrong = rows.filter((row) => differs(row, find(apart, row.season.slice(0, 4), 'all', '', ruleOf(row))));
    expect(wrong).toEqual([]);
  });

  test('prevalence by season, squad and test, with its interval', () => {
    const rows = of('season squad');
    expect(rows).toHaveLength(160);
    const wrong = rows.filter((row) =>
      differs(row, find(apart, row.season.slice(0, 4), 'team', row.group, ruleOf(row))),
    );
    expect(wrong).toEqual([]);
  });

  // The reference takes the seasons of an athlete for independent; with the athlete as cluster no interval is narrower.
  test.each([
    ['test', 8, 'all'],
    ['sex', 16, 'sex'],
  ])('prevalence by %s over all seasons', (by, count, kind) => {
    const rows = of(by);
    expect(rows).toHaveLength(count);
    let wider = 0;
    for (const row of rows) {
      const got = find(pooled, '', kind, row.group, ruleOf(row))!;
      expect([got.flagged, got.tested]).toEqual([row.x, row.n]);
      expect(agrees(got.share, row.p)).toBe(true);
      expect(Number(got.share_low)).toBeLessThanOrEqual(Number(row.low) + 1e-9);
      expect(Number(got.share_high)).toBeGreaterThanOrEqual(Number(row.high) - 1e-9);
      if (Number(got.share_low) < Number(row.low) - 0.001) wider++;
      expect(got.decision).toBe('');
    }
    // The two sides of one athlete differ alike from season to season.
    expect(wider).toBeGreaterThan(0);
  });

  test('the teams add up to all, and so do the two sexes', () => {
    for (const all of apart.filter((row) => row.group_kind === 'all')) {
      for (const kind of ['team', 'sex']) {
        const own = apart.filter(
          (row) => row.group_kind === kind && row.season === all.season && row.rule === all.rule,
        );
        for (const column of ['tested', 'flagged', 'missing']) {
          expect(own.reduce((sum, row) => sum + Number(row[column]), 0)).toBe(Number(all[column]));
        }
      }
    }
  });

  // Log method by hand: ln RR ± 1.959963985 √(1/a − 1/n + 1/b − 1/m).
  test('the ratio of each team to the others is that of their counts', () => {
    const rows = apart.filter((row) => row.group_kind === 'team' && row.rule === 'ankle_reach_10');
    expect(rows).toHaveLength(20);
    for (const row of rows) {
      const [a, n, b, m] = [row.flagged, row.tested, row.others_flagged, row.others_tested].map(Number);
      const ratio = a / n / (b / m);
      const factor = Math.exp(1.959963985 * Math.sqrt(1 / a - 1 / n + 1 / b - 1 / m));
      expect(agrees(row.ratio, String(ratio))).toBe(true);
      expect(agrees(row.ratio_low, String(ratio / factor))).toBe(true);
      expect(agrees(row.ratio_high, String(ratio * factor))).toBe(true);
    }
  });
});

const PROTOCOL = `bilat: 1
name: Small battery
measures:
  grip: { label: Grip strength, unit: kgf, sides: each, plausible: [1, 150], headings: [grip] }
  height: { label: Standing height, unit: cm, sides: none, plausible: [120, 240], headings: [height] }
rules:
  grip_weak: { measure: grip, field: value, below: 30, grade: act, programme: gripping, source: common practice }
  grip_deficit: { measure: grip, field: deficit_pct, at_least: 10, grade: watch, source: common practice }
  tall: { measure: height, field: value, above: 230, grade: watch, source: common practice }
everyone: [grip]
sport_groups:
  hand: { label: Hand sports, teams: [Rowing, Judo], measures: [height] }
programmes:
  gripping: { label: Grip work, owner: strength, shared: "Hang.", individual: "Squeeze." }
`;
const ROSTER = `athlete_id,team,sex
${['A1', 'A2', 'A3', 'A4', 'A5', 'A6'].map((id, at) => `${id},Rowing,${at % 2 ? 'M' : 'F'}`).join('\n')}
${['B1', 'B2', 'B3', 'B4', 'B5', 'B6'].map((id) => `${id},Judo,M`).join('\n')}
C1,Chess,F
C2,Chess;Judo,M
`;
const SHEET = `ID,Date,Grip L (kg),Grip R (kg),Height (cm)
A1,2026-08-17,20,40,180
A2,2026-08-17,25,40,181
A3,2026-08-17,41,40,182
A4,2026-08-17,42,40,183
A5,2026-08-17,28,unable,184
A6,2026-08-17,,,
B1,2026-08-17,40,40,185
B2,2026-08-17,41,41,186
B3,2026-08-17,42,42,187
B4,2026-08-17,43 P,43,188
B5,2026-08-17,29,40,189
C1,2026-08-17,20,20,
C2,2026-08-17,45,45,170
`;
const FOLDER = { 'protocol.yaml': PROTOCOL, 'roster.csv': ROSTER, 'sheets/grip.csv': SHEET };

describe('bilat cohort', () => {
  // All counts are worked out by hand from the sheet above.
  test('says who was eligible, tested and flagged, and how many were not', () => {
    const rows = cohort(tempFolder(FOLDER), '--rule', 'grip_weak');
    const brief = rows.map((row) =>
      [
        row.group_kind,
        row.group,
        row.eligible,
        row.tested,
        row.flagged,
        row.flagged_partial,
        row.pain,
        row.unable,
        row.missing,
        row.worse_left,
        row.decision,
      ].join(' '),
    );
    expect(brief).toEqual([
      'all  14 11 4 1 1 1 3 3 shared',
      'team Chess 2 2 1 0 0 0 0 0 too_few',
      'team Judo 7 6 1 0 1 0 1 1 individual',
      'team Rowing 6 4 2 1 0 1 2 2 too_few',
      'sport_group hand 13 10 3 1 1 1 3 3 individual',
      'sex F 4 3 2 1 0 1 1 1 too_few',
      'sex M 10 8 2 0 1 0 2 2 individual',
    ]);
  });

  test('--by all alone gives the rows of everybody, in each format', () => {
    const folder = tempFolder(FOLDER);
    const rows = cohort(folder, '--by', 'all');
    expect(rows.map((row) => `${row.season} ${row.group_kind} ${row.rule}`)).toEqual(
      ['grip_weak', 'grip_deficit', 'tall', 'pain', 'unable', 'one_side'].map((rule) => `2026 all ${rule}`),
    );
    const json = JSON.parse(bilat(['cohort', '--folder', folder, '--by', 'all', '--format', 'json']).stdout);
    expect(json).toHaveLength(6);
    expect(json[0]).toMatchObject({ season: 2026, group: null, rule: 'grip_weak', tested: 11, ratio: null });
    const markdown = bilat(['cohort', '--folder', folder, '--by', 'all', '--format', 'markdown']).stdout;
    expect(markdown.split('\n')[0]).toBe(`| ${COLUMNS.split(',').join(' | ')} |`);
  });

  test('-o writes the table with its metadata', () => {
    const folder = tempFolder(FOLDER);
    expect(bilat(['cohort', '-o', 'cohort.csv'], { cwd: folder }).code).toBe(0);
    expect(read(folder, 'cohort.csv').split('\n')[0]).toBe(COLUMNS);
    expect(JSON.parse(read(folder, 'cohort-metadata.json')).tableSchema.columns[7]).toMatchObject({
      name: 'flagged_partial',
      'dc:description': 'half-measured athletes with a finding; not in the share',
    });
  });

  test('--occasion last looks at the last occasion of the season', () => {
    const folder = tempFolder({
      ...FOLDER,
      'sheets/again.csv': 'ID,Date,Grip L (kg),Grip R (kg)\nA1,2026-11-17,40,40\nA2,2026-11-17,39,40\n',
    });
    const flagged = (...args: string[]): string[] =>
      cohort(folder, '--by', 'all', '--rule', 'grip_weak', ...args).map((row) => `${row.flagged} of ${row.tested}`);
    expect(flagged()).toEqual(['4 of 11']);
    expect(flagged('--occasion', 'last')).toEqual(['2 of 11']);
  });

  test('--season takes some, or all together', () => {
    const folder = tempFolder({
      ...FOLDER,
      'sheets/before.csv': 'ID,Date,Grip L (kg),Grip R (kg)\nA1,2025-08-17,20,40\nA2,2025-08-17,39,40\n',
    });
    const seasons = (...args: string[]): string[] =>
      cohort(folder, '--by', 'all', '--rule', 'grip_weak', ...args).map(
        (row) => `${row.season} ${row.flagged} of ${row.tested}`,
      );
    expect(seasons()).toEqual(['2025 1 of 2', '2026 4 of 11']);
    expect(seasons('--season', '2025')).toEqual(['2025 1 of 2']);
    expect(seasons('--season', '2026, 2025')).toEqual(['2025 1 of 2', '2026 4 of 11']);
    expect(seasons('--season', 'pooled')).toEqual([' 5 of 13']);
  });

  test.each([
    [['--by', 'squad'], '--by: "squad" is no kind of group; known: all, team, sport_group, sex'],
    [['--rule', 'grip_week'], '--rule: there is no rule grip_week in protocol.yaml. Did you mean grip_weak?'],
    [['--season', '2024'], '--season: nobody was tested in season 2024; seasons with results: 2026'],
    [['--season', '26'], '--season: "26" is no season; write four digits, the year in which it starts, or pooled'],
    [['--seed', '-1'], '--seed: "-1" is no whole number from 0 to 999999999'],
    [['--audience', 'coach'], 'bilat cohort shows readings and deficits, and a coach sees neither'],
  ])('%j is answered', (args, sentence) => {
    const { code, stdout, stderr } = bilat(['cohort', ...args], { cwd: tempFolder(FOLDER) });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr.replace(/\s+/g, ' ')).toContain(`error: ${sentence}`);
  });

  test('strength staff see no vital signs, and are told that rows are left out', () => {
    const folder = `${copyOfExamples()}/examples/college`;
    const args = ['--by', 'all', '--season', '2026'];
    const all = cohort(folder, ...args);
    const { stdout, stderr } = bilat(['cohort', '--folder', folder, ...args, '--audience', 'strength']);
    const rules = readCsv(stdout).map((row) => row.rule);
    expect(all.map((row) => row.rule)).toContain('systolic_high');
    expect(rules).toContain('adductor_ratio_low');
    expect(rules.filter((rule) => /olic|pulse/.test(rule))).toEqual([]);
    expect(stderr).toMatch(
      new RegExp(`^note: ${all.length - rules.length} rows are not shown to strength staff$`, 'm'),
    );
  });

  // Shares, limits, bars and ratios: Python 3, by Stat Med 1998;17:857-872 (method 3) and Biometrics 1978;34:469-474.
  test('the text: what is shared, one line a group, what is too few, and what is not known', () => {
    const { code, stdout } = bilat(['cohort', '--format', 'table', '--rule', 'grip_weak,tall'], {
      cwd: tempFolder({ ...FOLDER, 'protocol.yaml': `${PROTOCOL}sharing: { min_tested: 6, from_share: 0.15 }\n` }),
    });
    expect(code).toBe(0);
    expect(stdout.slice(0, stdout.indexOf('\nCautions\n'))).toBe(`Season 2026: 1 rule that somebody breaks
Shared work:
  group hand: Grip work (strength staff), 3 of 10 tested (30 %).
  team Judo: Grip work (strength staff), 1 of 6 tested (17 %).

shared: 6 or more tested, 15 % or more of them flagged, and the rule may be
shared; individual: the rest. █ is the share of those tested, ─ its 95 %
interval. group: a sport group. ratio: share of the group to that of the others.
*: one of four counts was 0, so 0.5 was added to all four cells. Not shown for
lack of width: others (--format csv has them).

grip_weak (act)
Grip strength, left or right, below 30 kgf. Grip work (strength staff).
  group       flagged  share   95 %  0         100 %  ratio (95 %)      decision
  everybody   4 of 11   36 %  15–65  ··───█────·····                    shared
  group hand  3 of 10   30 %  11–60  ·───█─────·····  0.42 (0.13–1.4)*  shared
  sex M        2 of 8   25 %   7–59  ·──█─────······  0.38 (0.09–1.6)   shared
  team Judo    1 of 6   17 %   3–56  ──█──────······  0.28 (0.04–1.9)   shared
  Too few: team Chess (2 tested, 6 needed; 1 flagged), team Rowing (4 tested,
    6 needed; 3 flagged), sex F (3 tested, 6 needed; 3 flagged).
  Not tested: everybody (3 of 14; with them it is 29 % at least and 50 % at
    most), team Judo (1 of 7; with them it is 14 % at least and 29 % at most).
  Measured in part, flagged all the same, and in no share: 1 athlete.
  On the left only 3, on the right only 0.
  At the test: 1 in pain, 1 unable.

Nobody tested breaks 1 rule: tall.
Whoever was not tested for a rule is in none of its shares.
An athlete counts in each of their teams: rows do not add up to all.
0 of 6 intervals of ratios exclude 1; about 0.3 expected by chance. The rows are
not independent of each other.
`);
  });
});

const readings = fc.option(fc.integer({ min: 15, max: 60 }), { nil: undefined, freq: 6 });
const athlete = fc.record({
  team: fc.constantFrom('Rowing', 'Judo', 'Chess'),
  sex: fc.constantFrom('F', 'M', ''),
  left: readings,
  right: readings,
  comes: fc.boolean(),
});

describe('over generated folders', () => {
  test('the flagged of disjoint teams add up to those of all, and are those of the findings', () => {
    fc.assert(
      fc.property(fc.array(athlete, { minLength: 3, maxLength: 40 }), (athletes) => {
        const listed = athletes.map((one, at) => ({ ...one, id: `K${100 + at}` }));
        const lines = listed.filter(({ comes }) => comes);
        fc.pre(lines.some(({ left, right }) => (left ?? right) !== undefined));
        const folder = tempFolder({
          'protocol.yaml': PROTOCOL,
          'roster.csv': `athlete_id,team,sex\n${listed.map(({ id, team, sex }) => `${id},${team},${sex}\n`).join('')}`,
          'sheets/grip.csv': `ID,Date,Grip L (kg),Grip R (kg)\n${lines.map(({ id, left, right }) => `${id},2026-08-17,${left ?? ''},${right ?? ''}\n`).join('')}`,
        });
        const rows = cohort(folder);
        const findings = readCsv(bilat(['flag', '--folder', folder]).stdout);
        for (const all of rows.filter((row) => row.group_kind === 'all')) {
          const teams = rows.filter((row) => row.group_kind === 'team' && row.rule === all.rule);
          for (const column of ['eligible', 'tested', 'flagged', 'flagged_partial', 'missing']) {
            expect(teams.reduce((sum, row) => sum + Number(row[column]), 0)).toBe(Number(all[column]));
          }
          const found = new Set(findings.filter(({ rule }) => rule === all.rule).map((row) => row.athlete_id));
          expect(Number(all.flagged) + Number(all.flagged_partial)).toBe(found.size);
        }
        // Everybody of the roster is given the grip test, come or not.
        const weak = rows.find((row) => row.group_kind === 'all' && row.rule === 'grip_weak')!;
        expect(Number(weak.eligible)).toBe(listed.length);
        expect(Number(weak.tested)).toBe(
          lines.filter(({ left, right }) => left !== undefined && right !== undefined).length,
        );
      }),
      { ...SEEDED, numRuns: 12 },
    );
  }, 120_000);
});
