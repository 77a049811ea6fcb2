import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { loadProtocol } from '../../src/protocol/load.ts';
import { bilat, ROOT, read, readCsv, tempFolder } from './bilat.ts';

const STARTER = read(ROOT, 'src/protocol/starter/protocol.yaml');
const protocol = loadProtocol(STARTER, 'protocol.yaml');

/** Readings of one athlete: a number, [left, right], or trials of either. */
type Readings = Readonly<Record<string, number | readonly number[] | { readonly trials: readonly number[] }>>;

interface Pair {
  readonly rule: string;
  readonly beyond: Readings;
  /** the same athlete just inside the limit */
  readonly inside: Readings;
  readonly side?: string;
}

const PAIRS: readonly Pair[] = [
  {
    rule: 'systolic_raised',
    beyond: { systolic: { trials: [130, 118] } },
    inside: { systolic: { trials: [129, 118] } },
  },
  {
    rule: 'diastolic_raised',
    beyond: { diastolic: { trials: [70, 80] } },
    inside: { diastolic: { trials: [70, 79] } },
  },
  { rule: 'systolic_high', beyond: { systolic: 140 }, inside: { systolic: 139 } },
  { rule: 'diastolic_high', beyond: { diastolic: 90 }, inside: { diastolic: 89 } },
  { rule: 'systolic_before_lifting', beyond: { systolic: 160 }, inside: { systolic: 159 } },
  { rule: 'diastolic_before_lifting', beyond: { diastolic: 100 }, inside: { diastolic: 99 } },
  { rule: 'systolic_now', beyond: { systolic: 181 }, inside: { systolic: 180 } },
  { rule: 'diastolic_now', beyond: { diastolic: 121 }, inside: { diastolic: 120 } },
  { rule: 'pulse_fast', beyond: { pulse: 121 }, inside: { pulse: 120 } },
  { rule: 'pulse_slow', beyond: { pulse: 39 }, inside: { pulse: 40 } },
  {
    rule: 'adductor_ratio_low',
    beyond: { hip_adduction: [159.9, 190], hip_abduction: [200, 200] },
    inside: { hip_adduction: [160, 190], hip_abduction: [200, 200] },
    side: 'left',
  },
  // 180 of 200 is 10 %, 170 of 200 is 15 %.
  ...deficits('hip_adduction_deficit', 'hip_adduction'),
  ...deficits('hip_abduction_deficit', 'hip_abduction'),
  ...deficits('knee_flexion_deficit', 'knee_flexion'),
  ...deficits('knee_extension_deficit', 'knee_extension'),
  ...deficits('shoulder_external_deficit', 'shoulder_external_strength'),
  {
    rule: 'hip_arc_short',
    beyond: { hip_internal_rotation: [40, 40], hip_external_rotation: [50, 44.9] },
    inside: { hip_internal_rotation: [40, 40], hip_external_rotation: [50, 45] },
    side: 'right',
  },
  {
    rule: 'hip_rotation_gap',
    beyond: { hip_internal_rotation: [30, 40] },
    inside: { hip_internal_rotation: [30.1, 40] },
  },
  { rule: 'leg_raise_gap', beyond: { straight_leg_raise: [80, 70] }, inside: { straight_leg_raise: [80, 70.1] } },
  { rule: 'lunge_gap', beyond: { ankle_lunge: [10, 12] }, inside: { ankle_lunge: [10.1, 12] } },
  { rule: 'lunge_angle_low', beyond: { ankle_lunge_angle: [40, 36.4] }, inside: { ankle_lunge_angle: [40, 36.5] } },
  { rule: 'lunge_angle_gap', beyond: { ankle_lunge_angle: [45, 40] }, inside: { ankle_lunge_angle: [45, 40.1] } },
  { rule: 'anterior_reach_gap', beyond: { anterior_reach: [64.1, 60] }, inside: { anterior_reach: [64, 60] } },
  {
    rule: 'squat_faults_many',
    beyond: { single_leg_squat_faults: [1, 3] },
    inside: { single_leg_squat_faults: [1, 2] },
  },
  { rule: 'landing_faults_many', beyond: { drop_landing_faults: 3 }, inside: { drop_landing_faults: 2 } },
  // All of them throw with the right hand; the arc of the first ones is 8 degrees shorter on the right.
  {
    rule: 'shoulder_internal_loss',
    beyond: { shoulder_internal_rotation: [60, 40], shoulder_external_rotation: [90, 102] },
    inside: { shoulder_internal_rotation: [60, 40.1], shoulder_external_rotation: [90, 101.9] },
  },
  // As much is lost, and external rotation has gained it: the arc has moved and is no shorter.
  {
    rule: 'shoulder_internal_loss',
    beyond: { shoulder_internal_rotation: [60, 38], shoulder_external_rotation: [90, 104] },
    inside: { shoulder_internal_rotation: [60, 40], shoulder_external_rotation: [90, 110] },
  },
  {
    rule: 'shoulder_internal_loss_large',
    beyond: { shoulder_internal_rotation: [60, 35], shoulder_external_rotation: [90, 107] },
    inside: { shoulder_internal_rotation: [60, 35.1], shoulder_external_rotation: [90, 106.9] },
  },
  {
    rule: 'shoulder_internal_loss_large',
    beyond: { shoulder_internal_rotation: [60, 35], shoulder_external_rotation: [90, 107] },
    inside: { shoulder_internal_rotation: [60, 35], shoulder_external_rotation: [90, 115] },
  },
  {
    rule: 'shoulder_arc_loss',
    beyond: { shoulder_internal_rotation: [60, 54.9], shoulder_external_rotation: [90, 90] },
    inside: { shoulder_internal_rotation: [60, 55], shoulder_external_rotation: [90, 90] },
  },
  {
    rule: 'shoulder_strength_ratio_low',
    beyond: { shoulder_external_strength: [150, 149.9], shoulder_internal_strength: [200, 200] },
    inside: { shoulder_external_strength: [150, 150], shoulder_internal_strength: [200, 200] },
    side: 'right',
  },
];

function deficits(rule: string, measure: string): Pair[] {
  return [
    { rule, beyond: { [measure]: [200, 180] }, inside: { [measure]: [200, 180.1] } },
    { rule: `${rule}_large`, beyond: { [measure]: [170, 200] }, inside: { [measure]: [170.1, 200] } },
  ];
}

function lines(id: string, readings: Readings): string[] {
  return Object.entries(readings).flatMap(([measure, given]) => {
    const unit = protocol.byName.get(measure)!.unit.code;
    const row = (side: string, trial: number, value: number): string =>
      [id, '2026-08-17', measure, side, trial, value, unit].join(',');
    if (typeof given === 'number') return [row('', 1, given)];
    if ('trials' in given) return given.trials.map((value, at) => row('', at + 1, value));
    return [row('L', 1, given[0]), row('R', 1, given[1])];
  });
}

/**
 * Twelve athletes of one sex, of 100 kg each, whose hips carry 1 to 11 units and one who is searched for: the load at
 * which that one's z among the twelve (sample SD, own value in) is `wanted`, by halving.
 */
const OTHERS = [280, 290, 300, 310, 320, 330, 340, 350, 360, 370, 380];

function loadAt(wanted: number): number {
  const z = (load: number): number => {
    const all = [...OTHERS, load];
    const mean = all.reduce((sum, value) => sum + value, 0) / all.length;
    return (load - mean) / Math.sqrt(all.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (all.length - 1));
  };
  let low = 100;
  let high = 300;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (z(middle) < wanted) low = middle;
    else high = middle;
  }
  return low;
}

const bothHips = (left: number, right: number): Readings => ({
  body_mass: 100,
  hip_adduction: [left, right],
  hip_abduction: [left, right],
});

interface Athlete {
  readonly id: string;
  readonly sex: string;
  readonly readings: Readings;
}

function strengthGroup(sex: string, id: string, left: number, right: number): Athlete[] {
  return [
    ...OTHERS.map((load, at) => ({ id: `${id}_other_${at}`, sex, readings: bothHips(load, load) })),
    { id, sex, readings: bothHips(left, right) },
  ];
}

const LOAD = loadAt(-1.5);

const ATHLETES: readonly Athlete[] = [
  ...PAIRS.flatMap(({ beyond, inside }, at) => [
    { id: `P${at}`, sex: '', readings: beyond },
    { id: `T${at}`, sex: '', readings: inside },
  ]),
  ...strengthGroup('F', 'weak_on_both', LOAD - 0.01, LOAD - 0.01),
  ...strengthGroup('M', 'just_inside', LOAD + 0.01, LOAD + 0.01),
  // Weak on the left only: the right side is as strong as that of the others.
  ...strengthGroup('N', 'weak_on_one', LOAD - 30, 330),
];

describe('every rule of the starter', () => {
  let found: readonly Record<string, string>[];

  beforeAll(() => {
    const folder = tempFolder({
      'protocol.yaml': STARTER,
      'roster.csv': [
        'athlete_id,team,sex,kicking_foot,throwing_hand',
        ...ATHLETES.map(({ id, sex }) => `${id},Soccer;Volleyball,${sex},right,right`),
        '',
      ].join('\n'),
      'sheets/all.csv': [
        'athlete_id,date,test,side,trial,value,unit',
        ...ATHLETES.flatMap(({ id, readings }) => lines(id, readings)),
        '',
      ].join('\n'),
    });
    expect(bilat(['ingest', '--folder', folder, '-o', path.join(folder, 'observations.csv'), '--fail-on', 'rejects']))
      // Nobody has a word to say about these readings.
      .toMatchObject({ code: 0 });
    const { code, stdout, stderr } = bilat(['flag', '--folder', folder, '--format', 'csv']);
    expect({ code, stderr }).toMatchObject({ code: 0 });
    found = readCsv(stdout);
  });

  const findings = (id: string, rule: string): Record<string, string>[] =>
    found.filter((row) => row.athlete_id === id && row.rule === rule);

  test.each(PAIRS.map((pair, at) => ({ ...pair, at })))('$at $rule fires, and is silent just inside', (pair) => {
    const { rule, at, side } = pair;
    const { grade, programme } = protocol.rules.find(({ name }) => name === rule)!;
    expect(findings(`P${at}`, rule)).toMatchObject([{ grade, programme, ...(side && { side }) }]);
    expect(findings(`T${at}`, rule)).toEqual([]);
  });

  test('hip_strength_low_both_sides fires where both sides are low, and stays silent where one is', () => {
    const rule = 'hip_strength_low_both_sides';
    const [finding] = findings('weak_on_both', rule);
    expect(finding).toMatchObject({ grade: 'watch', side: 'none', limit: '-1.5', certainty: 'error_unknown' });
    expect(Number(finding.value)).toBeCloseTo(-1.5, 3);
    expect(findings('just_inside', rule)).toEqual([]);
    expect(findings('weak_on_one', rule)).toEqual([]);
    // Weak on both sides alike is no deficit: that is what the rule is for.
    expect(findings('weak_on_both', 'hip_adduction_deficit')).toEqual([]);
  });

  test('no rule is left out here', () => {
    const tried = new Set([...PAIRS.map(({ rule }) => rule), 'hip_strength_low_both_sides']);
    expect(protocol.rules.map(({ name }) => name).filter((name) => !tried.has(name))).toEqual([]);
  });
});
