import { describe, expect, test } from 'vitest';
import { MARK } from '../../src/tables/schemas.ts';
import { briefly, dayOf, hip, one, PROTOCOL, planOf, ROWING, rowsOf, unplannedOf, weakTeam } from './plan_build.ts';

const A1 = { A1: { team: 'Rowing' } };
const knee = (left: number, right: number, given = {}) => ({
  ...hip('A1', left, right),
  sem_left: undefined,
  sem_right: undefined,
  measure: 'knee',
  ...given,
});

// All expected lines are worked out by hand from the limits of PROTOCOL.
describe('medical staff', () => {
  test('one line for a measure, of its strictest rule, with all that say so', () => {
    const made = planOf([one('A1', 'systolic', 164)], A1);
    expect(rowsOf(made.plan)).toEqual([
      {
        priority: 1,
        scope: 'refer',
        group: null,
        athlete_id: 'A1',
        team: 'Rowing',
        programme: null,
        owner: 'medical',
        side: 'none',
        rules: 'high;very_high',
        grade: 'refer',
        reason: 'Systolic pressure: 164 mmHg, limit 160 mmHg or more. Found on 2026-08-12, no referral written yet.',
        instruction: 'Medical staff see the athlete now.',
        start: '2026-08-20',
        retest_by: null,
      },
    ]);
    expect([...made.lineOf]).toEqual([0, 0]);
  });

  test('an open referral says since when, and the programme what to do', () => {
    const referrals = [{ day: dayOf('2026-08-13'), seenOn: dayOf('2026-08-14') }];
    const [line] = rowsOf(planOf([one('A1', 'systolic', 144)], A1, { referrals }).plan);
    expect(line).toMatchObject({
      programme: 'recheck',
      reason:
        'Systolic pressure: 144 mmHg, limit 140 mmHg or more. Referred on 2026-08-13, seen on 2026-08-14, not yet closed.',
      instruction: 'Medical staff see the athlete before training. Recheck: Seated, again.',
    });
  });

  test('a closed referral gives no line; a finding after it comes back', () => {
    const referrals = [{ day: dayOf('2026-08-13'), closedOn: dayOf('2026-08-14') }];
    const first = planOf([one('A1', 'systolic', 144)], A1, { referrals });
    expect(briefly(first)).toEqual([]);
    expect(unplannedOf(first)).toEqual(['A1 high: referred on 2026-08-13, closed on 2026-08-14']);
    const rows = [one('A1', 'systolic', 144), one('A1', 'systolic', 150, { date: '2026-08-18' })];
    const again = planOf(rows, A1, { referrals });
    expect(briefly(again)).toEqual(['refer A1: high']);
    expect(rowsOf(again.plan)[0].reason).toBe(
      'Systolic pressure: 150 mmHg, limit 140 mmHg or more. Found on 2026-08-18, no referral written yet.',
    );
    expect([...again.lineOf]).toEqual([-1, 0]);
  });

  test('a newer reading within the limits takes no referral off, and is said', () => {
    const rows = [one('A1', 'systolic', 144), one('A1', 'systolic', 120, { date: '2026-08-18' })];
    const [line] = rowsOf(planOf(rows, A1).plan);
    expect(line.scope).toBe('refer');
    expect(line.reason).toContain('no referral written yet; measured again on 2026-08-18, and still open.');
  });

  test('pain is referred whatever was read', () => {
    const made = planOf([hip('A1', 150, 150, { marks: MARK.painLeft, status: 'pain_left' })], A1);
    expect(rowsOf(made.plan)[0]).toMatchObject({
      scope: 'refer',
      rules: 'pain',
      side: 'left',
      instruction: 'Medical staff see the athlete before training.',
      reason: 'Hip strength, left: pain during the test. Found on 2026-08-12, no referral written yet.',
    });
  });
});

describe('hold', () => {
  test('whoever is not cleared has one line for everything, and no work', () => {
    const rows = [hip('A1', 60, 90), one('A1', 'systolic', 144), one('A1', 'squat', 4)];
    const made = planOf(rows, A1, { clearance: [{ status: 'not_cleared' }] });
    expect(rowsOf(made.plan)).toEqual([
      expect.objectContaining({
        scope: 'hold',
        athlete_id: 'A1',
        programme: null,
        owner: 'medical',
        rules: 'weak;uneven;low_watch;faults;high',
        grade: 'refer',
        instruction: 'Hold: no training. Medical staff see the athlete before training.',
        retest_by: null,
      }),
    ]);
    const { reason } = rowsOf(made.plan)[0];
    expect(reason).toMatch(/^Not cleared since 2026-08-12\. Systolic pressure: 144 mmHg/);
    expect(reason).toContain('Hip strength, left: 60 N, below the limit of 100 N');
    expect(reason).not.toContain('110 N');
    expect(made.unplanned).toEqual([]);
  });

  test('without any finding too, and behind those who are to be seen', () => {
    const people = { A1: { team: 'Rowing' }, A2: { team: 'Rowing' } };
    const made = planOf([one('A2', 'systolic', 144)], people, { clearance: [{ status: 'pending' }] });
    expect(briefly(made)).toEqual(['refer A2: high', 'hold A1:']);
    expect(rowsOf(made.plan)[1]).toMatchObject({
      grade: null,
      reason: 'Clearance pending since 2026-08-12.',
      instruction: 'Hold: no training until medical staff say so.',
    });
  });

  test('a limited region holds its own findings alone, and marks at its measures', () => {
    const clearance = [{ status: 'limited' as const, region: ' Knee' }];
    const rows = [knee(70, 70), hip('A1', 60, 60), knee(0, 0, { measure: 'squat', value: 1 })];
    const made = planOf(rows, A1, { clearance });
    expect(briefly(made)).toEqual(['hold A1: knee_weak', 'individual A1: weak']);
    expect(rowsOf(made.plan)[0].instruction).toBe('Hold: no work on knee until medical staff say so.');
    const hurt = planOf([knee(170, 170, { marks: MARK.unableLeft, status: 'unable' })], A1, { clearance });
    expect(briefly(hurt)).toEqual(['hold A1: unable']);
  });

  test.each(['right knee', 'KNEE (R)', 'knee, left', 'knee / both', 'bilateral knee'])(
    'sides and signs do not hide the region: %s',
    (region) => {
      const made = planOf([knee(70, 70), hip('A1', 60, 60)], A1, { clearance: [{ status: 'limited', region }] });
      expect(briefly(made)).toEqual(['hold A1: knee_weak', 'individual A1: weak']);
    },
  );

  test.each(['knee; groin', 'groin and left knee', 'knee + groin'])(
    'several regions are held together: %s',
    (region) => {
      const made = planOf([knee(70, 70), hip('A1', 60, 60)], A1, { clearance: [{ status: 'limited', region }] });
      expect(briefly(made)).toEqual(['hold A1: weak;low_watch;knee_weak']);
      expect(rowsOf(made.plan)[0].reason).not.toContain('none of the protocol');
    },
  );

  test.each([
    ['kneee', '"kneee" is'],
    ['lower limb', '"lower limb" is'],
    ['knee; wrist', '"wrist" is'],
    ['hip, wrist', '"hip", "wrist" are'],
  ])('a region that no rule has holds everything: %s', (region, named) => {
    const clearance = [{ status: 'limited' as const, region }];
    const made = planOf([knee(70, 70), hip('A1', 60, 60)], A1, { clearance });
    expect(briefly(made)).toEqual(['hold A1: weak;low_watch;knee_weak']);
    const [line] = rowsOf(made.plan);
    expect(line.instruction).toBe('Hold: no training until medical staff say so.');
    expect(line.reason).toContain(`${named} none of the protocol, so everything is held.`);
    expect(briefly(planOf([hip('A1', 150, 150)], A1, { clearance }))).toEqual(['hold A1:']);
  });

  test('a finding that no region places is held for who is limited', () => {
    const clearance = [{ status: 'limited' as const, region: 'knee' }];
    const rules = PROTOCOL.rules.map((rule) => (rule.measure.name === 'hip' ? { ...rule, region: undefined } : rule));
    const made = planOf([hip('A1', 60, 60)], A1, { clearance, protocol: { ...PROTOCOL, rules } });
    expect(briefly(made)).toEqual(['hold A1: weak;low_watch']);
    const [line] = rowsOf(made.plan);
    expect(line.instruction).toBe('Hold: no work on knee until medical staff say so.');
    expect(line.reason).toContain('Findings that the protocol gives no region are held too.');
  });

  test('limited without a region holds everything', () => {
    const made = planOf([hip('A1', 60, 60)], A1, { clearance: [{ status: 'limited' }] });
    expect(briefly(made)).toEqual(['hold A1: weak;low_watch']);
    expect(rowsOf(made.plan)[0].instruction).toBe('Hold: no training until medical staff say so.');
  });
});

describe('one athlete', () => {
  test('left and right of one programme are one line, with its days', () => {
    const [line] = rowsOf(planOf([hip('A1', 60, 60)], A1).plan);
    expect(line).toEqual({
      priority: 1,
      scope: 'individual',
      group: null,
      athlete_id: 'A1',
      team: 'Rowing',
      programme: 'hips',
      owner: 'strength',
      side: 'both',
      rules: 'weak',
      grade: 'act',
      reason:
        'Hip strength, left: 60 N, below the limit of 100 N; measurement error ±3.92 N, so clearly beyond the limit. ' +
        'Hip strength, right: 60 N, below the limit of 100 N; measurement error ±3.92 N, so clearly beyond the limit.',
      instruction: 'Hip work: alone.',
      start: '2026-08-20',
      retest_by: '2026-09-23',
    });
  });

  test('within the measurement error the test is repeated: both sides where sides are compared', () => {
    const made = planOf([hip('A1', 98, 140), hip('A2', 150, 134)], { ...A1, A2: {} });
    expect(
      rowsOf(made.plan).map(({ scope, athlete_id, side, instruction, retest_by }) => ({
        scope,
        athlete_id,
        side,
        instruction,
        retest_by,
      })),
    ).toEqual([
      {
        scope: 'individual',
        athlete_id: 'A1',
        side: 'left',
        instruction: 'Weaker side: alone.',
        retest_by: '2026-09-23',
      },
      {
        scope: 'repeat',
        athlete_id: 'A1',
        side: 'left',
        instruction: 'Repeat the test: Hip strength, left.',
        retest_by: null,
      },
      {
        scope: 'repeat',
        athlete_id: 'A2',
        side: 'right',
        instruction: 'Repeat the test: Hip strength, both sides.',
        retest_by: null,
      },
    ]);
  });

  test('what is watched gives no work, and joins a programme that the athlete has anyway', () => {
    const watched = planOf([one('A1', 'squat', 3), hip('A1', 105, 105)], A1);
    expect(briefly(watched)).toEqual([]);
    expect(unplannedOf(watched)).toEqual([
      'A1 low_watch: watched only',
      'A1 low_watch: watched only',
      'A1 faults: watched only',
    ]);
    const joined = planOf([hip('A1', 105, 150)], A1);
    expect(briefly(joined)).toEqual(['individual A1: uneven;low_watch']);
    expect(joined.unplanned).toEqual([]);
  });

  test('no more programmes than the protocol allows, the first by priority', () => {
    const rows = [hip('A1', 60, 80), knee(90, 90)];
    const made = planOf(rows, A1);
    expect(briefly(made)).toEqual(['individual A1: weak', 'individual A1: uneven;low_watch']);
    expect(unplannedOf(made)).toEqual([
      'A1 knee_weak: no more than 2 programmes at once: Knee work waits',
      'A1 knee_weak: no more than 2 programmes at once: Knee work waits',
    ]);
  });

  test('without a programme staff decide; what could not be done is for medical staff', () => {
    const made = planOf([knee(40, 150), hip('A2', 150, 150, { marks: MARK.unableRight, status: 'unable' })], {
      ...A1,
      A2: {},
    });
    expect(
      rowsOf(made.plan).map(({ athlete_id, rules, programme, owner, side, instruction }) => ({
        athlete_id,
        rules,
        programme,
        owner,
        side,
        instruction,
      })),
    ).toEqual([
      {
        athlete_id: 'A1',
        rules: 'knee_weak',
        programme: 'knees',
        owner: 'strength',
        side: 'left',
        instruction: 'Knee work: alone.',
      },
      {
        athlete_id: 'A1',
        rules: 'knee_poor',
        programme: null,
        owner: 'strength',
        side: 'left',
        instruction: 'No programme in the protocol: staff decide.',
      },
      {
        athlete_id: 'A2',
        rules: 'unable',
        programme: null,
        owner: 'medical',
        side: 'right',
        instruction: 'Find out why the test could not be done, then test again.',
      },
    ]);
  });

  test('work waits for whoever is in pain there, or has to be seen before training', () => {
    const hurt = planOf([hip('A1', 60, 150, { marks: MARK.painLeft, status: 'pain_left' })], A1);
    expect(rowsOf(hurt.plan).map(({ instruction }) => instruction)).toEqual([
      'Medical staff see the athlete before training.',
      'After medical staff have seen the athlete: Weaker side: alone.',
      'After medical staff have seen the athlete: Hip work: alone.',
    ]);
    const urgent = planOf([one('A1', 'systolic', 144), knee(70, 70)], A1);
    expect(rowsOf(urgent.plan)[1].instruction).toBe('After medical staff have seen the athlete: Knee work: alone.');
    const routine = planOf([knee(70, 600)], A1);
    expect(rowsOf(routine.plan).map(({ instruction }) => instruction)).toEqual([
      'Medical staff see the athlete routinely.',
      'Knee work: alone.',
    ]);
    const cleared = planOf([one('A1', 'systolic', 144), knee(70, 70)], A1, {
      clearance: [{ day: dayOf('2026-08-15') }],
    });
    expect(rowsOf(cleared.plan)[1].instruction).toBe('Knee work: alone.');
    expect(rowsOf(cleared.plan)[0].reason).toContain('cleared on 2026-08-15');
  });

  test('work that was started keeps its day, and says how far it is', () => {
    const started = dayOf('2026-08-14');
    const line = (work: object) => rowsOf(planOf([hip('A1', 60, 60)], A1, { work: [{ started, ...work }] }).plan)[0];
    expect(line({ planned: 18, done: 4 })).toMatchObject({ start: '2026-08-14', retest_by: '2026-09-25' });
    expect(line({ planned: 18, done: 4 }).reason).toMatch(/ Started 2026-08-14, 4 of 18 sessions done\.$/);
    expect(line({ started: dayOf('2026-08-11') })).toMatchObject({ start: '2026-08-20' });
  });

  test('work that was given up is said first and asks for a decision', () => {
    const stopped = { started: dayOf('2026-08-14'), planned: 18, done: 4, stopped: dayOf('2026-08-16'), line: 7 };
    const lineOn = (on: string, work: readonly object[], rows = [hip('A1', 60, 60)]) =>
      rowsOf(planOf(rows, A1, { work, on }).plan).at(-1)!;
    const line = lineOn('2026-08-20', [{ ...stopped, reason: 'knee pain' }]);
    expect(line).toMatchObject({
      instruction: 'Decide whether to go on: Hip work: alone.',
      start: '2026-08-20',
      retest_by: '2026-09-23',
    });
    expect(line.reason).toMatch(
      /^Stopped on 2026-08-16 after 4 of 18 sessions, see work\.csv, line 7\. Hip strength, left/,
    );
    expect(line.reason).not.toContain('knee pain');
    expect(lineOn('2026-08-15', [stopped])).toMatchObject({ instruction: 'Hip work: alone.', start: '2026-08-14' });
    const anew = { started: dayOf('2026-08-18') };
    expect(lineOn('2026-08-20', [stopped, anew])).toMatchObject({
      instruction: 'Hip work: alone.',
      start: '2026-08-18',
    });
    const seen = lineOn('2026-08-20', [stopped], [hip('A1', 60, 60), one('A1', 'systolic', 144)]);
    expect(seen.instruction).toBe(
      'After medical staff have seen the athlete: Decide whether to go on: Hip work: alone.',
    );
  });

  test('what was measured again replaces what is no referral', () => {
    const again = planOf([hip('A1', 60, 60), hip('A1', 150, 90, { date: '2026-08-19' })], A1);
    expect(unplannedOf(again).slice(0, 4)).toEqual([
      'A1 weak: measured again on 2026-08-19',
      'A1 weak: measured again on 2026-08-19',
      'A1 low_watch: measured again on 2026-08-19',
      'A1 low_watch: measured again on 2026-08-19',
    ]);
    const half = planOf([hip('A1', 60, 60), { athlete_id: 'A1', measure: 'hip', right: 150, date: '2026-08-19' }], A1);
    expect(rowsOf(half.plan)[0]).toMatchObject({ scope: 'individual', rules: 'weak', side: 'left' });
  });

  test('other seasons and athletes who left are not planned', () => {
    const rows = [hip('A1', 60, 60), hip('A2', 60, 60, { date: '2025-08-12', season: 2025 })];
    const made = planOf(rows, { ...A1, A2: {} }, { left: { A1: '2026-08-18' } });
    expect(briefly(made)).toEqual([]);
    expect([...new Set(unplannedOf(made))]).toEqual([
      'A1 weak: left the team on 2026-08-18',
      'A1 low_watch: left the team on 2026-08-18',
      'A2 weak: earlier season: 2025',
      'A2 low_watch: earlier season: 2025',
    ]);
    // The last day on the team still counts.
    expect(briefly(planOf([hip('A1', 60, 60)], A1, { left: { A1: '2026-08-20' } }))).toEqual(['individual A1: weak']);
    expect(briefly(planOf([hip('A1', 60, 60)], A1, { left: { A1: '2026-08-19' } }))).toEqual([]);
  });
});

describe('a team', () => {
  test('shares a programme that enough of it need', () => {
    const made = planOf([...weakTeam(), hip('A6', 150, 150)], { ...ROWING, A6: { team: 'Rowing' } });
    expect(rowsOf(made.plan)).toEqual([
      {
        priority: 1,
        scope: 'shared',
        group: 'Rowing',
        athlete_id: null,
        team: 'Rowing',
        programme: 'hips',
        owner: 'strength',
        side: 'none',
        rules: 'weak',
        grade: 'act',
        // Wilson 95 % interval of 5 of 6: 0.436 to 0.970 (J Am Stat Assoc 1927;22:209-212, worked out by hand).
        reason:
          '5 of 6 tested (83.3 %, 95 % interval 44 to 97 %): Hip strength below 100 N. More than half of everybody: check device, unit and tester first. 6 of the team do it.',
        instruction: 'First of all check device, unit and tester. Hip work: all.',
        start: '2026-08-20',
        retest_by: '2026-09-23',
      },
    ]);
    expect([...made.lineOf].filter((line) => line === 0)).toHaveLength(10);
    expect(new Set(unplannedOf(made))).toEqual(
      new Set(['A1', 'A2', 'A3', 'A4', 'A5'].map((id) => `${id} low_watch: watched only`)),
    );
  });

  test('too small a team shares nothing', () => {
    const made = planOf(weakTeam().slice(1), ROWING);
    expect(briefly(made)).toEqual(['A2', 'A3', 'A4', 'A5'].map((id) => `individual ${id}: weak`));
  });

  test('side-to-side findings stay with the athlete', () => {
    const made = planOf(
      ['A1', 'A2', 'A3', 'A4', 'A5'].map((id) => hip(id, 60, 90)),
      ROWING,
    );
    expect(briefly(made)).toEqual([
      'shared Rowing: weak',
      ...['A1', 'A2', 'A3', 'A4', 'A5'].map((id) => `individual ${id}: uneven;low_watch`),
    ]);
  });

  test('leaves out who is held, limited, in pain there or to be seen before training', () => {
    const rows = [
      ...weakTeam().map((row) =>
        row.athlete_id === 'A3' ? { ...row, marks: MARK.painLeft, status: 'pain_left' } : row,
      ),
      one('A4', 'systolic', 150),
    ];
    const clearance = [
      { athleteId: 'A1', status: 'not_cleared' as const },
      { athleteId: 'A2', status: 'limited' as const, region: 'knee' },
    ];
    const made = planOf(rows, ROWING, { clearance });
    expect(briefly(made)).toEqual([
      'refer A4: high',
      'refer A3: pain',
      'hold A1: weak;low_watch',
      'shared Rowing: weak',
      'left_out A1:',
      'left_out A2:',
      'left_out A3:',
      'left_out A4:',
      // Pain is one more finding in the region.
      'individual A3: weak',
      'individual A2: weak',
      'individual A4: weak',
    ]);
    const lines = rowsOf(made.plan);
    expect(lines[3].reason).toMatch(/ 1 of the team do it\. Left out: A1, A2, A3, A4\.$/);
    expect(lines.slice(4, 8).map(({ reason }) => reason)).toEqual([
      'Not cleared since 2026-08-12.',
      'Limited (knee) since 2026-08-12.',
      'In pain on 2026-08-12. Hip strength, left: pain during the test.',
      'Medical staff see the athlete first. Systolic pressure: 150 mmHg, limit 140 mmHg or more.',
    ]);
    expect(lines[4]).toMatchObject({
      group: 'Rowing',
      programme: 'hips',
      instruction: 'Leave out of Hip work with the team.',
    });
  });

  test('pain at another measure that is closed leaves nobody out; pain there only if cleared too', () => {
    const closed = { rule: 'pain', day: dayOf('2026-08-13'), closedOn: dayOf('2026-08-14') };
    const hurt = { marks: MARK.painLeft, status: 'pain_left' };
    const atKnee = planOf([...weakTeam(), knee(150, 150, hurt)], ROWING, { referrals: [closed] });
    expect(briefly(atKnee)).toEqual(['shared Rowing: weak']);
    const atHip = weakTeam().map((row) => (row.athlete_id === 'A1' ? { ...row, ...hurt } : row));
    expect(briefly(planOf(atHip, ROWING, { referrals: [closed] }))).toContain('left_out A1:');
    const clearance = [{ day: dayOf('2026-08-14') }];
    expect(briefly(planOf(atHip, ROWING, { clearance }))).toContain('left_out A1:');
    expect(briefly(planOf(atHip, ROWING, { referrals: [closed], clearance }))).toEqual(['shared Rowing: weak']);
  });

  test('work that was started is said, with the first day', () => {
    const work = ['A2', 'A5'].map((athleteId, at) => ({ athleteId, started: dayOf('2026-08-15') + at }));
    const [line] = rowsOf(planOf(weakTeam(), ROWING, { work }).plan);
    expect(line).toMatchObject({ start: '2026-08-15', retest_by: '2026-09-26' });
    expect(line.reason).toContain('2 of them have started, the first on 2026-08-15.');
  });

  test('who gave it up is left out until somebody decides, and counts as no start', () => {
    const given = { started: dayOf('2026-08-14'), done: 2, stopped: dayOf('2026-08-16'), reason: 'knee pain', line: 9 };
    const made = planOf(weakTeam(), ROWING, {
      work: [
        { athleteId: 'A2', ...given },
        { athleteId: 'A3', started: dayOf('2026-08-15') },
      ],
    });
    expect(briefly(made)).toEqual(['shared Rowing: weak', 'left_out A2:', 'individual A2: weak']);
    const [shared, leftOut, own] = rowsOf(made.plan);
    expect(shared.reason).toContain(
      '4 of the team do it. 1 of them have started, the first on 2026-08-15. Left out: A2.',
    );
    expect(leftOut.reason).toBe('Stopped on 2026-08-16 after 2 sessions, see work.csv, line 9.');
    expect(own.instruction).toBe('Decide whether to go on: Hip work: alone.');
  });

  test('no more programmes a team than the protocol allows', () => {
    const protocol = { ...PROTOCOL, sharing: { ...PROTOCOL.sharing, atMostProgrammes: 1 } };
    const rules = protocol.rules.map((rule) =>
      rule.name === 'faults' ? { ...rule, share: true, grade: 'act' as const } : rule,
    );
    const rows = [...weakTeam(), ...['A1', 'A2', 'A3', 'A4'].map((id) => one(id, 'squat', 3)), one('A5', 'squat', 0)];
    const made = planOf(rows, ROWING, { protocol: { ...protocol, rules } });
    expect(briefly(made)).toEqual([
      'shared Rowing: weak',
      'individual A1: faults',
      'individual A2: faults',
      'individual A3: faults',
      'individual A4: faults',
    ]);
    const both = planOf(rows, ROWING, { protocol: { ...PROTOCOL, rules } });
    expect(briefly(both)).toEqual(['shared Rowing: weak', 'shared Rowing: faults']);
  });
});
