import { describe, expect, test } from 'vitest';
import { asked } from '../../src/explain/asked.ts';
import { findTopics, nearestNames } from '../../src/explain/find.ts';
import type { Topic, TopicKind } from '../../src/explain/topic.ts';

const topic = (kind: TopicKind, name: string, ...also: string[]): Topic => ({
  name,
  kind,
  title: name,
  definition: '',
  also,
});
const TOPICS: readonly Topic[] = [
  topic('measure', 'hip_adduction', 'Hip adduction strength', 'adductors'),
  topic('measure', 'grip', 'pain'),
  topic('rule', 'adductor_ratio_low'),
  topic('column', 'deficit_pct'),
  topic('column', 'share'),
  topic('column', 'rule'),
  topic('table', 'coverage'),
  topic('status', 'pain'),
  topic('status', 'pain_left'),
  topic('certainty', 'within_error'),
  topic('coverage state', 'pain'),
  topic('statistic', 'icc_1_1'),
  topic('statistic', 'icc_2_1'),
  topic('reject code', 'implausible'),
  topic('field', 'worse'),
  topic('verdict', 'worse'),
];
const shown = (topics: readonly Topic[]): string[] => topics.map(({ kind, name }) => `${kind} ${name}`);

describe('a name', () => {
  test.each([
    ['deficit_pct', ['column deficit_pct']],
    ['Deficit PCT', ['column deficit_pct']],
    ['deficit-pct', ['column deficit_pct']],
    ['deficitpct', ['column deficit_pct']],
    ['Within Error', ['certainty within_error']],
    ['worse', ['field worse', 'verdict worse']],
    ['hip adduction strength', ['measure hip_adduction']],
    ['ADDUCTORS', ['measure hip_adduction']],
    // Another spelling of grip, but a name of its own: the names win.
    ['pain', ['status pain', 'coverage state pain']],
    ['deficit', []],
    ['', []],
    ['___', []],
    ['x'.repeat(1e6), []],
  ])('%.30s', (name, expected) => expect(shown(findTopics(name, TOPICS))).toEqual(expected));

  test('is narrowed by a kind', () => {
    expect(shown(findTopics('worse', TOPICS, 'verdict'))).toEqual(['verdict worse']);
    expect(findTopics('worse', TOPICS, 'rule')).toEqual([]);
  });
});

describe('a near miss', () => {
  test.each([
    ['deficit', ['deficit_pct']],
    ['adductor_ration_low', ['adductor_ratio_low']],
    ['hip_aduction', ['hip_adduction']],
    ['ICC', ['icc_1_1', 'icc_2_1']],
    ['implausibel', ['implausible']],
    ['wihtin error', ['within_error']],
    ['strength', ['hip_adduction']],
    ['kilimanjaro', []],
    ['xq', []],
    ['', []],
    ['deficit'.repeat(1e5), []],
  ])('%.30s', (name, expected) => expect(nearestNames(name, TOPICS)).toEqual(expected));

  test('is sought within a kind', () => {
    expect(nearestNames('shar', TOPICS, 'rule')).toEqual([]);
    expect(nearestNames('shar', TOPICS, 'column')).toEqual(['share']);
  });

  test('names six at most', () => {
    const many = Array.from({ length: 20 }, (_, at) => topic('rule', `gap_${at}`));
    expect(nearestNames('gap', many)).toEqual(['gap_0', 'gap_1', 'gap_2', 'gap_3', 'gap_4', 'gap_5']);
  });
});

test('of those that hold the word, the one that says the least else comes first', () => {
  const rules = ['hip_adduction_deficit', 'grip_deficit', 'knee_deficit_large'].map((name) => topic('rule', name));
  expect(nearestNames('deficit', [...rules, ...TOPICS])).toEqual([
    'grip_deficit',
    'deficit_pct',
    'hip_adduction_deficit',
    'knee_deficit_large',
  ]);
});

test('a plural that is a word too asks for the word and for the list', () => {
  const rules = topic('word', 'rules');
  expect(asked(['rules'], [...TOPICS, rules])).toEqual({ topics: [rules], kinds: ['rule'], unknown: [] });
});

describe('words of a command line', () => {
  test.each<[string, string[]]>([
    ['grip', ['measure grip']],
    ['grip share grip', ['measure grip', 'column share']],
    ['within error', ['certainty within_error']],
    ['pain left', ['status pain_left']],
    ['pain', ['status pain', 'coverage state pain']],
    ['status pain', ['status pain']],
    ['coverage state pain share', ['coverage state pain', 'column share']],
    ['state pain', ['coverage state pain']],
    ['code implausible', ['reject code implausible']],
    ['rule adductor ratio low', ['rule adductor_ratio_low']],
    // rule is a kind and a column: before a name that is no rule it is the column.
    ['rule share', ['column rule', 'column share']],
    ['rule', ['column rule']],
  ])('%s', (line, expected) => {
    expect(asked(line.split(' '), TOPICS)).toMatchObject({ kinds: [], unknown: [] });
    expect(shown(asked(line.split(' '), TOPICS).topics)).toEqual(expected);
  });

  test.each([
    ['rules', ['rule']],
    ['measure', ['measure']],
    ['statuses certainties', ['status', 'certainty']],
    ['reject codes', ['reject code']],
    ['codes', ['reject code']],
    ['scopes', ['plan scope']],
    // `coverage` is a name too: the kind of two words is meant.
    ['coverage states', ['coverage state']],
    ['coverage state', ['coverage state']],
    ['plan scopes', ['plan scope']],
    ['availabilities', ['availability']],
    ['urgencies', ['urgency']],
    ['programs', ['programme']],
    ['sport groups', ['sport group']],
  ])('%s asks for a list', (line, kinds) => {
    expect(asked(line.split(' '), TOPICS)).toEqual({ topics: [], kinds, unknown: [] });
  });

  test.each([
    ['adductor ration low', [{ name: 'adductor ration low', near: ['adductor_ratio_low'] }]],
    ['kilimanjaro grip', [{ name: 'kilimanjaro', near: [] }]],
    [
      'shara implausibel',
      [
        { name: 'shara', near: ['share'] },
        { name: 'implausibel', near: ['implausible'] },
      ],
    ],
    ['column sharee', [{ name: 'sharee', kind: 'column', near: ['share'] }]],
    ['rule adductor_ratio_lov', [{ name: 'adductor_ratio_lov', kind: 'rule', near: ['adductor_ratio_low'] }]],
    // Nothing near of that kind: what is near of any.
    ['rule hip_aduction', [{ name: 'hip_aduction', kind: 'rule', near: ['hip_adduction'] }]],
  ])('%s is not known', (line, unknown) => {
    expect(asked(line.split(' '), TOPICS).unknown).toEqual(unknown);
  });
});
