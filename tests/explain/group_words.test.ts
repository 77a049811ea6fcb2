import { describe, expect, it } from 'vitest';
import { CLEARANCE_STATUSES } from '../../src/athletes/clearance.ts';
import { AUDIENCES } from '../../src/cli/audience.ts';
import { GLOSSARY } from '../../src/explain/glossary.ts';
import { tableTopics } from '../../src/explain/table_topics.ts';
import type { Topic, TopicKind } from '../../src/explain/topic.ts';
import { PREVIOUS_INJURIES } from '../../src/findings/history_rules.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import { STARTER_PROTOCOL } from '../../src/protocol/starter.ts';
import { URGENCIES } from '../../src/protocol/types.ts';
import { unitSlips } from '../../src/sheets/unit_slip.ts';
import { clusteredShare } from '../../src/stats/clustered_share.ts';
import { robustScale } from '../../src/stats/mad.ts';
import { Z95 } from '../../src/stats/normal.ts';
import { outlierChance } from '../../src/stats/outlier_chance.ts';
import { relativeRisk } from '../../src/stats/relative_risk.ts';
import { OUTLIER_Z, outlierDistance, robustZ } from '../../src/stats/robust_z.ts';
import { wilson } from '../../src/stats/wilson.ts';
import { COVERAGE_STATES, DECISIONS, GROUP_KINDS, PLAN_SCOPES, RECHECK_KINDS } from '../../src/tables/schemas.ts';
import { isoDay, parseIsoDay } from '../../src/units/days.ts';

const find = (kind: TopicKind, name: string): Topic =>
  GLOSSARY.find((topic) => topic.kind === kind && topic.name === name)!;
const namesOf = (kind: TopicKind): string[] => GLOSSARY.filter((topic) => topic.kind === kind).map(({ name }) => name);

describe('closed lists of the tables of groups', () => {
  it.each<readonly [TopicKind, readonly string[]]>([
    ['decision', DECISIONS],
    ['plan scope', PLAN_SCOPES],
    ['coverage state', COVERAGE_STATES],
    ['recheck kind', RECHECK_KINDS],
    ['clearance status', CLEARANCE_STATUSES],
    ['audience', AUDIENCES],
    ['urgency', URGENCIES],
    ['previous injury', PREVIOUS_INJURIES],
  ])('%s: those of the sources, and no others', (kind, names) => {
    expect(new Set(namesOf(kind))).toEqual(new Set(names));
    expect(GLOSSARY.filter((topic) => topic.kind === kind && topic.later)).toEqual([]);
  });

  it('kinds of groups are words', () => {
    for (const name of GROUP_KINDS) {
      const topic = GLOSSARY.find((one) => one.name === (name === 'sport_group' ? 'sport group' : name))!;
      expect(topic.later, name).toBeUndefined();
    }
  });

  it('columns that hold a closed list name every word of it', () => {
    const texts: readonly (readonly [string, readonly string[]])[] = [
      ['scope', PLAN_SCOPES],
      ['state', COVERAGE_STATES],
      ['decision', DECISIONS],
      ['group_kind', GROUP_KINDS],
      ['previous_injury', PREVIOUS_INJURIES],
    ];
    for (const [column, names] of texts) {
      const { definition } = find('column', column);
      expect(
        names.filter((name) => !new RegExp(`\\b${name}\\b`).test(definition)),
        column,
      ).toEqual([]);
    }
  });

  it('every recheck kind has a caution and, in its text, a number or an example', () => {
    for (const kind of RECHECK_KINDS) {
      const { definition, caution } = find('recheck kind', kind);
      expect(definition, kind).toMatch(/\d/);
      expect(caution, kind).toMatch(/\.$/);
    }
  });
});

it('tables of groups name their columns and the command that makes them', () => {
  const topic = (name: string): Topic => tableTopics().find((one) => one.name === name)!;
  expect(topic('coverage')).toMatchObject({
    later: false,
    definition: expect.stringContaining('Columns: athlete_id, team, season, measure, state, station and retest_by.'),
    where: 'Made by bilat coverage and bilat run. As out/coverage.csv in the screening folder.',
  });
  expect(topic('plan').definition).toContain('start and retest_by.');
  // An internal column is not told of.
  expect(topic('recheck').definition).toContain('suggestion, file, line and column.');
  expect(topic('trend')).toMatchObject({ later: true, where: 'Made by bilat trend.' });
});

/** Fifteen readings of 10, three of 11, a 12 and a 20: the median is 10, and so many read it that the MAD is 0. */
const ALIKE = [...Array<number>(15).fill(10), 11, 11, 11, 12, 20];
/** A median of 40 and a MAD of 4. */
const FORTY = { median: 40, mad: 4, meanDistance: 5 };
/** Ten athletes in two seasons, four of them flagged in both. */
const TWICE = Array.from({ length: 10 }, (_, at) => ({ x: at < 4 ? 2 : 0, n: 2 }));
const AGAINST = relativeRisk({ flagged: 9, tested: 20, othersFlagged: 14, othersTested: 80 })!;
const LBF = 4.4482216152605;
const KG_PER_LB = 0.45359237;
const percent = (share: number): string => `${Math.round(100 * share)} %`;
const daysAfter = (day: string, days: number): string => isoDay(parseIsoDay(day)! + days);

describe('worked numbers in the texts are those of the formulas', () => {
  it.each<readonly [TopicKind, string, string]>([
    ['column', 'share', `7 of 20 is ${7 / 20}.`],
    ['column', 'share', `7 of 20 is ${(100 * 7) / 20} %`],
    ['column', 'share_low', `7 of 20: ${wilson(7, 20)!.low.toFixed(3)}.`],
    ['column', 'share_high', `7 of 20: ${wilson(7, 20)!.high.toFixed(3)}.`],
    ['column', 'missing', `5 of 25 eligible athletes missing leave ${25 - 5} tested`],
    ['column', 'ratio', `9 of 20 against 14 of 80 is ${(9 / 20 / (14 / 80)).toFixed(2)}.`],
    ['column', 'ratio_low', `14 of 80: ${AGAINST.low.toFixed(2)}.`],
    ['column', 'ratio_high', `14 of 80: ${AGAINST.high.toFixed(2)}.`],
    ['column', 'score', `62 where the median is 40 and the MAD 4 has ${robustZ(62, FORTY)!.toFixed(2)}.`],
    ['column', 'retest_by', `begun on 2026-08-20 with 42 days it is ${daysAfter('2026-08-20', 42)}.`],
    ['coverage state', 'retest_due', `42 days is due from ${daysAfter('2026-08-20', 42)} on`],
    ['decision', 'shared', `9 of 20 are ${9 / 20}: shared, from a share of 0.33 on`],
    ['word', 'shared work', `9 of 20 are ${(100 * 9) / 20} %: shared, as from_share is 33 % and min_tested 5`],
    ['statistic', 'relative risk', `9 of 20 against 14 of 80 is ${AGAINST.ratio.toFixed(2)}`],
    ['statistic', 'relative risk', `95 % interval of ${AGAINST.low.toFixed(2)} to ${AGAINST.high.toFixed(2)}`],
    ['statistic', 'bounds', `from 9 of 25, ${percent(9 / (20 + 5))}, to 14 of 25, ${percent((9 + 5) / (20 + 5))}`],
    ['statistic', 'clustered interval', `count like ${clusteredShare(TWICE)!.effective.toFixed(0)} athletes`],
    [
      'statistic',
      'clustered interval',
      `${clusteredShare(TWICE)!.low.toFixed(3)} to ${clusteredShare(TWICE)!.high.toFixed(3)} in place of`,
    ],
    [
      'statistic',
      'clustered interval',
      `in place of ${wilson(8, 20)!.low.toFixed(3)} to ${wilson(8, 20)!.high.toFixed(3)}`,
    ],
    ['statistic', 'robust z', `the MAD 4 gives ${robustZ(50, FORTY)!.toFixed(2)};`],
    ['statistic', 'robust z', `a robust z of ${robustZ(20, robustScale(ALIKE)!)!.toFixed(2)},`],
    ['statistic', 'mad', `a MAD of ${robustScale([1, 2, 3, 4, 90])!.mad}`],
    ['statistic', 'expected by chance', `about ${(300 * outlierChance(30)!).toFixed(2)} are beyond`],
    ['statistic', 'expected by chance', `Of 240 intervals of a ratio about ${(0.05 * 240).toFixed(0)} leave out 1`],
    ['recheck kind', 'unit_slip', `165 lb are ${(165 * KG_PER_LB).toFixed(1)} kg`],
    ['recheck kind', 'column_unit_slip', `45 lbf are ${(45 * LBF).toFixed(1)} N`],
    [
      'recheck kind',
      'outlier',
      `outside ${(40 - outlierDistance(FORTY)).toFixed(1)} to ${(40 + outlierDistance(FORTY)).toFixed(1)}`,
    ],
  ])('%s %s: %s', (kind, name, words) => {
    expect(find(kind, name).definition).toContain(words);
  });

  it('the relative risk and the clustered share of the texts, worked out by hand', () => {
    // 0.45/0.175 = 2.5714; SE √(1/9 − 1/20 + 1/14 − 1/80) = 0.34646; e^(±1.96·0.34646) = 1.9720.
    expect(AGAINST.ratio).toBeCloseTo(2.5714, 4);
    expect(AGAINST.low).toBeCloseTo(2.5714 / Math.exp(Z95 * 0.34646), 3);
    // p = 8/20; 4·(2 − 0.8)² + 6·0.8² = 9.6; v = 10/9·9.6/20² = 0.026667; 0.24/0.026667 = 9.
    expect(clusteredShare(TWICE)!.effective).toBeCloseTo(9, 9);
  });

  it('the robust z of the texts, worked out by hand', () => {
    // 0.6745·22/4 = 3.70975; 3.5·4/0.6745 = 20.7561; (3·1 + 2 + 10)/20 = 0.75, and 10/(1.253314·0.75) = 10.6385.
    expect(robustZ(62, FORTY)).toBeCloseTo(3.70975, 9);
    expect(outlierDistance(FORTY)).toBeCloseTo(20.7561, 4);
    expect(robustScale(ALIKE)).toEqual({ median: 10, mad: 0, meanDistance: 0.75 });
    expect(robustZ(20, robustScale(ALIKE)!)).toBeCloseTo(10.6385, 4);
    expect(robustScale([1, 2, 3, 4, 90])!.median).toBe(3);
  });

  it('the outlier of the text is beyond 3.5, the reading beside it is not', () => {
    expect(OUTLIER_Z).toBe(3.5);
    expect(robustZ(62, FORTY)).toBeGreaterThan(3.5);
    expect(robustZ(60.7, FORTY)).toBeLessThan(3.5);
  });

  it('the implausible pulse of the text is beyond the limits of the starter, and no slip explains it', () => {
    const pulse = loadProtocol(STARTER_PROTOCOL, 'protocol.yaml').byName.get('pulse')!;
    const [low, high] = pulse.plausible!;
    const { definition } = find('recheck kind', 'implausible');
    expect(definition).toContain(`A pulse of 14 where ${low} to ${high} can be.`);
    expect(unitSlips(14, pulse.unit, [low, high])).toEqual([]);
  });

  it('the steps of the run and the digits of the slip are what the text calls them', () => {
    const run = find('recheck kind', 'run_of_fill').definition.match(/: ((?:\d+, )+\d+)\./)![1];
    const steps = run.split(', ').map(Number);
    expect(steps.length).toBeGreaterThanOrEqual(5);
    expect(new Set(steps.slice(1).map((x, at) => x - steps[at]))).toEqual(new Set([1]));
    const [meant, ...slips] = find('recheck kind', 'digit_slip').definition.match(/\d+/g)!;
    const [a, b, c] = meant;
    expect(slips).toEqual([a + c, a + b + c + c, a + c + b]);
  });

  it('sides exchanged in the text come back to those of the season before', () => {
    const [left, right, nowLeft, nowRight] = find('recheck kind', 'sides_swapped')
      .definition.match(/\d+/g)!
      .map(Number);
    expect(left < right && nowLeft > nowRight).toBe(true);
    expect(Math.abs(nowRight - left) + Math.abs(nowLeft - right)).toBeLessThan(Math.abs(left - right));
  });
});

describe('formulas and sources', () => {
  it.each<readonly [TopicKind, string, string]>([
    // Statistics, sections 2 and 3.
    ['statistic', 'robust z', '0.6745*(x - median)/MAD'],
    ['statistic', 'robust z', '(x - median)/(1.253314*mean|x - median|)'],
    [
      'statistic',
      'expected by chance',
      '.0168 (10) .0110 (15) .0068 (20) .0039 (30) .0022 (50) .0011 (100) .0008 (200)',
    ],
    ['statistic', 'expected by chance', '0.05*m'],
    ['statistic', 'relative risk', 'sqrt(1/a - 1/n1 + 1/c - 1/n2)'],
    ['statistic', 'bounds', 'flagged/(tested + untested) to (flagged + untested)/(tested + untested)'],
    ['statistic', 'clustered interval', 'm/(m - 1)*sum((x - p*n)^2)/sum(n)^2'],
    ['statistic', 'clustered interval', 'min(N, p*(1 - p)/v), or m if v = 0'],
    ['decision', 'shared', 'tested >= min_tested and share >= from_share'],
    ['column', 'share', '100*beyond/tested'],
    ['column', 'missing', 'eligible - tested'],
  ])('%s %s', (kind, name, words) => expect(find(kind, name).formula).toContain(words));

  it('the sources are those of the methods', () => {
    expect(find('method', 'wilson').source).toBe('J Am Stat Assoc 1927;22:209-212; Stat Med 1998;17:857-872.');
    expect(find('statistic', 'robust z').source).toBe('NIST/SEMATECH e-Handbook 1.3.5.17.');
    for (const name of ['wilson', 'log', 'bootstrap']) expect(find('method', name).later, name).toBeUndefined();
    for (const name of ['exact', 'delong', 'logit']) expect(find('method', name).later, name).toBe(true);
  });

  it('limits and numbers needed are said', () => {
    expect(find('statistic', 'robust z').definition).toMatch(/\b20 athletes\b/);
    expect(find('recheck kind', 'outlier').formula).toBe('|robust z| > 3.5');
  });
});

describe('the order of the plan', () => {
  it('is told as it is printed', () => {
    // The text of the plan: medical staff, hold, teams, single athletes; then injury, clear act, region, margin.
    const parts = (text: string, words: readonly string[]): number[] =>
      words.map((word) => text.search(new RegExp(word)));
    const said = parts(find('column', 'priority').definition, [
      'medical staff',
      'beyond the limit',
      'on hold',
      'teams',
      'single athletes',
      'earlier injury of the same side',
      'clear act',
      'number of findings in the region',
      'margin over the measurement error',
    ]);
    expect(said).not.toContain(-1);
    expect(said).toEqual(said.toSorted((a, b) => a - b));
  });

  it('urgency goes from now to routine, and availability from full to held', () => {
    expect(namesOf('urgency')).toEqual(['now', 'before_training', 'routine']);
    expect(namesOf('availability')).toEqual(['full', 'limited', 'held']);
  });
});

describe('what a coach is told', () => {
  it('is availability, programmes and dates; the rest is named as kept back', () => {
    const { definition, caution } = find('audience', 'coach');
    expect(definition).toContain('who is held');
    expect(caution).toBe(
      'Pain, blood pressure, body mass and injuries never reach the output of a coach, in any format.',
    );
    expect(find('audience', 'strength').definition).toContain('earlier injuries');
    expect(find('audience', 'medical').definition).toContain('--audience is not given');
  });
});
