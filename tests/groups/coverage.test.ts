import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { AttendanceBook } from '../../src/groups/attendance.ts';
import { coverageTally } from '../../src/groups/coverage_tally.ts';
import { toCall } from '../../src/groups/to_call.ts';
import { COVERAGE_STATES, type Coverage, MARK } from '../../src/tables/schemas.ts';
import { OBSERVATION_STATUSES, type ObservationStatus } from '../../src/units/statuses.ts';
import { type ResultGiven, sides } from '../findings/build.ts';
import { type ObservationGiven, observationsOf } from '../findings/readings_of.ts';
import { SEEDED } from '../seeded.ts';
import { briefly, coverageOf, dayOf, hold, PROTOCOL, rowOf } from './coverage_build.ts';

const read = (side: string, given: Partial<ObservationGiven> = {}): ObservationGiven => ({
  athlete_id: 'A1',
  measure: 'hip',
  side,
  value: 200,
  ...given,
});
const marked = (status: ObservationStatus, side = 'left', given: Partial<ObservationGiven> = {}): ObservationGiven =>
  read(side, { status, value: null, ...given });
const LEFT = read('left');
const RIGHT = read('right');

/** The state of A1 at the hip, or undefined. */
const stateOf = (observations: readonly ObservationGiven[], isHeld = false): string | null | undefined =>
  rowOf(coverageOf({ observations, desk: { clearance: isHeld ? [hold('A1')] : [] } }), 'A1', 'hip')?.state;

describe('who is expected where', () => {
  test('everyone has the tests of all and of the sport groups of their teams, each once, in protocol order', () => {
    // The ratio of fencers and rowers stands for knee and hip; hip is given to everyone already.
    expect(briefly(coverageOf({ people: { A1: 'Swimming', A2: 'Fencing', A3: 'Rowing;Fencing' } }))).toEqual([
      ...['A1 hip missing', 'A1 height missing'],
      ...['A2 hip missing', 'A2 height missing', 'A2 knee missing'],
      ...['A3 hip missing', 'A3 height missing', 'A3 grip missing', 'A3 knee missing'],
    ]);
  });

  test('a protocol without sport groups gives everybody everything that is taken', () => {
    const protocol = { ...PROTOCOL, everyone: [], sportGroups: [] };
    expect(briefly(coverageOf({ people: { A1: null }, protocol })).map((row) => row.split(' ')[1])).toEqual(
      'hip height grip knee'.split(' '),
    );
  });

  test('what was read outside the battery makes no row', () => {
    expect(rowOf(coverageOf({ observations: [read('left', { measure: 'grip' })] }), 'A1', 'grip')).toBeUndefined();
  });

  test('who has left before the day is not asked for, and who leaves on it or later is', () => {
    const people = { A1: 'Swimming', A2: 'Swimming', A3: 'Swimming' };
    const left = { A1: '2026-08-19', A2: '2026-08-20', A3: '2026-08-21' };
    const table = coverageOf({ people, left, on: '2026-08-20' });
    // The last day on the team still counts.
    expect(new Set([...table.rows()].map((row) => row.athlete_id))).toEqual(new Set(['A2', 'A3']));
  });

  test('a reading of another season counts for nothing', () => {
    const before = { season: 2025, date: '2025-08-12' };
    expect(stateOf([read('left', before), read('right', before)])).toBe('missing');
  });
});

describe('states', () => {
  test.each<[string, readonly ObservationGiven[], string | undefined]>([
    ['both sides read', [LEFT, RIGHT], 'done'],
    ['one side read', [RIGHT], 'partial'],
    ['the two limbs at once are not each side', [read('both')], 'partial'],
    ['nothing at all', [], 'missing'],
    ['written as not tested', [marked('not_tested')], 'not_tested'],
    ['void alone', [marked('void'), marked('void', 'right')], 'not_tested'],
    ['not applicable alone', [marked('not_applicable'), marked('not_applicable', 'right')], undefined],
    ['not applicable and not tested', [marked('not_applicable'), marked('not_tested', 'right')], 'not_tested'],
    ['refused', [marked('refused')], 'refused'],
    ['unable', [marked('unable')], 'unable'],
    ['the sheet says held', [marked('held')], 'held'],
    ['pain without a value', [marked('pain')], 'pain'],
    ['pain with both values', [read('left', { status: 'pain' }), RIGHT], 'pain'],
    ['a trial void, and both sides read', [LEFT, RIGHT, marked('void')], 'done'],
    ['a trial that could not be done, and both sides read', [LEFT, RIGHT, marked('unable')], 'done'],
    ['one trial hurt, and both sides read without', [LEFT, RIGHT, marked('pain', 'right')], 'pain'],
    ['one side read, the other unable', [LEFT, marked('unable', 'right')], 'unable'],
    ['one side read, the other refused', [LEFT, marked('refused', 'right')], 'refused'],
    ['one side read, the other held', [LEFT, marked('held', 'right')], 'held'],
    ['one side read, the other not tested', [LEFT, marked('not_tested', 'right')], 'partial'],
    ['held and unable', [marked('held'), marked('unable', 'right')], 'held'],
    ['unable and refused', [marked('unable'), marked('refused', 'right')], 'unable'],
    ['refused and not tested', [marked('refused'), marked('not_tested', 'right')], 'refused'],
    ['pain and held', [marked('pain'), marked('held', 'right')], 'pain'],
    ['read in two batches of the same day', [LEFT, LEFT, RIGHT], 'done'],
  ])('%s: %s', (_, observations, expected) => expect(stateOf(observations)).toBe(expected));

  test.each<[string, readonly ObservationGiven[], string | undefined]>([
    ['nothing read', [], 'held'],
    ['one side read', [LEFT], 'held'],
    ['unable', [marked('unable')], 'held'],
    ['both sides read', [LEFT, RIGHT], 'done'],
    ['pain', [marked('pain')], 'pain'],
    ['not applicable', [marked('not_applicable')], undefined],
  ])('of an athlete whom medical staff hold: %s', (_, observations, expected) =>
    expect(stateOf(observations, true)).toBe(expected),
  );

  test('a limit that has run out holds until medical staff look again', () => {
    const until = { ...hold('A1'), until: dayOf('2026-08-15'), status: 'limited' as const };
    expect(rowOf(coverageOf({ desk: { clearance: [until] } }), 'A1', 'hip')?.state).toBe('held');
  });

  test.each([
    ['Knee', ['missing', 'missing', 'held']],
    ['right knee', ['missing', 'missing', 'held']],
    ['groin', ['held', 'missing', 'missing']],
    ['knee; left groin', ['held', 'missing', 'held']],
    ['kneee', ['held', 'held', 'held']],
    ['lower limb', ['held', 'held', 'held']],
    ['', ['held', 'held', 'held']],
  ])('who is limited in "%s" is held at the tests of that part: %s', (region, expected) => {
    // The rule on the hip is about the groin, that on the ratio of knee and hip about the knee; height has no region.
    const regions: Readonly<Record<string, string>> = { weak: 'groin', knee_weak: 'knee' };
    const knee = { ...PROTOCOL.rules[0], name: 'knee_weak', measure: PROTOCOL.byName.get('knee')!, index: 9 };
    const rules = [...PROTOCOL.rules, knee].map((rule) => ({ ...rule, region: regions[rule.name] }));
    const table = coverageOf({
      people: { A1: 'Fencing' },
      desk: { clearance: [{ ...hold('A1'), status: 'limited', region }] },
      protocol: { ...PROTOCOL, rules },
    });
    expect(['hip', 'height', 'knee'].map((measure) => rowOf(table, 'A1', measure)?.state)).toEqual(expected);
    const called = toCall(table, PROTOCOL);
    expect(called.call.flatMap(({ athletes }) => athletes.flatMap(({ measures }) => measures)).length).toBe(
      expected.filter((state) => state === 'missing').length,
    );
  });
});

const weakHip = (given: Partial<ResultGiven> = {}): ResultGiven => ({ measure: 'hip', ...sides(90, 95), ...given });

describe('retests', () => {
  const observations = [LEFT, RIGHT];
  const at = (on: string, results: readonly ResultGiven[], given = {}): [string, string | null] => {
    const row = rowOf(coverageOf({ observations, results, on, ...given }), 'A1', 'hip')!;
    return [row.state!, row.retest_by];
  };

  // 2026-08-12 and 42 days is 2026-09-23, worked out by hand: 19 days of August, 23 of September.
  test.each([
    ['2026-09-22', 'done'],
    ['2026-09-23', 'retest_due'],
    ['2026-10-30', 'retest_due'],
  ])('are due so many days after the test: on %s %s', (on, state) =>
    expect(at(on, [weakHip()])).toEqual([state, '2026-09-23']),
  );

  test('count from the day on which the work began', () => {
    const work = {
      line: 2,
      athleteId: 'A1',
      programme: 'hips',
      started: dayOf('2026-08-22'),
      planned: null,
      done: null,
      stopped: null,
      reason: '',
    };
    expect(at('2026-09-23', [weakHip()], { desk: { work: [work] } })).toEqual(['done', '2026-10-03']);
  });

  test('take the earliest of several findings', () => {
    // 45 N breaks very_weak too, whose programme is tested again after 10 days.
    expect(at('2026-08-22', [weakHip(sides(45, 95))])).toEqual(['retest_due', '2026-08-22']);
  });

  test('are not due after a reading of a later occasion', () => {
    const later = weakHip({ date: '2026-09-25', ...sides(150, 150) });
    expect(at('2026-10-30', [weakHip(), later])).toEqual(['done', null]);
  });

  test('start anew where the later occasion is beyond the limit again', () => {
    // 2026-09-25 and 42 days is 2026-11-06, worked out by hand: 5 days of September, 31 of October, 6 of November.
    expect(at('2026-10-30', [weakHip(), weakHip({ date: '2026-09-25' })])).toEqual(['done', '2026-11-06']);
  });

  test('of a watch, and of a programme that names no days, are none', () => {
    expect(at('2027-06-01', [weakHip(sides(110, 115))])).toEqual(['done', null]);
  });

  test('of a referral that is closed are none', () => {
    const referral = {
      line: 2,
      athleteId: 'A1',
      day: dayOf('2026-08-13'),
      rule: 'very_weak',
      seenOn: dayOf('2026-08-14'),
      outcome: 'fine',
      closedOn: dayOf('2026-08-14'),
    };
    const open = { ...referral, closedOn: null };
    const given = (one: typeof referral | typeof open) => ({ desk: { referrals: [one] } });
    expect(at('2026-08-25', [weakHip(sides(45, 95))], given(referral))[1]).toBe('2026-09-23');
    expect(at('2026-08-25', [weakHip(sides(45, 95))], given(open))).toEqual(['retest_due', '2026-08-22']);
  });

  test('of a derived measure ask for its parts', () => {
    const results = [{ measure: 'ratio', ...sides(0.5, 0.6), team: 'Fencing' }];
    const table = coverageOf({ observations, results, people: { A1: 'Fencing' }, on: '2026-09-30' });
    expect(briefly(table)).toEqual(['A1 hip retest_due', 'A1 height missing', 'A1 knee missing']);
    expect(rowOf(table, 'A1', 'knee')?.retest_by).toBe('2026-09-23');
  });

  test('of an athlete who is held wait with everything else', () => {
    expect(at('2026-09-30', [weakHip()], { desk: { clearance: [hold('A1')] } })).toEqual(['held', '2026-09-23']);
  });

  test('of an athlete who was in pain are left to medical staff', () => {
    const inPain = { observations: [LEFT, read('right', { status: 'pain' })] };
    expect(at('2026-09-30', [weakHip()], inPain)).toEqual(['pain', '2026-09-23']);
  });

  test('pain is over once what hurt was read without it on a later occasion', () => {
    const inPain = [LEFT, read('right', { status: 'pain' })];
    const hurt: ResultGiven = { measure: 'hip', ...sides(150, 150), marks: MARK.painRight };
    const later = (given: Partial<ResultGiven>): string => {
      const results = [hurt, { measure: 'hip', date: '2026-09-12', ...given }];
      return rowOf(coverageOf({ observations: inPain, results, on: '2026-09-30' }), 'A1', 'hip')!.state!;
    };
    expect(later(sides(150, 150))).toBe('done');
    expect(later({ right: 150 })).toBe('done');
    expect(later({ left: 150 })).toBe('pain');
    expect(later({ marks: MARK.painRight })).toBe('pain');
    expect(later({ ...sides(150, 150), marks: MARK.painRight })).toBe('pain');
    expect(later({ ...sides(150, 150), season: 2025, date: '2025-09-12' })).toBe('pain');
  });

  test('of one side are due until that side is read again', () => {
    const left = weakHip(sides(90, 150));
    const other = { measure: 'hip', date: '2026-09-12', right: 150 };
    expect(at('2026-09-30', [left, other])).toEqual(['retest_due', '2026-09-23']);
    expect(at('2026-09-30', [left, { ...other, right: undefined, left: 150 }])).toEqual(['done', null]);
  });

  test('count from the test again where the work was given up', () => {
    const work = {
      ...{ line: 2, athleteId: 'A1', programme: 'hips', started: dayOf('2026-08-22'), planned: null, done: 4 },
      ...{ stopped: dayOf('2026-09-01'), reason: 'knee pain' },
    };
    const given = { desk: { work: [work] } };
    expect(at('2026-08-30', [weakHip()], given)[1]).toBe('2026-10-03');
    expect(at('2026-09-23', [weakHip()], given)).toEqual(['retest_due', '2026-09-23']);
  });

  test('of a finding of another season are over', () => {
    expect(at('2026-09-30', [weakHip({ season: 2025, date: '2025-08-12' })])).toEqual(['done', null]);
  });
});

describe('stations', () => {
  const stationOf = (observations: readonly ObservationGiven[]): string | null =>
    rowOf(coverageOf({ observations }), 'A1', 'hip')!.station;
  const by = (athlete_id: string, station: string | null, given = {}): ObservationGiven =>
    read('left', { athlete_id, station, ...given });

  test('an athlete who was seen has their own', () =>
    expect(stationOf([by('A1', 'Gym'), by('A2', 'Hall'), by('A3', 'Hall')])).toBe('Gym'));
  test('another has the commonest of the season', () =>
    expect(stationOf([by('A2', 'Hall'), by('A3', 'Hall'), by('A4', 'Gym')])).toBe('Hall'));
  test('of two equally common ones the first by code unit, whichever sheet comes first', () =>
    expect([stationOf([by('A2', 'Hall'), by('A3', 'Gym')]), stationOf([by('A3', 'Gym'), by('A2', 'Hall')])]).toEqual([
      'Gym',
      'Gym',
    ]));
  test('where this season tells none, the commonest of the newest that does', () => {
    const old = { season: 2024, date: '2024-08-12' };
    const last = { season: 2025, date: '2025-08-12' };
    const others = [by('A2', 'Hall', old), by('A3', 'Hall', old), by('A2', 'Gym', last), by('A4', null)];
    expect(stationOf(others)).toBe('Gym');
  });
  test('where no sheet tells one, none', () => expect(stationOf([by('A2', null)])).toBeNull());
});

test('the newest season is found whatever the order of batches', () => {
  const old = observationsOf([read('left', { season: 2025 }), read('right', { season: 2025 })]);
  const now = observationsOf([read('left', { season: 2026 })]);
  for (const order of [
    [old, now],
    [now, old],
    [old, now, old],
  ]) {
    const book = new AttendanceBook(PROTOCOL);
    for (const batch of order) book.add(batch);
    const seen = book.find('A1', 0);
    expect([book.season, seen?.left, seen?.right]).toEqual([2026, true, false]);
  }
});

describe('who is to be called', () => {
  const people = { A1: 'Rowing', A2: 'Rowing;Fencing', A3: 'Fencing', A4: null };
  const station = { station: 'Hall' };
  const table = coverageOf({
    people,
    desk: { clearance: [hold('A3')] },
    observations: [
      read('left', station),
      read('right', station),
      marked('unable', 'left', { athlete_id: 'A2', ...station }),
      read('left', { athlete_id: 'A4', ...station }),
    ],
  });
  const called = toCall(table, PROTOCOL);

  test('stand by station, those without one last', () => {
    expect(called.call.map(({ station: where, athletes }) => [where, athletes.map((one) => one.athleteId)])).toEqual([
      ['Hall', ['A4']],
      [null, ['A1', 'A2', 'A4']],
    ]);
    expect(called.call[1].athletes[0]).toEqual({
      athleteId: 'A1',
      team: 'Rowing',
      measures: ['Height', 'Grip', 'Knee strength'],
      retestBy: null,
    });
  });

  test('are never those who are held, nor those of whom medical staff decide', () => {
    expect(called.held.map((one) => one.athleteId)).toEqual(['A3']);
    expect(called.decide.map((one) => [one.athleteId, one.state, one.measures])).toEqual([
      ['A2', 'unable', ['Hip strength']],
    ]);
  });

  test('an athlete of two teams counts in each, and once in all', () => {
    // Rowing: A1 and A2 with 4 tests each; Fencing: A2 with 4 and A3 with 3; A4 has 2. Worked out by hand.
    const counts = called.teams.map(({ team, progress }) => [
      team,
      progress.reduce((sum, one) => sum + (one?.expected ?? 0), 0),
    ]);
    expect(counts).toEqual([
      ['Fencing', 7],
      ['Rowing', 8],
      [null, 2],
    ]);
    expect(called.total).toEqual({ done: 1, expected: 13 });
  });

  test('are counted by team, station, measure and athlete', () => {
    const brief = (kind: Parameters<typeof coverageTally>[2]): string[] =>
      coverageTally(table, PROTOCOL, kind).map(
        (one) => `${one.name} ${one.done}/${one.expected} call ${one.toCall} held ${one.held} decide ${one.toDecide}`,
      );
    expect(brief('team')).toEqual([
      'Fencing 0/7 call 3 held 3 decide 1',
      'Rowing 1/8 call 6 held 0 decide 1',
      'null 0/2 call 2 held 0 decide 0',
    ]);
    expect(brief('station')).toEqual(['Hall 1/4 call 1 held 1 decide 1', 'null 0/9 call 7 held 2 decide 0']);
    expect(brief('measure')).toEqual([
      'Hip strength 1/4 call 1 held 1 decide 1',
      'Height 0/4 call 3 held 1 decide 0',
      'Grip 0/2 call 2 held 0 decide 0',
      'Knee strength 0/3 call 2 held 1 decide 0',
    ]);
    expect(brief('athlete')[0]).toBe('A1 1/4 call 3 held 0 decide 0');
  });

  test('an athlete who lacks nothing is on no list', () => {
    const done = coverageOf({ observations: [LEFT, RIGHT, read('none', { measure: 'height', value: 180 })] });
    expect(coverageTally(done, PROTOCOL, 'athlete')).toEqual([]);
    const { call, held, decide, retests } = toCall(done, PROTOCOL);
    expect([call, held, decide, retests]).toEqual([[], [], [], []]);
  });
});

describe('over any observations', () => {
  const ids = ['A1', 'A2', 'A3', 'A4'];
  const observation: fc.Arbitrary<ObservationGiven> = fc
    .record({
      athlete_id: fc.constantFrom(...ids),
      measure: fc.constantFrom('hip', 'height', 'grip', 'knee'),
      side: fc.constantFrom('left', 'right', 'both', 'none'),
      season: fc.constantFrom(2025, 2026),
      status: fc.constantFrom(...OBSERVATION_STATUSES),
      station: fc.constantFrom(null, 'Hall', 'Gym'),
    })
    .map((row) => ({ ...row, value: row.status === 'measured' || row.status === 'pain' ? 150 : null }));
  const world = fc.record({
    observations: fc.array(observation, { maxLength: 40 }),
    held: fc.subarray(ids),
  });
  const people = { A1: 'Rowing', A2: 'Fencing', A3: 'Rowing;Fencing', A4: 'Swimming' };
  const made = (observations: readonly ObservationGiven[], held: readonly string[]): Coverage =>
    coverageOf({ observations, people, desk: { clearance: held.map((id) => hold(id)) } });

  test('each expected test is on exactly one list or done, and nobody who is held is called', () => {
    fc.assert(
      fc.property(world, ({ observations, held }) => {
        const table = made(observations, held);
        const keys = [...table.rows()].map((row) => `${row.athlete_id} ${row.measure}`);
        expect(new Set(keys).size).toBe(keys.length);
        for (const { state } of table.rows()) expect(COVERAGE_STATES).toContain(state);
        const { call, held: apart } = toCall(table, PROTOCOL);
        const called = new Set(call.flatMap(({ athletes }) => athletes.map((one) => one.athleteId)));
        for (const id of held) expect(called.has(id)).toBe(false);
        for (const { athleteId } of apart) {
          expect(held.includes(athleteId) || observations.some((one) => one.status === 'held')).toBe(true);
        }
        for (const kind of ['station', 'measure'] as const) {
          const tallies = coverageTally(table, PROTOCOL, kind);
          for (const one of tallies) {
            const hurt = [...table.rows()].filter(
              (row) =>
                row.state === 'pain' &&
                one.name === (kind === 'station' ? row.station : PROTOCOL.byName.get(row.measure!)!.label),
            ).length;
            // Pain counts as done and is decided by staff.
            expect(one.done - hurt + one.toCall + one.held + one.toDecide).toBe(one.expected);
          }
          expect(tallies.reduce((sum, one) => sum + one.expected, 0)).toBe(table.length);
        }
      }),
      SEEDED,
    );
  });

  test('the order of observations changes no state', () => {
    fc.assert(
      fc.property(world, ({ observations, held }) => {
        expect(briefly(made(observations.toReversed(), held))).toEqual(briefly(made(observations, held)));
      }),
      SEEDED,
    );
  });

  test('a further pain mark is never hidden', () => {
    fc.assert(
      fc.property(world, fc.constantFrom('left', 'right'), ({ observations, held }, side) => {
        const table = made([...observations, { ...marked('pain', side), season: 2026 }], held);
        expect(rowOf(table, 'A1', 'hip')?.state).toBe('pain');
      }),
      SEEDED,
    );
  });
});
