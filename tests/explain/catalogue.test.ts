import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { topicText } from '../../src/cli/render/explain.ts';
import { asked } from '../../src/explain/asked.ts';
import { catalogue } from '../../src/explain/catalogue.ts';
import { findTopics, nearestNames } from '../../src/explain/find.ts';
import type { TopicKind } from '../../src/explain/topic.ts';
import { IGNORED_REASONS } from '../../src/problems/ignored.ts';
import { REJECTS } from '../../src/problems/rejects.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import { STARTER_PROTOCOL } from '../../src/protocol/starter.ts';
import {
  ATHLETES,
  CERTAINTIES,
  COHORT,
  COVERAGE,
  COVERAGE_STATES,
  DECISIONS,
  FINDINGS,
  GRADES,
  IGNORED,
  LEDGER,
  OBSERVATIONS,
  PLAN,
  PLAN_SCOPES,
  RECHECK,
  RECHECK_KINDS,
  REJECTS as REJECTS_TABLE,
  RESULT_STATUSES,
  RESULTS,
} from '../../src/tables/schemas.ts';
import { ROOT, read } from '../cases/bilat.ts';

const SHORTEST = 30;
const PROTOCOLS = {
  starter: loadProtocol(STARTER_PROTOCOL, 'protocol.yaml'),
  example: loadProtocol(read(path.join(ROOT, 'examples/college/protocol.yaml')), 'protocol.yaml'),
};
const SCHEMAS = [
  OBSERVATIONS,
  ATHLETES,
  REJECTS_TABLE,
  IGNORED,
  LEDGER,
  RESULTS,
  FINDINGS,
  RECHECK,
  COHORT,
  PLAN,
  COVERAGE,
];
const COLUMNS = new Set(
  SCHEMAS.flatMap((schema) => schema.filter((column) => !('internal' in column)).map((column) => column.name)),
);

describe.each(Object.entries(PROTOCOLS))('with the %s protocol', (_, protocol) => {
  const topics = catalogue(protocol);
  const known = new Map<string, TopicKind>([
    ...protocol.measures.map(({ name }) => [name, 'measure'] as const),
    ...protocol.compounds.map(({ name }) => [name, 'measure'] as const),
    ...protocol.rules.map(({ name }) => [name, 'rule'] as const),
    ...[...protocol.programmes.keys()].map((name) => [name, 'programme'] as const),
    ...protocol.sportGroups.map(({ name }) => [name, 'sport group'] as const),
  ]);
  const words: readonly (readonly [TopicKind, readonly string[]])[] = [
    ['column', [...COLUMNS, ...protocol.dominanceColumns]],
    ['status', RESULT_STATUSES],
    ['certainty', CERTAINTIES],
    ['grade', GRADES],
    ['decision', DECISIONS],
    ['plan scope', PLAN_SCOPES],
    ['coverage state', COVERAGE_STATES],
    ['recheck kind', RECHECK_KINDS],
    ['reject code', Object.keys(REJECTS)],
    ['ignored reason', Object.keys(IGNORED_REASONS)],
  ];

  test('every measure, compound, rule, programme and sport group is explained', () => {
    expect(known.size).toBeGreaterThan(40);
    for (const [name, kind] of known) {
      const [topic] = findTopics(name, topics, kind);
      expect(topic?.definition.length, `${kind} ${name}`).toBeGreaterThanOrEqual(SHORTEST);
      if (kind !== 'sport group') expect(topic.where, name).toMatch(/^The protocol, under /);
      expect(topic.caution?.length, `${kind} ${name}`).toBeGreaterThanOrEqual(SHORTEST);
    }
  });

  test('every rule has source, strength of evidence and formula', () => {
    for (const { name } of protocol.rules) {
      const [{ source, formula }] = findTopics(name, topics, 'rule');
      expect(source, name).toMatch(/\. Evidence: .+\.$/);
      expect(formula, name).toMatch(/ (<|<=|>|>=|status) /);
    }
  });

  test.each(words)('every %s is explained', (kind, names) => {
    const thin = names.filter((name) => !(findTopics(name, topics, kind)[0]?.definition.length >= SHORTEST));
    expect(thin).toEqual([]);
  });

  test('no two topics of a kind share a name, and what "see also" names can be explained', () => {
    const keys = topics.map(({ kind, name }) => `${kind} ${name}`);
    expect(keys.filter((key, at) => keys.indexOf(key) < at)).toEqual([]);
    for (const { name, see } of topics) {
      for (const other of see ?? []) expect(findTopics(other, topics), `${name} sees ${other}`).not.toEqual([]);
    }
  });

  test('no line is wider than 80 columns, and none is empty', () => {
    const wrong = topics.flatMap((topic) =>
      topicText(topic, { width: 80, color: false })
        .trimEnd()
        .split('\n')
        .filter((line) => line.length > 80 || line.trim() === ''),
    );
    expect(wrong).toEqual([]);
  });

  test('texts are plain sentences on one line', () => {
    for (const { name, title, definition, caution } of topics) {
      for (const text of [title, definition, caution ?? '']) expect(text, name).not.toMatch(/\n|undefined|NaN| {2}/);
      expect(definition, name).toMatch(/[.?!)]$/);
    }
  });
});

test('without a protocol everything else is explained', () => {
  const topics = catalogue(undefined);
  const kinds = new Set(topics.map(({ kind }) => kind));
  for (const kind of ['measure', 'rule', 'programme', 'sport group'] as const) expect(kinds).not.toContain(kind);
  for (const kind of ['table', 'column', 'status', 'certainty', 'grade', 'reject code'] as const) {
    expect(kinds).toContain(kind);
  }
});

describe('near misses', () => {
  const topics = catalogue(PROTOCOLS.starter);

  test.each([
    ['adductor_ration', 'adductor_ratio'],
    ['deficit_pc', 'deficit_pct'],
    ['within_eror', 'within_error'],
    ['unit unknwon', 'unit_unknown'],
    ['few trails', 'few_trials'],
    ['symmetry anlge', 'symmetry_angle'],
  ])('%s: %s', (name, near) => expect(nearestNames(name, topics)[0]).toBe(near));

  test.each([
    ['within error', 'certainty', 'within_error'],
    ['pain left', 'status', 'pain_left'],
    ['Hip adduction strength', 'measure', 'hip_adduction'],
  ])('%s is %s %s', (line, kind, name) => {
    const { topics: found, unknown } = asked(line.split(' '), topics);
    expect(unknown).toEqual([]);
    expect(found).toContainEqual(expect.objectContaining({ kind, name }));
  });

  test.each(['deficit', 'ICC'])('%s is explained, or leads on', (name) => {
    const found = [...findTopics(name, topics).map((topic) => topic.name), ...nearestNames(name, topics)];
    expect(found).toContain(name === 'ICC' ? 'icc_2_1' : 'deficit_pct');
  });
});
