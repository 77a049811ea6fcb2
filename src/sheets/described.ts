import { closest, distance } from 'fastest-levenshtein';
import { foldKey } from '../units/keys.ts';
import type { SideOrder } from '../units/sides.ts';
import type { HeadingReading, HeadingWords } from './headings.ts';
import type { ColumnPlan } from './plan.ts';

/** A heading this far from a known name is no misspelling of it. */
const FARTHEST = 3;
const LONGEST_COMPARED = 80;

const ORDERS: Readonly<Record<SideOrder, string>> = { left_right: 'left and right', right_left: 'right and left' };

/** Describes a reading for messages: "hip_adduction, left, trial 1". */
export function describeReading(reading: HeadingReading): string {
  return [
    reading.measure?.name ?? reading.compound?.name,
    reading.side,
    reading.sides && ORDERS[reading.sides],
    reading.trial === undefined ? undefined : `trial ${reading.trial}`,
    reading.unitText,
  ]
    .filter((part) => part !== undefined)
    .join(', ');
}

/** Describes what a column holds. */
export function describeColumn(plan: ColumnPlan): string {
  if (plan.kind === 'role') return plan.role;
  return (plan.kind === 'reading' && describeReading(plan)) || 'a reading';
}

/** The known heading nearest to a text that names nothing, if it is near at all. */
export function nearestTest(heading: string, words: HeadingWords): string[] {
  const key = foldKey(heading.slice(0, LONGEST_COMPARED));
  if (key.length < 3 || words.known.length === 0) return [];
  const near = closest(key, words.known);
  return distance(key, near) <= Math.min(FARTHEST, Math.floor(near.length / 2)) ? [near] : [];
}
