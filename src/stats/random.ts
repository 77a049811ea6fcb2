const SIZE = 624;
const SHIFT = 397;
const MATRIX = 0x9908b0df;
const UPPER = 0x80000000;
const LOWER = 0x7fffffff;

/** Uniform whole numbers from 0 to below `bound`, one a call. */
export type Draw = (bound: number) => number;

/**
 * Generator of 32 random bits a call: MT19937, period 2^19937 − 1 (ACM Trans Model Comput Simul 1998;8:3-30), seeded as in
 * ISO/IEC 14882 [rand.eng.mers].
 * @param seed a whole number; its lowest 32 bits count
 */
export function mersenneTwister(seed: number): () => number {
  const state = new Uint32Array(SIZE);
  state[0] = seed;
  for (let at = 1; at < SIZE; at++) {
    const before = state[at - 1] ^ (state[at - 1] >>> 30);
    state[at] = Math.imul(1812433253, before) + at;
  }
  let next = SIZE;
  const refill = (): void => {
    for (let at = 0; at < SIZE; at++) {
      const bits = (state[at] & UPPER) | (state[(at + 1) % SIZE] & LOWER);
      state[at] = state[(at + SHIFT) % SIZE] ^ (bits >>> 1) ^ (bits & 1 ? MATRIX : 0);
    }
    next = 0;
  };
  return () => {
    if (next === SIZE) refill();
    let bits = state[next++];
    bits ^= bits >>> 11;
    bits ^= (bits << 7) & 0x9d2c5680;
    bits ^= (bits << 15) & 0xefc60000;
    return (bits ^ (bits >>> 18)) >>> 0;
  };
}

/**
 * Draws with one seed: the same seed gives the same numbers on any machine. The chance of a number differs from 1/bound
 * by less than bound/2^32 of it.
 */
export function seededDraw(seed: number): Draw {
  const bits = mersenneTwister(seed);
  return (bound) => Math.floor((bits() / 0x100000000) * bound);
}
