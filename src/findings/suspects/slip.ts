import type { RecheckKind } from '../../tables/schemas.ts';
import type { BlockView } from './block_view.ts';
import type { Model } from './model.ts';

/** One reading as it may have been meant. */
export interface Change {
  readonly view: BlockView;
  /** position in the view */
  readonly at: number;
  /** in the measure's unit */
  readonly value: number;
}

/** One thing that may have gone wrong, and what the readings would be without it. */
export interface Slip {
  readonly kind: RecheckKind;
  readonly changes: readonly Change[];
  /** what the fit must improve by before such a slip is more likely than an unusual athlete */
  readonly price: number;
  /** what it comes to for one of the changes */
  readonly words: (change: Change) => string;
}

/** A reading that was put right lies within this many spreads of what was expected. */
const INSIDE = 3.5;
/** An athlete may have one weak side. */
const NEARLY_ALL = 0.75;
/** A painful reading may well be low: only a slip that fits closely is told. */
const INSIDE_IN_PAIN = 1.5;

/** The numbers of the changes on the scale put into the views; what stood there before comes back. */
function exchange(model: Model, changes: readonly Change[]): number[] {
  return changes.map(({ view, at, value }) => {
    const before = view.xs[at];
    view.xs[at] = model.toScale(model.kindOfRow(view.rows[at]), value);
    return before;
  });
}

function restore(changes: readonly Change[], before: readonly number[]): void {
  for (const [index, { view, at }] of changes.entries()) view.xs[at] = before[index];
}

/** Whether readings stand in each other's place. */
export function isSwap(kind: RecheckKind): boolean {
  return kind === 'columns_swapped' || kind === 'sides_swapped';
}

export function isPainful(model: Model, row: number): boolean {
  return model.readings.status[row] === model.painful;
}

/**
 * By how much the readings fit better without the slip, its price taken off: a difference of log likelihoods.
 * @param energyOf of a view as it stands
 * @returns 0 or less if the slip explains nothing, or what it gives is not inside what was expected
 */
export function gainOf(model: Model, slip: Slip, energyOf: (view: BlockView) => number): number {
  const views = [...new Set(slip.changes.map(({ view }) => view))];
  const first = views.reduce((sum, view) => sum + energyOf(view), 0);
  if (first <= slip.price) return 0;
  const before = exchange(model, slip.changes);
  const gain = first - views.reduce((sum, view) => sum + view.energy(), 0) - slip.price;
  const isFit = gain > 0 && isInside(model, slip);
  restore(slip.changes, before);
  return isFit ? gain : 0;
}

/** Whether what a slip gives is inside what was expected: of several readings put right together, nearly all. */
function isInside(model: Model, { changes }: Slip): boolean {
  const inside = changes.filter(({ view, at }) => {
    const limit = isPainful(model, view.rows[at]) ? INSIDE_IN_PAIN : INSIDE;
    return !Number.isNaN(view.xs[at]) && Math.abs(view.z(at)) <= limit;
  });
  return inside.length >= (changes.length > 2 ? NEARLY_ALL : 1) * changes.length;
}

/** Puts the readings right, so that the others are judged by what was meant. */
export function apply(model: Model, { changes }: Slip): void {
  exchange(model, changes);
  for (const { view, at, value } of changes) model.values[view.rows[at]] = value;
}
