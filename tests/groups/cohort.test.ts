import { describe, expect, test } from 'vitest';
import type { PastInjuries } from '../../src/outcomes/past.ts';
import type { Derivation } from '../../src/protocol/types.ts';
import { MARK } from '../../src/tables/schemas.ts';
import { parseIsoDay } from '../../src/units/days.ts';
import { measureOf, protocolOf, type ResultGiven, sides } from '../findings/build.ts';
import { briefly, cohortOf, membersOf, type People } from './build.ts';

const HIP = measureOf('hip');
const KNEE = measureOf('knee');
const SQUAT = measureOf('squat', { sides: 'none' });
const PARTS: Derivation = {
  operator: 'ratio',
  parts: [
    { ...HIP, index: 0 },
    { ...KNEE, index: 1 },
  ],
};
const RATIO = measureOf('ratio', { derivation: PARTS });
const PROTOCOL = protocolOf({
  measures: [HIP, KNEE, SQUAT, RATIO],
  rules: [
    { name: 'weak', measure: 'hip', comparator: 'below', limit: 200, share: true },
    { name: 'uneven', measure: 'hip', field: 'deficit_pct', comparator: 'above', limit: 10 },
    { name: 'faults', measure: 'squat', comparator: 'at_least', limit: 2, sex: 'F' },
  ],
});
const PEOPLE: People = {
  A1: { team: 'Rowing', sex: 'F' },
  A2: { team: 'Fencing;Rowing', sex: 'M' },
  A3: { team: 'Fencing' },
  A4: { team: 'Rowing', sex: 'F' },
};
const HIPS: ResultGiven[] = [
  { athlete_id: 'A1', measure: 'hip', ...sides(180, 210) },
  { athlete_id: 'A2', measure: 'hip', ...sides(150, 150) },
  { athlete_id: 'A3', measure: 'hip', ...sides(250, 250) },
];

/** The rows of one rule. */
const only = (rule: string, lines: readonly string[]): string[] => lines.filter((line) => line.includes(` ${rule} `));
const rowOf = (table: ReturnType<typeof cohortOf>, kind: string, group: string | null, rule: string) =>
  [...table.rows()].find((row) => row.group_kind === kind && row.group === group && row.rule === rule)!;

// All counts are worked out by hand.
describe('who counts', () => {
  test('everybody to whom the rule applies, once in all, and once in each of their teams', () => {
    expect(only('weak', briefly(cohortOf(HIPS, PEOPLE, PROTOCOL)))).toEqual([
      '2026 all weak 2/3/4',
      '2026 team Fencing weak 1/2/2',
      '2026 team Rowing weak 2/2/3',
      '2026 sex F weak 1/1/2',
      '2026 sex M weak 1/1/1',
    ]);
  });

  test('a rule for one sex: nobody else is eligible, and groups without anybody have no row', () => {
    const rows = ['A1', 'A2', 'A3'].map((athlete_id) => ({ athlete_id, measure: 'squat', value: 3 }));
    expect(only('faults', briefly(cohortOf(rows, PEOPLE, PROTOCOL)))).toEqual([
      '2026 all faults 1/1/2',
      '2026 team Rowing faults 1/1/2',
      '2026 sex F faults 1/1/2',
    ]);
  });

  test('an athlete of two teams of a sport group counts once in it', () => {
    const protocol = protocolOf({
      measures: [HIP],
      rules: [{ name: 'weak', measure: 'hip', comparator: 'below', limit: 200 }],
      sportGroups: [
        { name: 'z_groin', label: 'Groin', teams: ['fencing', 'ROWING'], measures: ['hip'] },
        { name: 'back', label: 'Back', teams: ['Rowing'], measures: [] },
      ],
    });
    expect(only('weak', briefly(cohortOf(HIPS, PEOPLE, protocol, { kinds: ['sport_group'] })))).toEqual([
      '2026 sport_group back weak 2/2/3',
      '2026 sport_group z_groin weak 2/3/4',
    ]);
  });

  test('an athlete of the results whom nobody lists belongs to the team of the sheets', () => {
    const rows = [{ athlete_id: 'B1', team: 'Judo', measure: 'hip', ...sides(150, 210) }];
    expect(only('weak', briefly(cohortOf(rows, {}, PROTOCOL)))).toEqual([
      '2026 all weak 1/1/1',
      '2026 team Judo weak 1/1/1',
    ]);
  });

  test.each([
    ['2026-08-11', 3],
    ['2026-08-12', 4],
    [null, 4],
  ])('who left on %s, before the first test on 2026-08-12 or not: %i are counted', (left, eligible) => {
    const leftDay = left === null ? null : parseIsoDay(left)!;
    const tested = new Set(HIPS.map(({ athlete_id }) => athlete_id));
    const members = () => membersOf(PEOPLE)(2026).map((one) => (tested.has(one.athleteId) ? one : { ...one, leftDay }));
    const table = cohortOf(HIPS, PEOPLE, PROTOCOL, { members, kinds: ['all'], rules: ['weak'] });
    expect(briefly(table)).toEqual([`2026 all weak 2/3/${eligible}`]);
  });

  test('seasons stand one by one, kinds in their order, rules in that of the protocol, the built-in ones last', () => {
    const later = HIPS.map((row) => ({ ...row, season: 2027, date: '2027-08-12' }));
    const table = cohortOf([...later, ...HIPS], PEOPLE, PROTOCOL);
    const order = (of: (line: string[]) => string): string[] => [
      ...new Set(briefly(table).map((line) => of(line.split(' ')))),
    ];
    expect(order(([season]) => season)).toEqual(['2026', '2027']);
    expect(order(([, kind]) => kind)).toEqual(['all', 'team', 'sex']);
    expect(order((parts) => parts.at(-2)!)).toEqual(['weak', 'uneven', 'faults', 'pain', 'unable', 'one_side']);
    expect(
      briefly(
        cohortOf([...later, ...HIPS], PEOPLE, PROTOCOL, { seasons: [2027], kinds: ['all'], rules: ['weak', 'pain'] }),
      ),
    ).toEqual(['2027 all weak 2/3/4', '2027 all pain 0/3/4']);
  });
});

describe('tested, and flagged', () => {
  test('a half-measured athlete with a finding is flagged in part, and is in no share', () => {
    const table = cohortOf([{ athlete_id: 'A1', measure: 'hip', left: 150 }, ...HIPS.slice(1)], PEOPLE, PROTOCOL);
    expect(rowOf(table, 'all', null, 'weak')).toMatchObject({
      eligible: 4,
      tested: 2,
      flagged: 1,
      flagged_partial: 1,
      missing: 2,
      share: 0.5,
    });
  });

  const TWICE: ResultGiven[] = [
    { athlete_id: 'A1', measure: 'hip', left: 150 },
    { athlete_id: 'A1', measure: 'hip', ...sides(210, 210), date: '2026-09-20' },
    { athlete_id: 'A1', measure: 'hip', ...sides(100, 100), date: '2026-11-20' },
  ];
  test('the first occasion counts on which the rule had all that it needs, or the last', () => {
    const of = (occasion: 'first' | 'last') =>
      rowOf(cohortOf(TWICE, PEOPLE, PROTOCOL, { occasion }), 'all', null, 'weak');
    expect(of('first')).toMatchObject({ tested: 1, flagged: 0, flagged_partial: 0 });
    expect(of('last')).toMatchObject({ tested: 1, flagged: 1, flagged_partial: 0 });
  });

  test('a rule with also needs what the other rule needs, on the same occasion', () => {
    const protocol = protocolOf({
      measures: [HIP, KNEE],
      rules: [
        { name: 'knee_weak', measure: 'knee', comparator: 'below', limit: 200 },
        { name: 'both_weak', measure: 'hip', comparator: 'below', limit: 200, also: ['knee_weak'] },
      ],
    });
    const rows: ResultGiven[] = [
      { athlete_id: 'A1', measure: 'hip', ...sides(150, 150) },
      { athlete_id: 'A1', measure: 'knee', ...sides(150, 150) },
      // Knee within the limit: not flagged. No knee at all: not tested, also if it comes on a later occasion.
      { athlete_id: 'A2', measure: 'hip', ...sides(150, 150) },
      { athlete_id: 'A2', measure: 'knee', ...sides(250, 250) },
      { athlete_id: 'A3', measure: 'hip', ...sides(150, 150) },
      { athlete_id: 'A3', measure: 'knee', ...sides(150, 150), date: '2026-11-20' },
    ];
    expect(only('both_weak', briefly(cohortOf(rows, PEOPLE, protocol, { kinds: ['all'] })))).toEqual([
      '2026 all both_weak 1/2/4',
    ]);
  });

  test('sides: only those flagged on one side and nowhere else', () => {
    const rows: ResultGiven[] = [
      { athlete_id: 'A1', measure: 'hip', ...sides(150, 250) },
      { athlete_id: 'A2', measure: 'hip', ...sides(250, 150) },
      { athlete_id: 'A3', measure: 'hip', ...sides(150, 150) },
      { athlete_id: 'A4', measure: 'hip', ...sides(150, 220) },
    ];
    const table = cohortOf(rows, PEOPLE, PROTOCOL);
    expect(rowOf(table, 'all', null, 'weak')).toMatchObject({ flagged: 4, worse_left: 2, worse_right: 1 });
    expect(rowOf(table, 'all', null, 'uneven')).toMatchObject({ flagged: 3, worse_left: 2, worse_right: 1 });
  });

  test('a number of no side is worse on none', () => {
    const table = cohortOf([{ athlete_id: 'A1', measure: 'squat', value: 3 }], PEOPLE, PROTOCOL);
    expect(rowOf(table, 'all', null, 'faults')).toMatchObject({ flagged: 1, worse_left: 0, worse_right: 0 });
  });
});

describe('a rule narrowed by history', () => {
  const protocol = protocolOf({
    measures: [HIP],
    rules: [
      {
        name: 'weak_again',
        measure: 'hip',
        comparator: 'below',
        limit: 200,
        history: { region: 'groin', side: 'any', withinDays: 100 },
      },
    ],
  });
  const hurtOn = (days: Readonly<Record<string, string>>): PastInjuries => ({
    of: (athleteId, region, day) => {
      const hurt = Object.hasOwn(days, athleteId) ? parseIsoDay(days[athleteId])! : Number.POSITIVE_INFINITY;
      return region === 'groin' && hurt < day ? [{ region, side: null, day: hurt }] : [];
    },
  });

  test('whoever was hurt before the test is eligible; who did not come is looked at from the last day', () => {
    const past = hurtOn({ A1: '2026-07-01', A2: '2026-08-20', A3: '2025-07-01', A4: '2026-08-01' });
    expect(only('weak_again', briefly(cohortOf(HIPS, PEOPLE, protocol, { past, kinds: ['all'] })))).toEqual([
      '2026 all weak_again 1/1/2',
    ]);
  });

  test('an occasion before the injury does not count', () => {
    const rows: ResultGiven[] = [
      { athlete_id: 'A1', measure: 'hip', ...sides(150, 150) },
      { athlete_id: 'A1', measure: 'hip', ...sides(250, 250), date: '2026-10-20' },
    ];
    const past = hurtOn({ A1: '2026-09-01' });
    expect(only('weak_again', briefly(cohortOf(rows, PEOPLE, protocol, { past, kinds: ['all'] })))).toEqual([
      '2026 all weak_again 0/1/1',
    ]);
  });
});

describe('marks', () => {
  const MARKED: ResultGiven[] = [
    { athlete_id: 'A1', measure: 'hip', ...sides(210, 210), marks: MARK.painLeft },
    { athlete_id: 'A2', measure: 'knee', marks: MARK.unableRight },
    { athlete_id: 'A3', measure: 'hip', status: 'missing_left;missing_right;not_tested' },
    { athlete_id: 'A4', measure: 'hip', status: 'missing_left;missing_right;refused' },
    { athlete_id: 'A1', measure: 'squat', value: 1, marks: MARK.painOther },
  ];

  test('a built-in status: everybody is eligible, tested is who came to any test', () => {
    const table = cohortOf(MARKED, PEOPLE, PROTOCOL, { kinds: ['all'] });
    expect(rowOf(table, 'all', null, 'pain')).toMatchObject({
      eligible: 4,
      tested: 3,
      flagged: 1,
      pain: 1,
      unable: 1,
      missing: 1,
      worse_left: 0,
    });
    expect(rowOf(table, 'all', null, 'unable')).toMatchObject({ tested: 3, flagged: 1, worse_right: 1 });
    expect(rowOf(table, 'all', null, 'one_side')).toMatchObject({ tested: 3, flagged: 0 });
  });

  test('pain and unable of a rule are those at its measure, or at a part of it, on any occasion', () => {
    const protocol = protocolOf({
      measures: [HIP, KNEE, SQUAT, RATIO],
      rules: [
        { name: 'weak', measure: 'hip', comparator: 'below', limit: 200 },
        { name: 'low', measure: 'ratio', comparator: 'below', limit: 0.8 },
      ],
    });
    const rows = [...MARKED, { athlete_id: 'A4', measure: 'knee', marks: MARK.painRight, date: '2026-12-01' }];
    const table = cohortOf(rows, PEOPLE, protocol, { kinds: ['all'] });
    expect(rowOf(table, 'all', null, 'weak')).toMatchObject({ pain: 1, unable: 0 });
    expect(rowOf(table, 'all', null, 'low')).toMatchObject({ pain: 2, unable: 1 });
  });

  test('pain counts under both names where a rule of the protocol and the built-in status find it', () => {
    const protocol = protocolOf({
      measures: [HIP, KNEE],
      rules: [
        { name: 'hip_pain', measure: 'hip', status: 'pain', grade: 'refer' },
        { name: 'knee_pain', measure: 'knee', status: 'pain', grade: 'watch' },
      ],
    });
    const rows: ResultGiven[] = [
      { athlete_id: 'A1', measure: 'hip', ...sides(210, 210), marks: MARK.painLeft },
      { athlete_id: 'A2', measure: 'knee', ...sides(210, 210), marks: MARK.painLeft },
    ];
    expect(
      briefly(cohortOf(rows, PEOPLE, protocol, { kinds: ['all'], rules: ['hip_pain', 'knee_pain', 'pain'] })),
    ).toEqual(['2026 all hip_pain 1/1/4', '2026 all knee_pain 1/1/4', '2026 all pain 2/2/4']);
  });
});

describe('share, ratio and decision', () => {
  const team = (name: string, weak: number, count: number): [string, People[string], ResultGiven][] =>
    Array.from({ length: count }, (_, at) => {
      const athlete_id = `${name}${at}`;
      return [
        athlete_id,
        { team: name },
        { athlete_id, team: name, measure: 'hip', ...sides(at < weak ? 150 : 250, 250) },
      ];
    });
  const made = (...teams: ReturnType<typeof team>[]) => {
    const all = teams.flat();
    return { people: Object.fromEntries(all.map(([id, who]) => [id, who])), rows: all.map(([, , row]) => row) };
  };

  // Wilson of 7 of 20 by hand with z² = 3.841459: (0.35 + 0.0960365 ± 1.959964 √(0.011375 + 0.0024009)) / 1.1920730
  // = 0.1811918 and 0.5671457. Ratio (7/20) / (6/30) = 1.75; SE² = 1/7 − 1/20 + 1/6 − 1/30 = 0.2261905; limits
  // 1.75 e^±0.9321423 = 0.6889941 and 4.4449145.
  test('share with its interval, and the ratio to the others', () => {
    const { people, rows } = made(team('A', 7, 20), team('B', 6, 30));
    const row = rowOf(cohortOf(rows, people, PROTOCOL), 'team', 'A', 'weak');
    expect(row).toMatchObject({ share: 0.35, others_tested: 30, others_flagged: 6, decision: 'shared' });
    expect(row.share_low).toBeCloseTo(0.1811918, 5);
    expect(row.share_high).toBeCloseTo(0.5671457, 5);
    expect(row.ratio).toBeCloseTo(1.75, 12);
    expect(row.ratio_low).toBeCloseTo(0.6889941, 4);
    expect(row.ratio_high).toBeCloseTo(4.4449145, 4);
  });

  test('all is compared to nobody; a sex to the other recorded one', () => {
    const table = cohortOf(HIPS, PEOPLE, PROTOCOL);
    expect(rowOf(table, 'all', null, 'weak')).toMatchObject({ others_tested: null, others_flagged: null, ratio: null });
    expect(rowOf(table, 'sex', 'F', 'weak')).toMatchObject({ others_tested: 1, others_flagged: 1 });
    expect(rowOf(table, 'team', 'Rowing', 'weak')).toMatchObject({ others_tested: 1, others_flagged: 0 });
  });

  test('the others are those who are eligible for the same rule', () => {
    const rows = ['A1', 'A2', 'A4'].map((athlete_id) => ({ athlete_id, measure: 'squat', value: 3 }));
    const people = { ...PEOPLE, A4: { team: 'Judo', sex: 'F' } };
    expect(rowOf(cohortOf(rows, people, PROTOCOL), 'team', 'Rowing', 'faults')).toMatchObject({ others_tested: 1 });
  });

  test('nobody tested has neither share nor ratio, and is too few', () => {
    const table = cohortOf(HIPS, { ...PEOPLE, B1: { team: 'Judo' } }, PROTOCOL);
    expect(rowOf(table, 'team', 'Judo', 'weak')).toMatchObject({
      eligible: 1,
      tested: 0,
      share: null,
      share_low: null,
      share_high: null,
      ratio: null,
      ratio_low: null,
      decision: 'too_few',
    });
  });

  test.each([
    ['a third of six, where 33 % are asked', 2, 6, 'weak', 'shared'],
    ['three of ten', 3, 10, 'weak', 'individual'],
    ['all of four, where five are asked', 4, 4, 'weak', 'too_few'],
    ['two of five', 2, 5, 'weak', 'shared'],
    ['a rule that is not shared', 5, 5, 'uneven', 'individual'],
  ])('%s: %d of %d, %s is %s', (_, weak, count, rule, decision) => {
    const { people, rows } = made(team('A', weak, count), team('B', 0, 5));
    expect(rowOf(cohortOf(rows, people, PROTOCOL), 'team', 'A', rule).decision).toBe(decision);
  });

  test('a share that is the limit to nine digits is shared', () => {
    const { people, rows } = made(team('A', 3, 10), team('B', 0, 5));
    const sharing = { fromShare: 0.1 + 0.2, minTested: 5, atMostProgrammes: 2 };
    const table = cohortOf(rows, people, { ...PROTOCOL, sharing });
    expect(rowOf(table, 'team', 'A', 'weak').decision).toBe('shared');
  });
});

describe('several seasons together', () => {
  const person = (athlete_id: string, seasons: Record<number, 'weak' | 'strong'>): ResultGiven[] =>
    Object.entries(seasons).map(([season, state]) => ({
      athlete_id,
      measure: 'hip',
      ...sides(state === 'weak' ? 150 : 250, 250),
      season: Number(season),
      date: `${season}-08-12`,
    }));
  const ROWS = [
    ...person('A1', { 2025: 'weak', 2026: 'strong' }),
    ...person('A2', { 2025: 'strong', 2026: 'strong' }),
    ...person('A3', { 2025: 'weak', 2026: 'weak' }),
  ];

  // Worked out by hand, as for clusteredShare: 3 of 6 readings of three athletes are worth 3.
  test('athletes count in each, the interval is that of as many readings as they are worth', () => {
    const row = rowOf(cohortOf(ROWS, PEOPLE, PROTOCOL, { seasons: 'pooled' }), 'all', null, 'weak');
    expect(row).toMatchObject({ season: null, eligible: 8, tested: 6, flagged: 3, share: 0.5, decision: null });
    expect(row.share_low).toBeCloseTo(0.125334, 5);
    expect(row.share_high).toBeCloseTo(0.874666, 5);
  });

  test('a seed gives the same limits, be the row alone or one of many', () => {
    const people = Object.fromEntries(
      Array.from({ length: 40 }, (_, at) => [`P${at}`, { team: at % 2 ? 'Judo' : 'Rowing' }]),
    );
    const rows = Object.keys(people).flatMap((id, at) =>
      person(id, { 2025: at % 3 === 0 ? 'weak' : 'strong', 2026: at % 4 === 0 ? 'weak' : 'strong' }),
    );
    const of = (options: object) =>
      rowOf(cohortOf(rows, people, PROTOCOL, { seasons: 'pooled', ...options }), 'team', 'Judo', 'weak');
    const row = of({});
    // Worked out by hand: of Rowing, the even ones, 0, 6 … 36 and 0, 4 … 36 are weak, 7 and 10; of Judo 3, 9 … 39, 7.
    expect(row).toMatchObject({ tested: 40, flagged: 7, others_tested: 40, others_flagged: 17 });
    expect(row.ratio).toBeCloseTo(7 / 17, 12);
    expect(of({ rules: ['weak'], kinds: ['team'] })).toEqual(row);
    expect(of({ seed: 2 }).ratio_low).not.toBe(row.ratio_low);
    expect(row.ratio_low!).toBeLessThan(row.ratio!);
    expect(row.ratio_high!).toBeGreaterThan(row.ratio!);
  });
});

test('no results, no rows', () => {
  expect(cohortOf([], PEOPLE, PROTOCOL).length).toBe(0);
});
