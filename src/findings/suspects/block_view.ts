import { LEFT, RIGHT } from './blocks.ts';
import type { Group, Scale } from './scale.ts';

/** Attempts of one side on one day. */
export interface AttemptSet {
  /** first and behind last, in the view */
  readonly from: number;
  readonly to: number;
  readonly side: number;
  /** position of its day in the view */
  readonly day: number;
  /** its own position among the sets of the view */
  readonly index: number;
}

/** Degrees of freedom of t distributions: differences within an athlete have longer tails than athletes within a group. */
const TAILS = 4;
const GROUP_TAILS = 8;

/** −2 log density of a t distribution, halved, 0 at its middle: what a distance of z standard deviations costs. */
export function cost(z: number, tails = TAILS): number {
  return ((tails + 1) / 2) * Math.log1p((z * z) / tails);
}

const scratch: number[] = [];

/** Median of the numbers from..to of a list, NaN left out; NaN if there is none. */
function middle(xs: Float64Array, from: number, to: number, without = -1): number {
  scratch.length = 0;
  for (let at = from; at < to; at++) if (at !== without && !Number.isNaN(xs[at])) scratch.push(xs[at]);
  if (scratch.length < 2) return scratch.length === 0 ? Number.NaN : scratch[0];
  scratch.sort((a, b) => a - b);
  const half = scratch.length >> 1;
  return scratch.length % 2 === 1 ? scratch[half] : (scratch[half - 1] + scratch[half]) / 2;
}

/** What a reading was expected to be, on the scale. */
export interface Expected {
  readonly centre: number;
  readonly spread: number;
}

/**
 * The readings of one athlete and kind with everything that they are judged by: the other attempts, the other side, the
 * days before and after, and the group. `xs` holds them on the scale, NaN for one that is left out, and may be changed.
 */
export class BlockView {
  readonly rows: Int32Array;
  readonly xs: Float64Array;
  readonly sets: readonly AttemptSet[];
  readonly scale: Scale;
  /** of each day; undefined: too few to compare with */
  readonly #groups: readonly (Group | undefined)[];
  /** the sets of each day */
  readonly days: readonly (readonly AttemptSet[])[];
  readonly #middles: Float64Array;

  constructor(
    rows: Int32Array,
    xs: Float64Array,
    sets: readonly AttemptSet[],
    groups: readonly (Group | undefined)[],
    scale: Scale,
  ) {
    this.rows = rows;
    this.xs = xs;
    this.sets = sets;
    this.scale = scale;
    this.#groups = groups;
    const days: AttemptSet[][] = groups.map(() => []);
    for (const set of sets) days[set.day].push(set);
    this.days = days;
    this.#middles = new Float64Array(sets.length);
  }

  setOf(at: number): AttemptSet {
    return this.sets.find(({ from, to }) => at >= from && at < to)!;
  }

  /** Median of the attempts of a set; NaN if there is none. */
  middle({ from, to }: AttemptSet): number {
    return middle(this.xs, from, to);
  }

  /** What all distances of the block cost together: the larger, the less its readings fit each other and the group. */
  energy(): number {
    let energy = 0;
    for (const { from, to, index } of this.sets) {
      this.#middles[index] = middle(this.xs, from, to);
      energy += this.#trialCost(from, to, this.#middles[index]);
    }
    for (const sets of this.days) energy += this.#sideCost(sets) + this.#groupCost(sets);
    return energy + this.#timeCost(LEFT) + this.#timeCost(RIGHT) + this.#timeCost(-1);
  }

  #trialCost(from: number, to: number, centre: number): number {
    const { trial } = this.scale;
    if (to - from < 2 || Number.isNaN(trial)) return 0;
    // Two attempts make one distance, which either of their distances from the middle is half of.
    const spread = to - from === 2 ? trial / 2 : trial / Math.SQRT2;
    let sum = 0;
    for (let at = from; at < to; at++) if (!Number.isNaN(this.xs[at])) sum += cost((this.xs[at] - centre) / spread);
    return to - from === 2 ? sum / 2 : sum;
  }

  #sideCost(sets: readonly AttemptSet[]): number {
    const left = sets.find(({ side }) => side === LEFT);
    const right = sets.find(({ side }) => side === RIGHT);
    if (left === undefined || right === undefined) return 0;
    const distance = this.#middles[left.index] - this.#middles[right.index];
    return Number.isNaN(distance) || Number.isNaN(this.scale.side) ? 0 : cost(distance / this.scale.side);
  }

  #groupCost(sets: readonly AttemptSet[]): number {
    const group = this.#groups[sets[0].day];
    if (group === undefined) return 0;
    let sum = 0;
    for (const { index } of sets) {
      const z = (this.#middles[index] - group.centre) / group.spread;
      // Both sides of an athlete say the same about the athlete.
      if (!Number.isNaN(z)) sum += cost(z, GROUP_TAILS) / sets.length;
    }
    return sum;
  }

  /** @param side -1: the two limbs at once, or a measure without sides */
  #timeCost(side: number): number {
    const { time } = this.scale;
    if (Number.isNaN(time)) return 0;
    let sum = 0;
    let last = Number.NaN;
    let lastButOne = Number.NaN;
    for (const set of this.sets) {
      const own = set.side === LEFT || set.side === RIGHT ? set.side : -1;
      const now = this.#middles[set.index];
      if (own !== side || Number.isNaN(now)) continue;
      if (!Number.isNaN(last)) sum += cost((now - last) / time);
      if (!Number.isNaN(lastButOne)) sum += cost((now - lastButOne) / time);
      lastButOne = last;
      last = now;
    }
    return sum;
  }

  /** What a reading was expected to be by all the others; undefined: nothing says. */
  expected(at: number): Expected | undefined {
    const looks = this.#ownLooks(at);
    const group = this.#groups[this.setOf(at).day];
    if (group !== undefined) looks.push({ ...group });
    return looks.length === 0 ? undefined : weightedMiddle(looks);
  }

  /** How far a reading lies from the other readings of its athlete, in their spread; undefined: there are none. */
  ownZ(at: number): number | undefined {
    const looks = this.#ownLooks(at);
    if (looks.length === 0) return undefined;
    const { centre, spread } = weightedMiddle(looks);
    return (this.xs[at] - centre) / spread;
  }

  /** As z, by the other days where there are any, else by the group: what stands beside a reading may be wrong with it. */
  awayZ(at: number): number | undefined {
    const { day } = this.setOf(at);
    const looks = this.#ownLooks(at, (other) => other.day !== day);
    const group = this.#groups[day];
    if (looks.length === 0 && group !== undefined) looks.push({ ...group });
    if (looks.length === 0) return undefined;
    const { centre, spread } = weightedMiddle(looks);
    return (this.xs[at] - centre) / spread;
  }

  #ownLooks(at: number, isWanted: (set: AttemptSet) => boolean = () => true): Expected[] {
    const own = this.setOf(at);
    const { trial, side, time } = this.scale;
    const looks: Expected[] = [];
    const look = (centre: number, spread: number): void => {
      if (!Number.isNaN(centre) && spread > 0) looks.push({ centre, spread });
    };
    const noise = (trial || 0) / Math.SQRT2;
    if (isWanted(own)) look(middle(this.xs, own.from, own.to, at), trial);
    for (const other of this.sets) {
      if (other === own || !isWanted(other)) continue;
      const isOtherSide = other.side !== own.side;
      if (other.day !== own.day && isOtherSide) continue;
      look(middle(this.xs, other.from, other.to), Math.hypot(isOtherSide ? side : time, noise));
    }
    return looks;
  }

  /** How far a reading lies from what the others make expected, in its spread; 0: nothing says. */
  z(at: number): number {
    const expected = this.expected(at);
    return expected === undefined ? 0 : (this.xs[at] - expected.centre) / expected.spread;
  }
}

/** The middle of what is expected, the closer looks weighing more; the spread is that of the closest look. */
function weightedMiddle(looks: Expected[]): Expected {
  const sorted = looks.sort((a, b) => a.centre - b.centre);
  const weight = ({ spread }: Expected): number => 1 / (spread * spread);
  const half = sorted.reduce((sum, one) => sum + weight(one), 0) / 2;
  const spread = sorted.reduce((least, one) => Math.min(least, one.spread), Number.POSITIVE_INFINITY);
  let passed = 0;
  for (const one of sorted) {
    passed += weight(one);
    if (passed > half * (1 + 1e-9)) return { centre: one.centre, spread };
    if (passed >= half * (1 - 1e-9)) {
      const next = sorted[sorted.indexOf(one) + 1] ?? one;
      return { centre: (one.centre + next.centre) / 2, spread };
    }
  }
  return { centre: sorted[sorted.length - 1].centre, spread };
}
