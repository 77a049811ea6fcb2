import { describe, expect, test } from 'vitest';
import { flag } from '../../src/findings/flag.ts';
import { bookOf, measureOf, NOBODY, type ProtocolGiven, protocolOf, type RuleGiven, resultsOf } from './build.ts';

const MEASURES = [measureOf('jump', { sides: 'none' }), measureOf('mass', { sides: 'none' })];
const GROUPS: ProtocolGiven['sportGroups'] = [
  { name: 'landing', label: 'Landing', teams: ['Volleyball', 'Basketball'], measures: ['jump'] },
  { name: 'power', label: 'Power', teams: ['Rowing', 'Volleyball'], measures: ['jump', 'mass'] },
];
const LOW: RuleGiven = { name: 'jump_low', measure: 'jump', comparator: 'below', limit: 30 };

function judge(protocol: Omit<ProtocolGiven, 'measures'>, athlete: { team?: string; sex?: string }) {
  const results = resultsOf([{ measure: 'jump', team: null, value: 20 }]);
  const findings = flag(results, bookOf({ A1: athlete }), protocolOf({ measures: MEASURES, ...protocol }));
  return [...findings.rows()].map(({ rule, sport_group }) => `${rule} by ${sport_group}`);
}

describe('a rule applies', () => {
  test.each([
    ['Volleyball', ['jump_low by landing;power']],
    ['Basketball', ['jump_low by landing']],
    ['Rowing', ['jump_low by power']],
    ['Fencing;Rowing', ['jump_low by power']],
    ['Fencing', []],
    [undefined, []],
    [' volleyball ', ['jump_low by landing;power']],
  ])('to a team of a sport group that is given its measure: %s', (team, expected) => {
    expect(judge({ rules: [LOW], sportGroups: GROUPS }, { team })).toEqual(expected);
  });

  test('to everybody if its measure is for everyone', () => {
    expect(judge({ rules: [LOW], sportGroups: GROUPS, everyone: ['jump'] }, {})).toEqual(['jump_low by null']);
  });

  test('to nobody if only another measure is for everyone', () => {
    expect(judge({ rules: [LOW], everyone: ['mass'] }, {})).toEqual([]);
  });

  test('to everybody in a protocol without sport groups and without measures for everyone', () => {
    expect(judge({ rules: [LOW] }, { team: 'Fencing' })).toEqual(['jump_low by null']);
  });

  test('by the team of the sheet to an athlete whom nobody listed', () => {
    const protocol = protocolOf({ measures: MEASURES, rules: [LOW], sportGroups: GROUPS });
    const results = resultsOf([
      { athlete_id: 'X9', measure: 'jump', team: 'Rowing', value: 20 },
      { athlete_id: 'X9', measure: 'jump', team: 'Fencing', value: 20, date: '2026-09-30' },
    ]);
    expect(flag(results, NOBODY, protocol).length).toBe(1);
  });
});

describe('a narrowed rule', () => {
  test.each([
    [{ sex: 'F' }, { sex: 'F' }, true],
    [{ sex: 'F' }, { sex: 'f' }, true],
    [{ sex: 'F' }, { sex: 'M' }, false],
    [{ sex: 'F' }, {}, false],
    [{ teams: ['rowing'] }, { team: 'Fencing;Rowing' }, true],
    [{ teams: ['Rowing'] }, { team: 'Fencing' }, false],
    [{ teams: ['Rowing'] }, {}, false],
    [{ sportGroups: ['power'] }, { team: 'Rowing' }, true],
    [{ sportGroups: ['power'] }, { team: 'Basketball' }, false],
    [{ sportGroups: ['power'], sex: 'F' }, { team: 'Rowing', sex: 'M' }, false],
  ] as const)('%o judges %o: %s', (narrowing, athlete, judged) => {
    const given = { rules: [{ ...LOW, ...narrowing }], sportGroups: GROUPS, everyone: ['jump'] };
    expect(judge(given, athlete).length).toBe(judged ? 1 : 0);
  });
});
