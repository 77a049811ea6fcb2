import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { bilat, copyOfExamples, ROOT, read, readCsv } from './bilat.ts';

/**
 * What examples/README.md tells of the example, found again in the tables of one run. A number here is stated there or
 * worked out from the tables.
 */
const FOLDER = path.join(copyOfExamples(), 'examples/college');
const RUN = bilat(['run', '--folder', FOLDER]);
const PAGE = read(ROOT, 'examples/README.md');

type Row = Record<string, string>;

const table = (name: string): Row[] => readCsv(read(FOLDER, `out/${name}.csv`));
const beside = (name: string): Row[] => readCsv(read(FOLDER, `${name}.csv`));
const observations = table('observations');
const results = table('results');
const findings = table('findings');
const rejects = table('rejects');
const athletes = table('athletes');
const cohort = table('cohort');
const plan = table('plan');
const coverage = table('coverage');
const recheck = table('recheck');
const roster = beside('roster');
const injuries = beside('injuries');
const work = beside('work');
const clearance = beside('clearance');
const referrals = beside('referrals');

const oneLine = (text: string): string => text.replace(/\s+/g, ' ');

/** What the page says of the story, so that page and test cannot drift apart. */
function states(...sentences: string[]): void {
  for (const sentence of sentences) expect(oneLine(PAGE)).toContain(sentence);
}

/** The rows of the table under a heading of the page, without code marks. */
function tableUnder(heading: string): string[][] {
  const part = PAGE.split('\n## ').find((text) => text.startsWith(`${heading}\n`))!;
  const rows = part.split('\n').filter((line) => line.startsWith('|'));
  return rows.slice(2).map((line) =>
    line
      .slice(1, -1)
      .split('|')
      .map((cell) => cell.trim().replaceAll('`', '')),
  );
}

/** The text of a file as far as it is ASCII, whatever its encoding. */
const lettersOf = (file: string): string => readFileSync(path.join(FOLDER, file), 'latin1').replaceAll('\0', '');

/** Whose cell of a sheet this is: the nearest id or name at or left of it in its line; a name of the roster by its id. */
function whoIsAt(file: string, line: number, column: number): string | undefined {
  const [cells = []] = Papa.parse<string[]>(lettersOf(file).split('\n')[line - 1]).data;
  const who = cells.slice(0, column).findLast((cell) => /^K\d{3}$|^[A-Z][a-z]+, [A-Z][a-z]+$/.test(cell));
  const known = roster.find((row) => `${row.last_name}, ${row.first_name}` === who);
  return known?.athlete_id ?? who;
}

/** The rows of a table that have these cells. */
const where = (rows: readonly Row[], cells: Row): Row[] =>
  rows.filter((row) => Object.entries(cells).every(([column, cell]) => row[column] === cell));

/** The one row that has these cells. */
function only(rows: readonly Row[], cells: Row): Row {
  const found = where(rows, cells);
  expect([cells, found.length]).toEqual([cells, 1]);
  return found[0];
}

const result = (athlete_id: string, season: string, measure: string): Row =>
  only(results, { athlete_id, season, measure });

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const percent = (share: number): number => Math.round(100 * share);
/** The numbers of a row that stand in these columns. */
const numbers = (row: Row, ...columns: string[]): number[] =>
  columns.filter((column) => row[column] !== '').map((column) => Number(row[column]));
/** Mean of both sides, as far as both were read. */
function bothSides(row: Row | undefined): number | undefined {
  const sides = row === undefined ? [] : numbers(row, 'left', 'right');
  return sides.length === 2 ? mean(sides) : undefined;
}
/** Later value beside earlier one, minus 1, of those who have both. */
function gains(pairs: readonly (readonly [number | undefined, number | undefined])[]): number[] {
  return pairs.flatMap(([before, after]) => (before === undefined || after === undefined ? [] : [after / before - 1]));
}
const isIn = (row: Row, team: string): boolean => row.team.split(';').includes(team);
const RETEST = '2024-10-07';
const lowerRatio = (row: Row): number => Math.min(...numbers(row, 'left', 'right'));
const ratios = where(results, { measure: 'adductor_ratio' }).filter(
  (row) => row.date !== RETEST && numbers(row, 'left', 'right').length > 0,
);

test('the run has nothing to say but its summary', () => {
  expect({ code: RUN.code, stderr: RUN.stderr }).toEqual({ code: 0, stderr: '' });
  expect(RUN.stdout).toMatch(/^Season 2026: 149 athletes tested; 15 sheets and 13972 observations in all\.\n/);
});

describe('who is screened', () => {
  test('200 athletes of twelve teams, in three seasons', () => {
    states(
      'its twelve teams, 200 athletes and three seasons, 149, 148 and 149 athletes of them in 2024, 2025 and 2026',
    );
    expect(roster).toHaveLength(200);
    expect(new Set(athletes.map((row) => row.athlete_id))).toEqual(new Set(roster.map((row) => row.athlete_id)));
    const seasons = ['2024', '2025', '2026'];
    expect(seasons.map((season) => where(athletes, { season }).length)).toEqual([149, 148, 149]);
    const seen = (season: string) => new Set(where(observations, { season }).map((row) => row.athlete_id)).size;
    expect(seasons.map(seen)).toEqual([149, 148, 149]);
  });

  test('the teams, their sizes, codes and sport groups', () => {
    const protocol = read(FOLDER, 'protocol.yaml');
    const members = new Map<string, string[]>();
    for (const row of roster) {
      // Whoever is in two teams stands under the first.
      const [team] = row.team.split(';');
      members.set(team, [...(members.get(team) ?? []), row.athlete_id]);
    }
    const groupsOf = (team: string): string =>
      ['landing', 'groin', 'overhead', 'power']
        .filter((group) => {
          const teams = new RegExp(`\\n {2}${group}:\\n {4}label: .*\\n {4}teams: \\[(.*)\\]`).exec(protocol)![1];
          return teams.split(', ').includes(team);
        })
        .join(', ');
    expect(tableUnder('Who is screened')).toEqual(
      [...members].map(([team, ids]) => [team, `${ids.length}`, groupsOf(team), `${ids[0]} to ${ids.at(-1)}`]),
    );
  });

  test('names stand where the page says, and nowhere else', () => {
    states(
      'Names stand in `roster.csv`, in `sheets/2025/intake.csv` and once in `screening.yaml`; everywhere else an athlete is a code',
    );
    const names = roster.flatMap((row) => [row.last_name, row.first_name]);
    const all = new RegExp(`\\b(${[...new Set(names)].join('|')}|Marrowcote|Quillmott)\\b`);
    const sheets = tableUnder('The sheets').map(([name]) => `sheets/${name}`);
    const sides = ['clearance', 'corrections', 'exposures', 'history', 'injuries', 'referrals', 'roster', 'work'];
    const files = [...sheets, ...sides.map((name) => `${name}.csv`), 'protocol.yaml', 'screening.yaml'];
    const named = files.filter((file) => all.test(lettersOf(file)));
    expect(named).toEqual(['sheets/2025/intake.csv', 'roster.csv', 'screening.yaml']);
  });

  test('fifteen sheets, each with readings', () => {
    const listed = tableUnder('The sheets').map(([name]) => `sheets/${name}`);
    expect(listed).toHaveLength(15);
    expect([...listed].sort()).toEqual(
      table('ledger')
        .map((row) => row.file)
        .sort(),
    );
    for (const row of table('ledger')) expect([row.file, Number(row.measured) > 50]).toEqual([row.file, true]);
  });
});

describe('the story', () => {
  test('water polo shares a limit', () => {
    states(
      'In 2026 eight of its 16 tested athletes read an `adductor_ratio` below 0.80, half of the team, and one of the 58 others',
      'In 2024 and 2025 nobody of it did',
    );
    const counts = (season: string, ofTeam: boolean): [low: number, tested: number] => {
      const tested = where(ratios, { season }).filter((row) => isIn(row, 'Water polo') === ofTeam);
      return [tested.filter((row) => lowerRatio(row) < 0.8).length, tested.length];
    };
    expect(counts('2026', true)).toEqual([8, 16]);
    expect(counts('2026', false)).toEqual([1, 58]);
    expect([counts('2024', true), counts('2025', true)]).toEqual([
      [0, 15],
      [0, 13],
    ]);
    const flagged = (season: string, team: string): number =>
      new Set(where(findings, { rule: 'adductor_ratio_low', season, team }).map((row) => row.athlete_id)).size;
    expect(['2024', '2025', '2026'].map((season) => flagged(season, 'Water polo'))).toEqual([0, 0, 8]);
    // Over what the protocol asks of a team before all of it is given the work; no other team is.
    expect(read(FOLDER, 'protocol.yaml')).toMatch(/^sharing: \{ from_share: 0\.33, min_tested: 5,/m);
    for (const team of ['Rowing', 'Fencing', 'Soccer', 'Field hockey']) {
      const tested = where(ratios, { season: '2026' }).filter((row) => isIn(row, team)).length;
      expect([team, tested >= 5, flagged('2026', team) / tested < 0.33]).toEqual([team, true, true]);
    }
    expect(oneLine(RUN.stdout)).toContain(' adductor_ratio_low act 9 74 12 % ');
    // Before August 2026 nobody of the team has adductor work; then all of it but K040, who is in pain.
    const polo = where(roster, { team: 'Water polo' });
    const trained = where(work, { programme: 'adductor_strength' }).filter((row) =>
      polo.some(({ athlete_id }) => athlete_id === row.athlete_id),
    );
    expect(trained.filter((row) => row.started < '2026-08-17')).toEqual([]);
    const present = where(athletes, { season: '2026', team: 'Water polo' }).map((row) => row.athlete_id);
    expect(trained.map((row) => row.athlete_id)).toEqual(present.filter((id) => id !== 'K040'));
  });

  test('so water polo has one programme, and nobody of it does that alone', () => {
    states(
      'So `bilat cohort` says `shared`: 50 %, interval 28 to 72 %, 29 times the share of the others (3.9 to 215)',
      '`bilat plan` gives the team one programme, `adductor_strength`, to be tested again by 19 October, and none of the eight does it alone',
      '`work.csv` has 15 of the 16 start it, most on 24 August. K040 is left out: in pain at the left hip',
    );
    const polo = { season: '2026', group_kind: 'team', group: 'Water polo', rule: 'adductor_ratio_low' };
    const share = only(cohort, polo);
    expect(share).toMatchObject({ eligible: '16', tested: '16', flagged: '8', share: '0.5', decision: 'shared' });
    expect([share.others_flagged, share.others_tested]).toEqual(['1', '58']);
    // Wilson score limits of 8 of 16, worked out by hand: centre 0.5, half-width z√(p(1−p)/n + z²/4n²)/(1 + z²/n) = 0.2200.
    expect(numbers(share, 'share_low', 'share_high').map((number) => number.toFixed(2))).toEqual(['0.28', '0.72']);
    // (8/16)/(1/58) = 29, and by hand ln 29 ± 1.959964·√(1/8 − 1/16 + 1 − 1/58): 3.91 and 215.1.
    expect(Number(share.ratio)).toBeCloseTo(29, 9);
    expect(numbers(share, 'ratio_low', 'ratio_high').map((number) => number.toPrecision(3))).toEqual(['3.91', '215']);
    // In this season no other rule of any team is work for all of it.
    expect(where(cohort, { season: '2026', group_kind: 'team', decision: 'shared' })).toEqual([share]);

    expect(where(plan, { scope: 'shared' })).toMatchObject([
      {
        ...{ group: 'Water polo', athlete_id: '', programme: 'adductor_strength', owner: 'strength' },
        ...{ rules: 'adductor_ratio_low', start: '2026-08-24', retest_by: '2026-10-19' },
        reason: expect.stringContaining('8 of 16 tested (50 %, 95 % interval 28 to 72 %)'),
      },
    ]);
    expect(where(plan, { scope: 'left_out' })).toMatchObject([
      {
        ...{ athlete_id: 'K040', programme: 'adductor_strength' },
        reason: expect.stringContaining('Hip adduction strength, left: pain'),
      },
    ]);
    expect(where(plan, { scope: 'individual', programme: 'adductor_strength' })).toEqual([]);
    const started = where(work, { programme: 'adductor_strength' }).filter((row) => row.started > '2026-08-01');
    expect(started.map((row) => row.started).sort()).toEqual([...Array(14).fill('2026-08-24'), '2026-08-27']);
    const told = oneLine(RUN.stdout.slice(RUN.stdout.indexOf('\nWhat whole teams do'))).slice(0, 400);
    expect(told).toContain('What whole teams do: 1 programme Water polo: Adductor strength (strength staff).');
    expect(told).toContain('15 of the team do it. 15 of them have started, the first on 2026-08-24. Left out: K040.');
  });

  test('one alarming ratio, and an injury', () => {
    states(
      'left `adductor_ratio` 0.63 on 18 August 2025, clearly beyond its error; it had been 1.03 the year before',
      'left groin strain on 14 October 2025, 38 days lost, after 9 of 24 sessions of `work.csv`. The measured ratio of 2026 is 0.93',
    );
    const left = (season: string): string => Number(result('K088', season, 'adductor_ratio').left).toFixed(2);
    expect(['2024', '2025', '2026'].map(left)).toEqual(['1.03', '0.63', '0.93']);
    expect(only(findings, { athlete_id: 'K088', rule: 'adductor_ratio_low' })).toMatchObject({
      ...{ team: 'Soccer', season: '2025', date: '2025-08-18', side: 'left', certainty: 'clear', grade: 'act' },
      programme: 'adductor_strength',
    });
    expect(where(injuries, { athlete_id: 'K088' })).toEqual([
      {
        ...{ athlete_id: 'K088', date: '2025-10-14', region: 'groin', side: 'left', days_lost: '38', type: 'strain' },
        ...{ contact: 'no', setting: 'game', recurrent: 'no', team: 'Soccer' },
      },
    ]);
    expect(where(work, { athlete_id: 'K088' })).toMatchObject([
      { programme: 'adductor_strength', planned: '24', done: '9', stopped: '2025-10-14', reason: 'injured' },
    ]);
  });

  test('and yet a low ratio foretells little', () => {
    states(
      'a groin injury followed 4 of 17 tests with a ratio below 0.80 on either side, in the same season, and 17 of the 198 other tests of both sides',
    );
    const isHurtAfter = (row: Row): boolean =>
      where(injuries, { athlete_id: row.athlete_id, region: 'groin' }).some(
        ({ date }) => date > row.date && date < `${Number(row.season) + 1}-07-01`,
      );
    const low = ratios.filter((row) => lowerRatio(row) < 0.8);
    const others = ratios.filter((row) => lowerRatio(row) >= 0.8 && bothSides(row) !== undefined);
    expect([low.filter(isHurtAfter).length, low.length]).toEqual([4, 17]);
    expect([others.filter(isHurtAfter).length, others.length]).toEqual([17, 198]);
  });

  test('field hockey improves: those who did the work, against the rest', () => {
    states(
      'mean of the lower ratio 0.81, five of 15 flagged',
      'nine did 21 to 24 of 24 sessions, six stopped after 3 to 8',
      'rises 14 % in those who came and 1 % in the others; a year later it is 22 % (eight athletes) and 9 % (five) above the first test',
      "An athlete's change is beyond its error from about 17 % on",
    );
    const first = where(ratios, { season: '2024', team: 'Field hockey' });
    expect([first.length, mean(first.map(lowerRatio)).toFixed(2)]).toEqual([15, '0.81']);
    const flagged = where(findings, { rule: 'adductor_ratio_low', date: '2024-08-19', team: 'Field hockey' });
    expect(new Set(flagged.map((row) => row.athlete_id)).size).toBe(5);
    states('five of 15 flagged: shared work');
    const share = { group_kind: 'team', group: 'Field hockey', rule: 'adductor_ratio_low' };
    expect(['2024', '2025', '2026'].map((season) => only(cohort, { ...share, season }).decision)).toEqual(
      // 5 of 15 are 0.333, over the 0.33 of the protocol.
      ['shared', 'individual', 'individual'],
    );

    const given = where(work, { programme: 'adductor_strength', started: '2024-08-26', planned: '24' });
    expect(given.map((row) => row.athlete_id)).toEqual(first.map((row) => row.athlete_id));
    const came = given.filter((row) => row.stopped === '');
    const others = given.filter((row) => row.stopped !== '');
    const range = (rows: readonly Row[]): number[] => {
      const done = rows.map((row) => Number(row.done));
      return [rows.length, Math.min(...done), Math.max(...done)];
    };
    expect([range(came), range(others)]).toEqual([
      [9, 21, 24],
      [6, 3, 8],
    ]);

    // The retest is an occasion of its own.
    expect(new Set(where(observations, { file: 'sheets/2024/hip-retest.csv' }).map((row) => row.purpose))).toEqual(
      new Set(['retest']),
    );
    const strength = (athlete_id: string, date: string): number | undefined =>
      bothSides(where(results, { athlete_id, date, measure: 'hip_adduction' })[0]);
    const rise = (rows: readonly Row[], date: string): [number, number] => {
      const all = gains(rows.map(({ athlete_id: id }) => [strength(id, '2024-08-19'), strength(id, date)]));
      return [all.length, percent(mean(all))];
    };
    expect([rise(came, RETEST), rise(others, RETEST)]).toEqual([
      [9, 14],
      [6, 1],
    ]);
    expect([rise(came, '2025-08-18'), rise(others, '2025-08-18')]).toEqual([
      [8, 22],
      [5, 9],
    ]);
    // 1.96 × √2 × the standard error of the test, 6 %.
    expect(read(FOLDER, 'protocol.yaml')).toMatch(/\n {2}hip_adduction:\n(?: {4}.*\n)*? {4}error:\n {6}sem_pct: 6\n/);
    expect(Math.round(1.96 * Math.SQRT2 * 6)).toBe(17);
  });

  test('handball only seems to improve: those who were there in both years did not', () => {
    states(
      '149 cm in 2025, 159 cm in 2026',
      'the seven who were tested in both years, K024 among them, gain under 3 cm on average, within the error of the test',
      'the five who left had hopped 140 cm on average, the five who came hop 161 cm',
      'Three who hopped short for their height in 2025 (K024, K053, K062) got `landing_control` in `work.csv` and hop 2 to 5 cm farther',
    );
    const better = (season: string): Map<string, number> => {
      const rows = where(results, { measure: 'single_hop', season }).filter((row) => isIn(row, 'Handball'));
      return new Map(rows.map((row) => [row.athlete_id, Math.max(...numbers(row, 'left', 'right'))]));
    };
    const [before, after] = [better('2025'), better('2026')];
    const average = (values: Iterable<number>): number => Math.round(mean([...values]));
    expect([before.size, average(before.values())]).toEqual([12, 149]);
    expect([after.size, average(after.values())]).toEqual([12, 159]);
    const returned = [...before.keys()].filter((id) => after.has(id));
    expect(returned).toHaveLength(7);
    expect(returned).toContain('K024');
    const gain = mean(returned.map((id) => after.get(id)! - before.get(id)!));
    expect(gain).toBeGreaterThan(2);
    expect(gain).toBeLessThan(3);
    // The error of a change of one athlete: 1.96 × √2 × 4.1 %.
    expect(read(FOLDER, 'protocol.yaml')).toMatch(/\n {2}single_hop:\n(?: {4}.*\n)*? {4}error: \{ sem_pct: 4\.1, /);
    expect(gain).toBeLessThan(((1.96 * Math.SQRT2 * 4.1) / 100) * average(before.values()));
    const [left, came] = [
      [...before].filter(([id]) => !after.has(id)).map(([, hop]) => hop),
      [...after].filter(([id]) => !before.has(id)).map(([, hop]) => hop),
    ];
    expect([left.length, average(left), came.length, average(came)]).toEqual([5, 140, 5, 161]);
    const trained = where(work, { programme: 'landing_control' }).map((row) => row.athlete_id);
    expect([...trained].sort()).toEqual(['K024', 'K053', 'K062']);
    for (const id of trained) {
      const farther = after.get(id)! - before.get(id)!;
      expect([id, farther >= 2 && farther <= 5]).toEqual([id, true]);
    }
  });

  test('T. Vale reads low, and the ratio hides it', () => {
    states(
      'mean `hip_abduction` is 7 % lower in the 31 returning athletes whom T. Vale tested, and the same in the 22 of M. Orrin',
    );
    const file = 'sheets/2026/hip.csv';
    const testers = new Map(where(observations, { file }).map((row) => [row.athlete_id, row.tester]));
    expect(new Set(testers.values())).toEqual(new Set(['M. Orrin', 'T. Vale']));
    const change = (tester: string, measure: string): [number, number] => {
      const ids = [...testers].filter(([, name]) => name === tester).map(([id]) => id);
      const value = (athlete_id: string, season: string): number | undefined =>
        bothSides(where(results, { athlete_id, season, measure })[0]);
      const all = gains(ids.map((id) => [value(id, '2025'), value(id, '2026')]));
      return [all.length, percent(mean(all))];
    };
    expect(change('T. Vale', 'hip_abduction')).toEqual([31, -7]);
    const [count, shift] = change('M. Orrin', 'hip_abduction');
    expect(count).toBe(22);
    expect(Math.abs(shift)).toBe(0);
    // Water polo loses adduction whoever tests it; of all others the ratio stays, under either tester.
    for (const tester of ['T. Vale', 'M. Orrin']) {
      const ids = [...testers].filter(([, name]) => name === tester).map(([id]) => id);
      const others = ids.filter((id) => only(roster, { athlete_id: id }).team !== 'Water polo');
      const ratio = (athlete_id: string, season: string): number | undefined =>
        bothSides(where(results, { athlete_id, season, measure: 'adductor_ratio' })[0]);
      const shiftOfRatio = mean(gains(others.map((id) => [ratio(id, '2025'), ratio(id, '2026')])));
      expect([tester, Math.abs(shiftOfRatio) < 0.03]).toEqual([tester, true]);
    }
  });

  test('the recheck list tells the testers apart, and does not say who is right', () => {
    states(
      '`bilat outliers` puts M. Orrin 7.7 % above T. Vale in `hip_adduction` (interval 4.4 to 11 %), by the change of each athlete since an earlier season, and says that nobody knows which of the two is right',
    );
    const apart = recheck.filter((row) => row.suggestion.startsWith('Tester '));
    // The station measured both forces; ranges are read by eye and not shifted.
    expect(apart.map((row) => [row.season, row.measure, row.kind, row.file, row.athlete_id])).toEqual([
      ['2026', 'hip_adduction', 'outlier', 'sheets/2026/hip.csv', ''],
      ['2026', 'hip_abduction', 'outlier', 'sheets/2026/hip.csv', ''],
    ]);
    expect(apart[0].suggestion).toContain('Tester M. Orrin reads 7.7 % above T. Vale (95 % interval 4.4 to 11 %)');
    expect(apart[0].suggestion).toContain('by the change of each athlete since an earlier season');
    expect(apart[0].suggestion).toContain('Which of the two is right is not known');
    // 8 % were taken off the readings of T. Vale, so that the other reads 1/0.92 − 1 = 8.7 % above.
    expect(read(ROOT, 'examples/college-script/readings.mjs')).toContain("const READS_LOW = { 'T. Vale': 0.92 };");
  });

  test('readings to look at again', () => {
    states(
      '`bilat outliers` has the pressure of K047, the mass of K033, with 89 kg as what it may have been, and the row of K059 that stands twice',
      'The pressures of K034 and K100 are far out and real. The three readings that `corrections.csv` settles are not listed',
      'about 15 of some 3200 scores of a season would stand out if all were in order',
    );
    const listed = where(recheck, { season: '2026' });
    const kinds = (athlete_id: string, measure: string): string[] =>
      where(listed, { athlete_id, measure }).map((row) => row.kind);
    expect(kinds('K047', 'systolic')).toEqual(['implausible']);
    expect(kinds('K033', 'body_mass')).toEqual(['unit_slip']);
    expect(only(listed, { athlete_id: 'K033' }).suggestion).toContain('89 kg');
    expect(kinds('K059', 'single_hop')).toEqual(['repeated_row']);
    const vital = ['systolic', 'diastolic', 'pulse'];
    const farOut = where(listed, { kind: 'outlier' }).filter((row) => vital.includes(row.measure));
    expect(farOut.map((row) => `${row.athlete_id} ${row.measure}`)).toEqual([
      ...['K034 systolic', 'K034 diastolic', 'K100 diastolic'],
    ]);
    const settled = beside('corrections');
    expect(settled).toHaveLength(3);
    for (const { file, line, column } of settled) expect(where(recheck, { file, line, column })).toEqual([]);
    const text = bilat(['outliers', '--folder', FOLDER, '--season', '2026', '--format', 'table']).stdout;
    const [, chance, scores] = /\nAbout (\d+) of (\d+) scores would stand out by chance alone/.exec(text)!;
    expect([chance, Math.round(Number(scores) / 100)]).toEqual(['15', 32]);
  });

  test('a transfer, with the operated knee weaker', () => {
    states(
      'K095 joins soccer in 2025; `history.csv` has the left knee, operated on 9 March 2024, full return 20 January 2025',
      '`knee_extension` is 21 % weaker on the left in 2025, 12 % in 2026; `single_hop` 15 % and 9 %',
    );
    expect(where(athletes, { athlete_id: 'K095' }).map((row) => [row.season, row.team])).toEqual([
      ['2025', 'Soccer'],
      ['2026', 'Soccer'],
    ]);
    expect(where(beside('history'), { athlete_id: 'K095' })).toEqual([
      {
        ...{ athlete_id: 'K095', region: 'knee', side: 'left', date: '2024-03-09', surgery: 'yes' },
        full_return: '2025-01-20',
      },
    ]);
    const deficits = (measure: string): [string, number][] =>
      ['2025', '2026'].map((season) => {
        const row = result('K095', season, measure);
        const [left, right] = numbers(row, 'left', 'right');
        expect(Number(row.deficit_pct)).toBeCloseTo(100 * (1 - left / right), 9);
        return [row.weaker, Math.round(Number(row.deficit_pct))];
      });
    expect(deficits('knee_extension')).toEqual([
      ['left', 21],
      ['left', 12],
    ]);
    expect(deficits('single_hop')).toEqual([
      ['left', 15],
      ['left', 9],
    ]);
    expect(only(findings, { athlete_id: 'K095', season: '2025', rule: 'knee_extension_deficit' })).toMatchObject({
      ...{ side: 'left', grade: 'watch' },
    });
  });

  test('two teams: both batteries, each measure once', () => {
    states('K024 fences and plays handball, and gets both batteries, each measure once');
    for (const season of ['2024', '2025', '2026']) {
      expect(only(athletes, { athlete_id: 'K024', season }).team).toBe('Fencing;Handball');
      const measures = where(results, { athlete_id: 'K024', season }).map((row) => row.measure);
      expect(measures).toHaveLength(new Set(measures).size);
      // Groin is of fencing alone, landing of both.
      expect(measures).toEqual(expect.arrayContaining(['adductor_ratio', 'single_hop']));
    }
    // Overhead is of handball alone. At the shoulder station of 2025 K024 was missing.
    const measures = where(results, { athlete_id: 'K024', season: '2026' }).map((row) => row.measure);
    expect(measures).toEqual(expect.arrayContaining(['shoulder_arc', 'shoulder_strength_ratio']));
    const fencers = new Set(
      where(results, { season: '2026', measure: 'shoulder_strength_ratio' })
        .filter((row) => isIn(row, 'Fencing'))
        .map((row) => row.athlete_id),
    );
    expect([...fencers]).toEqual(['K024']);
  });

  test('referred, seen, closed or open', () => {
    states(
      'K034: 164/98, then 158/96, on 17 August 2026; `referrals.csv` says seen on 19 August and closed on 26 August, for both limits; `clearance.csv` goes from pending to cleared',
      'K100: 146/92, then 144/90; the referral is open and clearance pending',
      'K172: a pulse of 38, seen, not closed, pending',
      'K008 (2024, 148/92) and K144 (2025, 142/88) are closed',
    );
    const pressures = (athlete_id: string, season: string): string =>
      ['1', '2']
        .map((trial) =>
          ['systolic', 'diastolic']
            .map((measure) => only(observations, { athlete_id, season, measure, trial }).value)
            .join('/'),
        )
        .join(', ');
    expect(pressures('K034', '2026')).toBe('164/98, 158/96');
    expect(pressures('K100', '2026')).toBe('146/92, 144/90');
    expect(pressures('K008', '2024')).toBe('148/92, 132/84');
    expect(pressures('K144', '2025')).toBe('142/88, 136/82');
    expect(result('K172', '2026', 'pulse').value).toBe('38');
    const vital = ['systolic', 'diastolic', 'pulse'];
    const referred = findings.filter((row) => row.grade === 'refer' && vital.includes(row.measure));
    expect(referred.map((row) => [row.athlete_id, row.date, row.rule, row.value])).toEqual([
      ['K008', '2024-08-19', 'systolic_high', '148'],
      ['K008', '2024-08-19', 'diastolic_high', '92'],
      ['K034', '2026-08-17', 'systolic_high', '164'],
      ['K034', '2026-08-17', 'systolic_before_lifting', '164'],
      ['K034', '2026-08-17', 'diastolic_high', '98'],
      ['K100', '2026-08-18', 'systolic_high', '146'],
      ['K100', '2026-08-18', 'diastolic_high', '92'],
      ['K144', '2025-08-18', 'systolic_high', '142'],
      ['K172', '2026-08-18', 'pulse_slow', '38'],
    ]);
    // Every referral is of such a finding, on its day.
    expect(
      referrals.map(({ athlete_id, date, rule, seen_on, closed_on }) => {
        only(referred, { athlete_id, date, rule });
        return [athlete_id, seen_on, closed_on];
      }),
    ).toEqual([
      ['K008', '2024-08-21', '2024-08-21'],
      ['K144', '2025-08-20', '2025-08-20'],
      ['K034', '2026-08-19', '2026-08-26'],
      ['K034', '2026-08-19', '2026-08-26'],
      ['K100', '', ''],
      ['K172', '2026-08-21', ''],
    ]);
    expect(where(clearance, { athlete_id: 'K034' }).map((row) => [row.date, row.status])).toEqual([
      ['2026-08-17', 'pending'],
      ['2026-08-26', 'cleared'],
    ]);
  });

  /** Whom the summary of a run sends to medical staff, in its order. */
  const toSee = (stdout: string): string[] =>
    stdout.slice(0, stdout.indexOf('\nTo take again')).match(/^K\d{3}(?=, )/gm) ?? [];
  const careOf = (rows: readonly Row[]): string[] =>
    rows.filter((row) => row.scope === 'refer' || row.scope === 'hold').map((row) => `${row.athlete_id} ${row.scope}`);

  test('what the desk makes of it', () => {
    states(
      'Seen from 27 August 2026, the last day of readings, clearance, referrals and work, five athletes are to be seen before training. K172 and K100 come first, and are held',
      'K040, K012 and K056 were in pain; they were cleared on 19 August, but nobody has written a referral for the pain, so they stay on the list. K034 is off it: both referrals are closed',
      'K136 has a line of scope `hold` for the shoulder only, K120 one without any finding',
    );
    const days = [
      ...[...observations, ...clearance].map((row) => row.date),
      ...referrals.flatMap((row) => [row.date, row.seen_on, row.closed_on]),
      ...work.map((row) => row.started),
    ];
    expect(days.sort().at(-1)).toBe('2026-08-27');
    expect(RUN.stdout).toContain('Looked at from 2026-08-27.\n\nTo see medical staff: 5 athletes\n');
    expect(RUN.stdout).toContain('\nBefore training: 5\n');
    expect(toSee(RUN.stdout)).toEqual(['K172', 'K100', 'K012', 'K040', 'K056']);
    expect(RUN.stdout).toContain('\n1 more athlete of this season: referred, seen and closed.\n');
    expect(careOf(plan)).toEqual([
      ...['K172 hold', 'K100 hold', 'K040 refer', 'K012 refer', 'K056 refer', 'K136 hold', 'K120 hold'],
    ]);
    for (const id of ['K040', 'K012', 'K056']) {
      expect(where(clearance, { athlete_id: id }).map((row) => [row.date, row.status])).toEqual([
        ['2026-08-19', 'cleared'],
      ]);
      expect(where(referrals, { athlete_id: id })).toEqual([]);
      expect(only(plan, { athlete_id: id, scope: 'refer' })).toMatchObject({ rules: 'pain', owner: 'medical' });
    }
    const hold = (athlete_id: string): Row => only(plan, { athlete_id, scope: 'hold' });
    expect(hold('K136').instruction).toBe('Hold: no work on shoulder until medical staff say so.');
    expect([hold('K120').rules, hold('K120').grade]).toEqual(['', '']);
    // Whoever is held has nothing else in the list.
    for (const athlete_id of ['K172', 'K100', 'K120']) expect(where(plan, { athlete_id })).toHaveLength(1);
    expect(where(plan, { athlete_id: 'K034' })).toEqual([]);
  });

  test('a week before, the referrals were open', () => {
    states('With `--on 2026-08-20` K034 leads it, seen and not closed, and is held');
    const out = path.join(FOLDER, 'out-before');
    const { stdout } = bilat(['run', '--folder', FOLDER, '--on', '2026-08-20', '-o', out]);
    expect(toSee(stdout)).toEqual(['K034', 'K172', 'K100', 'K012', 'K040', 'K056']);
    expect(oneLine(stdout)).toContain('limit 160 mmHg or more. Referred 2026-08-17, seen 2026-08-19, not closed.');
    expect(stdout).not.toContain('referred, seen and closed');
    const [first] = readCsv(read(out, 'plan.csv'));
    expect(first).toMatchObject({ priority: '1', athlete_id: 'K034', scope: 'hold', grade: 'refer' });
  });

  test('not cleared, limited, pending; and what was held back', () => {
    states(
      'K120 not cleared, right knee, `hold` in every cell of `2026/hip.csv`; K136 limited until 15 October 2026, right shoulder, `hold` in `2026/shoulder.csv`',
      'K136 said `pain` at the right shoulder the year before',
    );
    const present = where(athletes, { season: '2026' }).map((row) => row.athlete_id);
    expect([...new Set(clearance.map((row) => row.athlete_id))]).toEqual(present);
    const latest = new Map(clearance.map((row) => [row.athlete_id, row]));
    expect(
      [...latest.values()]
        .filter((row) => row.status !== 'cleared')
        .map(({ athlete_id, status, region, side, until }) => [athlete_id, status, region, side, until]),
    ).toEqual([
      ['K100', 'pending', '', '', ''],
      ['K120', 'not_cleared', 'knee', 'right', ''],
      ['K136', 'limited', 'shoulder', 'right', '2026-10-15'],
      ['K172', 'pending', '', '', ''],
    ]);
    const held = where(observations, { status: 'held' });
    const hips = where(observations, { athlete_id: 'K120', file: 'sheets/2026/hip.csv' });
    const shoulder = where(observations, { athlete_id: 'K136', file: 'sheets/2026/shoulder.csv', side: 'right' });
    expect(held).toEqual([...hips, ...shoulder]);
    expect([hips.length, shoulder.length]).toEqual([14, 6]);
    // Not a reading came of it.
    expect(held.filter((row) => row.value !== '')).toEqual([]);
    expect(where(results, { athlete_id: 'K120', season: '2026', measure: 'hip_adduction' })).toMatchObject([
      { left: '', right: '', status: expect.stringContaining('held') },
    ]);
  });

  test('side files are read without a warning, and a slip in them is one', () => {
    const check = (folder: string): { severity: string; file: string; line: number; message: string }[] =>
      JSON.parse(bilat(['check', '--folder', folder, '--format', 'json']).stdout);
    expect(check(FOLDER).filter((problem) => problem.severity !== 'note')).toEqual([]);
    const noted = RUN.stdout.slice(RUN.stdout.indexOf('\nAlso noticed\n'));
    for (const file of ['clearance', 'referrals', 'work', 'injuries', 'exposures', 'history', 'corrections']) {
      // A word about a place in the file has its line.
      expect(noted).not.toMatch(new RegExp(`${file}\\.csv:\\d`));
    }
    const other = path.join(copyOfExamples(), 'examples/college');
    const slip = (file: string, from: string, to: string): number => {
      const lines = read(other, file).split('\n');
      const at = lines.findIndex((line) => line.includes(from));
      expect([file, at > 0]).toEqual([file, true]);
      lines[at] = lines[at].replace(from, to);
      writeFileSync(path.join(other, file), lines.join('\n'));
      return at + 1;
    };
    const places = [
      [
        'clearance.csv',
        slip('clearance.csv', 'K100,2026-08-18,pending', 'K100,2026-08-18,waiting'),
        'status "waiting" is none of cleared, limited, not_cleared, pending',
      ],
      [
        'referrals.csv',
        slip('referrals.csv', 'K172,2026-08-18,pulse_slow', 'K172,2026-08-18,puls_slow'),
        'rule "puls_slow" is none of the protocol',
      ],
    ] as const;
    expect(check(other).filter((problem) => problem.severity !== 'note')).toEqual(
      places.map(([file, line, message]) =>
        expect.objectContaining({ severity: 'warning', file, line, message: expect.stringContaining(message) }),
      ),
    );
  });

  test('pain', () => {
    states(
      'K012 reports it at the right hip and keeps its reading (`32 P`), K040 at the left hip, K056 hops in pain on the right, all in 2026; K013 at the left hip in 2024',
    );
    expect(
      where(findings, { rule: 'pain' }).map((row) => [row.athlete_id, row.season, row.measure, row.side, row.grade]),
    ).toEqual([
      ['K012', '2026', 'hip_internal_rotation', 'right', 'refer'],
      ['K013', '2024', 'hip_abduction', 'left', 'refer'],
      ['K040', '2026', 'hip_adduction', 'left', 'refer'],
      ['K056', '2026', 'single_hop', 'right', 'refer'],
      ['K136', '2025', 'shoulder_internal_strength', 'right', 'refer'],
    ]);
    expect(result('K012', '2026', 'hip_internal_rotation').right).toBe('32');
  });

  test('a make-up day joins the occasion', () => {
    states(
      'K002, K031, K032 and K041 missed the hip station of 2026 and came on 20 August, as did K017 for the right side',
      'K028 was never at it',
    );
    const late = where(observations, { file: 'sheets/2026/hip-makeup.csv' });
    expect([...new Set(late.map((row) => row.athlete_id))].sort()).toEqual(['K002', 'K017', 'K031', 'K032', 'K041']);
    expect(new Set(late.map((row) => `${row.date} ${row.purpose} ${row.device}`))).toEqual(
      new Set(['2026-08-20 makeup spare dynamometer']),
    );
    for (const id of ['K002', 'K017', 'K031', 'K032', 'K041']) {
      // One row, of the day on which the athlete came first; both sides are there.
      const row = result(id, '2026', 'hip_adduction');
      const first = where(observations, { athlete_id: id, season: '2026' }).map(({ date }) => date);
      expect(row.date).toBe(first.sort()[0]);
      expect(row.date < '2026-08-20').toBe(true);
      expect(row.status.split(';')).toContain('later_days');
      expect(numbers(row, 'left', 'right')).toHaveLength(2);
      expect(numbers(result(id, '2026', 'adductor_ratio'), 'left', 'right')).toHaveLength(2);
      const own = where(observations, { athlete_id: id, season: '2026', measure: 'hip_adduction', side: 'right' });
      expect(Number(row.right)).toBe(
        Math.max(...own.filter(({ value }) => value !== '').map(({ value }) => Number(value))),
      );
    }
    const groin = ['Rowing', 'Fencing', 'Water polo', 'Soccer', 'Field hockey'];
    const seen = new Set(
      where(observations, { season: '2026', measure: 'hip_adduction' }).map((row) => row.athlete_id),
    );
    const never = where(athletes, { season: '2026' }).filter(
      (row) => groin.some((team) => isIn(row, team)) && !seen.has(row.athlete_id),
    );
    expect(never.map((row) => row.athlete_id)).toEqual(['K028']);
  });

  test('who is missing', () => {
    states(
      '2167 of 2224 tests of 2026 are done',
      'At the hip station K028 lacks all five; K002, K031, K032 and K041 lack the fall-out height, which the make-up day did not measure, and K017 lacks one side of it',
      'K031 was not at the landing station, K032, K071, K084 and K108 not at the power station, K081, K146 and K159 not at the shoulder station',
      'K020, K033 and K047 are to come back to intake, K072 to landing: a cell of theirs was not tested or could not be read. K179 has no hop',
      'Held, and not to be called: K100, whose pressure is to be taken again, K120 and K136',
    );
    const lacking = (station: string): string[] =>
      coverage
        .filter((row) => row.station === station && ['missing', 'partial', 'not_tested'].includes(row.state))
        .map(({ athlete_id, measure, state }) => `${athlete_id} ${measure} ${state}`);
    const all = (id: string, ...measures: string[]): string[] => measures.map((measure) => `${id} ${measure} missing`);
    const rotations = ['hip_internal_rotation', 'hip_external_rotation'];
    const knees = ['knee_flexion', 'knee_extension'];
    const shoulder = [
      ...['shoulder_internal_rotation', 'shoulder_external_rotation'],
      ...['shoulder_external_strength', 'shoulder_internal_strength'],
    ];
    expect(lacking('Hip')).toEqual([
      ...all('K002', 'bent_knee_fall_out'),
      'K017 bent_knee_fall_out partial',
      ...all('K028', ...rotations, 'bent_knee_fall_out', 'hip_adduction', 'hip_abduction'),
      ...all('K031', 'bent_knee_fall_out'),
      ...all('K032', 'bent_knee_fall_out'),
      ...all('K041', 'bent_knee_fall_out'),
    ]);
    expect(where(observations, { file: 'sheets/2026/hip-makeup.csv', measure: 'bent_knee_fall_out' })).toEqual([]);
    expect(lacking('Landing')).toEqual([
      ...all('K031', 'ankle_lunge', 'ankle_lunge_angle', 'single_hop', 'triple_hop', 'anterior_reach'),
      ...all('K031', 'posterolateral_reach', 'single_leg_squat_faults', 'drop_landing_faults'),
      'K072 ankle_lunge partial',
      ...all('K179', 'single_hop'),
    ]);
    expect(where(observations, { athlete_id: 'K031', season: '2026', station: 'Landing' })).toEqual([]);
    expect(lacking('Power')).toEqual([
      ...['K032', 'K071', 'K084'].flatMap((id) => all(id, ...knees)),
      ...all('K108', 'straight_leg_raise', ...knees, 'vertical_jump'),
    ]);
    expect(lacking('Shoulder')).toEqual(['K081', 'K146', 'K159'].flatMap((id) => all(id, ...shoulder)));
    expect(lacking('Intake')).toEqual([
      'K020 pulse not_tested',
      ...all('K033', 'body_mass'),
      ...all('K047', 'systolic'),
    ]);
    const held = where(coverage, { state: 'held' });
    expect([...new Set(held.map((row) => row.athlete_id))]).toEqual(['K100', 'K120', 'K136']);
    expect(where(held, { athlete_id: 'K100' }).map((row) => row.measure)).toEqual(['systolic', 'diastolic']);
    // With those that hurt; what K100 is to do again does not count until it is done again.
    const isDone = ({ state }: Row): boolean => state === 'done' || state === 'pain';
    expect([coverage.filter(isDone).length, coverage.length]).toEqual([2167, 2224]);
  });

  test('pounds that only the title and screening.yaml name are read as pounds', () => {
    states('pounds of force, said in a title line and in `screening.yaml`, no heading names them');
    const file = 'sheets/2026/hip.csv';
    const [, title, , headings] = read(FOLDER, file).split('\n');
    expect(title).toBe('All forces in pounds');
    expect(headings).toMatch(/^Athlete no,Date,Tester(,Hip A(dd|bd) [LR] [12]){8},Hip IR L \(deg\),/);
    const forces = where(observations, { file, unit: 'N' });
    // Eight of each athlete.
    expect(forces).toHaveLength(8 * new Set(forces.map((row) => row.athlete_id)).size);
    const readings = forces.filter((row) => row.value !== '');
    expect(readings.length).toBe(554);
    const corrected = where(beside('corrections'), { file, action: 'value' });
    for (const row of readings) {
      const { line, column } = row;
      const raw = where(corrected, { line, column })[0]?.value ?? row.raw;
      // The avoirdupois pound of 0.45359237 kg and standard gravity, 9.80665 m/s².
      expect(Number(row.value)).toBeCloseTo(Number(raw) * 0.45359237 * 9.80665, 9);
      expect([row.written_in, row.unit_from]).toEqual(['[lbf_av]', 'screening']);
    }
  });
});

describe('what was typed wrongly', () => {
  test('corrections are applied, and the cell as typed stays beside them', () => {
    states('K098 reads 619, which `corrections.csv` sets to 169', 'K149 reads 212, which belonged to another row');
    states('K016 reads 43.0, which `corrections.csv` sets to 34.0');
    const applied = beside('corrections').map(({ file, line, column, raw, action, value }) => {
      const row = only(observations, { file, line, column });
      expect(row.raw).toBe(raw);
      expect(row.status).toBe(action === 'void' ? 'void' : 'measured');
      return [row.athlete_id, row.measure, row.side, raw, value, row.value && Number(row.value).toFixed(2)];
    });
    expect(applied).toEqual([
      ['K098', 'single_hop', 'right', '619', '169', '169.00'],
      ['K149', 'shoulder_external_strength', 'right', '212', '', ''],
      // 34.0 pounds.
      ['K016', 'hip_adduction', 'right', '43.0', '34.0', '151.24'],
    ]);
    expect(result('K098', '2025', 'single_hop').right).toBe('169');
    expect(result('K149', '2025', 'shoulder_external_strength')).toMatchObject({
      ...{ right: '72', trials_left: '2', trials_right: '1' },
      status: expect.stringContaining('unequal_trials'),
    });
    // The other attempt was 34.5 pounds.
    expect(Number(result('K016', '2026', 'hip_adduction').right)).toBeCloseTo(34.5 * 4.4482216152605, 9);
  });

  test('each planted slip is a reject, and nothing else is', () => {
    states(
      'the heading `Pusle`',
      '`#DIV/0!` for K037',
      'a height that became `11-May` (K130)',
      'a row of somebody who is not on the roster, and a nickname of K074 that `people:` settles',
      '`>110` for K080',
      '`~85` for K157',
      '12/80 as the pressure of K047, 890 kg for K033',
      'a row of K271 who is not on the roster',
      '`1O` with a letter O for K072',
    );
    expect(
      rejects.map(({ file, line, column, heading, raw, code, cells }) => [
        ...[file, whoIsAt(file, Number(line), Number(column)), heading, raw, code, cells],
      ]),
    ).toEqual([
      ['sheets/2024/intake.csv', undefined, 'Pusle', 'Pusle', 'heading_unknown', '150'],
      ['sheets/2024/hip.csv', 'K037', 'Hip IR (°) L', '#DIV/0!', 'spreadsheet_error', '1'],
      ['sheets/2025/intake.csv', 'K130', 'Ht', '11-May', 'height_as_date', '1'],
      // A name stands in no output.
      ['sheets/2025/intake.csv', 'Quillmott, Odo', 'Name', '', 'athlete_unknown', '10'],
      ['sheets/2025/landing.csv', 'K080', 'PL reach L1 (cm)', '>110', 'number_censored', '1'],
      ['sheets/2025/shoulder.csv', 'K157', 'ER strength L 1 (N)', '~85', 'number_approximate', '1'],
      ['sheets/2026/intake.csv', 'K033', 'Wt (kg)', '890', 'implausible', '1'],
      ['sheets/2026/intake.csv', 'K047', 'SBP 1', '12', 'implausible', '1'],
      ['sheets/2026/intake.csv', 'K271', 'ID', 'K271', 'athlete_unknown', '12'],
      ['sheets/2026/landing.csv', 'K072', 'value', '1O', 'number_unreadable', '1'],
    ]);
    // Nothing of them became a number.
    for (const { file, line, column } of rejects) expect(where(observations, { file, line, column })).toEqual([]);
    expect(where(results, { athlete_id: 'K033', season: '2026', measure: 'body_mass' })).toEqual([]);
    expect(where(results, { athlete_id: 'K047', season: '2026', measure: 'systolic' })).toEqual([]);
    expect(result('K047', '2026', 'diastolic').value).toBe('80');
    expect(where(results, { season: '2024', measure: 'pulse' })).toEqual([]);
    expect(result('K072', '2026', 'ankle_lunge')).toMatchObject({ left: '', status: 'missing_left' });
    expect(where(results, { athlete_id: 'K130', season: '2025', measure: 'height' })).toEqual([]);
    expect(result('K037', '2024', 'hip_internal_rotation')).toMatchObject({ left: '', status: 'missing_left' });
    expect(result('K080', '2025', 'posterolateral_reach').trials_left).toBe('2');
    expect(result('K157', '2025', 'shoulder_external_strength').trials_left).toBe('1');
    expect(where(observations, { athlete_id: 'K271' })).toEqual([]);
  });

  test('each other slip is a status, and nothing else has one', () => {
    states(
      '`NT` for the pressure of K042, none for K060',
      '`pain` for K013',
      '`-99` for K056',
      '`refused` for K153',
      '`NT` for the right adductors of K090',
      '`pain` for K136',
      '`NT` for the pulse of K020',
      '`unable` for K023, `NT` for the right side of K017',
      '`unable` for K025, `NT` for K084',
    );
    const side = (id: string, text: string, ...measures: string[]): string[] =>
      measures.map((name) => `${id} ${name} ${text}`);
    const forces = ['hip_adduction', 'hip_abduction'];
    const hips = ['hip_internal_rotation', 'hip_external_rotation', 'bent_knee_fall_out'];
    const shoulders = ['shoulder_external_strength', 'shoulder_internal_strength'];
    const rotations = ['shoulder_internal_rotation', 'shoulder_external_rotation'];
    const trials = (id: string, where: string, text: string, ...measures: string[]): string[] =>
      ['1', '2'].flatMap((trial) => side(id, `${where} ${trial} ${text}`, ...measures));
    const expected = [
      ...side('K042 2024', 'none 1 not_tested NT', 'systolic', 'diastolic'),
      'K013 2024 hip_abduction left 2 pain pain',
      'K056 2024 single_hop left 2 not_tested -99',
      'K153 2025 grip left 2 refused refused',
      ...trials('K090 2025', 'right', 'not_tested NT', 'hip_adduction'),
      'K136 2025 shoulder_internal_strength right 2 pain pain',
      'K149 2025 shoulder_external_strength right 1 void 212',
      'K020 2026 pulse none 1 not_tested NT',
      'K012 2026 hip_internal_rotation right 1 pain 32 P',
      ...trials('K017 2026', 'right', 'not_tested NT', ...forces),
      ...side('K017 2026', 'right 1 not_tested NT', ...hips),
      'K023 2026 hip_abduction right 2 unable unable',
      'K040 2026 hip_adduction left 2 pain pain',
      ...['left', 'right'].flatMap((limb) => [
        ...trials('K120 2026', limb, 'held hold', ...forces),
        ...side('K120 2026', `${limb} 1 held hold`, ...hips),
      ]),
      'K084 2026 single_hop left 2 not_tested NT',
      ...trials('K025 2026', 'left', 'unable unable', 'single_hop'),
      // The status column says so; the first attempt keeps its reading.
      'K056 2026 single_hop right 1 pain 136',
      'K056 2026 single_hop right 2 pain pain',
      ...side('K136 2026', 'right 1 held …/hold', ...rotations),
      ...trials('K136 2026', 'right', 'held …/hold', ...shoulders),
    ];
    const found = observations
      .filter((row) => row.status !== 'measured')
      .map((row) =>
        [row.athlete_id, row.season, row.measure, row.side, row.trial, row.status, row.raw]
          .join(' ')
          .replace(/[\d.]+\/hold/, '…/hold'),
      );
    expect([...found].sort()).toEqual([...expected].sort());
    const withValue = observations.filter((row) => row.status !== 'measured' && row.value !== '');
    expect(withValue.map((row) => [row.athlete_id, row.measure, row.value])).toEqual([
      ['K012', 'hip_internal_rotation', '32'],
      ['K056', 'single_hop', '136'],
    ]);
    // And every reading has a value: nothing is measured and empty.
    expect(observations.filter((row) => row.status === 'measured' && row.value === '')).toEqual([]);
  });

  test('what can be read for certain is read, and said where it needs saying', () => {
    states(
      'The curly quotes in the height of K010 are read',
      '`k074` in lower case is taken for K074, and that is said',
    );
    states('a row of K059 that stands twice and counts once', 'whose best is left blank');
    const height = only(observations, { athlete_id: 'K010', season: '2024', measure: 'height' });
    expect([height.raw, height.value]).toEqual(['6’2”', String(74 * 2.54)]);
    expect(where(observations, { athlete_id: 'K060', season: '2024', measure: 'systolic' })).toEqual([]);
    const lower = where(observations, { athlete_id: 'K074', file: 'sheets/2024/landing.csv' });
    expect(new Set(lower.map((row) => row.side))).toEqual(new Set(['left', 'right']));
    expect(oneLine(RUN.stdout)).toContain(
      'sheets/2024/landing.csv: athlete "k074" is taken as K074 of the roster (case or spaces differ)',
    );
    // By a nickname in 2025.
    expect(where(observations, { athlete_id: 'K074', file: 'sheets/2025/intake.csv' }).length).toBeGreaterThan(5);
    const twice = where(observations, { athlete_id: 'K059', season: '2026', measure: 'single_hop', side: 'left' });
    expect(twice.map((row) => row.trial)).toEqual(['1', '2', '2']);
    expect(result('K059', '2026', 'single_hop')).toMatchObject({
      trials_left: '2',
      trials_right: '2',
      status: 'repeated_row',
    });
    // A best that a spreadsheet worked out is no attempt.
    expect(
      table('ignored')
        .filter((row) => row.reason === 'worked_out')
        .map((row) => [row.heading, row.cells]),
    ).toEqual([
      ['Add L best (N)', '71'],
      ['Add R best (N)', '70'],
      ['Abd L best (N)', '71'],
      ['Abd R best (N)', '71'],
    ]);
    const remarks = where(table('ignored'), { reason: 'remark' });
    expect(remarks.map((row) => [row.file, row.heading])).toEqual([
      ['sheets/2026/intake.csv', 'Notes'],
      ['sheets/2026/hip.csv', 'Remarks'],
    ]);
  });
});

describe('the other files', () => {
  test('have what the page says', () => {
    states('67 injuries of three seasons, the third up to the end of October 2026; two of unknown length');
    expect(injuries).toHaveLength(67);
    expect(where(injuries, { days_lost: '' })).toHaveLength(2);
    expect(
      injuries
        .map((row) => row.date)
        .sort()
        .at(-1),
    ).toBe('2026-10-29');
    states('six, two of them open');
    expect([referrals.length, where(referrals, { closed_on: '' }).length]).toEqual([6, 2]);
    const files = tableUnder('The other files').map(([file]) => file);
    expect(files.every((file) => readFileSync(path.join(FOLDER, file)).length > 0)).toBe(true);
    const exposures = beside('exposures');
    expect(exposures).toHaveLength(3 * 12);
    expect(exposures.filter((row) => !(Number(row.athlete_exposures) > 0))).toEqual([]);
  });
});
