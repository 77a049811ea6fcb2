import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { loadProtocol } from '../../src/protocol/load.ts';
import type { Field, Measure } from '../../src/protocol/types.ts';
import { fieldError, foldedNormalShare, semAt } from '../../src/results/errors.ts';
import { deficitPct } from '../../src/results/fields.ts';
import { sampleSd } from '../../src/stats/simple.ts';
import { derived } from './build.ts';

const SEED = 20261125;
const DRAWS = 200_000;

/** Seeded draws of the standard normal (Box and Muller). */
function normalDraws(seed: number): () => number {
  const random = xoroshiro128plus(seed);
  return () => {
    const radius = Math.sqrt(-2 * Math.log(1 - uniformFloat64(random)));
    return radius * Math.cos(2 * Math.PI * uniformFloat64(random));
  };
}

function measureOf(body: string): Measure {
  const text = `bilat: 1\nname: Test\nmeasures:\n  force: {label: Force, unit: N, sides: each, ${body}}\n`;
  return loadProtocol(text, 'protocol.yaml').byName.get('force')!;
}

const numbers = (left: number, right: number, semLeft: number, semRight: number) => ({
  left,
  right,
  value: left,
  semLeft,
  semRight,
  semValue: semLeft,
});

describe('standard error of measurement at a reading', () => {
  it('as declared, or from a minimal detectable change at its level', () => {
    // J Strength Cond Res 2005;19:231-240: sem = mdc / (1.96·√2); worked out by hand from it.
    expect(semAt({ sem: 3, basis: 'occasions' }, 100)).toBe(3);
    expect(semAt({ sem_pct: 6, basis: 'occasions' }, -50)).toBe(3);
    expect(semAt({ mdc: 8.315, basis: 'occasions', level: 95 }, 1)).toBeCloseTo(3, 3);
    // Phys Ther 2007;87:337-349: SEM 3.04 and 5.59 gave MDC90 7.05 and 12.96 with z = 1.64.
    expect(semAt({ mdc: 7.05, basis: 'occasions', level: 90 }, 1)).toBeCloseTo(3.04, 1);
    expect(semAt({ mdc_pct: 12.96, basis: 'occasions', level: 90 }, 100)).toBeCloseTo(5.59, 1);
    expect(semAt({ sem: 3, basis: 'occasions' }, Number.NaN)).toBeNaN();
  });
});

describe('errors that come from the errors of the two sides', () => {
  const measure = measureOf('error: {sem_pct: 5, basis: occasions}');
  const LEFT = 300;
  const RIGHT = 240;
  const SEM_LEFT = 9;
  const SEM_RIGHT = 6;
  const draw = normalDraws(SEED);
  const sides = Array.from({ length: DRAWS }, () => [LEFT + SEM_LEFT * draw(), RIGHT + SEM_RIGHT * draw()] as const);
  const FIELDS: [Field, (left: number, right: number) => number][] = [
    ['gap', (left, right) => Math.abs(right - left)],
    ['difference', (left, right) => right - left],
    ['deficit_pct', deficitPct],
    ['direction_pct', (left, right) => (100 * (right - left)) / Math.max(left, right)],
  ];

  // Seeded simulation (xoroshiro128plus, 200 000 draws): the SD of a SD is SD/√(2n), here 0.16 %; 1 % leaves room for the
  // second order that the propagation leaves out.
  it.each(FIELDS)('%s agrees with a simulation', (field, of) => {
    const simulated = sampleSd(sides.map(([left, right]) => of(left, right)))!;
    const found = fieldError(measure, field, numbers(LEFT, RIGHT, SEM_LEFT, SEM_RIGHT))!;
    expect(found.basis).toBe('derived');
    expect(Math.abs(found.sem / simulated - 1)).toBeLessThan(0.01);
  });

  it('is unknown where the error of a side is', () => {
    expect(fieldError(measure, 'gap', numbers(LEFT, RIGHT, Number.NaN, 6))).toBeUndefined();
  });

  it('gives way to what is declared for the field', () => {
    const declared = measureOf(
      'error: {sem_pct: 5, basis: occasions}, errors: {deficit_pct: {sem: 4, basis: occasions}}',
    );
    expect(fieldError(declared, 'deficit_pct', numbers(LEFT, RIGHT, 9, 6))).toEqual({ sem: 4, basis: 'declared' });
    expect(fieldError(declared, 'value', numbers(LEFT, RIGHT, 9, 6))).toEqual({ sem: 9, basis: 'declared' });
  });
});

describe('errors of derived measures', () => {
  const BODY = `measures:
  adduction: {label: Adduction, unit: N, sides: none, error: {sem: 10, basis: occasions}}
  abduction: {label: Abduction, unit: N, sides: none, error: {sem: 8, basis: occasions}}
derived:
  quotient: {label: Quotient, ratio: [adduction, abduction]}
  total: {label: Total, sum: [adduction, abduction]}
  rest: {label: Rest, difference: [adduction, abduction]}
  average: {label: Average, mean: [adduction, abduction]}
  share: {label: Share, percent_of: [adduction, abduction]}
  per_other: {label: Per other, per: [adduction, abduction]}
rules:
  low_quotient: {measure: quotient, field: value, below: 100, grade: watch, source: invented}
`;
  const OF: Record<string, (a: number, b: number) => number> = {
    quotient: (a, b) => a / b,
    total: (a, b) => a + b,
    rest: (a, b) => a - b,
    average: (a, b) => (a + b) / 2,
    share: (a, b) => (100 * a) / b,
    per_other: (a, b) => a / b,
  };

  it.each(Object.keys(OF))('%s agrees with a simulation', async (name) => {
    const { derive } = await import('../../src/results/derive.ts');
    const { bookOf, observationsOf } = await import('./build.ts');
    const protocol = loadProtocol(`bilat: 1\nname: Test\n${BODY}`, 'protocol.yaml');
    const readings = [
      { measure: 'adduction', value: 240 },
      { measure: 'abduction', value: 300 },
    ];
    const results = await derive([observationsOf(readings)], bookOf(), protocol, { occasionDays: 14 });
    const row = [...results.rows()].findIndex((result) => result.measure === name);
    const draw = normalDraws(SEED + 1);
    const simulated = sampleSd(Array.from({ length: DRAWS }, () => OF[name](240 + 10 * draw(), 300 + 8 * draw())))!;
    expect(Math.abs(results.columns.sem_value.values[row] / simulated - 1)).toBeLessThan(0.01);
  });
});

describe('symmetric athletes who read beyond a limit', () => {
  const LIMIT = 10;
  const STANDARD_ERRORS = 4;

  /** Deficits of simulated athletes with equal sides, each side the best of its attempts: share beyond the limit and mean. */
  function simulate({ errorPct, attempts }: { errorPct: number; attempts: readonly [number, number] }) {
    const draw = normalDraws(SEED + 2);
    const best = (count: number): number => Math.max(...Array.from({ length: count }, () => 100 + errorPct * draw()));
    const deficits = Array.from({ length: DRAWS }, () => deficitPct(best(attempts[0]), best(attempts[1])));
    const share = deficits.filter((deficit) => deficit > LIMIT).length / DRAWS;
    return {
      sharePct: 100 * share,
      sharePctError: 100 * Math.sqrt((share * (1 - share)) / DRAWS),
      mean: deficits.reduce((sum, deficit) => sum + deficit, 0) / DRAWS,
      meanError: sampleSd(deficits)! / Math.sqrt(DRAWS),
    };
  }

  /** Within the Monte Carlo error of both simulations and half of the last digit that is stated. */
  function agrees(simulated: number, error: number, stated: number, halfDigit: number): void {
    expect(Math.abs(simulated - stated)).toBeLessThan(STANDARD_ERRORS * Math.SQRT2 * error + halfDigit);
  }

  // The figures are the contract's, from simulations in R 4.2.2.
  it('5 % side error: a mean deficit of 5.4 %, 13.8 % beyond 10 %', () => {
    const { sharePct, sharePctError, mean, meanError } = simulate({ errorPct: 5, attempts: [1, 1] });
    agrees(sharePct, sharePctError, 13.8, 0.05);
    agrees(mean, meanError, 5.4, 0.05);
  });

  it('8 % side error: 35 % beyond 10 %', () => {
    const { sharePct, sharePctError } = simulate({ errorPct: 8, attempts: [1, 1] });
    agrees(sharePct, sharePctError, 35, 0.5);
  });

  it('5 % trial error: best of three against one favours a side, 15.8 % beyond 10 % instead of 3.8 %', () => {
    const unequal = simulate({ errorPct: 5, attempts: [3, 1] });
    agrees(unequal.sharePct, unequal.sharePctError, 15.8, 0.05);
    const equal = simulate({ errorPct: 5, attempts: [3, 3] });
    agrees(equal.sharePct, equal.sharePctError, 3.8, 0.05);
  });

  it('by the folded normal, within two points of the simulation', () => {
    // The deficit is taken on the log scale, where its error does not depend on which side is the better one.
    const logLimit = -100 * Math.log(1 - 10 / 100);
    expect(100 * foldedNormalShare(logLimit, 5 * Math.SQRT2)).toBeCloseTo(13.8, 0);
    expect(100 * foldedNormalShare(logLimit, 8 * Math.SQRT2)).toBeCloseTo(35, 0);
    expect(foldedNormalShare(0, 5)).toBe(1);
    expect(foldedNormalShare(10, 0)).toBe(0);
  });
});

describe('a reading without a declared error', () => {
  it('has none', async () => {
    const rows = await derived('measures:\n  grip: {label: Grip, unit: kgf, sides: none}\n', [
      { measure: 'grip', value: 40 },
    ]);
    expect(rows[0].value).toBe(40);
    expect(fieldError(measureOf('better: higher'), 'value', numbers(1, 1, Number.NaN, Number.NaN))).toBeUndefined();
  });
});
