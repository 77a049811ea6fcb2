import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { mersenne } from 'pure-rand/generator/mersenne';

/** Uniform whole numbers from 0 to below `bound`, one a call. */
export type Draw = (bound: number) => number;

/**
 * Draws with one seed: the same seed gives the same numbers on any machine. The generator is MT19937 (ACM Trans Model
 * Comput Simul 1998;8:3-30); each number below the bound is equally likely.
 * @param seed a whole number; its lowest 32 bits count
 */
export function seededDraw(seed: number): Draw {
  const generator = mersenne(seed);
  return (bound) => uniformInt(generator, 0, bound - 1);
}
