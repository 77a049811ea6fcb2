type Factors = { readonly [factor: string]: readonly string[] };
type Combination<F extends Factors> = { readonly [factor in keyof F]: string };

/** Draws for one pair before it is taken to be one that cannot occur. */
const MOST_DRAWS = 400;
/** Combinations that are drawn for a pair, of which the best is kept. */
const DRAWS = 12;

/**
 * Combinations in which every pair of values of two factors occurs that can. Greedy, and the same on every run.
 * @param isAllowed whether a combination can occur at all
 */
export function pairwise<F extends Factors>(
  factors: F,
  isAllowed: (combination: Combination<F>) => boolean,
): Combination<F>[] {
  const names: (keyof F & string)[] = Object.keys(factors);
  const pairs = new Map<string, Partial<Combination<F>>>();
  for (const [at, one] of names.entries()) {
    for (const other of names.slice(at + 1)) {
      for (const first of factors[one]) {
        for (const second of factors[other]) {
          pairs.set(keyOf(one, first, other, second), { [one]: first, [other]: second } as Partial<Combination<F>>);
        }
      }
    }
  }
  const draw = generator(20260817);
  const random = (fixed: Partial<Combination<F>>): Combination<F> =>
    Object.fromEntries(
      names.map((name) => [name, fixed[name] ?? factors[name][Math.floor(draw() * factors[name].length)]]),
    ) as Combination<F>;
  const pairsIn = (combination: Combination<F>): string[] =>
    names.flatMap((one, at) =>
      names.slice(at + 1).map((other) => keyOf(one, combination[one], other, combination[other])),
    );
  const made: Combination<F>[] = [];
  for (const [key, fixed] of pairs) {
    if (!pairs.has(key)) continue;
    const drawn: Combination<F>[] = [];
    for (let draws = 0; draws < MOST_DRAWS && drawn.length < DRAWS; draws++) {
      const one = random(fixed);
      if (isAllowed(one)) drawn.push(one);
    }
    if (drawn.length === 0) continue;
    const news = drawn.map((one) => pairsIn(one).filter((pair) => pairs.has(pair)).length);
    const best = drawn[news.indexOf(Math.max(...news))];
    made.push(best);
    for (const pair of pairsIn(best)) pairs.delete(pair);
  }
  return made;
}

function keyOf(one: string, first: string, other: string, second: string): string {
  return `${one}=${first}\n${other}=${second}`;
}

/** Numbers from 0 up to 1 by a linear congruence (Numerical Recipes, 1992, 7.1). */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
