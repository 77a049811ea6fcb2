import type { Measure, Protocol, Rule } from '../protocol/types.ts';
import { MARK, type Results } from '../tables/schemas.ts';
import type { Side } from '../units/sides.ts';
import { BUILT_IN_STATUSES, type JudgedStatus, type Probe, type StatusCheck } from './check.ts';

const MARKS = {
  pain: { left: MARK.painLeft, right: MARK.painRight, other: MARK.painOther },
  unable: { left: MARK.unableLeft, right: MARK.unableRight, other: MARK.unableOther },
} as const;

function probe(side: Side, isBroken: (row: number) => boolean): Probe {
  return { isBroken, sideOf: () => side, valueOf: () => Number.NaN };
}

/** Tests whether a row's status names one of some words. */
export function statusReader(results: Results, words: readonly string[]): (row: number) => boolean {
  const { codes, dictionary } = results.columns.status;
  const holds = dictionary.texts.map((text) => text.split(';').some((word) => words.includes(word)));
  return (row) => codes[row] >= 0 && holds[codes[row]];
}

/** Anybody who came to the test counts as tested for a mark, also one who refused or was held back. */
function attendance(results: Results): (row: number) => boolean {
  const { left, right, both, value, marks } = results.columns;
  const readings = [left, right, both, value].map((column) => column.values);
  const turnedAway = statusReader(results, ['refused', 'held']);
  return (row) => marks.values[row] > 0 || readings.some((values) => !Number.isNaN(values[row])) || turnedAway(row);
}

/** A mark on any trial of a side; marks of no one side stand for both limbs where the measure has sides. */
function markProbes(measure: Measure, status: 'pain' | 'unable', results: Results): Probe[] {
  const marks = results.columns.marks.values;
  const bits = MARKS[status];
  return [
    probe('left', (row) => (marks[row] & bits.left) !== 0),
    probe('right', (row) => (marks[row] & bits.right) !== 0),
    probe(measure.sides === 'each' ? 'both' : 'none', (row) => (marks[row] & bits.other) !== 0),
  ];
}

/** A rule of the protocol on a status, made ready to run over results. */
export function ruleStatusCheck(rule: Rule, status: 'pain' | 'unable', results: Results): StatusCheck {
  const { name, index: order, measure, grade } = rule;
  const probes = markProbes(measure, status, results);
  return {
    kind: 'status',
    status,
    name,
    order,
    rule,
    measure,
    field: 'status',
    grade,
    probes,
    isTested: attendance(results),
  };
}

/**
 * The status findings that no protocol has to ask for, whatever the athlete's battery: pain, unable, and a side left out.
 * Derived measures have none: what marks them marks their parts.
 */
export function builtInChecks(measure: Measure, protocol: Protocol, results: Results): StatusCheck[] {
  if (measure.derivation !== undefined) return [];
  const builtIn = (status: JudgedStatus, probes: Probe[], isTested: StatusCheck['isTested']): StatusCheck => ({
    kind: 'status',
    status,
    name: status,
    order: protocol.rules.length + BUILT_IN_STATUSES.indexOf(status),
    rule: undefined,
    measure,
    field: 'status',
    grade: protocol.statuses[status],
    probes,
    isTested,
  });
  const attended = attendance(results);
  const checks = [
    builtIn('pain', markProbes(measure, 'pain', results), attended),
    builtIn('unable', markProbes(measure, 'unable', results), attended),
  ];
  if (measure.sides === 'each') {
    const left = results.columns.left.values;
    const right = results.columns.right.values;
    const lacks = (missing: Float64Array, there: Float64Array) => (row: number) =>
      Number.isNaN(missing[row]) && !Number.isNaN(there[row]);
    const probes = [probe('left', lacks(left, right)), probe('right', lacks(right, left))];
    const oneSideAtLeast = (row: number): boolean => !Number.isNaN(left[row]) || !Number.isNaN(right[row]);
    checks.push(builtIn('one_side', probes, oneSideAtLeast));
  }
  return checks;
}
