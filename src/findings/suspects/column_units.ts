import { slipFactors } from '../../sheets/unit_slip.ts';
import { median } from '../../stats/simple.ts';
import { addTo } from './lists.ts';
import type { Model } from './model.ts';

/** Readings that are off by one unit together. */
export interface ColumnSlip {
  readonly rows: readonly number[];
  readonly extent: 'sheet' | 'column';
  /** who tested them, or their team, where that is what they have in common; a code */
  readonly tester?: number;
  readonly team?: number;
  /** readings times this is what was meant */
  readonly factor: number;
  readonly between: string;
  /** what else may be mixed up: it fits nearly as well */
  readonly others: readonly string[];
  /** how many times too large or small they are: the ratio of medians */
  readonly ratio: number;
  /** how many athletes were compared with themselves in other sheets or columns */
  readonly athletes: number;
  /** how far they are off, in standard errors of the comparison */
  readonly score: number;
}

/** Parts of the readings that may be off together, by the number of the part. */
interface Parting {
  readonly extent: ColumnSlip['extent'];
  readonly by?: 'tester' | 'team';
  readonly keyOf: (row: number) => number;
}

interface Part {
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
const BETWEEN_GROUPS = 0.2;
const MOST_EDGE_COST = 12.5;
/** Logarithms: within 13 % of each other. */
const EVEN = 0.12;
const LEAST_GAIN = 6;
/** Slips whose gains differ by less fit equally well: the first of the list is told first. */
const AS_GOOD = 1;
/** What remains of the cost when the slip is put right. */
const REMAINS = 0.35;
const MOST_NEIGHBOURS = 4;
/** So many athletes tell where a part lies among all. */
const MOST_LEVELS = 2000;
const MOST_SLIPS = 64;
/** Plausible limits closer together than this ratio say where the middle is. */
const TIGHT = 10;
const FAR_FROM_MIDDLE = 0.4;
const NEAR_MIDDLE = 0.35;

const bounded = (z: number): number => Math.min((z * z) / 2, MOST_EDGE_COST);

/**
 * Whole sheets, the rows of one tester or team in them, and single columns that are off by a unit: against the same
 * athletes in other sheets and columns, against everybody else, and against the middle of what is plausible.
 */
export function columnUnitSlips(model: Model): ColumnSlip[] {
  const { readings } = model;
  const { file, measure, tester, team, side, trial } = readings;
  const sheetOf = (row: number): number => (file[row] + 1) * 4096 + measure[row];
  const partings: Parting[] = [
    { extent: 'sheet', keyOf: sheetOf },
    { extent: 'column', keyOf: (row) => sheetOf(row) * 512 + (side[row] + 1) * 64 + Math.min(trial[row], 63) },
    { extent: 'sheet', by: 'tester', keyOf: (row) => sheetOf(row) * 4096 + Math.min(tester[row] + 1, 4095) },
    { extent: 'sheet', by: 'team', keyOf: (row) => sheetOf(row) * 4096 + Math.min(team[row] + 1, 4095) },
  ];
  return partings.flatMap((parting) => slipsOfParting(model, parting));
}

function slipsOfParting(model: Model, parting: Parting): ColumnSlip[] {
  const found: ColumnSlip[] = [];
  for (const [measure, parts] of partsOf(model, parting)) {
    const { unit } = model.readings.protocol.measures[measure];
    const factors = slipFactors(unit).flatMap(({ factor, between }) => [
      { factor, between },
      { factor: 1 / factor, between },
    ]);
    if (factors.length === 0 || parts.length === 0) continue;
    for (let round = 0; round < MOST_SLIPS; round++) {
      const best = bestOf(model, parts, factors);
      if (best === undefined) break;
      const { part, factor, between } = best;
      part.shift += Math.log(factor);
      const rows = rowsOf(model, parting, measure, part);
      for (const row of rows) model.values[row] *= factor;
      found.push({ ...best, rows, factor, between, extent: parting.extent, ...sharedOf(model, parting, rows[0]) });
    }
  }
  return found;
}

/** All readings of a part that are not left out. */
function rowsOf(model: Model, { keyOf }: Parting, measure: number, { key }: Part): number[] {
  const { readings, values } = model;
  const rows: number[] = [];
  for (let row = 0; row < readings.length; row++) {
    if (readings.measure[row] === measure && keyOf(row) === key && values[row] > 0) rows.push(row);
  }
  return rows;
}

function sharedOf({ readings }: Model, { by }: Parting, row: number): { tester?: number; team?: number } {
  if (by === 'tester') return { tester: readings.tester[row] };
  return by === 'team' ? { team: readings.team[row] } : {};
}

/** The parts of each measure, with what they are compared by. */
function partsOf(model: Model, { keyOf }: Parting): Map<number, Part[]> {
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

/** So many athletes tell how two parts lie to each other. */
const MOST_COMPARED = 400;

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

interface Best {
  readonly part: Part;
  readonly factor: number;
  readonly between: string;
  readonly others: readonly string[];
  readonly ratio: number;
  readonly athletes: number;
  readonly score: number;
}

interface Look {
  /** distance on the logarithm before the slip is put right */
  readonly distance: number;
  readonly error: number;
  readonly athletes: number;
}

function looksOf(parts: readonly Part[], part: Part): Look[] {
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

function bestOf(
  model: Model,
  parts: readonly Part[],
  factors: readonly { readonly factor: number; readonly between: string }[],
): Best | undefined {
  let best: (Best & { readonly gain: number }) | undefined;
  for (const part of parts) {
    const looks = looksOf(parts, part);
    const middle = middleLook(model, part);
    const costOf = (shift: number): number =>
      [...looks, ...(middle ?? [])].reduce((sum, { distance, error }) => sum + bounded((distance + shift) / error), 0);
    const before = costOf(0);
    const isAlone = looks.length === 0;
    if (before < LEAST_GAIN && !isAlone) continue;
    for (const { factor, between } of factors) {
      const shift = Math.log(factor);
      const after = costOf(shift);
      const gain = before - after;
      const isBack = isAlone
        ? isBackInMiddle(middle, shift)
        : gain > LEAST_GAIN && after < REMAINS * before && looks.some((look) => isClose(look, shift));
      if (!isBack || !isPossible(model, part, factor)) continue;
      if (best !== undefined && (best.gain >= gain || (best.part === part && best.gain >= gain - AS_GOOD))) {
        if (best.part === part && gain > best.gain - AS_GOOD) best = { ...best, others: [...best.others, between] };
        continue;
      }
      const others = best?.part === part && best.gain > gain - AS_GOOD ? [best.between] : [];
      const widest = [...looks, ...(middle ?? [])].reduce((one, other) =>
        Math.abs(other.distance / other.error) > Math.abs(one.distance / one.error) ? other : one,
      );
      best = {
        ...{ part, factor, between, others, gain, ratio: Math.exp(widest.distance), athletes: widest.athletes },
        score: widest.distance / widest.error,
      };
    }
  }
  return best;
}

/** Whether a comparison comes out even once the slip is put right. */
function isClose({ distance, error }: Look, shift: number): boolean {
  return Math.abs(distance + shift) < Math.max(EVEN, Math.min(error, BETWEEN_GROUPS));
}

/** Most of the readings would be plausible. */
function isPossible(model: Model, { rows }: Part, factor: number): boolean {
  const { plausible } = model.readings.measureOf(rows[0]);
  if (plausible === undefined) return true;
  const inside = rows.filter((row) => {
    const value = model.values[row] * factor;
    return value >= plausible[0] && value <= plausible[1];
  });
  return inside.length > 0.8 * rows.length;
}

/** Distance from the middle of narrow plausible limits: with nothing to compare with, the only thing that is known. */
function middleLook(model: Model, part: Part): Look[] | undefined {
  const { plausible } = model.readings.measureOf(part.rows[0] ?? 0);
  if (part.rows.length < FEWEST_LEVELS || plausible === undefined || !(plausible[0] > 0)) return undefined;
  if (plausible[1] / plausible[0] > TIGHT) return undefined;
  const middle = Math.log(median(part.rows.map((row) => model.values[row]).filter((value) => value > 0))!);
  const distance = middle - (Math.log(plausible[0]) + Math.log(plausible[1])) / 2;
  return [{ distance, error: NEAR_MIDDLE, athletes: part.rows.length }];
}

function isBackInMiddle(middle: readonly Look[] | undefined, shift: number): boolean {
  if (middle === undefined) return false;
  const [{ distance }] = middle;
  return Math.abs(distance) > FAR_FROM_MIDDLE && Math.abs(distance + shift) < NEAR_MIDDLE;
}
