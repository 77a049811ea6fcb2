import type { BlockView } from './block_view.ts';
import { addTo } from './lists.ts';
import type { Model } from './model.ts';
import { limitsOf } from './reading_slips.ts';
import type { Change, Slip } from './slip.ts';
import { shownValue } from './words.ts';

/** A reading in a view. */
export interface Place {
  readonly view: BlockView;
  readonly at: number;
}

/** Two places in views whose numbers may have been exchanged. */
export interface Pair {
  readonly one: Place;
  readonly other: Place;
  /** each with the number that stands in the place of the other; undefined if that cannot be */
  readonly changes: readonly [Change, Change] | undefined;
}

/** Positions of a view by sheet and day. */
export type Places = ReadonlyMap<string, readonly number[]>;

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

/** Where the readings of an athlete stand beside each other. */
export function besideOf(model: Model, views: readonly BlockView[]): Beside {
  const places = new Map(views.map((view) => [view, placesOf(model, view)]));
  const byPlace = new Map<string, BlockView[]>();
  for (const [view, own] of places) for (const key of own.keys()) addTo(byPlace, key, view);
  return { places, views: byPlace };
}

/** A pair with what its readings would be. */
export function pairOf(model: Model, one: Place, other: Place): Pair {
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

/** Whether a reading still is what was typed, and may be told. */
export function isUntouched(model: Model, { view, at }: Place, isOpen: (row: number) => boolean): boolean {
  const row = view.rows[at];
  return isOpen(row) && model.values[row] === model.readings.value[row];
}

/** The slip that exchanges all pairs; none if one of them cannot be. */
export function slipOf(kind: Slip['kind'], pairs: readonly Pair[], price: number, words: Slip['words']): Slip[] {
  const changes: Change[] = [];
  for (const pair of pairs) {
    if (pair.changes === undefined) return [];
    changes.push(...pair.changes);
  }
  return changes.length === 0 ? [] : [{ kind, changes, price, words }];
}

/** A reading in words: its measure and value. */
export const shown = (model: Model, { view, at }: Place): string => {
  const { label, unit } = model.readings.measureOf(view.rows[at]);
  return `${label} ${shownValue(model.readings.value[view.rows[at]], unit.code)}`;
};
