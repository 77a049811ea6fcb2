import type { BlockView } from './block_view.ts';
import { LEFT, RIGHT } from './blocks.ts';
import type { Model } from './model.ts';
import { type Beside, isUntouched, type Pair, pairOf, shown, slipOf } from './pairs.ts';
import { PRICE } from './reading_slips.ts';
import type { Slip } from './slip.ts';

/** Numbers nearer than this ratio are taken for the same. */
const ALIKE = 1.2;
/** In spreads, from other days and the group; and from everything, where one attempt may be wrong. */
const FAR = 1.8;
const FAR_ALONE = 3;
/** Spreads between the middles of two measures that do not look alike. */
const APART = 2.5;
/** So many measures of a row are tried against each other at most. */
const MOST_BESIDE = 64;

/**
 * The readings of two measures in one row of a sheet, exchanged: all of them, those of one side, or one attempt.
 * @param energyOf of a view: what can be gained at most
 */
export function columnSwaps(
  model: Model,
  view: BlockView,
  beside: Beside,
  isOpen: (row: number) => boolean,
  energyOf: (view: BlockView) => number,
): Slip[] {
  const slips: Slip[] = [];
  for (const [key, own] of beside.places.get(view) ?? []) {
    if (!own.some((at) => isFar(view, at))) continue;
    for (const other of beside.views.get(key)!.slice(0, MOST_BESIDE)) {
      const most = energyOf(view) + energyOf(other);
      if (other === view || most <= PRICE.columns) continue;
      const pairs = columnPairs(model, view, own, other, beside.places.get(other)!.get(key)!, isOpen);
      if (pairs.length === 0) continue;
      const areApart = liesApart(model, pairs[0]);
      for (const some of partsOf(pairs, ({ one }) => model.readings.side[view.rows[one.at]])) {
        const price = areApart && some.length === pairs.length ? PRICE.columns : PRICE.alikeColumns;
        if (most <= price) continue;
        const words = () =>
          `${shown(model, some[0].one)} and ${shown(model, some[0].other)} fit once they are exchanged`;
        slips.push(...slipOf('columns_swapped', some, price, words));
      }
    }
  }
  return slips;
}

/** The readings of two views on the same side and attempt, as far as exchanging them would change anything. */
function columnPairs(
  model: Model,
  view: BlockView,
  own: readonly number[],
  other: BlockView,
  theirs: readonly number[],
  isOpen: (row: number) => boolean,
): Pair[] {
  const { side, trial } = model.readings;
  const pairs: Pair[] = [];
  for (const at of own) {
    const row = view.rows[at];
    const match = theirs.find(
      (their) => side[other.rows[their]] === side[row] && trial[other.rows[their]] === trial[row],
    );
    if (match === undefined || isAlike(model, row, other.rows[match])) continue;
    const [one, two] = [
      { view, at },
      { view: other, at: match },
    ];
    if (isUntouched(model, one, isOpen) && isUntouched(model, two, isOpen)) pairs.push(pairOf(model, one, two));
  }
  return pairs;
}

/** Whether hardly an athlete's numbers of the two measures could be taken for each other. */
function liesApart(model: Model, { one, other }: Pair): boolean {
  const [row, theirs] = [one.view.rows[one.at], other.view.rows[other.at]];
  const own = one.view.scale.groups.get(model.sex(row));
  const far = other.view.scale.groups.get(model.sex(theirs));
  if (own === undefined || far === undefined) return false;
  const [kind, otherKind] = [model.kindOfRow(row), model.kindOfRow(theirs)];
  const farHere = model.toScale(kind, model.fromScale(otherKind, far.centre));
  const ownThere = model.toScale(otherKind, model.fromScale(kind, own.centre));
  const distances = [(farHere - own.centre) / own.spread, (ownThere - far.centre) / far.spread];
  return distances.every((distance) => Math.abs(distance) > APART);
}

/** Numbers so close that exchanging them explains nothing. */
function isAlike({ written }: Model, one: number, other: number): boolean {
  const [a, b] = [Math.abs(written.number(one)), Math.abs(written.number(other))];
  return Math.max(a, b) < ALIKE * Math.min(a, b);
}

/** Whether something is to be explained at all: an exchange shows in one of its two measures at least. */
function isFar(view: BlockView, at: number): boolean {
  return Math.abs(view.awayZ(at) ?? 0) > FAR || Math.abs(view.z(at)) > FAR_ALONE;
}

/** All pairs, those of each side, and each alone; nothing twice. */
function partsOf(pairs: readonly Pair[], sideOf: (pair: Pair) => number): Pair[][] {
  if (pairs.length === 0) return [];
  const parts = [[...pairs]];
  const bySide = [LEFT, RIGHT].map((side) => pairs.filter((pair) => sideOf(pair) === side));
  for (const some of bySide) if (some.length > 0 && some.length < pairs.length) parts.push(some);
  if (pairs.length > 1)
    for (const pair of pairs) if (!parts.some((some) => some.length === 1 && some[0] === pair)) parts.push([pair]);
  return parts;
}
