import { describe, expect, test } from 'vitest';
import { ioFor, provenanceFor, tellWarnings } from '../../src/cli/audience/coach_ends.ts';
import { formMeasureTest } from '../../src/cli/audience/form_measures.ts';
import { coachGuard } from '../../src/cli/audience/private_words.ts';
import { forAudience } from '../../src/cli/audience/view.ts';
import { hiddenNote } from '../../src/cli/audience/who.ts';
import { refuseCoach } from '../../src/cli/audience.ts';
import { failOn } from '../../src/cli/fail_on.ts';
import { referInstruction } from '../../src/groups/plan_wording.ts';
import { type Protocol, URGENCIES } from '../../src/protocol/types.ts';
import type { Screening } from '../../src/screening/types.ts';
import {
  ATHLETES,
  COHORT,
  COVERAGE,
  FINDINGS,
  IGNORED,
  LEDGER,
  OBSERVATIONS,
  PLAN,
  RECHECK,
  REJECTS,
  RESULTS,
} from '../../src/tables/schemas.ts';
import type { Schema, Table } from '../../src/tables/table.ts';
import { ownIo } from './own_io.ts';
import { filledCells, PROTOCOL, tableWith } from './people.ts';

const shownTo = <S extends Schema>(audience: 'coach' | 'strength' | 'medical', table: Table<S>) =>
  filledCells(forAudience(table, audience, PROTOCOL));
const SCHEMAS = {
  OBSERVATIONS,
  RESULTS,
  FINDINGS,
  RECHECK,
  COHORT,
  PLAN,
  COVERAGE,
  REJECTS,
  IGNORED,
  LEDGER,
  ATHLETES,
};

describe('medical staff', () => {
  test.each(Object.entries(SCHEMAS))('see %s as it is', (_, schema: Schema) => {
    const table = tableWith(schema, [{}, {}]);
    expect(forAudience(table, 'medical', PROTOCOL)).toBe(table);
  });
});

describe('strength staff', () => {
  const MEASURES = PROTOCOL.measures.map(({ name }) => name);
  const THEIRS = ['hip', 'height', 'body_mass', 'hip_per_kg', 'size'];

  test.each([
    ['observations', OBSERVATIONS],
    ['results', RESULTS],
    ['findings', FINDINGS],
    ['recheck', RECHECK],
    ['coverage', COVERAGE],
    ['rejects', REJECTS],
  ] as const)('see every measure but vital signs and what is made of them: %s', (_, schema: Schema) => {
    const table = tableWith(
      schema,
      MEASURES.map((measure) => ({ measure })),
    );
    expect(shownTo('strength', table)).toEqual(THEIRS.map((measure) => ({ measure })));
  });

  test('see no row of which one of several measures is a vital sign', () => {
    const table = tableWith(REJECTS, [{ measure: 'systolic;diastolic' }, { measure: 'hip;pulse' }, { measure: 'hip' }]);
    expect(shownTo('strength', table)).toEqual([{ measure: 'hip' }]);
  });

  const BUILT_IN = ['pain', 'unable', 'one_side'];
  const rulesShown = (protocol: Protocol): unknown[] => {
    const rules = [...PROTOCOL.rules.map(({ name }) => name), ...BUILT_IN];
    const table = tableWith(
      COHORT,
      rules.map((rule) => ({ season: 2026, rule, pain: 2 })),
    );
    return filledCells(forAudience(table, 'strength', protocol)).map(({ rule }) => rule);
  };

  test('see how many break a rule, unless it is on a vital sign or after an injury, or counts all measures', () => {
    expect(rulesShown(PROTOCOL)).toEqual(['hip_deficit', 'hip_pain', 'hip_light', 'size_large']);
  });

  test('see how many were in pain, unable or tested on one side, where no measure is a vital sign', () => {
    const measures = PROTOCOL.measures.filter(({ name }) => THEIRS.includes(name));
    expect(rulesShown({ ...PROTOCOL, measures })).toEqual(expect.arrayContaining(BUILT_IN));
  });

  test('see no finding of a rule for whoever had an injury', () => {
    const table = tableWith(FINDINGS, [
      { athlete_id: 'A1', measure: 'hip', rule: 'hip_after_injury' },
      { athlete_id: 'A1', measure: 'hip', rule: 'hip_deficit' },
    ]);
    expect(shownTo('strength', table).map(({ rule }) => rule)).toEqual(['hip_deficit']);
  });

  test('see findings without earlier injuries, the message whole', () => {
    const finding = { athlete_id: 'A1', measure: 'hip', rule: 'pain', message: 'Hip strength, left: pain.' };
    const table = tableWith(FINDINGS, [{ ...finding, previous_injury: 'same_side' }]);
    expect(shownTo('strength', table)).toEqual([finding]);
    expect(filledCells(table)[0].previous_injury).toBe('same_side');
  });

  test('see no cell of a vital sign that could not be read, named or not', () => {
    const table = tableWith(REJECTS, [
      { raw: '182/1O4', message: 'Blood pressure "182/1O4" is no pair.', measure: 'systolic;diastolic' },
      { raw: '', heading: 'Arm cuff, standing', message: 'Heading names no measure.' },
      { raw: '71 HR', message: 'Heading names no measure.' },
      { raw: 'X', suggestion: 'Did you mean systolic?' },
      { raw: 'K999', heading: 'ID', message: 'Athlete "K999" is not on the roster.', cells: 7 },
    ]);
    expect(shownTo('strength', table)).toEqual([
      { raw: 'K999', heading: 'ID', message: 'Athlete "K999" is not on the roster.', cells: 7 },
    ]);
  });

  test('see how many cells went where, whatever the heading', () => {
    const ignored = [{ file: 'a.csv', heading: 'Arm cuff mean', cells: 3, reason: 'worked_out' }];
    expect(shownTo('strength', tableWith(IGNORED, ignored))).toEqual(ignored);
    const ledger = [{ file: 'a.csv', cells: 12 }];
    expect(shownTo('strength', tableWith(LEDGER, ledger))).toEqual(ledger);
  });

  test('see in coverage that a test hurt', () => {
    const rows = [
      { athlete_id: 'A1', measure: 'hip', state: 'pain' },
      { athlete_id: 'A1', measure: 'pulse', state: 'missing' },
    ];
    expect(shownTo('strength', tableWith(COVERAGE, rows))).toEqual(rows.slice(0, 1));
  });

  const who = { athlete_id: 'A1', team: 'Rowing', priority: 1, start: '2026-08-20' };
  const SEE = 'Medical staff see the athlete.';

  test.each([
    ['Medical staff see the athlete now. Call the physician.', 'Medical staff see the athlete now.'],
    ['Medical staff see the athlete before training. Sit down.', 'Medical staff see the athlete before training.'],
    ['Take the pressure again, seated.', SEE],
    [null, SEE],
  ])('see of a referral when, and nothing else: %s', (instruction, shown) => {
    const row = { ...who, scope: 'refer', owner: 'medical', grade: 'refer' };
    const told = { rules: 'systolic_high', programme: 'seated_again', reason: 'Read 152 mmHg.', instruction };
    expect(shownTo('strength', tableWith(PLAN, [{ ...row, ...told }]))).toEqual([
      { ...row, reason: SEE, instruction: shown },
    ]);
  });

  test.each(URGENCIES)('see of a referral as the plan words it when the athlete is seen: %s', (urgency) => {
    const instruction = referInstruction(urgency, PROTOCOL.programmes.get('seated_again'));
    expect(instruction).toContain('Again.');
    const [line] = shownTo('strength', tableWith(PLAN, [{ ...who, scope: 'refer', instruction }]));
    expect(line.instruction).toBe(referInstruction(urgency, undefined));
  });

  test.each([
    ['unable', 'medical'],
    ['one_side', 'strength'],
    ['pain', 'medical'],
  ])('see of %s at a vital sign that medical staff see the athlete', (rules, owner) => {
    const row = { ...who, scope: 'individual', owner, grade: 'act' };
    const told = { reason: 'Systolic pressure: the test could not be done.', instruction: 'Find out why.' };
    const at = (measures: string) => tableWith(PLAN, [{ ...row, ...told, rules, measures }]);
    expect(shownTo('strength', at('systolic'))).toEqual([{ ...row, reason: SEE, instruction: SEE }]);
    expect(shownTo('strength', at('hip'))).toEqual([{ ...row, ...told, rules, measures: 'hip' }]);
  });

  test('see no day by which medical staff test again', () => {
    const row = { ...who, scope: 'individual', owner: 'medical', programme: 'seated_again', rules: 'systolic_high' };
    const [line] = shownTo('strength', tableWith(PLAN, [{ ...row, retest_by: '2026-08-21' }]));
    expect(line).toEqual({ ...who, scope: 'individual', owner: 'medical', reason: SEE, instruction: SEE });
  });

  test('see work for whoever had an injury as work on a vital sign: what to do, and not why', () => {
    const own = { ...who, scope: 'individual', owner: 'strength', programme: 'hip_strength', side: 'left' };
    const shown = { ...own, instruction: 'Hip work.', retest_by: '2026-10-01' };
    const reason = 'Hip strength, left: worse side 70 N, below the limit of 80 N.';
    const repeat = { ...who, scope: 'repeat', owner: 'strength', instruction: 'Repeat the test: Hip strength, left.' };
    const without = { ...who, scope: 'individual', owner: 'strength', rules: 'hip_after_injury', reason };
    const table = tableWith(PLAN, [
      { ...shown, reason, rules: 'hip_after_injury', measures: 'hip' },
      { ...shown, reason, rules: 'hip_deficit;hip_after_injury', measures: 'hip' },
      { ...repeat, reason, rules: 'hip_after_injury', measures: 'hip' },
      { ...without, instruction: 'No programme in the protocol: staff decide.' },
    ]);
    expect(shownTo('strength', table)).toEqual([
      { ...shown, reason: 'Medical staff decide.' },
      { ...shown, reason: 'Medical staff decide.', rules: 'hip_deficit' },
      { ...repeat, reason: 'Medical staff decide.' },
      { ...who, scope: 'individual', owner: 'strength', reason: SEE, instruction: SEE },
    ]);
  });

  test('see that somebody is held, not why', () => {
    const row = { ...who, scope: 'hold', grade: 'act' };
    const told = { rules: 'hip_deficit', reason: 'Not cleared: torn.', instruction: 'Hold: torn ligament.' };
    expect(shownTo('strength', tableWith(PLAN, [{ ...row, ...told }]))).toEqual([
      { ...row, reason: 'Medical staff decide.', instruction: 'Hold until medical staff say so.' },
    ]);
  });

  test('see when somebody is seen who is held', () => {
    const row = {
      ...who,
      scope: 'hold',
      instruction: 'Hold: not cleared. Medical staff see the athlete before training.',
    };
    expect(shownTo('strength', tableWith(PLAN, [row]))[0].instruction).toBe(
      'Hold until medical staff say so. Medical staff see the athlete before training.',
    );
  });

  test('see who is left out of shared work, and that medical staff decide', () => {
    const row = { ...who, scope: 'left_out', group: 'Rowing', programme: 'hip_strength', instruction: 'Leave out.' };
    expect(shownTo('strength', tableWith(PLAN, [{ ...row, reason: 'Not cleared since 2026-08-01.' }]))).toEqual([
      { ...row, reason: 'Medical staff decide.' },
    ]);
  });

  test('see their own work whole, and of work on a vital sign only what is not medical', () => {
    const own = { ...who, scope: 'individual', owner: 'strength', programme: 'hip_strength', rules: 'hip_deficit' };
    const whole = { ...own, side: 'left', reason: 'Deficit 18 %.', instruction: 'Hip work.' };
    const table = tableWith(PLAN, [
      whole,
      { ...who, scope: 'individual', owner: 'strength', programme: 'easy_runs', rules: 'pulse_high;hip_deficit' },
      { ...who, scope: 'individual', owner: 'medical', programme: 'seated_again', rules: 'ratio_high', reason: '2.1' },
      { ...who, scope: 'repeat', rules: 'pulse_high', instruction: 'Repeat the test: Resting pulse.' },
    ]);
    expect(shownTo('strength', table)).toEqual([
      whole,
      {
        ...{ ...who, scope: 'individual', owner: 'strength', programme: 'easy_runs', rules: 'hip_deficit' },
        reason: 'Medical staff decide.',
      },
      { ...who, scope: 'individual', owner: 'medical', reason: SEE, instruction: SEE },
      { ...who, scope: 'repeat', reason: SEE, instruction: SEE },
    ]);
  });
});

describe('a coach', () => {
  const who = { athlete_id: 'A1', team: 'Pain City;Rowing', start: '2026-08-20' };
  const plan = (...rows: object[]) => shownTo('coach', tableWith(PLAN, rows as never));

  test('sees work with its dates, neither reason nor rule, side or grade', () => {
    const shown = {
      ...{ ...who, priority: 7, scope: 'individual', owner: 'strength', programme: 'hip_strength' },
      ...{ instruction: 'Hip work.', retest_by: '2026-10-01' },
    };
    const told = { side: 'left', rules: 'hip_deficit', grade: 'act', reason: 'Deficit 18 %.' };
    expect(plan({ ...shown, ...told })).toEqual([shown]);
  });

  test('sees shared work of a team', () => {
    const shown = { priority: 3, scope: 'shared', group: 'Rowing', team: 'Rowing', programme: 'hip_strength' };
    const told = { rules: 'hip_deficit', reason: '9 of 20 tested.' };
    expect(plan({ ...shown, owner: 'strength', instruction: 'Hip work.', ...told })).toEqual([
      { ...shown, owner: 'strength', instruction: 'Hip work.' },
    ]);
  });

  test.each(['refer', 'hold'])('sees of %s that the athlete is not available', (scope) => {
    const told = { rules: 'systolic_high', programme: 'seated_again', owner: 'medical', grade: 'refer', side: 'none' };
    const row = {
      ...who,
      ...told,
      scope,
      priority: 1,
      reason: '152 mmHg',
      instruction: 'Sit.',
      retest_by: '2026-08-21',
    };
    expect(plan(row)).toEqual([
      { ...who, scope: 'hold', priority: 1, instruction: 'Not available until medical staff say so.' },
    ]);
  });

  test('sees no work of an athlete who is not available, and each such athlete once', () => {
    const held = { ...who, scope: 'hold', instruction: 'Not available until medical staff say so.' };
    expect(
      plan(
        { ...who, priority: 1, scope: 'individual', programme: 'hip_strength', instruction: 'Hip work.' },
        { ...who, priority: 2, scope: 'refer', rules: 'systolic_high' },
        { ...who, priority: 3, scope: 'refer', rules: 'hip_pain' },
        { ...who, priority: 4, scope: 'repeat', rules: 'hip_deficit' },
        { ...who, priority: 5, scope: 'left_out', group: 'Rowing', reason: 'Not cleared.' },
        { ...who, priority: 6, athlete_id: 'A2', scope: 'hold' },
      ),
    ).toEqual([
      { ...held, priority: 2 },
      { ...who, priority: 5, scope: 'left_out', group: 'Rowing', instruction: 'Not with the group.' },
      { ...held, athlete_id: 'A2', priority: 6 },
    ]);
  });

  test('sees that whoever is not available does not join the team, be it that the plan lets the athlete join', () => {
    const shared = { priority: 3, scope: 'shared', group: 'Rowing', team: 'Rowing', programme: 'hip_strength' };
    const work = { owner: 'strength', instruction: 'Hip work.', start: '2026-08-18', retest_by: '2026-10-01' };
    const without = { scope: 'left_out', group: 'Rowing', owner: 'strength', instruction: 'Not with the group.' };
    const today = '2026-08-20';
    const rows = plan(
      { priority: 1, scope: 'refer', athlete_id: 'A9', team: 'Fencing;Rowing', start: today, rules: 'hip_pain' },
      { priority: 2, scope: 'hold', athlete_id: 'A3', team: 'Rowing', start: today },
      { priority: 2.5, scope: 'refer', athlete_id: 'A2', team: 'Fencing', start: today },
      { ...shared, ...work, rules: 'hip_deficit' },
      { ...shared, ...without, priority: 4, athlete_id: 'A3', start: today },
      { ...shared, ...work, priority: 5, group: 'Fencing', team: 'Fencing' },
    );
    const named = { ...without, programme: 'hip_strength', start: today };
    expect(rows.slice(3)).toEqual([
      { ...shared, ...work },
      { ...named, priority: 3, athlete_id: 'A9', team: 'Fencing;Rowing' },
      { ...named, priority: 4, athlete_id: 'A3', team: 'Rowing' },
      { ...shared, ...work, priority: 5, group: 'Fencing', team: 'Fencing' },
      { ...named, priority: 5, group: 'Fencing', athlete_id: 'A2', team: 'Fencing' },
      { ...named, priority: 5, group: 'Fencing', athlete_id: 'A9', team: 'Fencing;Rowing' },
    ]);
  });

  test('sees no programme of shared work whose rule is hidden, beside who is left out of it either', () => {
    const shared = { scope: 'shared', group: 'Rowing', programme: 'hip_strength', owner: 'strength' };
    const told = { priority: 3, instruction: 'Hip work.', rules: 'size_large', retest_by: '2026-10-01' };
    const without = { ...shared, priority: 4, scope: 'left_out', athlete_id: 'A1', instruction: 'Leave out.' };
    expect(plan({ ...shared, ...told }, without)).toEqual([
      { scope: 'shared', group: 'Rowing', owner: 'strength', priority: 3, instruction: 'See strength staff.' },
      {
        ...{ scope: 'left_out', group: 'Rowing', owner: 'strength', priority: 4, athlete_id: 'A1' },
        instruction: 'Not with the group.',
      },
    ]);
  });

  test('sees that a test is repeated, not which', () => {
    const row = { ...who, priority: 4, scope: 'repeat', rules: 'hip_light', programme: 'hip_strength', side: 'left' };
    expect(plan({ ...row, owner: 'strength', instruction: 'Repeat the test: Hip strength.' })).toEqual([
      { ...who, priority: 4, scope: 'repeat', instruction: 'Repeat a test with strength staff.' },
    ]);
  });

  test.each([
    ['a programme called so', { programme: 'pain_clinic', instruction: 'Ten minutes.' }, {}],
    [
      'a text that says so',
      { programme: 'hip_strength', instruction: 'Hip: free of PAIN.' },
      { programme: 'hip_strength' },
    ],
    ['a heading of body mass', { programme: 'make_wt', instruction: 'Run.' }, {}],
    ['a rule on body mass', { programme: 'hip_strength', instruction: 'Run.', rules: 'hip_deficit;size_large' }, {}],
    ['a rule after an injury', { programme: 'hip_strength', instruction: 'Run.', rules: 'hip_after_injury' }, {}],
    ['a measure', { programme: 'hip_strength', instruction: 'Run.', measures: 'hip;body_mass' }, {}],
    [
      'days to a retest that only one programme has',
      { programme: 'easy_runs', instruction: 'Run.', rules: 'pulse_high', retest_by: '2026-08-21' },
      {},
    ],
    ['a rule on pain of the protocol', { programme: 'hip_strength', instruction: 'Run.', rules: 'hip_pain' }, {}],
    ['the rule on pain of all protocols', { programme: 'hip_strength', instruction: 'Run.', rules: 'pain' }, {}],
  ])('does not see work that tells of the body: %s', (_, told, programme) => {
    const row = { ...who, priority: 5, scope: 'individual', owner: 'strength' };
    expect(plan({ ...row, ...told })).toEqual([{ ...row, ...programme, instruction: 'See strength staff.' }]);
  });

  test.each([
    [
      'individual',
      'hip_strength',
      'Hip: free of pain.',
      { programme: 'hip_strength', owner: 'strength' },
      'See strength staff.',
    ],
    ['individual', 'hip_strength', 'Hip work.', { programme: 'hip_strength', owner: 'strength' }, 'Hip work.'],
    ['repeat', null, 'Repeat the test: Hip.', {}, 'Repeat a test with strength staff.'],
  ])('sees of %s work that medical staff come first: %s %s', (scope, programme, instruction, kept, shown) => {
    const first = 'After medical staff have seen the athlete: ';
    const row = { ...who, priority: 5, scope };
    expect(
      plan({ ...row, programme, owner: 'strength', rules: 'hip_deficit', instruction: first + instruction }),
    ).toEqual([{ ...row, ...kept, instruction: first + shown }]);
  });

  test('does not see what medical staff do with an athlete', () => {
    const row = { ...who, priority: 5, scope: 'individual', owner: 'medical' };
    expect(plan({ ...row, programme: 'balance', instruction: 'Balance: on one leg.', rules: 'hip_deficit' })).toEqual([
      { ...row, instruction: 'See medical staff.' },
    ]);
  });

  test('sees strength per kilogram as the work that it is', () => {
    const row = { ...who, priority: 5, scope: 'individual', owner: 'strength', programme: 'hip_strength' };
    expect(plan({ ...row, rules: 'hip_light', instruction: 'Hip work.' })).toEqual([
      { ...row, instruction: 'Hip work.' },
    ]);
  });

  test('sees no line of a kind that nobody has thought about', () => {
    expect(plan({ ...who, scope: 'physician', instruction: 'Fine.' })).toEqual([]);
  });

  test('sees who is to come where, and cannot tell pain from done', () => {
    const at = { athlete_id: 'A1', team: 'Rowing', season: 2026, station: 'Hip' };
    const states = ['done', 'pain', 'unable', 'refused', 'missing', 'not_tested', 'partial', 'held'];
    const rows = states.map((state) => ({ ...at, measure: 'hip', state }));
    expect(shownTo('coach', tableWith(COVERAGE, rows))).toEqual(
      ['missing', 'not_tested', 'partial', 'held'].map((state) => ({ ...at, state })),
    );
  });

  test('sees equal rows once, a day to come back, and no station that tells of the body', () => {
    const at = { athlete_id: 'A1', season: 2026, state: 'missing' };
    const dueAgain = { athlete_id: 'A1', season: 2026, state: 'retest_due', retest_by: '2026-10-01' };
    const due = { ...dueAgain, measure: 'hip', retest_for: 'hip_deficit' };
    const table = tableWith(COVERAGE, [
      { ...at, measure: 'systolic', station: 'Blood pressure' },
      { ...at, measure: 'diastolic', station: 'BP' },
      { ...at, measure: 'hip', station: 'Gym' },
      { ...at, measure: 'height', station: 'Gym' },
      due,
    ]);
    expect(shownTo('coach', table)).toEqual([at, { ...at, station: 'Gym' }, dueAgain]);
  });

  test.each(['systolic_high', 'pulse_high', 'size_large', 'hip_after_injury', 'hip_pain', 'ratio_high', null])(
    'sees no day to come back that tells of the body: %s',
    (retest_for) => {
      const at = { athlete_id: 'A1', season: 2026, station: 'Hip' };
      const due = { measure: 'hip', retest_by: '2026-08-18', retest_for };
      const table = tableWith(COVERAGE, [
        { ...at, ...due, state: 'retest_due' },
        { ...at, ...due, state: 'partial' },
      ]);
      expect(shownTo('coach', table)).toEqual([{ ...at, state: 'partial' }]);
    },
  );

  test('sees no day to come back of whoever is held', () => {
    const at = { athlete_id: 'A1', season: 2026, station: 'Hip' };
    const due = { measure: 'hip', retest_by: '2026-10-01', retest_for: 'hip_deficit' };
    const states = ['held', 'partial', 'missing'];
    const table = tableWith(
      COVERAGE,
      states.map((state) => ({ ...at, ...due, state })),
    );
    expect(shownTo('coach', table)).toEqual([
      { ...at, state: 'held' },
      { ...at, state: 'partial', retest_by: '2026-10-01' },
      { ...at, state: 'missing', retest_by: '2026-10-01' },
    ]);
  });

  test.each(Object.entries(SCHEMAS).filter(([name]) => name !== 'PLAN' && name !== 'COVERAGE'))(
    'never gets %s, should a command forget to refuse',
    (_, schema: Schema) => {
      expect(() => forAudience(tableWith(schema, [{}]), 'coach', PROTOCOL)).toThrow(
        'a coach sees nothing of this table',
      );
    },
  );

  test('is sent to the commands that are for coaches', () => {
    expect(() => refuseCoach('coach', 'flag')).toThrow(
      'bilat flag shows readings and deficits, and a coach sees neither: bilat plan --audience coach or bilat coverage --audience coach',
    );
    expect(() => refuseCoach('strength', 'flag')).not.toThrow();
  });
});

describe('words for a coach', () => {
  const isFit = coachGuard(PROTOCOL);

  test.each([
    ...[
      'Pain',
      'no PAINFUL loads',
      'ｐａｉｎ',
      'pa\u00adin',
      'p\u200bain',
      'Blood-pressure',
      'Maß',
      'massage',
      'overweight',
    ],
    ...['reinjury', 'BMI', 'bp', 'BPs, seated', 'sore knees', 'post-surgery', 'Rehab II', 'concussion', 'hurts'],
    ...['Systolic', 'dia', 'Wt room', 'the cuff', 'HR zone', 'pulse_pressure', 'Heart', 'size'],
  ])('%s is not fit', (text) => expect(isFit(text)).toBe(false));

  test.each([
    ...['', 'Hip work', 'Impulse drills', 'Hip extension', 'Cross-body stretch', 'upper body', 'Resting between sets'],
    ...['Rate of rise', 'Dial it up', 'Height of the box', 'Arm circles, 5 kg'],
  ])('"%s" is fit', (text) => expect(isFit(text)).toBe(true));
});

test('a blank sheet of a coach has no column for vital signs and body mass', () => {
  const names = (audience: 'coach' | 'strength'): string[] =>
    PROTOCOL.measures.filter(formMeasureTest(audience, PROTOCOL)).map(({ name }) => name);
  expect(names('coach')).toEqual(['hip', 'height', 'hip_per_kg']);
  expect(names('strength')).toEqual(PROTOCOL.measures.map(({ name }) => name));
});

describe('what is said beside the table', () => {
  test('rows that are not shown are counted', () => {
    expect(hiddenNote(0, 'strength')).toBe('');
    expect(hiddenNote(1, 'strength')).toBe('note: 1 row is not shown to strength staff\n');
    expect(hiddenNote(12, 'coach')).toBe('note: 12 rows are not shown to a coach\n');
  });

  test('a coach gets no note that tells of the body, and is told so once', () => {
    const said = ownIo();
    const io = ioFor(said.io, 'coach');
    for (const note of ['note: 2 sheets\n', 'note: Pressure of A1\n', 'note: body mass of A2\n', 'note: done\n'])
      io.err(note);
    expect(said.err).toBe(
      'note: 2 sheets\nnote: notes that are not for a coach are held back; without --audience coach they are shown\nnote: done\n',
    );
    expect(ioFor(said.io, 'strength')).toBe(said.io);
  });

  const FILES = ['roster.csv', 'hurt/log.csv', 'history.csv', 'referrals.csv', 'who.csv', 'work.csv'];
  const warned = {
    warnings: FILES.map((file) => ({ file, line: 3, message: 'row is odd' })),
    screening: {
      injuries: { file: 'hurt/log.csv' },
      history: { file: 'history.csv' },
      referrals: { file: 'referrals.csv' },
      clearance: { file: 'who.csv' },
      work: { file: 'work.csv' },
    } as unknown as Screening,
  };

  test.each([
    ['coach', 'a coach'],
    ['strength', 'strength staff'],
  ] as const)('%s gets no note of the files of medical staff, and is told so once', (audience, words) => {
    const said = ownIo();
    const io = ioFor(said.io, audience);
    tellWarnings(io, warned, audience);
    if (audience === 'coach') io.err('note: pain of A1\n');
    expect(said.err).toBe(
      `note: roster.csv:3: row is odd\nnote: work.csv:3: row is odd\nnote: notes that are not for ${words} are held back; without --audience ${audience} they are shown\n`,
    );
  });

  test('medical staff get every note', () => {
    const said = ownIo();
    tellWarnings(said.io, warned, 'medical');
    expect(said.err).toBe(FILES.map((file) => `note: ${file}:3: row is odd\n`).join(''));
  });

  test('a coach is told that --fail-on found something, not what nor how often', () => {
    const findings = tableWith(FINDINGS, [{ grade: 'refer' }, { grade: 'refer' }, { grade: 'watch' }]);
    const codeAndText = (audience?: 'coach' | 'strength'): [number, string] => {
      const said = ownIo();
      const code = failOn(['refer', 'rejects', 'recheck'], 4, findings, said.io, 1, audience);
      return [code, said.err];
    };
    expect(codeAndText('coach')).toEqual([1, 'Exit code 1, because --fail-on found something.\n']);
    const all = '2 findings of grade refer and 4 rejects and 1 line of the recheck list';
    expect(codeAndText('strength')).toEqual([1, `Exit code 1, because --fail-on found ${all}.\n`]);
    expect(codeAndText()).toEqual(codeAndText('strength'));
    expect(failOn(['act'], 4, findings, ownIo().io, 1, 'coach')).toBe(0);
  });

  test('nor an input whose name does', () => {
    const inputs = ['injuries.csv', 'roster.csv', 'sheets/body-mass.csv'].map((path) => ({ path, sha256: '0' }));
    const provenance = { version: '1', command: 'bilat plan', inputs };
    expect(provenanceFor(provenance, 'coach').inputs.map(({ path }) => path)).toEqual(['roster.csv']);
    expect(provenanceFor(provenance, 'medical')).toBe(provenance);
  });
});
