import { describe, expect, test } from 'vitest';
import { asked } from '../../src/explain/asked.ts';
import { catalogue } from '../../src/explain/catalogue.ts';
import { findTopics, nearestNames } from '../../src/explain/find.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import { STARTER_PROTOCOL } from '../../src/protocol/starter.ts';

const TOPICS = catalogue(loadProtocol(STARTER_PROTOCOL, 'protocol.yaml'));

describe('what staff ask', () => {
  test.each([
    ['asymmetry', 'asymmetry'],
    ['symmetry', 'asymmetry'],
    ['imbalance', 'asymmetry'],
    ['why', 'why'],
    ['held back', 'held back'],
    ['hold', 'hold'],
    ['medical hold', 'held'],
    ['held', 'held'],
    ['shared', 'shared'],
    ['everybody', 'everybody'],
    ['not read', 'not read'],
    ['NT', 'not_tested'],
    ['DNT', 'not_tested'],
    ['DNF', 'unable'],
    ['INJ', 'held'],
    ['WNL', 'normal'],
    ['normal', 'normal'],
    ['ppe', 'PPE'],
    ['physical', 'PPE'],
    ['referral', 'referral'],
    ['dominant', 'dominant side'],
    ['ND', 'dominant side'],
    ['pounds', 'lbf'],
    ['kilograms', 'kgf'],
    ['hop test', 'hop test'],
    ['return to play', 'return'],
    ['return to sport', 'return'],
    ['squeeze', 'squeeze'],
    ['compound', 'compounds'],
    ['range of motion', 'range of motion'],
    ['ROM', 'range of motion'],
    ['strength', 'strength'],
    ['ratio', 'ratio'],
    ['groin', 'groin'],
    ['warm-up', 'warm-up'],
    ['flagged', 'flagged'],
    ['beyond', 'beyond'],
    ['limit', 'limit'],
    ['threshold', 'limit'],
    ['cutoff', 'cutoff'],
    ['cut-off', 'cutoff'],
    ['risk', 'risk'],
    ['clinician', 'clinician'],
    ['physician', 'clinician'],
    ['dynamometer', 'dynamometer'],
    ['goniometer', 'goniometer'],
    ['make-up', 'makeup'],
    ['retest', 'retest'],
    ['transfer', 'transfer'],
    ['multi-sport athlete', 'multi-sport athlete'],
    ['GIRD', 'GIRD'],
    ['Excel', 'CSV'],
    ['time loss', 'days_lost'],
    ['p-value', 'fisher_p'],
    ['L', 'left'],
    ['who is missing', 'make-up list'],
    ['who must be called', 'make-up list'],
    ['Who must be called back?', 'make-up list'],
    ['who still lacks what', 'make-up list'],
    ['make-up list', 'make-up list'],
    ['what does the whole team do', 'shared work'],
    ['shared programme', 'shared work'],
    ['what is priority', 'priority'],
    ['what does priority mean', 'priority'],
    ['who comes first', 'priority'],
    ['why is nobody flagged', 'nobody flagged'],
    ['no findings', 'nobody flagged'],
    ['what is held', 'held'],
    ['who is not cleared', 'availability'],
    ['who must be seen today', 'referral'],
    ['how urgent', 'urgency'],
    ['now', 'now'],
    ['before training', 'before_training'],
    ['same side', 'same_side'],
    ['left out', 'left_out'],
    ['left-out', 'left_out'],
    ['repeat', 'repeat'],
    ['whose retest is due', 'retests due'],
    ['who does what', 'work list'],
    ['what must happen today', 'work list'],
    ['coach', 'coach'],
    ['what may a coach see', 'audience'],
    ['privacy', 'audience'],
    ['outlier', 'outlier'],
    ['typo', 'entry error'],
    ['wrong unit', 'unit_slip'],
    ['by chance', 'expected by chance'],
    ['relative risk', 'relative risk'],
    ['RR', 'relative risk'],
    ['bounds', 'bounds'],
    ['clustered', 'clustered interval'],
    ['blank form', 'blank sheet'],
    ['today', 'looked at from'],
  ])('%s leads to %s', (line, name) => {
    const { topics, unknown } = asked(line.split(' '), TOPICS);
    expect(unknown).toEqual([]);
    expect(topics.map((topic) => topic.name)).toContain(name);
  });

  test('held, shared and refer are told for each thing they are', () => {
    const kinds = (name: string) => findTopics(name, TOPICS).map(({ kind }) => kind);
    expect(kinds('held')).toEqual(['status', 'coverage state', 'availability']);
    expect(kinds('shared')).toEqual(['decision', 'plan scope']);
    expect(kinds('refer')).toEqual(['grade', 'plan scope']);
    expect(kinds('limited')).toEqual(['clearance status', 'availability']);
    expect(kinds('strength')).toEqual(['audience', 'word']);
  });

  test('hold leads on to held, and to where it is written down', () => {
    const [topic] = findTopics('hold', TOPICS);
    expect(topic.kind).toBe('plan scope');
    expect(topic.see).toEqual(expect.arrayContaining(['held', 'clearance']));
  });

  test('a question in quotes is taken word by word, and its little words say nothing', () => {
    const names = (line: string) => asked([line], TOPICS).topics.map(({ name }) => name);
    expect(names('What is priority?')).toEqual(['priority']);
    expect(names('who is missing')).toEqual(['make-up list']);
    expect(names('why is nobody flagged')).toEqual(['nobody flagged']);
    expect(asked(['What is priority?'], TOPICS).unknown).toEqual([]);
  });

  test('little words alone are no question, and words that are not known are told all the same', () => {
    expect(asked(['what', 'is'], TOPICS)).toMatchObject({ topics: [], unknown: [{ name: 'what' }, { name: 'is' }] });
    const unknown = [{ name: 'kilimanjaro', near: [] }];
    expect(asked(['what is kilimanjaro'], TOPICS)).toEqual({ topics: [], kinds: [], unknown });
    expect(asked(['priority', 'kilimanjaro'], TOPICS).unknown).toEqual([{ name: 'kilimanjaro', near: [] }]);
  });

  test('a squeeze is not in the starter, and the text says so', () => {
    const [topic] = findTopics('squeeze', TOPICS);
    expect(topic.definition).toContain('The starter does not have it');
    expect(findTopics('squeeze', TOPICS, 'measure')).toEqual([]);
  });

  test('NA and N/A are told apart', () => {
    expect(findTopics('NA', TOPICS).map(({ name }) => name)).toEqual(['not_tested', 'not_applicable']);
  });
});

describe('an abbreviation that is not known', () => {
  test.each(['foo', 'xy', 'qq', 'to', 'not', 'zz9', 'q', 'how to', 'vvv'])('%s is near to nothing', (name) => {
    expect(nearestNames(name, TOPICS)).toEqual([]);
  });

  test('is near to one of the same length and one letter', () => {
    expect(nearestNames('mdx', TOPICS)).toEqual(['mdc']);
    expect(nearestNames('icx', TOPICS)).toContain('intraclass correlation');
  });

  test('is found as a whole word of longer names', () => {
    expect(nearestNames('red', TOPICS)).not.toContain('youden_reduced');
    expect(nearestNames('red', TOPICS)[0]).toBe('flagged');
  });
});

test('a plural or a slip of more letters still leads on', () => {
  expect(nearestNames('dynamometr', TOPICS)[0]).toBe('dynamometer');
  expect(nearestNames('asymetry', TOPICS)[0]).toBe('asymmetry');
  // Two letters that changed places are one slip, two others in a short word are none of it.
  expect(nearestNames('gorin', TOPICS)[0]).toBe('groin');
  expect(nearestNames('weak', TOPICS)).not.toContain('team');
  expect(nearestNames('time', TOPICS)).not.toContain('side');
});

describe('a quotient', () => {
  const caution = (name: string) => findTopics(name, TOPICS, 'measure')[0].caution;

  test('of two tests wants one method', () => expect(caution('adductor_ratio')).toContain('same method'));

  test.each([
    ['adduction_per_kg', 'body_mass'],
    ['hop_by_height', 'height'],
  ])('%s is as right as %s', (name, divisor) => {
    expect(caution(name)).toContain(`It is as right as ${divisor}:`);
    expect(caution(name)).not.toContain('same method');
  });
});
