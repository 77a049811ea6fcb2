import fc from 'fast-check';
import { expect, test } from 'vitest';
import { flag } from '../../src/findings/flag.ts';
import { FIELDS } from '../../src/protocol/types.ts';
import { bookOf, measureOf, protocolOf, type ResultGiven, type RuleGiven, resultsOf, sides } from './build.ts';

const MEASURES = [measureOf('hip'), measureOf('ankle', { better: 'between' }), measureOf('mass', { sides: 'none' })];
const ATHLETES = ['A1', 'A2', 'A3', 'A4'];
const BOOK = bookOf({
  A1: { team: 'Rowing', sex: 'F' },
  A2: { team: 'Fencing;Rowing' },
  A3: { team: 'Fencing', sex: 'M' },
});

const number = fc.integer({ min: 1, max: 12 });
const sometimes = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined, freq: 3 });
const row: fc.Arbitrary<ResultGiven> = fc
  .record({
    athlete_id: fc.constantFrom(...ATHLETES),
    date: fc.constantFrom('2026-08-12', '2026-10-01'),
    measure: fc.constantFrom('hip', 'ankle', 'mass'),
    left: sometimes(number),
    right: sometimes(number),
    value: sometimes(number),
    sem: sometimes(number),
    marks: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 63 })),
    status: fc.constantFrom(null, 'unequal_trials', 'refused'),
  })
  .map(({ left, right, value, sem, measure, ...rest }) => ({
    measure,
    ...rest,
    sem_left: sem,
    sem_right: sem,
    sem_value: sem,
    ...(measure === 'mass'
      ? { value }
      : left !== undefined && right !== undefined
        ? sides(left, right)
        : { left, right }),
  }));
/** At most one row of an athlete, day and measure, as in any table of results. */
const rows = fc.uniqueArray(row, {
  maxLength: 20,
  selector: ({ athlete_id, date, measure }) => `${athlete_id} ${date} ${measure}`,
});
const limits = FIELDS.filter((field) => !['z', 'change', 'status', 'value'].includes(field));
const rule: fc.Arbitrary<Omit<RuleGiven, 'name'>> = fc.oneof(
  fc.record({
    measure: fc.constantFrom('hip', 'ankle'),
    field: fc.constantFrom(...limits),
    comparator: fc.constantFrom('below', 'at_most', 'above', 'at_least'),
    limit: number,
    sex: sometimes(fc.constant('F')),
    also: fc.subarray(['rule0'], { minLength: 0 }),
  }),
  fc.record({
    measure: fc.constantFrom('hip', 'ankle', 'mass'),
    comparator: fc.constantFrom('below', 'at_most', 'above', 'at_least'),
    limit: number,
  }),
  fc.record({ measure: fc.constantFrom('hip', 'mass'), status: fc.constantFrom('pain', 'unable') }),
);
const protocol = fc.array(rule, { minLength: 1, maxLength: 5 }).map((rules) =>
  protocolOf({
    measures: MEASURES,
    rules: rules.map((given, at) => ({ ...given, also: at === 0 ? [] : (given.also ?? []), name: `rule${at}` })),
  }),
);

test('no margin is negative, and every finding has a certainty', () => {
  fc.assert(
    fc.property(rows, protocol, (given, judgedBy) => {
      for (const finding of flag(resultsOf(given), BOOK, judgedBy).rows()) {
        expect(finding.margin ?? 0).toBeGreaterThanOrEqual(0);
        expect(finding.certainty === 'not_applicable').toBe(finding.field === 'status');
        expect(finding.certainty === 'error_unknown').toBe(finding.field !== 'status' && finding.error === null);
      }
    }),
  );
});

test('the order of the rows does not matter', () => {
  fc.assert(
    fc.property(rows, protocol, fc.func(fc.integer()), (given, judgedBy, key) => {
      const shuffled = given.map((one, at) => [key(at), one] as const).sort(([a], [b]) => a - b);
      const findings = [...flag(resultsOf(given), BOOK, judgedBy).rows()];
      expect([...flag(resultsOf(shuffled.map(([, one]) => one)), BOOK, judgedBy).rows()]).toEqual(findings);
    }),
  );
});
