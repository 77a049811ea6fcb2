import type { BlockView } from './block_view.ts';
import { LEFT, RIGHT } from './blocks.ts';
import { addTo } from './lists.ts';
import type { Model } from './model.ts';
import { limitsOf, PRICE } from './reading_slips.ts';
import type { Change, Slip } from './slip.ts';
import { shownValue } from './words.ts';

interface Place {
  readonly view: BlockView;
  readonly at: number;
}

/** Two places in views whose numbers may have been exchanged. */
interface Pair {
  readonly one: Place;
  readonly other: Place;
  /** each with the number that stands in the place of the other; undefined if that cannot be */
  readonly changes: readonly [Change, Change] | undefined;
}

const ALIKE = 1.2;
/** In spreads, from other days and the group; and from everything, where one attempt may be wrong. */
const FAR = 1.8;
const FAR_ALONE = 3;
/** Spreads between the middles of two measures that do not look alike. */
const APART = 2.5;
/** So many measures of a row are tried against each other at most. */
const MOST_BESIDE = 64;

/** Positions of a view by sheet and day. */
type Places = ReadonlyMap<string, readonly number[]>;

function placesOf(model: Model, view: BlockView): Places {
  const { file, day } = model.readings;
  const places = new Map<string, number[]>();
  for (const [at, row] of view.rows.entries()) {
    if (Number.isNaN(view.xs[at])) continue;
    const key = `${file[row]} ${day[row]}`;
    addTo(places, key, at);
  }
  return places;
}

/** The views of an athlete by sheet and day, and where their readings stand. */
export interface Beside {
  readonly places: ReadonlyMap<BlockView, Places>;
  readonly views: ReadonlyMap<string, readonly BlockView[]>;
}

export function besideOf(model: Model, views: readonly BlockView[]): Beside {
  const places = new Map(views.map((view) => [view, placesOf(model, view)]));
  const byPlace = new Map<string, BlockView[]>();
  for (const [view, own] of places) for (const key of own.keys()) addTo(byPlace, key, view);
  return { places, views: byPlace };
}

function pairOf(model: Model, one: Place, other: Place): Pair {
  const change = exchangedChange(model, one, other);
  const otherChange = change === undefined ? undefined : exchangedChange(model, other, one);
  return {
    one,
    other,
    changes: change === undefined || otherChange === undefined ? undefined : [change, otherChange],
  };
}

/** A reading with the number of another one; undefined if that cannot be. */
function exchangedChange(model: Model, { view, at }: Place, from: Place): Change | undefined {
  const row = view.rows[at];
  const value = model.written.value(row, model.written.number(from.view.rows[from.at]));
  const [low, high] = limitsOf(model, row);
  return value >= low && value <= high ? { view, at, value } : undefined;
}

function isUntouched(model: Model, { view, at }: Place, isOpen: (row: number) => boolean): boolean {
  const row = view.rows[at];
  return isOpen(row) && model.values[row] === model.readings.value[row];
}

function slipOf(kind: Slip['kind'], pairs: readonly Pair[], price: number, words: Slip['words']): Slip[] {
  const changes: Change[] = [];
  for (const pair of pairs) {
    if (pair.changes === undefined) return [];
    changes.push(...pair.changes);
  }
  return changes.length === 0 ? [] : [{ kind, changes, price, words }];
}

const shown = (model: Model, { view, at }: Place): string => {
  const { label, unit } = model.readings.measureOf(view.rows[at]);
  return `${label} ${shownValue(model.readings.value[view.rows[at]], unit.code)}`;
};

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
