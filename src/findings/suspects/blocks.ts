import { SIDES } from '../../units/sides.ts';
import { coded, orderedBy, ranked } from './order.ts';
import type { Readings } from './readings.ts';

export const LEFT = SIDES.indexOf('left');
export const RIGHT = SIDES.indexOf('right');
export const BOTH = SIDES.indexOf('both');

/** Longer rows of readings of one athlete are cut: what is compared with each other stays bounded. */
const LONGEST_BLOCK = 64;
const MOST_TRIALS = 32_768;

/**
 * What readings are compared within: a measure, the two limbs at once apart from the single ones. Two for each measure.
 */
export function kindOf({ measure, side }: Readings, at: number): number {
  return measure[at] * 2 + (side[at] === BOTH ? 1 : 0);
}

/** The readings of one athlete and kind, by day, side and trial: one block after the other. */
export class Blocks {
  /** rows, block by block, the blocks of a kind together */
  readonly order: Int32Array;
  /** where each block begins in order; one more for the end */
  readonly starts: Int32Array;
  /** block of each row */
  readonly blockOf: Int32Array;
  readonly count: number;

  constructor(readings: Readings) {
    const { length, athlete, day, side, trial } = readings;
    const kinds = readings.protocol.measures.length * 2;
    this.order = orderedBy(length, [
      { of: (row) => kindOf(readings, row), size: kinds },
      coded(athlete, readings.athletes.dictionary.size),
      ranked(day, length),
      { of: (row) => side[row], size: SIDES.length },
      { of: (row) => Math.max(0, trial[row]), size: MOST_TRIALS },
    ]);
    this.blockOf = new Int32Array(length);
    const starts: number[] = [];
    for (let place = 0; place < length; place++) {
      const row = this.order[place];
      const before = this.order[place - 1];
      const begins =
        place === 0 ||
        kindOf(readings, row) !== kindOf(readings, before) ||
        athlete[row] !== athlete[before] ||
        (place - starts[starts.length - 1] >= LONGEST_BLOCK && day[row] !== day[before]) ||
        place - starts[starts.length - 1] >= 2 * LONGEST_BLOCK;
      if (begins) starts.push(place);
      this.blockOf[row] = starts.length - 1;
    }
    this.count = starts.length;
    this.starts = Int32Array.from([...starts, length]);
  }

  /** The rows of a block. */
  rows(block: number): Int32Array {
    return this.order.subarray(this.starts[block], this.starts[block + 1]);
  }
}
