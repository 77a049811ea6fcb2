import type { BlockView } from './block_view.ts';
import type { Model } from './model.ts';
import { orderedBy, type SortKey } from './order.ts';
import { type Beside, besideOf } from './pairs.ts';
import { PRICE, readingSlips, unitSlipsOfSets } from './reading_slips.ts';
import { columnSwaps } from './row_columns.ts';
import { rowSideSwaps, sideSwaps } from './row_sides.ts';
import { apply, gainOf, isSwap, type Slip } from './slip.ts';
import { type Apart, trialsApart } from './trial_apart.ts';

/** A slip that was found, with what else the same reading may be. */
export interface Found {
  readonly slip: Slip;
  readonly others: readonly Slip[];
}

interface Choice {
  readonly slip: Slip;
  readonly gain: number;
}

/** So many slips of one athlete are looked for at most. */
const MOST_SLIPS = 200;
/** Below this nothing can be gained: an exchange, the cheapest slip, takes it from two measures. */
const LEAST_ENERGY = PRICE.columns / 2;

/**
 * All slips of single readings and rows, athlete by athlete, and the attempts apart that none explains.
 * @param isOpen whether a reading may be told; not any more once it was
 * @param told called with the views put right
 */
export function settle(
  model: Model,
  isOpen: (row: number) => boolean,
  told: (found: Found) => void,
  toldApart: (apart: Apart) => void,
): void {
  const { blocks, readings } = model;
  const athleteOf = (block: number): number => readings.athlete[blocks.order[blocks.starts[block]]];
  const key: SortKey = { of: athleteOf, size: readings.athletes.dictionary.size };
  const order = orderedBy(blocks.count, [key]);
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && athleteOf(order[to]) === athleteOf(order[from])) to++;
    const views = Array.from(order.subarray(from, to), (block) => model.view(block));
    settleAthlete(model, views, isOpen, told);
    for (const view of views) for (const apart of trialsApart(model, view, isOpen)) toldApart(apart);
    from = to;
  }
}

function settleAthlete(
  model: Model,
  views: readonly BlockView[],
  isOpen: (row: number) => boolean,
  told: (found: Found) => void,
): void {
  const taken = new Set<number>();
  const isFree = (row: number): boolean => isOpen(row) && !taken.has(row);
  const beside = besideOf(model, views);
  const known = new Map<BlockView | null, Choice[]>();
  const energies = new Map<BlockView, number>();
  const energyOf = (view: BlockView): number => {
    let energy = energies.get(view);
    if (energy === undefined) {
      energy = view.energy();
      energies.set(view, energy);
    }
    return energy;
  };
  const choicesOf = (slips: readonly Slip[]): Choice[] =>
    slips.map((slip) => ({ slip, gain: gainOf(model, slip, energyOf) })).filter(({ gain }) => gain > 0);
  for (let round = 0; round < MOST_SLIPS; round++) {
    for (const view of views) {
      if (!known.has(view))
        known.set(view, energyOf(view) < LEAST_ENERGY ? [] : choicesOf(slipsOf(model, view, beside, isFree, energyOf)));
    }
    if (!known.has(null)) known.set(null, choicesOf(rowSideSwaps(model, beside, isFree)));
    const all = [...known.values()].flat();
    if (all.length === 0) return;
    const best = all.reduce((one, other) => (other.gain > one.gain ? other : one));
    const rows = new Set(best.slip.changes.map(({ view, at }) => view.rows[at]));
    const others = all
      .filter((one) => one !== best && isOther(one.slip, best.slip, rows))
      .sort((a, b) => b.gain - a.gain);
    apply(model, best.slip);
    for (const row of rows) taken.add(row);
    for (const { view } of best.slip.changes) {
      known.delete(view);
      energies.delete(view);
    }
    // Swaps reach over two views, so those of the others may be out of date.
    for (const [view, list] of known) {
      if (view === null || list.some(({ slip }) => slip.changes.some((change) => !known.has(change.view)))) {
        known.delete(view);
      }
    }
    told({ slip: best.slip, others: others.map(({ slip }) => slip) });
  }
}

/** Whether a slip explains some of the same readings in another way: an exchange seen from its other end is none. */
function isOther({ kind, changes }: Slip, best: Slip, rows: ReadonlySet<number>): boolean {
  const isSame = kind === best.kind && isSwap(kind) && changes.every(({ view, at }) => rows.has(view.rows[at]));
  return !isSame && changes.some(({ view, at }) => rows.has(view.rows[at]));
}

function slipsOf(
  model: Model,
  view: BlockView,
  beside: Beside,
  isFree: (row: number) => boolean,
  energyOf: (view: BlockView) => number,
): Slip[] {
  return [
    ...readingSlips(model, view, isFree),
    ...unitSlipsOfSets(model, view, isFree),
    ...columnSwaps(model, view, beside, isFree, energyOf),
    ...sideSwaps(model, view, beside.places.get(view)!, isFree),
  ];
}
