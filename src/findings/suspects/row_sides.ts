import type { BlockView } from './block_view.ts';
import { LEFT, RIGHT } from './blocks.ts';
import type { Model } from './model.ts';
import { type Beside, isUntouched, type Pair, type Places, pairOf, shown, slipOf } from './pairs.ts';
import { PRICE } from './reading_slips.ts';
import type { Slip } from './slip.ts';

function sidePairs(model: Model, view: BlockView, own: readonly number[], isOpen: (row: number) => boolean): Pair[] {
  const { side, trial } = model.readings;
  const pairs: Pair[] = [];
  for (const left of own) {
    if (side[view.rows[left]] !== LEFT) continue;
    const right = own.find((at) => side[view.rows[at]] === RIGHT && trial[view.rows[at]] === trial[view.rows[left]]);
    if (right === undefined) continue;
    const [one, two] = [
      { view, at: left },
      { view, at: right },
    ];
    if (isUntouched(model, one, isOpen) && isUntouched(model, two, isOpen)) pairs.push(pairOf(model, one, two));
  }
  return pairs;
}

/** Left and right of one measure on one day exchanged, in all attempts or in one. */
export function sideSwaps(model: Model, view: BlockView, places: Places, isOpen: (row: number) => boolean): Slip[] {
  const slips: Slip[] = [];
  for (const own of places.values()) {
    const pairs = sidePairs(model, view, own, isOpen);
    if (pairs.length === 0) continue;
    const { one, other } = pairs[0];
    const words = () =>
      `left ${shown(model, one)} and right ${shown(model, other)} fit the other readings once they are exchanged`;
    slips.push(...slipOf('sides_swapped', pairs, PRICE.sides, words));
    if (pairs.length > 1) for (const pair of pairs) slips.push(...slipOf('sides_swapped', [pair], PRICE.sides, words));
  }
  return slips;
}

/** Left and right of all measures of a row of a sheet exchanged. */
export function rowSideSwaps(model: Model, { places, views }: Beside, isOpen: (row: number) => boolean): Slip[] {
  const slips: Slip[] = [];
  for (const [key, some] of views) {
    const pairs = some.flatMap((view) => sidePairs(model, view, places.get(view)!.get(key)!, isOpen));
    const measures = new Set(pairs.map(({ one }) => one.view));
    if (measures.size < 2) continue;
    const words = () =>
      `left and right of ${measures.size} measures of this row fit the other days once they are exchanged`;
    slips.push(...slipOf('sides_swapped', pairs, PRICE.rowSides, words));
  }
  return slips;
}
