import { describe, expect, it } from 'vitest';
import { loadProtocol } from '../../src/protocol/load.ts';
import { derive } from '../../src/results/derive.ts';
import { TrialStore } from '../../src/results/trials.ts';
import { NO_DAY } from '../../src/tables/columns.ts';
import { Dictionary } from '../../src/tables/dictionary.ts';
import { OBSERVATIONS, type Observations } from '../../src/tables/schemas.ts';
import { Table } from '../../src/tables/table.ts';
import { bookOf, derived, observationsOf, type Reading } from './build.ts';

// All expected numbers here are worked out by hand.

const BODY = `measures:
  grip: {label: Grip, unit: kgf, sides: each, trials: {keep: mean}}
  height: {label: Height, unit: cm, sides: none}
`;
const protocol = loadProtocol(`bilat: 1\nname: Test battery\n${BODY}`, 'protocol.yaml');

const grip = (value: number, rest: Partial<Reading> = {}): Reading => ({
  measure: 'grip',
  side: 'left',
  value,
  ...rest,
});

describe('rows that fit no protocol', () => {
  const CASES: [string, (table: Observations) => void][] = [
    ['a row has no athlete_id', ({ columns }) => columns.athlete_id.codes.fill(-1)],
    ['a row has no date or no season', ({ columns }) => columns.date.days.fill(NO_DAY)],
    ['a row has no date or no season', ({ columns }) => columns.season.values.fill(Number.NaN)],
    ['measure "" is not in the protocol', ({ columns }) => columns.measure.codes.fill(-1)],
    ['side "" is none of left, right, both, none', ({ columns }) => columns.side.codes.fill(-1)],
    [
      'purpose "again" is none of',
      ({ columns }) => columns.purpose.codes.fill(columns.purpose.dictionary.code('again')),
    ],
  ];

  it.each(CASES)('%s', (message, spoil) => {
    const table = observationsOf([grip(40)]);
    spoil(table);
    expect(() => new TrialStore(protocol).add(table)).toThrow(message);
  });

  it('a row without purpose is a test', async () => {
    const table = observationsOf([grip(40)]);
    table.columns.purpose.codes.fill(-1);
    const results = await derive([table], bookOf(), protocol, { occasionDays: 14 });
    expect(results.columns.left.get(0)).toBe(40);
  });
});

describe('what is gathered', () => {
  it('dictionaries that grow from batch to batch', async () => {
    const dictionaries = { athlete_id: new Dictionary(), measure: new Dictionary(), side: new Dictionary() };
    const batch = (id: string, measure: string, side: string, value: number): Observations => {
      const table: Observations = new Table(OBSERVATIONS, dictionaries);
      table.append(observationsOf([{ id, measure, side, value }]));
      return table;
    };
    const batches = [
      batch('K002', 'grip', 'left', 40),
      batch('K001', 'height', 'none', 180),
      batch('K002', 'grip', 'right', 44),
    ];
    const results = await derive(batches, bookOf(), protocol, { occasionDays: 14 });
    expect([...results.rows()].map(({ athlete_id, left, right, value }) => [athlete_id, left, right, value])).toEqual([
      ['K001', null, null, 180],
      ['K002', 40, 44, null],
    ]);
  });

  it('one dictionary for several columns', async () => {
    const shared = new Dictionary();
    const table: Observations = new Table(OBSERVATIONS, {
      athlete_id: shared,
      measure: shared,
      side: shared,
      status: shared,
    });
    table.append(observationsOf([grip(40)]));
    const results = await derive([table], bookOf(), protocol, { occasionDays: 14 });
    expect([...results.rows()]).toMatchObject([{ athlete_id: 'K001', measure: 'grip', left: 40 }]);
  });

  it('a measure without sides takes no notice of a side', async () => {
    const rows = await derived(BODY, [{ measure: 'height', side: 'left', value: 180 }]);
    expect(rows).toMatchObject([{ value: 180, left: null, status: null }]);
  });

  it('the team of the observations where the book knows none', async () => {
    const table = observationsOf([grip(40)]);
    table.columns.team.codes[0] = table.columns.team.dictionary.code('Rowing');
    const results = await derive([table], bookOf(), protocol, { occasionDays: 14 });
    expect(results.columns.team.get(0)).toBe('Rowing');
    const booked = await derive([table], bookOf({ K001: { team: 'Fencing;Rowing' } }), protocol, { occasionDays: 14 });
    expect(booked.columns.team.get(0)).toBe('Fencing;Rowing');
  });
});

describe('repeats', () => {
  const numbered = (count: number): Reading[] =>
    Array.from({ length: count }, (_, at) => grip(at + 1, { trial: at + 1 }));

  it.each([3, 40])('%d attempts given twice count once', async (count) => {
    const [row] = await derived(BODY, [...numbered(count), ...numbered(count)]);
    expect([row.left, row.trials_left, row.status]).toEqual([(count + 1) / 2, count, 'missing_right;repeated_row']);
  });

  it('the same number with another value, and equal values without a number, all count', async () => {
    const [corrected] = await derived(BODY, [grip(40), grip(44)]);
    expect([corrected.left, corrected.trials_left, corrected.status]).toEqual([42, 2, 'missing_right']);
    const bare = grip(40, { trial: Number.NaN });
    const [unnumbered] = await derived(BODY, [bare, bare]);
    expect([unnumbered.trials_left, unnumbered.status]).toEqual([2, 'missing_right']);
  });

  it('a value under a status that has none counts as nothing', async () => {
    const [row] = await derived(BODY, [grip(40), grip(90, { trial: 2, status: 'void' })]);
    expect([row.left, row.trials_left]).toEqual([40, 1]);
  });
});
