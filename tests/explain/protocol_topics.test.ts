import { describe, expect, test } from 'vitest';
import { formulaOf } from '../../src/explain/formulas.ts';
import { groupTopics } from '../../src/explain/group_topics.ts';
import { errorAtLimit, generalError } from '../../src/explain/measure_error.ts';
import { measureTopics } from '../../src/explain/measure_topics.ts';
import { ruleTopics } from '../../src/explain/rule_topics.ts';
import { dominanceTopics } from '../../src/explain/table_topics.ts';
import { loadProtocol } from '../../src/protocol/load.ts';

const PROTOCOL = loadProtocol(
  `bilat: 1
name: Small battery
measures:
  height: { label: Height, unit: cm, sides: none, plausible: [120, 240] }
  mass: { label: Body mass, unit: kg, sides: none, error: { sem: 0.5, basis: trials } }
  pressure: { label: Systolic pressure, unit: "mm[Hg]", sides: none, better: lower, trials: { keep: mean } }
  push:
    label: Push strength
    unit: N
    sides: each
    dominance: throwing_hand
    trials: { keep: best, expect: 2, spread_pct: 15 }
    plausible: [10, 1000]
    plausible_both: [20, 2000]
    error: { sem_pct: 6, basis: occasions, source: "J Test 2001;1:1-2" }
    headings: [push, shove]
  pull: { label: Pull strength, unit: N, sides: each, error: { mdc_pct: 13.859, basis: occasions } }
  reach: { label: Reach, unit: cm, sides: each, compare: gap, better: between, error: { mdc: 1.9, level: 95, basis: testers } }
  stretch: { label: Stretch, unit: cm, sides: each, compare: gap, error: { sem: 3, basis: occasions } }
  faults: { label: "Squat, faults", unit: "1", sides: each, better: lower, levels: [0, 1, 2, 3] }
  bends: { label: Bends, unit: "1", sides: none }
derived:
  quotient: { label: Push to pull ratio, ratio: [push, pull] }
  push_per_kg: { label: Push per mass, per: [push, mass] }
  push_share: { label: Push of pull, percent_of: [push, pull] }
  apart: { label: Difference, difference: [push, pull] }
  whole: { label: Whole, sum: [reach, stretch] }
  middle: { label: Middle, mean: [reach, stretch], better: higher }
  middle_share: { label: Middle by height, mean: [reach, stretch], as_percent_of: height, better: higher }
  all_faults: { label: All faults, total: [faults, bends], side: worse, needs: 1 }
  standing: { label: Standing, z_mean: [push, faults], within: [sex], min_group: 12 }
compounds:
  pair: { headings: [pair], parts: [height, mass], between: "/" }
rules:
  quotient_low: { measure: quotient, below: 0.8, grade: act, region: groin, share: yes, programme: work, source: "J Test 2001;1:1-2", strength: one cohort of 47 men }
  push_uneven: { measure: push, field: deficit_pct, at_least: 10, grade: watch, region: groin }
  reach_uneven: { measure: reach, field: gap, at_least: 2, grade: watch }
  pressure_high: { measure: pressure, at_least: 140, of: any_trial, grade: refer, share: no }
  push_weak: { measure: push, field: worse, below: 100, grade: refer, sex: F, also: [push_uneven] }
  push_hurts: { measure: push, status: pain, grade: refer }
  faults_many: { measure: faults, at_least: 3, grade: watch }
  stretch_less: { measure: stretch, field: difference, at_most: -4, grade: watch }
  stretch_gone: { measure: stretch, field: difference, at_most: -20, grade: refer, urgency: now }
  stretch_again: { measure: stretch, field: gap, at_least: 3, grade: watch, sex: M, history: { region: thigh, within_days: 365 } }
  stretch_after: { measure: stretch, field: gap, at_least: 5, grade: watch, history: { region: thigh, side: any } }
sport_groups:
  arms: { label: Arms, teams: [Rowing, Handball], measures: [push, pull, quotient] }
everyone: [height, pressure]
programmes:
  work: { label: Work, owner: strength, shared: Together, individual: "Alone\\n  and slowly.", retest_days: 42 }
  doctor: { label: See a doctor, owner: medical, retest_days: 1, source: common practice }
`,
  'protocol.yaml',
);
const measure = (name: string) => PROTOCOL.byName.get(name)!;
const rule = (name: string) => PROTOCOL.rules.find((one) => one.name === name)!;
const measureTopic = (name: string) => measureTopics(PROTOCOL).find((topic) => topic.name === name)!;
const ruleTopic = (name: string) => ruleTopics(PROTOCOL).find((topic) => topic.name === name)!;

describe('formulas by operator', () => {
  test.each([
    ['push', undefined],
    ['quotient', 'quotient = push / pull, on each side'],
    ['push_per_kg', 'push_per_kg = push / mass, on each side'],
    ['push_share', 'push_share = 100 push / pull, on each side'],
    ['apart', 'apart = push - pull, on each side'],
    ['whole', 'whole = reach + stretch, on each side'],
    ['middle', 'middle = (reach + stretch) / 2, on each side'],
    ['middle_share', 'middle_share = 100 ((reach + stretch) / 2) / height, on each side'],
    ['all_faults', 'all_faults = worse side of faults + bends; at least 1 of 2 needed'],
    [
      'standing',
      'standing = mean of z(push), -z(faults); z(x) = (x - mean) / SD among athletes of the same sex of the same season, at least 12, on each side',
    ],
  ])('%s', (name, formula) => expect(formulaOf(measure(name))).toBe(formula));
});

describe('the error that needs no reading', () => {
  // By hand: 13.859 / (1.96 √2) = 5 %; 1.9 / (1.96 √2) = 0.6855 cm; √(6² + 5²) = 7.8102 %; √(0.6855² + 3²) = 3.0773 cm.
  test.each([
    ['height', undefined],
    ['mass', { amount: 0.5 }],
    ['push', { pct: 6 }],
    ['pull', { pct: 5 }],
    ['reach', { amount: 0.68546 }],
    ['quotient', { pct: 7.81025 }],
    ['push_share', { pct: 7.81025 }],
    ['whole', { amount: 3.07731 }],
    ['middle', { amount: 1.53866 }],
    // Percent with an amount, percent in a sum, a divisor without error: only a reading could tell.
    ['push_per_kg', undefined],
    ['apart', undefined],
    ['middle_share', undefined],
    ['all_faults', undefined],
    ['standing', undefined],
  ])('%s', (name, expected) => {
    const error = generalError(measure(name));
    if (expected === undefined) expect(error).toBeUndefined();
    else
      for (const [key, value] of Object.entries(expected)) expect(error).toHaveProperty(key, expect.closeTo(value, 4));
  });
});

describe('the error at a limit', () => {
  // By hand, z = 1.96: 0.8 · 7.81 % · z = 0.1225; (6 √2 · 0.9) % · z = 14.967 points, and 2Φ(−10.536/8.485) = 21.4 %;
  // √2 · 0.6855 · z = 1.9 cm, and 2Φ(−2/0.96938) = 3.91 %; 100 · 6 % · z = 11.76 N; √2 · 3 · z = 8.3154 cm.
  test.each([
    ['quotient_low', 0.12246, undefined],
    ['push_uneven', 14.9675, 0.2143],
    ['reach_uneven', 1.9, 0.0391],
    ['push_weak', 11.7598, undefined],
    ['stretch_less', 8.3154, undefined],
  ])('%s', (name, error, share) => {
    const found = errorAtLimit(rule(name))!;
    expect(found.error).toBeCloseTo(error, 3);
    if (share === undefined) expect(found.symmetricShare).toBeUndefined();
    else expect(found.symmetricShare).toBeCloseTo(share, 3);
  });

  test.each(['pressure_high', 'push_hurts', 'faults_many'])('%s has none', (name) => {
    expect(errorAtLimit(rule(name))).toBeUndefined();
  });
});

describe('a measure', () => {
  test('that is tested', () => {
    expect(measureTopic('push')).toEqual({
      name: 'push',
      kind: 'measure',
      title: 'Push strength',
      definition:
        'Tested with 2 attempts on each side, in N; the best is kept. Attempts that lie more than 15 % of their mean apart are marked wide_spread: repeat the test. Higher is better. The sides are compared in percent of the larger one. The roster column throwing_hand says which side is dominant. Readings outside 10 to 1000 N are held to be entry errors, and are not taken. For both limbs at once: 20 to 2000 N.',
      formula: undefined,
      unit: 'N',
      source: 'J Test 2001;1:1-2 (measurement error).',
      caution:
        "Measurement error between days: 95 of 100 readings lie within ±11.8 % of the reading of the athlete's usual one. A finding that is not further from its limit than that is within_error: repeat the test first.",
      where: 'The protocol, under measures. In the battery of arms.',
      see: ['push_uneven', 'push_weak', 'push_hurts', 'deficit_pct'],
      also: ['Push strength', 'push', 'shove'],
    });
  });

  test('that is worked out, with an error from its parts', () => {
    expect(measureTopic('quotient')).toMatchObject({
      definition:
        'Worked out from push and pull, for the left and for the right. Higher is better. The sides are compared in percent of the larger one.',
      formula: 'quotient = push / pull, on each side',
      unit: 'none: a plain number',
      source: undefined,
      see: ['push', 'pull', 'quotient_low', 'deficit_pct'],
    });
    expect(measureTopic('quotient').caution).toMatch(/^Measurement error, worked out from its parts: .* ±15\.3 % of/);
  });

  test.each([
    ['height', /^No measurement error is declared, so findings on it say error_unknown/],
    [
      'mass',
      /Measurement error between attempts of one day: .* ±0\.98 kg .*Between days the error is larger than that\.$/,
    ],
    ['reach', /Measurement error between testers: .* ±1\.34 cm of/],
    ['faults', /let one tester see all athletes of a team\. A score is not added to others\.$/],
    ['push_per_kg', /^Its measurement error depends on the readings, and stands beside each finding\./],
    ['middle_share', /^Its measurement error is not known, so findings on it say error_unknown/],
    ['all_faults', /^Its measurement error is not known.*A total hides its parts: read them first\./],
    ['standing', /It is an average of z, not a z: no percentile is read from it\./],
  ])('says how far to trust it: %s', (name, caution) => expect(measureTopic(name).caution).toMatch(caution));

  test.each([
    ['pressure', /^Tested with one attempt, in mmHg; of several their mean is kept\. Lower is better\.$/],
    ['reach', /Neither higher nor lower is better\. The sides are compared in its own unit, never in percent\.$/],
    ['faults', /A score can be 0, 1, 2 or 3\.$/],
  ])('says how it is tested: %s', (name, definition) => expect(measureTopic(name).definition).toMatch(definition));

  test.each([
    ['height', 'The protocol, under measures. In the battery of everyone. Also read from pair.'],
    ['whole', 'The protocol, under derived. In no battery of its own.'],
  ])('says where it stands: %s', (name, where) => expect(measureTopic(name).where).toBe(where));

  test('of two in one cell', () => {
    expect(measureTopic('pair')).toMatchObject({
      title: 'Height and body mass in one cell',
      see: ['height', 'mass'],
      where: 'The protocol, under compounds. Headings: pair.',
    });
  });
});

describe('a rule', () => {
  test('on a ratio', () => {
    expect(ruleTopic('quotient_low')).toEqual({
      name: 'quotient_low',
      kind: 'rule',
      title: 'Push to pull ratio, left or right, below 0.8',
      definition:
        'A finding if push to pull ratio, left or right, is below 0.8. Grade act: the athlete gets work for it. Within the measurement error the test is repeated first. It applies to sport group arms. Region: groin. Programme: work (Work), of the strength staff. A whole group may be given it.',
      formula: 'quotient = push / pull, on each side; quotient value < 0.8',
      unit: undefined,
      source: 'J Test 2001;1:1-2. Evidence: one cohort of 47 men.',
      caution:
        'A limit predicts little for one athlete: many who break it are never injured, and many who keep it are. At the limit the 95 % measurement error is ±0.122: nearer to the limit than that a finding is within_error.',
      where: 'The protocol, under rules; findings and cohort in the column rule.',
      see: ['quotient', 'work', 'act', 'certainty'],
    });
  });

  test.each([
    ['push_weak', 'routinely'],
    ['push_hurts', 'before training'],
    ['pressure_high', 'before training'],
    ['stretch_gone', 'now'],
  ])('%s says how soon medical staff see the athlete: %s', (name, soon) => {
    const { definition, see } = ruleTopic(name);
    expect(definition).toContain(`Grade refer: medical staff see the athlete ${soon}. Measurement error`);
    expect(see).toContain('urgency');
  });

  test.each([
    [
      'stretch_again',
      'as no battery holds its measure; only sex M and an earlier injury of the region thigh on the side that is judged, or on one that nobody wrote down, within 365 days.',
    ],
    ['stretch_after', 'as no battery holds its measure; only an earlier injury of the region thigh.'],
  ])('%s says whose earlier injury it asks for', (name, words) => {
    const { definition, see } = ruleTopic(name);
    expect(definition).toContain(words);
    expect(see).toContain('history');
    expect(ruleTopic('stretch_less').see).not.toContain('history');
  });

  test.each([
    ['push_uneven', 'The side-to-side deficit of push strength 10 % or more', 'push deficit_pct >= 10', '%'],
    ['reach_uneven', 'The side-to-side gap of reach 2 cm or more', 'reach gap >= 2', 'cm'],
    [
      'pressure_high',
      'The highest single attempt of systolic pressure 140 mmHg or more',
      'pressure value >= 140 (any single attempt)',
      'mmHg',
    ],
    ['push_weak', 'The worse side of push strength below 100 N', 'push worse < 100', 'N'],
    ['push_hurts', 'Push strength: pain', 'push status pain', undefined],
    ['faults_many', 'Squat, faults, left or right, 3 or more', 'faults value >= 3', undefined],
    ['stretch_less', 'Right minus left of stretch -4 cm or less', 'stretch difference <= -4', 'cm'],
  ])('%s: title, formula, unit', (name, title, formula, unit) => {
    expect(ruleTopic(name)).toMatchObject({ title, formula });
    expect(ruleTopic(name).unit).toBe(unit);
  });

  test.each([
    ['push_uneven', 'With this error about 21 % of athletes with two equal sides would read beyond it.'],
    ['reach_uneven', 'A limit says little about one athlete: one reading beyond it is a reason to look again'],
    ['reach_uneven', '±1.9 cm'],
    ['push_weak', 'nearer to the limit than that a finding is within_error, and is referred all the same.'],
    ['pressure_high', 'No measurement error is declared for what it judges, so its findings say error_unknown.'],
    ['push_hurts', 'It says where to look, and diagnoses nothing.'],
  ])('%s: caution', (name, caution) => expect(ruleTopic(name).caution).toContain(caution));

  test.each([
    ['push_weak', 'Only together with push_uneven.'],
    ['push_weak', 'It applies to sport group arms; only sex F.'],
    ['pressure_high', 'It applies to everyone.'],
    ['reach_uneven', 'It applies to nobody, as no battery holds its measure.'],
    ['push_hurts', 'A finding if any attempt at push strength was painful.'],
  ])('%s: %s', (name, words) => expect(ruleTopic(name).definition).toContain(words));

  test('without source or strength says so', () => {
    expect(ruleTopic('push_uneven').source).toBe(
      'None is given in the protocol. Evidence: the protocol does not say how strong it is.',
    );
  });
});

test('a programme', () => {
  const [work, doctor] = groupTopics(PROTOCOL);
  expect(work).toMatchObject({
    definition:
      'Prescribed by strength staff. For a whole group: Together. For one athlete: Alone and slowly. Tested again after 42 days.',
    source: 'None is given in the protocol.',
    see: ['quotient_low'],
  });
  expect(doctor).toMatchObject({
    definition: 'Prescribed by medical staff. The protocol does not say what it consists of. Tested again after 1 day.',
    source: 'common practice.',
    caution: 'It is what this protocol says, not medical advice: local rules and your team physician go first.',
    where: 'The protocol, under programmes; findings and plan in the column programme. No rule names it.',
  });
});

test('a sport group', () => {
  expect(groupTopics(PROTOCOL)[2]).toMatchObject({
    name: 'arms',
    kind: 'sport group',
    definition:
      'Teams: Rowing and Handball. Battery: push, pull and quotient. With it goes what everyone is given: height and pressure.',
    see: ['quotient_low', 'push_uneven', 'push_weak', 'push_hurts'],
  });
});

test('a column that says the dominant side', () => {
  expect(dominanceTopics(PROTOCOL)).toMatchObject([
    { name: 'throwing_hand', kind: 'column', definition: expect.stringContaining('It is asked for push.') },
  ]);
});
