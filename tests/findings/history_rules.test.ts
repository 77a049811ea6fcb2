import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { flag } from '../../src/findings/flag.ts';
import { historyApplies, historyAppliesTo, previousInjury } from '../../src/findings/history_rules.ts';
import type { PastInjuries, PastInjury } from '../../src/outcomes/past.ts';
import type { Rule } from '../../src/protocol/types.ts';
import { parseIsoDay } from '../../src/units/days.ts';
import { SEEDED } from '../seeded.ts';
import { bookOf, measureOf, protocolOf, resultsOf } from './build.ts';

const TEST_DAY = parseIsoDay('2026-08-12')!;
const LONG_AGO = TEST_DAY - 400;
const hurt = (...injuries: Partial<PastInjury>[]): PastInjuries => ({
  of: (_, region, day) =>
    injuries
      .map((given) => ({ region: 'groin', side: 'left' as const, day: TEST_DAY - 100, ...given }))
      .filter((injury) => injury.region === region && (injury.day === null || injury.day < day)),
});
const rule = (history: Rule['history']): Rule =>
  protocolOf({ measures: [measureOf('force')], rules: [{ name: 'low', measure: 'force', history }] }).rules[0];
const SAME = rule({ region: 'groin', side: 'same' });
const ANY = rule({ region: 'groin', side: 'any' });
const RECENT = rule({ region: 'groin', side: 'same', withinDays: 365 });

describe('to whom a rule that is narrowed by history applies', () => {
  test('to somebody with an earlier injury of the region; without the key to everybody', () => {
    expect(historyApplies(SAME, hurt({}), 'A1', TEST_DAY)).toBe(true);
    expect(historyApplies(SAME, hurt({ region: 'knee' }), 'A1', TEST_DAY)).toBe(false);
    expect(historyApplies(rule(undefined), hurt(), 'A1', TEST_DAY)).toBe(true);
  });

  test.each([
    ['same', 'left', { side: 'left' }, true],
    ['same', 'right', { side: 'left' }, false],
    ['same', 'right', { side: 'both' }, true],
    ['same', 'right', { side: null }, true],
    ['same', 'none', { side: 'left' }, true],
    ['any', 'right', { side: 'left' }, true],
  ] as const)('side: %s, judged %s, hurt %o: %s', (side, judged, injury, applies) => {
    expect(historyAppliesTo(side === 'same' ? SAME : ANY, hurt(injury), 'A1', TEST_DAY, judged)).toBe(applies);
  });

  test('within_days counts back from the test day; an injury without a day may be as recent as any', () => {
    expect(historyAppliesTo(RECENT, hurt({ day: TEST_DAY - 365 }), 'A1', TEST_DAY, 'left')).toBe(true);
    expect(historyAppliesTo(RECENT, hurt({ day: TEST_DAY - 366 }), 'A1', TEST_DAY, 'left')).toBe(false);
    expect(historyAppliesTo(RECENT, hurt({ day: null }), 'A1', TEST_DAY, 'left')).toBe(true);
  });
});

test('one more earlier injury never takes a rule off a side, and a side is judged only where the athlete is', () => {
  const anyInjury = fc.record({
    region: fc.constantFrom('groin', 'knee'),
    side: fc.constantFrom('left', 'right', 'both', null),
    day: fc.constantFrom(TEST_DAY - 1, LONG_AGO, TEST_DAY, null),
  });
  fc.assert(
    fc.property(
      fc.array(anyInjury, { maxLength: 4 }),
      anyInjury,
      fc.constantFrom(SAME, ANY, RECENT),
      fc.constantFrom('left', 'right', 'both', 'none'),
      (injuries, more, narrowed, side) => {
        const before = historyAppliesTo(narrowed, hurt(...injuries), 'A1', TEST_DAY, side);
        const past = hurt(...injuries, more);
        const after = historyAppliesTo(narrowed, past, 'A1', TEST_DAY, side);
        if (before) expect(after).toBe(true);
        if (after) expect(historyApplies(narrowed, past, 'A1', TEST_DAY)).toBe(true);
      },
    ),
    SEEDED,
  );
});

test('of several earlier injuries the most telling is named', () => {
  const of = (side: 'left' | 'none', ...injuries: Partial<PastInjury>[]) =>
    previousInjury('groin', hurt(...injuries), 'A1', TEST_DAY, side);
  expect(of('left', { side: 'right' }, { side: null }, { side: 'left' })).toBe('same_side');
  expect(of('left', { side: 'right' }, { side: null })).toBe('side_unknown');
  expect(of('left', { side: 'right', day: LONG_AGO })).toBe('other_side');
  expect(of('left', { side: 'both' })).toBe('same_side');
  expect(of('none', { side: 'left' })).toBe('side_unknown');
  expect(of('left')).toBeNull();
  expect(previousInjury(undefined, hurt({}), 'A1', TEST_DAY, 'left')).toBeNull();
});

test('flag leaves out the side that was never hurt, and names what was', () => {
  const protocol = protocolOf({
    measures: [measureOf('force')],
    rules: [
      { name: 'low_again', measure: 'force', comparator: 'below', limit: 120, region: 'groin', history: SAME.history },
      { name: 'low', measure: 'force', comparator: 'below', limit: 120, region: 'groin' },
      { name: 'weak', measure: 'force', comparator: 'below', limit: 120 },
    ],
  });
  const results = resultsOf([{ measure: 'force', left: 100, right: 110, marks: 0 }]);
  const findings = flag(results, bookOf({}), protocol, hurt({}));
  const told = [...findings.rows()].map((row) => [row.rule, row.side, row.previous_injury]);
  expect(told).toEqual([
    ['low_again', 'left', 'same_side'],
    ['low', 'left', 'same_side'],
    ['low', 'right', 'other_side'],
    ['weak', 'left', null],
    ['weak', 'right', null],
  ]);
  expect([...flag(results, bookOf({}), protocol).rows()].map((row) => row.rule)).not.toContain('low_again');
});
