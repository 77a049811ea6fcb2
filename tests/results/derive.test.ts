import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Failure } from '../../src/problems/failure.ts';
import { RESULT_STATUSES } from '../../src/tables/schemas.ts';
import { derived, type Reading, type Result } from './build.ts';

// All expected numbers here are worked out by hand.

const SIDED = (extra = ''): string => `measures:\n  force: {label: Force, unit: N, sides: each${extra}}\n`;
const PLAIN = (extra = ''): string => `measures:\n  score: {label: Score, unit: cm, sides: none${extra}}\n`;

const TOTAL = `measures:
  score: {label: Score, unit: cm, sides: none}
  reach: {label: Reach, unit: cm, sides: none}
derived:
  sum_of_both: {label: Total, total: [score, reach], side: worse, needs: all}
`;
const INDEX = `measures:
  score: {label: Score, unit: cm, sides: none}
  reach: {label: Reach, unit: cm, sides: none}
derived:
  index: {label: Index, z_mean: [score, reach], within: []}
`;

const left = (value: number | undefined, rest: Partial<Reading> = {}): Reading => ({
  measure: 'force',
  side: 'left',
  value,
  ...rest,
});
const right = (value: number | undefined, rest: Partial<Reading> = {}): Reading => ({
  ...left(value, rest),
  side: 'right',
});
const score = (value: number | undefined, rest: Partial<Reading> = {}): Reading => ({
  measure: 'score',
  value,
  ...rest,
});

const only = (rows: readonly Result[]): Result => {
  expect(rows.length).toBe(1);
  return rows[0];
};

describe('which attempt is kept', () => {
  const attempts = [31, 35, 32, 34].map((value, at) => score(value, { trial: at + 1 }));
  it.each([
    ['best', '', 35],
    ['best', ', better: lower', 31],
    ['mean', '', 33],
    ['median', '', 33],
    ['first', '', 31],
    ['last', '', 34],
  ])('%s%s → %d', async (keep, better, value) => {
    expect(only(await derived(PLAIN(`${better}, trials: {keep: ${keep}}`), attempts)).value).toBe(value);
  });

  it('first and last go by trial number, not by place', async () => {
    const shuffled = [score(3, { trial: 3 }), score(1, { trial: 1 }), score(2, { trial: 2 })];
    expect(only(await derived(PLAIN(', trials: {keep: last}'), shuffled)).value).toBe(3);
    expect(only(await derived(PLAIN(', trials: {keep: first}'), shuffled)).value).toBe(1);
  });

  it('a painful reading counts, a void one does not', async () => {
    const row = only(
      await derived(PLAIN(), [
        score(30),
        score(40, { trial: 2, status: 'pain' }),
        score(undefined, { trial: 3, status: 'void' }),
      ]),
    );
    expect([row.value, row.status]).toEqual([40, 'pain']);
  });
});

describe('comparing the sides', () => {
  it('percent: everything of 25 against 20', async () => {
    const row = only(
      await derived(SIDED(', dominance: foot'), [left(25), right(20)], { K001: { dominance: ['right'] } }),
    );
    expect(row).toMatchObject({
      left: 25,
      right: 20,
      value: null,
      weaker: 'right',
      deficit_pct: 20,
      gap: 5,
      difference: -5,
      direction_pct: -20,
      dominance_pct: -20,
      dominance_gap: -5,
      status: null,
    });
  });

  it('gap: no percentages; none: nothing', async () => {
    const gap = only(await derived(SIDED(', compare: gap'), [left(25), right(20)]));
    expect([gap.gap, gap.difference, gap.deficit_pct, gap.symmetry_angle]).toEqual([5, -5, null, null]);
    const none = only(await derived(SIDED(', compare: none'), [left(25), right(20)]));
    expect([none.gap, none.difference, none.deficit_pct, none.weaker]).toEqual([null, null, null, 'right']);
  });

  it('the weaker side follows what is better', async () => {
    const weaker = async (extra: string, l: number, r: number): Promise<string | null> =>
      only(await derived(SIDED(extra), [left(l), right(r)])).weaker;
    expect(await weaker('', 25, 20)).toBe('right');
    expect(await weaker(', better: lower', 25, 20)).toBe('left');
    expect(await weaker(', better: between', 25, 20)).toBe(null);
    expect(await weaker('', 20, 20)).toBe(null);
  });

  it('both limbs at once give the bilateral index', async () => {
    const row = only(await derived(SIDED(), [left(530), right(550), { measure: 'force', side: 'both', value: 1000 }]));
    expect(row.both).toBe(1000);
    expect(row.bilateral_index_pct).toBeCloseTo((100 * 1000) / 1080 - 100, 12);
    const gap = await derived(SIDED(', compare: gap'), [left(530), right(550), { ...left(1000), side: 'both' }]);
    expect([only(gap).both, only(gap).bilateral_index_pct]).toEqual([1000, null]);
  });

  it('spread and number of attempts by side', async () => {
    const row = only(await derived(SIDED(), [left(40), left(44, { trial: 2 }), right(50)]));
    expect([row.trials_left, row.trials_right]).toEqual([2, 1]);
    expect(row.spread_left_pct).toBeCloseTo((100 * 4) / 42, 12);
    expect(row.spread_right_pct).toBe(null);
  });
});

describe('why a number is missing or to be read with care', () => {
  const CASES: { status: string | null; body?: string; readings: Reading[]; dominance?: 'left' | 'both' | null }[] = [
    { status: null, readings: [left(25), right(20)] },
    { status: 'missing_left', readings: [right(20)] },
    { status: 'missing_right', readings: [left(20)] },
    { status: 'few_trials', body: SIDED(', trials: {expect: 2}'), readings: [left(25), right(20)] },
    { status: 'unequal_trials', readings: [left(25), left(24, { trial: 2 }), right(20)] },
    { status: null, body: SIDED(', trials: {keep: mean}'), readings: [left(25), left(24, { trial: 2 }), right(20)] },
    {
      status: 'wide_spread',
      body: SIDED(', trials: {spread_pct: 10}'),
      readings: [left(40), left(50, { trial: 2 }), right(40), right(40, { trial: 2 })],
    },
    {
      status: null,
      body: SIDED(', trials: {spread_pct: 10}'),
      readings: [left(40), left(42, { trial: 2 }), right(40), right(40, { trial: 2 })],
    },
    { status: 'pain_left', readings: [left(25, { status: 'pain' }), right(20)] },
    { status: 'missing_right;pain_right', readings: [left(25), right(undefined, { status: 'pain' })] },
    { status: 'missing_left;unable', readings: [left(undefined, { status: 'unable' }), right(20)] },
    { status: 'missing_left;missing_right;refused', readings: [left(undefined, { status: 'refused' })] },
    { status: 'missing_left;missing_right;held', readings: [right(undefined, { status: 'held' })] },
    { status: 'missing_left;missing_right;not_tested', readings: [right(undefined)] },
    { status: 'no_dominant_side', body: SIDED(', dominance: foot'), readings: [left(25), right(20)], dominance: null },
    {
      status: 'no_dominant_side',
      body: SIDED(', dominance: foot'),
      readings: [left(25), right(20)],
      dominance: 'both',
    },
    { status: null, body: SIDED(', dominance: foot'), readings: [left(25), right(20)], dominance: 'left' },
    { status: 'not_positive', readings: [left(-2), right(3)] },
    { status: 'not_positive', readings: [left(0), right(0)] },
    { status: 'repeated_row', readings: [left(25), left(25), right(20)] },
    { status: 'unequal_trials', readings: [left(25), left(25, { trial: 2 }), right(20)] },
    { status: 'later_days', readings: [left(25), right(20, { date: '2026-08-13' })] },
    { status: 'pain', body: PLAIN(), readings: [score(3, { status: 'pain' })] },
    { status: 'unable', body: PLAIN(), readings: [score(undefined, { status: 'unable' })] },
    // Both limbs at once say nothing of either.
    { status: 'missing_left;missing_right', readings: [{ measure: 'force', side: 'both', value: 900 }] },
    // Nothing came of it, and an empty number always has its reason.
    { status: 'not_tested', body: PLAIN(), readings: [score(undefined, { status: 'void' })] },
    { status: 'missing_part', body: TOTAL, readings: [score(3)] },
    { status: 'partial_total', body: TOTAL.replace('all', '1'), readings: [score(3)] },
    { status: 'small_group', body: INDEX, readings: [score(3), { measure: 'reach', value: 4 }] },
  ];

  it.each(CASES)('$status', async ({ status, body = SIDED(), readings, dominance }) => {
    const people = dominance === undefined ? {} : { K001: { dominance: [dominance] } };
    const rows = await derived(body, readings, people);
    expect(rows.at(-1)!.status).toBe(status);
    if (rows.length > 1) expect(rows[0].status).toBe(null);
  });

  it('no status is without a case', () => {
    const met = new Set(CASES.flatMap(({ status }) => status?.split(';') ?? []));
    expect([...met].sort()).toEqual([...RESULT_STATUSES].sort());
  });

  it('attempts of one occasion over two days are kept together', async () => {
    const readings = [left(20), right(24), left(26, { date: '2026-08-13', trial: 2, purpose: 'makeup' })];
    const row = only(await derived(SIDED(), readings));
    expect([row.date, row.left, row.right, row.trials_left]).toEqual(['2026-08-12', 26, 24, 2]);
    expect(row.status).toBe('unequal_trials;later_days');
  });

  it('an equal repeat counts once', async () => {
    const row = only(
      await derived(SIDED(', trials: {keep: mean}'), [left(20), left(20), left(26, { trial: 2 }), right(20)]),
    );
    expect([row.left, row.trials_left]).toEqual([23, 2]);
  });
});

const PARTS = `measures:
  adduction: {label: Adduction, unit: N, sides: each}
  abduction: {label: Abduction, unit: N, sides: each}
  mass: {label: Mass, unit: kg, sides: none}
  height: {label: Height, unit: cm, sides: none}
  hop: {label: Hop, unit: m, sides: each}
  inward: {label: Inward, unit: deg, sides: each, compare: gap}
  outward: {label: Outward, unit: deg, sides: each, compare: gap}
derived:
  quotient: {label: Ratio, ratio: [adduction, abduction]}
  arc: {label: Arc, sum: [inward, outward]}
  surplus: {label: Surplus, difference: [outward, inward]}
  per_kg: {label: Per kilogram, per: [adduction, mass]}
  average: {label: Average, mean: [adduction, abduction]}
  by_height: {label: By height, percent_of: [hop, height]}
  average_of_mass: {label: Mean of mass, mean: [hop, height], as_percent_of: height}
  chained: {label: Average to adduction, ratio: [average, adduction]}
`;

const bothSides = (measure: string, l: number, r: number): Reading[] => [
  { measure, side: 'left', value: l },
  { measure, side: 'right', value: r },
];

describe('derived measures', () => {
  const readings = [
    ...bothSides('adduction', 180, 240),
    ...bothSides('abduction', 200, 240),
    { measure: 'mass', value: 80 },
    { measure: 'height', value: 200 },
    ...bothSides('hop', 1.5, 1.6),
    ...bothSides('inward', 30, 35),
    ...bothSides('outward', 40, 50),
  ];
  const WANTED: Record<string, [number, number, string]> = {
    quotient: [0.9, 1, '1'],
    arc: [70, 85, 'deg'],
    surplus: [10, 15, 'deg'],
    per_kg: [2.25, 3, 'N/kg'],
    average: [190, 240, 'N'],
    // 1.5 m of 200 cm: parts are brought to one unit.
    by_height: [75, 80, '%'],
    average_of_mass: [87.5, 90, '%'],
    chained: [190 / 180, 1, '1'],
  };

  it.each(Object.entries(WANTED))('%s', async (name, [l, r, unit]) => {
    const rows = await derived(PARTS, readings);
    const row = rows.find((result) => result.measure === name)!;
    expect(row.left).toBeCloseTo(l, 12);
    expect(row.right).toBeCloseTo(r, 12);
    expect(row.unit).toBe(unit);
    expect([row.value, row.trials_left, row.status]).toEqual([null, null, null]);
  });

  it('compare their sides like any measure', async () => {
    const row = (await derived(PARTS, readings)).find((result) => result.measure === 'quotient')!;
    expect(row.deficit_pct).toBeCloseTo(10, 12);
    expect(row.weaker).toBe('left');
    const arc = (await derived(PARTS, readings)).find((result) => result.measure === 'arc')!;
    expect([arc.gap, arc.deficit_pct]).toEqual([15, null]);
  });

  it('say which part is missing, and are absent where every part is', async () => {
    const rows = await derived(PARTS, [
      { measure: 'adduction', side: 'left', value: 180 },
      { measure: 'mass', value: 90 },
    ]);
    const found = Object.fromEntries(rows.map((row) => [row.measure, row]));
    expect([found.per_kg.left, found.per_kg.right, found.per_kg.status]).toEqual([
      2,
      null,
      'missing_right;missing_part',
    ]);
    expect(found.quotient.status).toBe('missing_left;missing_right;missing_part');
    expect(found.arc).toBeUndefined();
  });

  it('have no number where they would divide by zero', async () => {
    const rows = await derived(PARTS, [...bothSides('adduction', 1, 2), ...bothSides('abduction', 0, 4)]);
    const row = rows.find((result) => result.measure === 'quotient')!;
    expect([row.left, row.right, row.status]).toEqual([null, 0.5, 'missing_left;missing_part']);
  });
});

describe('totals', () => {
  const body = (side: string, needs = 'all'): string => `measures:
  elbow: {label: Elbow, unit: "{score}", sides: each, levels: [0, 1, 2, 3], better: lower}
  knee: {label: Knee, unit: "{score}", sides: each, levels: [0, 1, 2, 3], better: lower}
  spine: {label: Spine, unit: "{score}", sides: none, levels: [0, 1, 2, 3], better: lower}
derived:
  sum_of_all: {label: Total, total: [elbow, knee, spine], side: ${side}, needs: ${needs}}
`;
  const readings = [...bothSides('elbow', 0, 2), ...bothSides('knee', 1, 1), { measure: 'spine', value: 3 }];

  it.each([
    ['worse', 6],
    ['better', 4],
    ['mean', 5],
    ['both', 7],
  ])('side: %s → %d', async (side, total) => {
    const row = (await derived(body(side), readings)).find((result) => result.measure === 'sum_of_all')!;
    expect([row.value, row.status]).toEqual([total, null]);
  });

  it('need all parts, or as many as they say', async () => {
    const without = readings.slice(0, 4);
    const all = (await derived(body('worse'), without)).find((result) => result.measure === 'sum_of_all')!;
    expect([all.value, all.status]).toEqual([null, 'missing_part']);
    const two = (await derived(body('worse', '2'), without)).find((result) => result.measure === 'sum_of_all')!;
    expect([two.value, two.status]).toEqual([3, 'partial_total']);
  });
});

describe('z_mean', () => {
  const body = (extra = ''): string => `measures:
  grip: {label: Grip, unit: kgf, sides: none}
  sprint: {label: Sprint, unit: s, sides: none, better: lower}
derived:
  index: {label: Index, z_mean: [grip, sprint], within: [sex]${extra}}
`;
  const ids = Array.from({ length: 10 }, (_, at) => `F${String(at).padStart(2, '0')}`);
  const women = Object.fromEntries(ids.map((id) => [id, { sex: 'F' }]));
  // 0 … 9: mean 4.5, sample variance 82.5/9.
  const readings = ids.flatMap((id, at): Reading[] => [
    { id, measure: 'grip', value: at },
    { id, measure: 'sprint', value: at },
  ]);
  const sd = Math.sqrt(82.5 / 9);
  const indexOf = (rows: readonly Result[], id: string): Result =>
    rows.find((row) => row.measure === 'index' && row.athlete_id === id)!;

  it('a part that is better lower changes its sign', async () => {
    const rows = await derived(body(), readings, women);
    expect(indexOf(rows, 'F09').value).toBeCloseTo(0, 12);
    const slower = readings.map((reading) =>
      reading.measure === 'sprint' ? { ...reading, value: 9 - reading.value! } : reading,
    );
    expect(indexOf(await derived(body(), slower, women), 'F09').value).toBeCloseTo(4.5 / sd, 12);
  });

  it('needs ten of a group, a spread, and to know the group', async () => {
    const nine = await derived(body(), readings.slice(0, 18), women);
    expect([indexOf(nine, 'F00').value, indexOf(nine, 'F00').status]).toEqual([null, 'small_group']);
    const alike = await derived(
      body(),
      readings.map((reading) => ({ ...reading, value: 5 })),
      women,
    );
    expect([indexOf(alike, 'F00').value, indexOf(alike, 'F00').status]).toEqual([null, 'small_group']);
    const unknown = await derived(body(), readings, { ...women, F00: {} });
    expect([indexOf(unknown, 'F00').value, indexOf(unknown, 'F00').status]).toEqual([null, 'small_group']);
  });

  it('all parts are needed unless it says otherwise', async () => {
    const without = readings.filter(({ id, measure }) => id !== 'F09' || measure === 'grip');
    const more = [...without, { id: 'F10', measure: 'grip', value: 4 }, { id: 'F10', measure: 'sprint', value: 4 }];
    const people = { ...women, F10: { sex: 'F' } };
    const strict = indexOf(await derived(body(), more, people), 'F09');
    expect([strict.value, strict.status]).toEqual([null, 'missing_part']);
    const lenient = indexOf(await derived(body(', needs: 1'), more, people), 'F09');
    expect(lenient.value).toBeGreaterThan(1);
    expect(lenient.status).toBe('missing_part;partial_total');
  });

  it('takes the first occasion of a season for the group, and judges all of them', async () => {
    const later = [
      ...readings,
      { id: 'F00', measure: 'grip', value: 9, date: '2026-10-12' },
      { id: 'F00', measure: 'sprint', value: 0, date: '2026-10-12' },
    ];
    const rows = (await derived(body(), later, women)).filter(
      (row) => row.measure === 'index' && row.athlete_id === 'F00',
    );
    expect(rows.map((row) => row.value)).toEqual([0, expect.closeTo(4.5 / sd, 12)]);
  });
});

describe('a table of another protocol', () => {
  it.each([
    [{ measure: 'squeeze', value: 1 }, 'measure "squeeze" is not in the protocol'],
    [{ measure: 'force', value: 1 }, 'the measure has two sides, and the row names none'],
    [{ measure: 'force', side: 'left', value: 1, unit: 'cm' }, 'unit "cm" does not fit a measure that is kept in N'],
    [{ measure: 'force', side: 'left', value: 1, status: 'fine' }, 'status "fine" is none of'],
  ])('%o', async (reading, message) => {
    const failure = derived(SIDED(), [reading]);
    await expect(failure).rejects.toThrow(Failure);
    await expect(derived(SIDED(), [reading])).rejects.toThrow(message);
  });

  it('is converted where only the unit differs', async () => {
    const rows = await derived(SIDED(), [left(10, { unit: 'kgf' }), right(98.0665)]);
    expect(rows[0].left).toBeCloseTo(98.0665, 10);
    expect(rows[0].weaker).toBe(null);
  });
});

const reading = fc.record({
  id: fc.constantFrom('K001', 'K002'),
  date: fc.constantFrom('2026-08-12', '2026-08-13', '2026-09-20'),
  measure: fc.constant('force'),
  side: fc.constantFrom('left', 'right'),
  trial: fc.integer({ min: 1, max: 3 }),
  value: fc.integer({ min: 1, max: 500 }),
});

describe('whatever was read', () => {
  it('swapping left and right turns the signed numbers and nothing else', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(reading, { minLength: 1, maxLength: 24 }), async (readings) => {
        const rows = await derived(SIDED(), readings);
        const swapped = await derived(
          SIDED(),
          readings.map((one) => ({ ...one, side: one.side === 'left' ? 'right' : 'left' })),
        );
        const turned = (number: number | null): number | null => (number === null ? null : 0 - number);
        expect(swapped.map((row) => [row.left, row.right, row.deficit_pct, row.difference, row.direction_pct])).toEqual(
          rows.map((row) => [row.right, row.left, row.deficit_pct, turned(row.difference), turned(row.direction_pct)]),
        );
      }),
    );
  });

  it('percentages do not depend on the unit', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(reading, { minLength: 1, maxLength: 24 }), async (readings) => {
        const rows = await derived(SIDED(), readings);
        const scaled = await derived(
          SIDED(),
          readings.map((one) => ({ ...one, value: one.value * 4 })),
        );
        const percentages = (row: Result): (number | null)[] => [
          row.deficit_pct,
          row.direction_pct,
          row.symmetry_angle,
          row.spread_left_pct,
          row.spread_right_pct,
        ];
        // Four times a number is exact in binary: not even the last digit may change.
        expect(scaled.map(percentages)).toEqual(rows.map(percentages));
      }),
    );
  });

  it('the order of the rows and the cut into batches do not matter', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(reading, { minLength: 2, maxLength: 24 }),
        fc.integer({ min: 1, max: 23 }),
        async (readings, cut) => {
          const rows = await derived(SIDED(), readings);
          expect(await derived(SIDED(), [...readings].reverse())).toEqual(rows);
          const at = Math.min(cut, readings.length - 1);
          expect(await derived(SIDED(), [readings.slice(0, at), readings.slice(at)])).toEqual(rows);
        },
      ),
    );
  });
});
