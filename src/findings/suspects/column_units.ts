import { slipFactors } from '../../sheets/unit_slip.ts';
import {
  BETWEEN_GROUPS,
  type Look,
  looksOf,
  middleLook,
  NEAR_MIDDLE,
  type Part,
  type Parting,
  partsOf,
} from './column_parts.ts';
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

const MOST_EDGE_COST = 12.5;
/** Logarithms: within 13 % of each other. */
const EVEN = 0.12;
const LEAST_GAIN = 6;
/** Slips whose gains differ by less fit equally well: the first of the list is told first. */
const AS_GOOD = 1;
/** What remains of the cost when the slip is put right. */
const REMAINS = 0.35;
const MOST_SLIPS = 64;
/** So many of the readings would have to be plausible. */
const MOST_PLAUSIBLE = 0.8;
/** Logarithms: nothing else speaks against a part. */
const FAR_FROM_MIDDLE = 0.4;

type Factor = ReturnType<typeof slipFactors>[number];

/** What explains best why a part lies where it does. */
interface Best {
  readonly part: Part;
  readonly factor: number;
  readonly between: string;
  readonly others: readonly string[];
  readonly gain: number;
  /** the comparison that shows it most */
  readonly look: Look;
}

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
      const { part, factor, between, others, look } = best;
      part.shift += Math.log(factor);
      const rows = rowsOf(model, parting, measure, part);
      for (const row of rows) model.values[row] *= factor;
      found.push({
        ...{ rows, factor, between, others, extent: parting.extent, ...sharedOf(model, parting, rows[0]) },
        ...{ ratio: Math.exp(look.distance), athletes: look.athletes, score: look.distance / look.error },
      });
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
  if (by === undefined || readings[by][row] < 0) return {};
  return by === 'tester' ? { tester: readings.tester[row] } : { team: readings.team[row] };
}

/** The part that a slip explains best. */
function bestOf(model: Model, parts: readonly Part[], factors: readonly Factor[]): Best | undefined {
  let best: Best | undefined;
  for (const part of parts) {
    const own = bestOfPart(model, parts, part, factors);
    if (own !== undefined && (best === undefined || own.gain > best.gain)) best = own;
  }
  return best;
}

function bestOfPart(model: Model, parts: readonly Part[], part: Part, factors: readonly Factor[]): Best | undefined {
  const looks = looksOf(parts, part);
  const middle = middleLook(model, part);
  const all = middle === undefined ? looks : [...looks, middle];
  const before = costOf(all, 0);
  if (all.length === 0 || (looks.length > 0 && before < LEAST_GAIN)) return undefined;
  const choices = factors.flatMap(({ factor, between }) => {
    const shift = Math.log(factor);
    const after = costOf(all, shift);
    const isBack =
      looks.length === 0
        ? isBackInMiddle(middle!, shift)
        : before - after > LEAST_GAIN && after < REMAINS * before && looks.some((look) => isClose(look, shift));
    return isBack && isPossible(model, part, factor) ? [{ factor, between, gain: before - after }] : [];
  });
  const most = choices.reduce((gain, choice) => Math.max(gain, choice.gain), Number.NEGATIVE_INFINITY);
  const [first, ...others] = choices.filter(({ gain }) => gain > most - AS_GOOD);
  if (first === undefined) return undefined;
  const size = ({ distance, error }: Look): number => Math.abs(distance / error);
  const look = all.reduce((one, other) => (size(other) > size(one) ? other : one));
  return { part, ...first, others: others.map(({ between }) => between), look };
}

/** What the distances of a part cost together, if its readings were shifted. */
function costOf(looks: readonly Look[], shift: number): number {
  return looks.reduce((sum, { distance, error }) => {
    const z = (distance + shift) / error;
    return sum + Math.min((z * z) / 2, MOST_EDGE_COST);
  }, 0);
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
  return inside.length > MOST_PLAUSIBLE * rows.length;
}

function isBackInMiddle({ distance }: Look, shift: number): boolean {
  return Math.abs(distance) > FAR_FROM_MIDDLE && Math.abs(distance + shift) < NEAR_MIDDLE;
}
