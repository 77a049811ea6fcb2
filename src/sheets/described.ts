import { distance } from 'fastest-levenshtein';
import { foldKey } from '../units/keys.ts';
import type { SideOrder } from '../units/sides.ts';
import type { HeadingReading, HeadingWords } from './headings.ts';
import { mayBeOpposite } from './opposites.ts';
import type { ColumnPlan } from './plan.ts';

/** A heading this far from a known name is no misspelling of it. */
const FARTHEST = 3;
const LONGEST_COMPARED = 80;
const MOST_NEAR = 3;

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

/** So short a heading is mended in one place only, and begins as it is meant: "rule" is no pulse. */
const SHORT = 5;

/**
 * The known headings nearest to a text that names nothing, if they are near at all. Several that are as near as each other
 * are all named: nobody may choose. What may mean the opposite direction is not near.
 */
export function nearestTest(heading: string, { known }: HeadingWords): string[] {
  const key = foldKey(heading.slice(0, LONGEST_COMPARED));
  if (key.length < 3) return [];
  let least = FARTHEST;
  let near: string[] = [];
  for (const name of known) {
    if (Math.abs(name.length - key.length) > least) continue;
    const far = distance(key, name);
    if (far > least || far > Math.floor(name.length / 2)) continue;
    if (far < least) near = [];
    least = far;
    near.push(name);
  }
  const isFit = (name: string): boolean => (name.length > SHORT || name[0] === key[0]) && !mayBeOpposite(key, name);
  return near.length > MOST_NEAR ? [] : near.every(isFit) ? near : [];
}
