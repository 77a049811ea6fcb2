import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Seeded draws. */
export interface Draws {
  /** 0 to below 1 */
  share(): number;
  /** whole, both ends in */
  whole(low: number, high: number): number;
  normal(): number;
  pick<T>(list: readonly T[]): T;
  shuffled<T>(list: readonly T[]): T[];
}

export function drawsOf(seed: number): Draws {
  const random = xoroshiro128plus(seed);
  const share = (): number => uniformFloat64(random);
  const whole = (low: number, high: number): number => uniformInt(random, low, high);
  return {
    share,
    whole,
    // Box and Muller.
    normal: () => Math.sqrt(-2 * Math.log(1 - share())) * Math.cos(2 * Math.PI * share()),
    pick: (list) => list[whole(0, list.length - 1)],
    shuffled: (list) => {
      const copy = [...list];
      for (let at = copy.length - 1; at > 0; at--) {
        const other = whole(0, at);
        [copy[at], copy[other]] = [copy[other], copy[at]];
      }
      return copy;
    },
  };
}
