import { median } from '../../stats/simple.ts';
import { addTo } from './lists.ts';
import type { Model } from './model.ts';

/** A way to part the readings of a measure. */
export interface Parting {
  readonly extent: 'sheet' | 'column';
  readonly by?: 'tester' | 'team';
  readonly keyOf: (row: number) => number;
}

/** Readings that may be off together, and what they are compared by. */
export interface Part {
  readonly key: number;
  /** some of its rows */
  readonly rows: number[];
  count: number;
  /** distances on the logarithm from the usual of the sex, of each athlete */
  readonly levels: number[];
  /** by the number of another part: distances of the same athlete in both */
  readonly edges: Map<number, number[]>;
  shift: number;
}

const FEWEST_PAIRS = 5;
const FEWEST_LEVELS = 5;
/** Testers, teams and seasons differ by that much on the logarithm without any slip. */
const BETWEEN_SHEETS = 0.08;
export const BETWEEN_GROUPS = 0.2;
const MOST_NEIGHBOURS = 4;
/** So many athletes tell where a part lies among all, and how two parts lie to each other. */
const MOST_LEVELS = 2000;
const MOST_COMPARED = 400;
/** Plausible limits closer together than this ratio say where the middle is. */
const TIGHT = 10;
/** Logarithms: nearer to the middle nothing is to be explained. */
export const NEAR_MIDDLE = 0.35;

/** The parts of each measure, with what they are compared by. */
export function partsOf(model: Model, { keyOf }: Parting): Map<number, Part[]> {
  const { blocks, readings } = model;
  const all = new Map<number, { parts: Part[]; numbers: Map<number, number> }>();
  const levels = levelsOf(model);
  for (let block = 0; block < blocks.count; block++) {
    const rows = blocks.rows(block);
    const measure = readings.measure[rows[0]];
    if (readings.protocol.measures[measure].levels !== undefined) continue;
    let ofMeasure = all.get(measure);
    if (ofMeasure === undefined) {
      ofMeasure = { parts: [], numbers: new Map() };
      all.set(measure, ofMeasure);
    }
    const { parts, numbers } = ofMeasure;
    const own = new Map<number, number[]>();
    for (const row of rows) {
      const value = model.values[row];
      if (!(value > 0)) continue;
      const key = keyOf(row);
      let number = numbers.get(key);
      if (number === undefined) {
        number = parts.length;
        numbers.set(key, number);
        parts.push({ key, rows: [], count: 0, levels: [], edges: new Map(), shift: 0 });
      }
      if (parts[number].count++ < MOST_LEVELS) parts[number].rows.push(row);
      addTo(own, number, Math.log(value));
    }
    const usual = levels.get(model.kindOfBlock(block) * 64 + model.sex(rows[0]));
    const middles = [...own].map(([number, xs]): [number, number] => [number, median(xs)!]);
    for (const [at, [number, middle]] of middles.entries()) {
      if (usual !== undefined && parts[number].levels.length < MOST_LEVELS) parts[number].levels.push(middle - usual);
      for (const [other, theirs] of middles.slice(at + 1, at + 1 + MOST_NEIGHBOURS)) {
        compare(parts[number].edges, other, middle - theirs);
        compare(parts[other].edges, number, theirs - middle);
      }
    }
  }
  return new Map([...all].map(([measure, { parts }]) => [measure, parts]));
}

function compare(edges: Map<number, number[]>, other: number, distance: number): void {
  if ((edges.get(other)?.length ?? 0) < MOST_COMPARED) addTo(edges, other, distance);
}

/** Usual logarithm by kind and sex: the median over sheets, so that one large sheet in another unit does not set it. */
function levelsOf(model: Model): Map<number, number> {
  const { blocks, readings } = model;
  const bySheet = new Map<string, number[]>();
  for (let place = 0; place < blocks.order.length; place++) {
    const row = blocks.order[place];
    if (!(model.values[row] > 0)) continue;
    const key = `${model.kindOfRow(row) * 64 + model.sex(row)} ${readings.file[row]}`;
    addTo(bySheet, key, Math.log(model.values[row]));
  }
  const sheets = new Map<number, number[]>();
  for (const [key, xs] of bySheet) {
    if (xs.length < FEWEST_LEVELS) continue;
    const group = Number(key.slice(0, key.indexOf(' ')));
    addTo(sheets, group, median(xs)!);
  }
  return new Map([...sheets].map(([group, middles]) => [group, median(middles)!]));
}

/** One comparison of a part. */
export interface Look {
  /** distance on the logarithm before the slip is put right */
  readonly distance: number;
  readonly error: number;
  readonly athletes: number;
}

/** How a part lies to the others: the same athletes elsewhere, and everybody. */
export function looksOf(parts: readonly Part[], part: Part): Look[] {
  const looks: Look[] = [];
  for (const [other, distances] of part.edges) {
    if (distances.length < FEWEST_PAIRS) continue;
    looks.push(lookOf(distances, part.shift - parts[other].shift, BETWEEN_SHEETS));
  }
  if (part.levels.length >= FEWEST_LEVELS) looks.push(lookOf(part.levels, part.shift, BETWEEN_GROUPS));
  return looks;
}

function lookOf(distances: readonly number[], shift: number, least: number): Look {
  const middle = median(distances)!;
  const spread = median(distances.map((distance) => Math.abs(distance - middle)))! / 0.6745;
  const error = Math.hypot(least, (1.2533 * spread) / Math.sqrt(distances.length));
  return { distance: middle + shift, error, athletes: distances.length };
}

/** Distance from the middle of narrow plausible limits: with nothing to compare with, the only thing that is known. */
export function middleLook(model: Model, part: Part): Look | undefined {
  const { plausible } = model.readings.measureOf(part.rows[0] ?? 0);
  if (part.rows.length < FEWEST_LEVELS || plausible === undefined || !(plausible[0] > 0)) return undefined;
  if (plausible[1] / plausible[0] > TIGHT) return undefined;
  const middle = Math.log(median(part.rows.map((row) => model.values[row]).filter((value) => value > 0))!);
  const distance = middle - (Math.log(plausible[0]) + Math.log(plausible[1])) / 2;
  return { distance, error: NEAR_MIDDLE, athletes: part.rows.length };
}
