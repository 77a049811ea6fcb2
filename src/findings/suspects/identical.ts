import { kindOf, LEFT, RIGHT } from './blocks.ts';
import { atLeastByChance } from './chance.ts';
import { addTo } from './lists.ts';
import type { Model } from './model.ts';

/** Left and right the same to the last digit: of one athlete, or of more athletes of a sheet than chance makes likely. */
export interface Identical {
  readonly rows: readonly number[];
  /** how many like it are expected by chance: of one athlete's attempts, or of a sheet's athletes */
  readonly expected: number;
  /** athletes with equal sides and all with both sides; undefined: one athlete */
  readonly ofSheet?: { readonly equal: number; readonly of: number };
}

const FEWEST_ATTEMPTS = 2;
/** Chance that attempts of an athlete are pairwise the same. */
const SELDOM = 2e-3;
const FEWEST_ATHLETES = 4;
const SELDOM_IN_SHEET = 1e-4;
/** Other sheets may show more equal sides than the model expects, and may have been copied too. */
const MOST_OVER_MODEL = 3;
const PEAK = 1 / Math.sqrt(2 * Math.PI);

/** The attempts of both sides of an athlete in a sheet on a day, pairwise. */
interface Pairs {
  readonly first: number;
  readonly rows: number[];
  pairs: number;
  equal: number;
}

/**
 * Chance that two sides read the same: the step of reading times the height of the normal curve of their difference. Of
 * a further attempt, once the first was the same, only the error of single attempts keeps them apart.
 */
function chances(model: Model, row: number, attempts: number): [number, number] {
  const kind = kindOf(model.readings, row);
  const { trial, side, isLog } = model.scales[kind];
  const step = model.steps.inSheet(row) / (isLog ? Math.abs(model.readings.value[row]) : 1);
  // The middles of several attempts lie closer together than single ones do.
  const single = Math.hypot(side || trial, (trial || 0) * Math.sqrt(1 - 1 / attempts));
  return [Math.min(1, (step * PEAK) / single), Math.min(1, (step * PEAK) / (trial || side))];
}

/** How many of such pairs of sides are the same by chance. */
function chanceOf(model: Model, { first, pairs }: Pairs): number {
  const [once, again] = chances(model, first, pairs);
  return once * again ** (pairs - 1);
}

export function identicalSides(model: Model, isOpen: (row: number) => boolean): Identical[] {
  const sheets = new Map<string, Pairs[]>();
  for (let block = 0; block < model.blocks.count; block++) {
    for (const [key, pairs] of pairsOfBlock(model, block, isOpen)) {
      addTo(sheets, key, pairs);
    }
  }
  const found: Identical[] = [];
  const elsewhere = sharesElsewhere(sheets);
  for (const [key, all] of sheets) {
    const equal = all.filter((pairs) => pairs.equal === pairs.pairs);
    const alone = equal.flatMap((pairs) => {
      const expected = chanceOf(model, pairs);
      return pairs.pairs >= FEWEST_ATTEMPTS && expected < SELDOM ? [{ rows: pairs.rows, expected }] : [];
    });
    const byModel = all.reduce((sum, pairs) => sum + chanceOf(model, pairs), 0);
    const expected = Math.max(byModel, Math.min(MOST_OVER_MODEL * byModel, elsewhere(key) * all.length));
    const isTooMany = equal.length >= FEWEST_ATHLETES && atLeastByChance(equal.length, expected) < SELDOM_IN_SHEET;
    // Two athletes out of five hundred are their own lines; a column that was copied is one.
    if (isTooMany && equal.length > all.length / 4) {
      const ofSheet = { equal: equal.length, of: all.length };
      found.push({ rows: equal.flatMap(({ rows }) => rows), expected, ofSheet });
    } else {
      found.push(...alone);
      const told = new Set(alone.map(({ rows }) => rows));
      const rest = equal.filter(({ rows }) => !told.has(rows));
      if (rest.length >= FEWEST_ATHLETES && atLeastByChance(rest.length, expected) < SELDOM_IN_SHEET) {
        const ofSheet = { equal: rest.length, of: all.length };
        found.push({ rows: rest.flatMap(({ rows }) => rows), expected, ofSheet });
      }
    }
  }
  return found;
}

/** Share of equal sides of a measure in all sheets but one; 0 if there is no other. */
function sharesElsewhere(sheets: ReadonlyMap<string, readonly Pairs[]>): (key: string) => number {
  const counts = new Map<string, { equal: number; of: number }>();
  const countOf = (pairs: readonly Pairs[]): { equal: number; of: number } => ({
    equal: pairs.filter((one) => one.equal === one.pairs).length,
    of: pairs.length,
  });
  for (const [key, pairs] of sheets) {
    const measure = key.slice(key.indexOf(' '));
    const known = counts.get(measure) ?? { equal: 0, of: 0 };
    const { equal, of } = countOf(pairs);
    counts.set(measure, { equal: known.equal + equal, of: known.of + of });
  }
  return (key) => {
    const all = counts.get(key.slice(key.indexOf(' ')))!;
    const own = countOf(sheets.get(key)!);
    return all.of > own.of ? (all.equal - own.equal) / (all.of - own.of) : 0;
  };
}

/** By sheet and kind; a block may have several sheets and days. */
function pairsOfBlock(model: Model, block: number, isOpen: (row: number) => boolean): [string, Pairs][] {
  const { side, trial, day, file, value, measure } = model.readings;
  const rows = model.blocks.rows(block);
  if (model.readings.protocol.measures[measure[rows[0]]].levels !== undefined) return [];
  const found = new Map<string, Pairs>();
  const lefts = new Map<string, number>();
  for (const row of rows) {
    if (Number.isNaN(model.values[row]) || !isOpen(row)) continue;
    const place = `${day[row]} ${file[row]}`;
    if (side[row] === LEFT) lefts.set(`${place} ${trial[row]}`, row);
    if (side[row] !== RIGHT) continue;
    const left = lefts.get(`${place} ${trial[row]}`);
    if (left === undefined) continue;
    const pairs = found.get(place) ?? { first: left, rows: [], pairs: 0, equal: 0 };
    found.set(place, pairs);
    pairs.rows.push(left, row);
    pairs.pairs++;
    if (value[left] === value[row]) pairs.equal++;
  }
  return [...found.values()].map((pairs): [string, Pairs] => [`${file[pairs.first]} ${measure[pairs.first]}`, pairs]);
}
