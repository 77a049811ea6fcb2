import { expect, test } from 'vitest';
import * as z from 'zod';
import { loadProtocol } from '../../src/protocol/load.ts';
import { protocolSchema } from '../../src/protocol/schema.ts';
import type { Measure } from '../../src/protocol/types.ts';

const MEASURES = `bilat: 1
measures:
  adduction: {unit: N, sides: each, dominance: kicking_foot}
  abduction: {unit: kgf, sides: each, dominance: kicking_foot}
  turn_in: {unit: deg, sides: each, compare: gap}
  turn_out: {unit: deg, sides: each, compare: none}
  sway: {unit: cm, sides: each, better: lower, dominance: throwing_hand}
  faults: {unit: 1, sides: each, better: lower, levels: [0, 1, 2, 3]}
  height: {unit: cm, sides: none, better: between}
  body_mass: {unit: kg, sides: none}
  mass_index: {unit: kg/m2, sides: none}
  systolic: {unit: mmHg, sides: none}
  diastolic: {unit: "mm[Hg]", sides: none}
`;

function load(more: string) {
  return loadProtocol(MEASURES + more, 'protocol.yaml');
}

function derived(line: string): Measure {
  return load(`derived:\n  x: ${line}\n`).byName.get('x')!;
}

test('a protocol of one measure has every default of the contract', () => {
  const protocol = loadProtocol('bilat: 1\nmeasures:\n  grip_strength: {unit: N, sides: each}\n', 'protocol.yaml');
  const { measures, byName, programmes, ...others } = protocol;
  expect(others).toEqual({
    file: 'protocol.yaml',
    name: 'Protocol',
    compounds: [],
    rules: [],
    sportGroups: [],
    everyone: [],
    statuses: { pain: 'refer', unable: 'act', one_side: 'watch' },
    sharing: { fromShare: 0.33, minTested: 5, atMostProgrammes: 2 },
    dominanceColumns: [],
  });
  expect(programmes.size).toBe(0);
  expect(byName.get('grip_strength')).toBe(measures[0]);
  expect(measures[0]).toMatchObject({
    name: 'grip_strength',
    index: 0,
    label: 'grip strength',
    unit: { code: 'N' },
    sides: 'each',
    better: 'higher',
    compare: 'percent',
    trials: { keep: 'best', expect: 1 },
    errors: {},
    headings: [],
  });
  expect(measures[0].writtenIn).toBeUndefined();
});

test.each<[string, string, Partial<Measure>]>([
  [
    'better: between keeps the mean',
    '{unit: deg, sides: none, better: between}',
    { trials: { keep: 'mean', expect: 1 } },
  ],
  ['scores are compared by their gap', '{unit: 1, sides: each, levels: [0, 1, 2]}', { compare: 'gap' }],
  [
    'what is written stands',
    '{unit: s, sides: each, better: lower, compare: gap, trials: {keep: last, expect: 3, spread_pct: 10}, plausible: [1, 9], plausible_both: [2, 18]}',
    {
      better: 'lower',
      compare: 'gap',
      trials: { keep: 'last', expect: 3, spreadPct: 10 },
      plausible: [1, 9],
      plausibleBoth: [2, 18],
    },
  ],
  [
    'a measurement error is kept as declared',
    '{unit: N, sides: each, error: {mdc_pct: 18, level: 90, basis: occasions, n: 20, source: common practice}, errors: {deficit_pct: {sem: 4, basis: trials}}}',
    {
      error: { mdc_pct: 18, level: 90, basis: 'occasions', n: 20, source: 'common practice' },
      errors: { deficit_pct: { sem: 4, basis: 'trials' } },
    },
  ],
])('measure: %s', (_, line, expected) => {
  const protocol = loadProtocol(`bilat: 1\nmeasures:\n  x: ${line}\n`, 'protocol.yaml');
  expect(protocol.measures[0]).toMatchObject(expected);
});

test.each([
  ['lb', 'kg', '[lb_av]'],
  ['kg', 'kg', 'kg'],
  ['in', 'cm', '[in_i]'],
  ['ft', 'cm', '[ft_i]'],
  ['degrees', 'deg', 'deg'],
  ['mmHg', 'kPa', 'mm[Hg]'],
  ['lb', 'N', '[lbf_av]'],
  ['kg', 'N', 'kgf'],
  ['N', 'N', 'N'],
])('written_in: %s of a measure in %s is %s', (written, unit, code) => {
  const protocol = loadProtocol(
    `bilat: 1\nmeasures:\n  x: {unit: ${unit}, written_in: ${written}, sides: none}\n`,
    'protocol.yaml',
  );
  expect(protocol.measures[0].writtenIn).toBe(code);
});

test.each<[string, Partial<Measure>]>([
  [
    '{ratio: [adduction, abduction]}',
    { sides: 'each', compare: 'percent', better: 'higher', dominance: 'kicking_foot' },
  ],
  ['{difference: [adduction, abduction]}', { sides: 'each', compare: 'gap', dominance: 'kicking_foot' }],
  ['{per: [adduction, body_mass]}', { sides: 'each', compare: 'percent', dominance: 'kicking_foot' }],
  ['{percent_of: [sway, height]}', { sides: 'each', compare: 'percent', better: 'lower', dominance: 'throwing_hand' }],
  ['{percent_of: [height, sway]}', { sides: 'each', better: 'between' }],
  ['{sum: [adduction, abduction]}', { sides: 'each', compare: 'percent', better: 'higher' }],
  ['{sum: [turn_in, turn_out]}', { sides: 'each', compare: 'gap', dominance: undefined }],
  ['{mean: [turn_out, turn_out_again]}', { sides: 'each', compare: 'none' }],
  ['{mean: [sway, height]}', { sides: 'each', better: 'higher', compare: 'percent' }],
  ['{mean: [sway, height], as_percent_of: height}', { sides: 'each', compare: 'percent' }],
  [
    '{total: [faults, body_score], side: worse}',
    { sides: 'none', better: 'higher', compare: 'gap', dominance: undefined },
  ],
  [
    '{z_mean: [adduction, body_mass], within: [sex, kicking_foot]}',
    { sides: 'each', compare: 'gap', better: 'higher' },
  ],
  [
    '{sum: [adduction, abduction], label: Both hips, better: between, compare: none, dominance: throwing_hand}',
    { label: 'Both hips', better: 'between', compare: 'none', dominance: 'throwing_hand' },
  ],
])('derived measures have the defaults of their parts: %s', (line, expected) => {
  const more = `  turn_out_again: {unit: deg, sides: each, compare: none}\n  body_score: {unit: 1, sides: none}\n`;
  expect(load(`${more}derived:\n  x: ${line}\n`).byName.get('x')).toMatchObject(expected);
});

test.each([
  ['{ratio: [adduction, abduction]}', '1'],
  ['{difference: [adduction, abduction]}', 'N'],
  ['{sum: [abduction, adduction]}', 'kgf'],
  ['{sum: [abduction, adduction], unit: "[lbf_av]"}', '[lbf_av]'],
  ['{per: [adduction, body_mass]}', 'N/kg'],
  ['{per: [adduction, mass_index]}', 'N/kg.m2'],
  ['{percent_of: [sway, height]}', '%'],
  ['{mean: [sway, height]}', 'cm'],
  ['{mean: [sway, height], as_percent_of: height}', '%'],
  ['{total: [sway, height], side: both}', 'cm'],
  ['{z_mean: [adduction, body_mass], within: []}', '1'],
])('unit of %s is %s', (line, code) => {
  expect(derived(line).unit.code).toBe(code);
});

test('totals and mean z say how many parts they need', () => {
  const all = derived('{total: [sway, height], side: mean}').derivation;
  expect(all).toMatchObject({ operator: 'total', side: 'mean', needs: 2 });
  const some = derived('{total: [sway, height], side: mean, needs: 1}').derivation;
  expect(some).toMatchObject({ needs: 1 });
  const z = derived('{z_mean: [adduction, body_mass], within: [team], min_group: 12}').derivation;
  expect(z).toMatchObject({ operator: 'z_mean', within: ['team'], minGroup: 12, needs: 2 });
  // statistics, section 3: no group under ten is read
  expect(derived('{z_mean: [adduction, body_mass], within: []}').derivation).toMatchObject({ minGroup: 10 });
});

test('derived measures follow the measures in protocol order and may build on each other', () => {
  const { measures, byName } = load(
    'derived:\n  hips: {sum: [adduction, abduction]}\n  hips_per_kg: {per: [hips, body_mass]}\n',
  );
  expect(measures.map((measure) => measure.index)).toEqual(measures.map((_, at) => at));
  expect(measures.slice(-2).map((measure) => measure.name)).toEqual(['hips', 'hips_per_kg']);
  expect(byName.get('hips_per_kg')!.derivation!.parts[0]).toBe(byName.get('hips'));
});

test('a rule has its defaults', () => {
  const [rule] = load('rules:\n  weak: {measure: adduction, below: 100, grade: act}\n').rules;
  expect(rule).toMatchObject({ name: 'weak', index: 0, field: 'value', comparator: 'below', limit: 100 });
  expect(rule).toMatchObject({ of: 'kept', grade: 'act', also: [], share: true });
});

test.each([
  ['below: 1', true],
  ['field: worse, below: 1', true],
  ['field: deficit_pct, above: 1', false],
  ['field: gap, above: 1', false],
  ['field: difference, above: 1', false],
  ['field: direction_pct, above: 1', false],
  ['field: dominance_pct, above: 1', false],
  ['field: dominance_gap, above: 1', false],
  ['status: pain', false],
  ['field: status, status: unable', false],
  ['field: gap, above: 1, share: yes', true],
  ['field: gap, above: 1, share: true', true],
  ['below: 1, share: no', false],
  ['below: 1, share: false', false],
])('may a whole group be given what follows from "%s": %s', (said, share) => {
  expect(load(`rules:\n  r: {measure: adduction, ${said}, grade: act}\n`).rules[0].share).toBe(share);
});

test('a rule may be for athletes with an earlier injury, on the same side unless it says any', () => {
  const { rules } = load(`rules:
  again: {measure: height, below: 100, grade: act, history: {region: groin}}
  lately: {measure: height, below: 90, grade: act, history: {region: groin, side: any, within_days: 365}}
`);
  expect(rules.map(({ history }) => history)).toEqual([
    { region: 'groin', side: 'same', withinDays: undefined },
    { region: 'groin', side: 'any', withinDays: 365 },
  ]);
});

test('a referral may say how urgent it is', () => {
  const { rules } = load(`rules:
  soon: {measure: systolic, above: 180, grade: refer, urgency: now}
  high: {measure: systolic, above: 140, grade: refer}
`);
  expect(rules.map(({ urgency }) => urgency)).toEqual(['now', undefined]);
});

test('groups, programmes, compounds and everyone are loaded as written', () => {
  const protocol = load(`rules:
  weak:
    measure: adduction
    below: 100
    grade: act
    also: [weaker]
    sex: F
    teams: [Rowing]
    sport_groups: [groin]
    region: groin
    program: adductors
    source: "Am J Sports Med 2001;29:124-128"
    strength: one cohort, 8 injured of 47
  weaker: {measure: adduction, of: any_trial, at_most: 90, grade: watch}
sport_groups:
  groin: {label: Hip and groin, teams: [Fencing, Water polo], measures: [adduction]}
everyone: [height]
programs:
  adductors: {owner: strength, shared: together, individual: alone, retest_days: 42}
compounds:
  blood_pressure: {headings: [bp], parts: [systolic, diastolic]}
statuses: {pain: act}
sharing: {min_tested: 8, at_most_programs: 3}
`);
  expect(protocol.rules[0]).toMatchObject({
    also: ['weaker'],
    sex: 'F',
    teams: ['Rowing'],
    sportGroups: ['groin'],
    region: 'groin',
    programme: 'adductors',
    strength: 'one cohort, 8 injured of 47',
  });
  expect(protocol.rules[1]).toMatchObject({ of: 'any_trial', comparator: 'at_most', limit: 90 });
  expect(protocol.sportGroups).toEqual([
    { name: 'groin', label: 'Hip and groin', teams: ['Fencing', 'Water polo'], measures: ['adduction'] },
  ]);
  expect(protocol.everyone).toEqual(['height']);
  expect(protocol.programmes.get('adductors')).toMatchObject({ label: 'adductors', owner: 'strength', retestDays: 42 });
  expect(protocol.compounds[0]).toMatchObject({ name: 'blood_pressure', headings: ['bp'], between: '/' });
  expect(protocol.compounds[0].parts.map((part) => part.name)).toEqual(['systolic', 'diastolic']);
  expect(protocol.statuses).toEqual({ pain: 'act', unable: 'act', one_side: 'watch' });
  expect(protocol.sharing).toEqual({ fromShare: 0.33, minTested: 8, atMostProgrammes: 3 });
  expect(protocol.dominanceColumns).toEqual(['kicking_foot', 'throwing_hand']);
});

test('a section whose lines are all commented out is empty', () => {
  expect(load('derived:   # one operator each\n#  x: {ratio: [a, b]}\nrules:\n').rules).toEqual([]);
});

test('a measure may be called constructor', () => {
  const { byName } = loadProtocol('bilat: 1\nmeasures:\n  constructor: {unit: N, sides: each}\n', 'protocol.yaml');
  expect([...byName.keys()]).toEqual(['constructor']);
});

test('references to values named before are followed', () => {
  const text = 'bilat: 1\nmeasures:\n  a: &force {unit: N, sides: each}\n  b: *force\n';
  expect(loadProtocol(text, 'protocol.yaml').byName.get('b')).toMatchObject({ name: 'b', unit: { code: 'N' } });
});

test('the schema can be printed for editors', () => {
  const schema = z.toJSONSchema(protocolSchema, { io: 'input' });
  expect(schema.required).toEqual(['bilat', 'measures']);
});
