import type { Comparator, Rule } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';
import type { Results } from '../tables/schemas.ts';
import type { Side } from '../units/sides.ts';
import type { LimitCheck, LimitField, Probe } from './check.ts';
import { breaksLimit, lowBreaks } from './comparators.ts';

type Reading = Pick<Probe, 'sideOf' | 'valueOf'>;

/** The kept readings of a result, or with `of: any_trial` the single trials that come nearest to breaking the limit. */
function readingsColumns(rule: Rule, comparator: Comparator, results: Results) {
  const { columns } = results;
  if (rule.of === 'kept') return { left: columns.left, right: columns.right, value: columns.value };
  return lowBreaks(comparator)
    ? { left: columns.least_left, right: columns.least_right, value: columns.least_value }
    : { left: columns.most_left, right: columns.most_right, value: columns.most_value };
}

/** Which of two sides is worse; with `better: between` it is the one farther beyond the limit. One known side is it. */
function worseReading(rule: Rule, comparator: Comparator, left: Float64Array, right: Float64Array): Reading {
  const { better } = rule.measure;
  const lowIsWorse = better === 'between' ? lowBreaks(comparator) : better === 'higher';
  return {
    valueOf: (row) => {
      if (Number.isNaN(left[row])) return right[row];
      if (Number.isNaN(right[row])) return left[row];
      return lowIsWorse ? Math.min(left[row], right[row]) : Math.max(left[row], right[row]);
    },
    sideOf: (row) => {
      if (Number.isNaN(left[row])) return 'right';
      if (Number.isNaN(right[row])) return 'left';
      const difference = round9(right[row]) - round9(left[row]);
      if (difference === 0) return 'none';
      return difference > 0 === lowIsWorse ? 'left' : 'right';
    },
  };
}

function plainReading(values: Float64Array, side: Side): Reading {
  return { valueOf: (row) => values[row], sideOf: () => side };
}

/**
 * A rule with a limit, made ready to run over results.
 *
 * `value` of a measure with sides judges left and right each. A comparison of the sides stands for the weaker one, and
 * for no side where neither is.
 */
export function limitCheck(
  rule: Rule,
  field: LimitField,
  comparator: Comparator,
  limit: number,
  results: Results,
): LimitCheck {
  const { columns } = results;
  const { name, index: order, measure, grade, of } = rule;
  const readings = readingsColumns(rule, comparator, results);
  const left = readings.left.values;
  const right = readings.right.values;
  const bothKnown = (row: number): boolean => !Number.isNaN(left[row]) && !Number.isNaN(right[row]);

  let judged: Reading[];
  let isTested: (row: number) => boolean;
  if (field === 'worse') {
    judged = [worseReading(rule, comparator, left, right)];
    isTested = bothKnown;
  } else if (field === 'value' && measure.sides === 'each') {
    judged = [plainReading(left, 'left'), plainReading(right, 'right')];
    isTested = bothKnown;
  } else {
    const { values } = field === 'value' ? readings.value : columns[field];
    const { weaker } = columns;
    judged = [
      field === 'value'
        ? plainReading(values, 'none')
        : { valueOf: (row) => values[row], sideOf: (row) => (weaker.get(row) as 'left' | 'right' | null) ?? 'none' },
    ];
    isTested = (row) => !Number.isNaN(values[row]);
  }
  const probes = judged.map((reading) => ({
    ...reading,
    isBroken: (row: number) => breaksLimit(reading.valueOf(row), comparator, limit),
  }));
  return { kind: 'limit', name, order, rule, measure, field, grade, comparator, limit, of, probes, isTested };
}
