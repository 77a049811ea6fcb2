import type { Expected } from './block_view.ts';
import type { Model } from './model.ts';
import type { Found } from './settle.ts';
import { type Change, isPainful, isSwap, type Slip } from './slip.ts';
import type { Apart } from './trial_apart.ts';
import type { Suspect } from './types.ts';

/** What is expected lies within so many spreads. */
const WIDTH = 3;
const MOST_OTHERS = 2;

/** A line for each reading that a slip changes, or one for a row whose readings were exchanged. */
export function readingSuspects(model: Model, { slip, others }: Found): Suspect[] {
  const covers = slip.changes.map(({ view, at }) => view.rows[at]);
  if (!isSwap(slip.kind)) return slip.changes.map((change, at) => suspectOf(model, slip, change, others, [covers[at]]));
  const farthest = slip.changes.map((change) => scoreOf(model, change));
  const at = farthest.indexOf(Math.max(...farthest));
  return [suspectOf(model, slip, slip.changes[at], others, covers)];
}

function scoreOf(model: Model, { view, at }: Change): number {
  const expected = view.expected(at);
  return expected === undefined ? 0 : Math.abs(distance(model, view.rows[at], expected));
}

function distance(model: Model, row: number, { centre, spread }: Expected): number {
  return (model.toScale(model.kindOfRow(row), model.readings.value[row]) - centre) / spread;
}

function suspectOf(
  model: Model,
  slip: Slip,
  change: Change,
  others: readonly Slip[],
  covers: readonly number[],
): Suspect {
  const { view, at } = change;
  const words = slip.words(change);
  const row = view.rows[at];
  const expected = view.expected(at);
  const bounds = expected === undefined ? [Number.NaN, Number.NaN] : boundsOf(model, row, expected);
  const alternatives = [...new Set(others.map((other) => other.words(other.changes[0])))].slice(0, MOST_OTHERS);
  const or = alternatives.length === 0 ? '' : ` Or ${alternatives.join(', or ')}.`;
  const pain = isPainful(model, row) ? ' The reading is painful and may well be low: ask before it is changed.' : '';
  return {
    at: row,
    reject: -1,
    extent: 'reading',
    kind: slip.kind,
    covers,
    score: expected === undefined ? Number.NaN : distance(model, row, expected),
    low: bounds[0],
    high: bounds[1],
    suggestion: `${isSwap(slip.kind) ? words[0].toUpperCase() + words.slice(1) : `Looks like ${words}`}.${or}${pain}`,
  };
}

export function apartSuspect(model: Model, { row, expected, z }: Apart): Suspect {
  const [low, high] = boundsOf(model, row, expected);
  return {
    at: row,
    reject: -1,
    extent: 'reading',
    kind: 'trial_apart',
    covers: [row],
    score: z,
    low,
    high,
    suggestion:
      'This attempt lies far from the others of its side and day, which agree. Look at the paper, or take it again.',
  };
}

function boundsOf(model: Model, row: number, { centre, spread }: Expected): [number, number] {
  const kind = model.kindOfRow(row);
  return [model.fromScale(kind, centre - WIDTH * spread), model.fromScale(kind, centre + WIDTH * spread)];
}
