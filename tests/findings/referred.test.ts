import { describe, expect, test } from 'vitest';
import { desk } from '../../src/athletes/desk.ts';
import { flag } from '../../src/findings/flag.ts';
import { referralStates } from '../../src/findings/referred.ts';
import { urgencyOf } from '../../src/findings/urgency.ts';
import { MARK } from '../../src/tables/schemas.ts';
import { parseIsoDay } from '../../src/units/days.ts';
import { parseUnit } from '../../src/units/unit.ts';
import { measureOf, NOBODY, protocolOf, resultsOf } from './build.ts';

const PRESSURE = measureOf('systolic', { sides: 'none', unit: parseUnit('mm[Hg]')! });
const PROTOCOL = protocolOf({
  measures: [PRESSURE, measureOf('force')],
  rules: [
    { name: 'high', measure: 'systolic', comparator: 'at_least', limit: 140, grade: 'refer' },
    { name: 'higher', measure: 'systolic', comparator: 'at_least', limit: 160, grade: 'refer' },
    { name: 'highest', measure: 'systolic', comparator: 'above', limit: 180, grade: 'refer', urgency: 'now' },
    { name: 'weak', measure: 'force', comparator: 'below', limit: 50, grade: 'refer' },
    { name: 'sore', measure: 'force', status: 'pain', grade: 'refer' },
  ],
});

/** States of the referrals of a pressure on 2026-08-12, by rule; one referral is written and closed. */
function states(value: number, closedRule: string, protocol = PROTOCOL): (string | undefined)[] {
  const results = resultsOf([{ measure: 'systolic', value, marks: 0 }]);
  const findings = flag(results, NOBODY, protocol);
  const day = parseIsoDay('2026-08-12')!;
  const referral = { line: 2, athleteId: 'A1', day, rule: closedRule, seenOn: day, outcome: '', closedOn: day + 1 };
  const found = referralStates(findings, desk({ clearance: [], referrals: [referral], work: [] }, day + 5));
  return [...findings.rows()].map(({ rule }, row) => `${rule} ${found[row]?.state ?? 'not referred'}`);
}

describe('a referral that is closed', () => {
  test('closes the milder limits on the same number too', () => {
    expect(states(164, 'higher')).toEqual(['high closed', 'higher closed']);
  });

  test('does not settle what the athlete is sent again for', () => {
    const findings = flag(resultsOf([{ measure: 'systolic', value: 164, marks: 0 }]), NOBODY, PROTOCOL);
    const day = parseIsoDay('2026-08-12')!;
    const row = { line: 2, athleteId: 'A1', seenOn: day, outcome: '' };
    const referrals = [
      { ...row, day, rule: 'higher', closedOn: day + 1 },
      { ...row, day: day + 2, rule: 'high', closedOn: null },
    ];
    const found = referralStates(findings, desk({ clearance: [], referrals, work: [] }, day + 5));
    expect(found.map((state) => state?.state)).toEqual(['open', 'closed']);
  });

  test('never closes a stricter one', () => {
    expect(states(164, 'high')).toEqual(['high closed', 'higher not referred']);
    expect(states(190, 'higher')).toEqual(['high closed', 'higher closed', 'highest not referred']);
  });

  test('for too much says nothing of too little', () => {
    const protocol = protocolOf({
      measures: [PRESSURE],
      rules: [
        { name: 'too_high', measure: 'systolic', comparator: 'above', limit: 90, grade: 'refer' },
        { name: 'too_low', measure: 'systolic', comparator: 'below', limit: 120, grade: 'refer' },
      ],
    });
    // 100 is 10 above 90 and 20 below 120.
    expect(states(100, 'too_high', protocol)).toEqual(['too_high closed', 'too_low not referred']);
  });
});

/** Pain at the pressure and at force; so many referrals of pain are closed the day after. */
function painStates(closed: number, given: Partial<{ last_day: string }> = {}): string[] {
  const rows = [
    { measure: 'systolic', value: 120, marks: MARK.painOther },
    { measure: 'force', left: 60, right: 60, marks: MARK.painLeft, ...given },
  ];
  const findings = flag(resultsOf(rows), NOBODY, { ...PROTOCOL, rules: [] });
  const day = parseIsoDay('2026-08-12')!;
  const referral = { line: 2, athleteId: 'A1', day, rule: 'pain', seenOn: day, outcome: '', closedOn: day + 1 };
  const referrals = Array.from({ length: closed }, () => referral);
  const found = referralStates(findings, desk({ clearance: [], referrals, work: [] }, day + 20));
  return [...findings.rows()].map(({ measure }, row) => `${measure} ${found[row]?.state ?? 'not referred'}`);
}

describe('pain at several measures', () => {
  test('is closed only by as many referrals: none of them says which it speaks of', () => {
    expect(painStates(0)).toEqual(['systolic not referred', 'force not referred']);
    expect(painStates(1)).toEqual(['systolic open', 'force open']);
    expect(painStates(2)).toEqual(['systolic closed', 'force closed']);
  });

  test('that was read on a later day of the occasion is not closed by what was closed before', () => {
    expect(painStates(2, { last_day: '2026-08-19' })).toEqual(['systolic closed', 'force open']);
  });
});

test('findings of other grades are no referrals', () => {
  const act = protocolOf({
    measures: [PRESSURE],
    rules: [{ name: 'high', measure: 'systolic', comparator: 'at_least', limit: 140, grade: 'act' }],
  });
  const findings = flag(resultsOf([{ measure: 'systolic', value: 164, marks: 0 }]), NOBODY, act);
  expect(referralStates(findings, desk({ clearance: [], referrals: [], work: [] }, 0))).toEqual([undefined]);
});

test.each([
  ['highest', 'systolic', 'now'],
  ['high', 'systolic', 'before_training'],
  ['pain', 'systolic', 'now'],
  ['pain', 'force', 'before_training'],
  ['sore', 'force', 'before_training'],
  ['weak', 'force', 'routine'],
])('%s of %s: %s', (rule, measure, urgency) => {
  expect(urgencyOf(rule, PROTOCOL.byName.get(measure)!, PROTOCOL)).toBe(urgency);
});
