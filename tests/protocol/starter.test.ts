import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { urgencyOf } from '../../src/findings/urgency.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import type { Rule } from '../../src/protocol/types.ts';

const TEXT = readFileSync(new URL('../../src/protocol/starter/protocol.yaml', import.meta.url), 'utf8');
const protocol = loadProtocol(TEXT, 'protocol.yaml');

const limitOf = ({ measure, field, comparator, limit, of }: Rule): string =>
  `${measure.name} ${field} ${comparator} ${limit}${of === 'any_trial' ? ' any_trial' : ''}`;

/** The published or customary limit of each rule, and where it stands. */
const LIMITS: readonly (readonly [rule: string, limit: string, grade: string, source: string])[] = [
  ['systolic_raised', 'systolic value at_least 130 any_trial', 'watch', 'Hypertension 2018;71:e13-e115'],
  ['diastolic_raised', 'diastolic value at_least 80 any_trial', 'watch', 'Hypertension 2018;71:e13-e115'],
  ['systolic_high', 'systolic value at_least 140 any_trial', 'refer', 'Hypertension 2018;71:e13-e115'],
  ['diastolic_high', 'diastolic value at_least 90 any_trial', 'refer', 'Hypertension 2018;71:e13-e115'],
  ['systolic_before_lifting', 'systolic value at_least 160 any_trial', 'refer', 'common practice'],
  ['diastolic_before_lifting', 'diastolic value at_least 100 any_trial', 'refer', 'common practice'],
  ['systolic_now', 'systolic value above 180 any_trial', 'refer', 'Hypertension 2018;71:e13-e115'],
  ['diastolic_now', 'diastolic value above 120 any_trial', 'refer', 'Hypertension 2018;71:e13-e115'],
  ['pulse_fast', 'pulse value above 120 any_trial', 'refer', 'common practice'],
  ['pulse_slow', 'pulse value below 40 any_trial', 'refer', 'common practice'],
  ['adductor_ratio_low', 'adductor_ratio value below 0.8', 'act', 'Am J Sports Med 2001;29:124-128'],
  ['hip_adduction_deficit', 'hip_adduction deficit_pct at_least 10', 'watch', 'Strength Cond J 2012;34(1):82-86'],
  ['hip_adduction_deficit_large', 'hip_adduction deficit_pct at_least 15', 'act', 'Strength Cond J 2012;34(1):82-86'],
  ['hip_abduction_deficit', 'hip_abduction deficit_pct at_least 10', 'watch', 'Strength Cond J 2012;34(1):82-86'],
  ['hip_abduction_deficit_large', 'hip_abduction deficit_pct at_least 15', 'act', 'Strength Cond J 2012;34(1):82-86'],
  ['hip_strength_low_both_sides', 'hip_strength_better_side value below -1.5', 'watch', 'common practice'],
  ['hip_arc_short', 'hip_arc value below 85', 'watch', 'from memory'],
  ['hip_rotation_gap', 'hip_internal_rotation gap at_least 10', 'watch', 'common practice'],
  ['knee_flexion_deficit', 'knee_flexion deficit_pct at_least 10', 'watch', 'Strength Cond J 2012;34(1):82-86'],
  ['knee_flexion_deficit_large', 'knee_flexion deficit_pct at_least 15', 'act', 'Strength Cond J 2012;34(1):82-86'],
  ['knee_extension_deficit', 'knee_extension deficit_pct at_least 10', 'watch', 'Strength Cond J 2012;34(1):82-86'],
  ['knee_extension_deficit_large', 'knee_extension deficit_pct at_least 15', 'act', 'Strength Cond J 2012;34(1):82-86'],
  ['leg_raise_gap', 'straight_leg_raise gap at_least 10', 'watch', 'common practice'],
  ['lunge_gap', 'ankle_lunge gap at_least 2', 'watch', 'Man Ther 2015'],
  ['lunge_angle_low', 'ankle_lunge_angle value below 36.5', 'watch', 'Am J Sports Med 2011;39:2626-2633'],
  ['lunge_angle_gap', 'ankle_lunge_angle gap at_least 5', 'watch', 'Man Ther 2015'],
  ['anterior_reach_gap', 'anterior_reach gap above 4', 'watch', 'J Orthop Sports Phys Ther 2006;36:911-919'],
  ['squat_faults_many', 'single_leg_squat_faults value at_least 3', 'watch', 'common practice'],
  ['landing_faults_many', 'drop_landing_faults value at_least 3', 'watch', 'common practice'],
  [
    'shoulder_internal_loss',
    'shoulder_internal_rotation dominance_gap at_most -20',
    'watch',
    'Am J Sports Med 2011;39:329-335',
  ],
  [
    'shoulder_internal_loss_large',
    'shoulder_internal_rotation dominance_gap at_most -25',
    'act',
    'Am J Sports Med 2011;39:1997-2006',
  ],
  ['shoulder_arc_loss', 'shoulder_arc dominance_gap below -5', 'watch', 'Am J Sports Med 2011;39:329-335'],
  ['shoulder_strength_ratio_low', 'shoulder_strength_ratio value below 0.75', 'watch', 'common practice'],
  [
    'shoulder_external_deficit',
    'shoulder_external_strength deficit_pct at_least 10',
    'watch',
    'Strength Cond J 2012;34(1):82-86',
  ],
  [
    'shoulder_external_deficit_large',
    'shoulder_external_strength deficit_pct at_least 15',
    'act',
    'Strength Cond J 2012;34(1):82-86',
  ],
];

describe('the starter protocol', () => {
  test('its limits, grades and sources are these and no others', () => {
    const found = protocol.rules.map((rule) => [rule.name, limitOf(rule), rule.grade, rule.source?.split(', doi')[0]]);
    expect(found).toEqual(LIMITS.map((row) => [...row]));
  });

  test('pressure above 180 or above 120 is for now, every other vital sign before training', () => {
    const urgent = protocol.rules.filter(({ grade }) => grade === 'refer');
    expect(urgent.map((rule) => `${rule.name} ${urgencyOf(rule.name, rule.measure, protocol)}`)).toEqual([
      'systolic_high before_training',
      'diastolic_high before_training',
      'systolic_before_lifting before_training',
      'diastolic_before_lifting before_training',
      'systolic_now now',
      'diastolic_now now',
      'pulse_fast before_training',
      'pulse_slow before_training',
    ]);
  });

  test('every limit says how far its source carries', () => {
    for (const { name, strength } of protocol.rules)
      expect({ name, strength }).toMatchObject({ strength: expect.stringMatching(/.{20}/) });
  });

  test('every programme has an owner, what to do, and a source', () => {
    for (const programme of protocol.programmes.values()) {
      expect(programme).toMatchObject({
        owner: expect.stringMatching(/^(strength|medical)$/),
        individual: expect.stringMatching(/.{20}/),
        source: expect.stringMatching(/.{10}/),
      });
    }
  });

  test('every declared measurement error has a source', () => {
    for (const { name, error } of protocol.measures)
      if (error) expect({ name, ...error }).toMatchObject({ source: expect.stringMatching(/.{5}/) });
  });

  test('four sport groups, about 25 measures', () => {
    expect(protocol.sportGroups.map(({ name }) => name)).toEqual(['landing', 'groin', 'overhead', 'power']);
    expect(protocol.measures.filter(({ derivation }) => derivation === undefined)).toHaveLength(27);
  });

  test('lost internal rotation counts only with a loss of the whole arc', () => {
    const also = protocol.rules.filter(({ measure }) => measure.name === 'shoulder_internal_rotation');
    expect(also.map((rule) => rule.also)).toEqual([['shoulder_arc_loss'], ['shoulder_arc_loss']]);
  });

  test('counts of faults and reaches stand alone: nothing is worked out from them', () => {
    const parts = protocol.measures.flatMap(({ derivation }) => derivation?.parts.map(({ name }) => name) ?? []);
    expect(parts.filter((name) => /faults|reach/.test(name))).toEqual([]);
  });

  test('ranges and reaches are compared in their unit, never in percent', () => {
    const ranges = protocol.measures.filter(
      ({ name, sides }) => sides === 'each' && /rotation|raise|lunge|fall_out|reach|arc/.test(name),
    );
    expect(ranges.length).toBeGreaterThan(8);
    for (const { name, compare } of ranges) expect({ name, compare }).toEqual({ name, compare: 'gap' });
  });

  test('no limit on hop indexes, fall-out height, the knee ratio or grip', () => {
    const judged = protocol.rules.map(({ measure }) => measure.name);
    expect(judged.filter((name) => /hop|fall_out|knee_strength_ratio|grip|body_mass/.test(name))).toEqual([]);
  });

  test('a force without a unit stays held back', () => {
    expect(protocol.measures.filter(({ writtenIn }) => writtenIn !== undefined)).toEqual([]);
  });

  test('its head says who has to agree, before anything else', () => {
    const head = TEXT.slice(0, TEXT.indexOf('bilat: 1'));
    expect(head).toContain('CONFIRM WITH YOUR TEAM PHYSICIAN');
    expect(head).toContain('It does not diagnose, and an athlete without a finding is not cleared.');
    expect(head).toContain('Br J Sports Med 2016;50:776-780');
  });
});
