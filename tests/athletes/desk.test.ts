import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CLEARANCE_STATUSES, type ClearanceRow } from '../../src/athletes/clearance.ts';
import { desk } from '../../src/athletes/desk.ts';
import { lookedAt } from '../../src/athletes/desk_days.ts';
import type { ReferralRow } from '../../src/athletes/referrals.ts';
import type { WorkRow } from '../../src/athletes/work.ts';
import { SEEDED } from '../seeded.ts';
import { day } from './side_files.ts';

const clear = (given: Partial<ClearanceRow>): ClearanceRow => ({
  line: 2,
  athleteId: 'K001',
  day: day('2026-08-10'),
  status: 'cleared',
  region: '',
  side: null,
  until: null,
  ...given,
});
const refer = (given: Partial<ReferralRow>): ReferralRow => ({
  line: 2,
  athleteId: 'K001',
  day: day('2026-08-17'),
  rule: 'systolic_high',
  seenOn: null,
  outcome: '',
  closedOn: null,
  ...given,
});
const worked = (given: Partial<WorkRow>): WorkRow => ({
  line: 2,
  athleteId: 'K001',
  programme: 'adductor_strength',
  started: day('2026-08-20'),
  planned: 24,
  done: 3,
  stopped: null,
  reason: '',
  ...given,
});

const standing = (rows: readonly Partial<ClearanceRow>[], on = '2026-08-20') =>
  desk({ clearance: rows.map(clear), referrals: [], work: [] }, day(on)).standing('K001');

describe('how an athlete stands', () => {
  test('cleared: nothing is said against it', () => {
    expect(standing([{}])).toEqual({ availability: 'full', regions: [], since: day('2026-08-10'), why: '' });
  });

  test('without a line nobody is held, and that is said', () => {
    const { knowsClearance, standing: of } = desk(
      { clearance: [clear({})], referrals: [], work: [] },
      day('2026-08-20'),
    );
    expect(knowsClearance).toBe(true);
    expect(of('K009')).toEqual({
      availability: 'full',
      regions: [],
      since: null,
      why: 'no line in the clearance file',
    });
    expect(desk({ clearance: [], referrals: [], work: [] }, 0).knowsClearance).toBe(false);
    expect(desk({ clearance: [], referrals: [], work: [] }, 0, true).knowsClearance).toBe(true);
  });

  test.each<[string, readonly Partial<ClearanceRow>[], string]>([
    ['not cleared', [{ status: 'not_cleared' }], 'not cleared since 2026-08-10'],
    [
      'not cleared for a knee',
      [{ status: 'not_cleared', region: 'knee', side: 'left' }],
      'not cleared (left knee) since 2026-08-10',
    ],
    [
      'pending',
      [{ status: 'pending', until: day('2026-08-30') }],
      'clearance pending since 2026-08-10, until 2026-08-30',
    ],
    [
      'pending beyond its day',
      [{ status: 'pending', until: day('2026-08-19') }],
      'clearance pending since 2026-08-10, to be looked at again by 2026-08-19, which has passed',
    ],
    ['unreadable', [{ status: null }], 'the clearance of 2026-08-10 cannot be read'],
    ['a clearance that has run out', [{ until: day('2026-08-19') }], 'clearance ran out on 2026-08-19'],
  ])('%s: held', (_, rows, why) => {
    expect(standing(rows)).toEqual({ availability: 'held', regions: [], since: day('2026-08-10'), why });
  });

  test('a clearance holds on its last day', () => {
    expect(standing([{ until: day('2026-08-20') }]).availability).toBe('full');
  });

  test('the clearance of a region does not clear the athlete: it has no day', () => {
    expect(standing([{ region: 'knee' }])).toEqual({ availability: 'full', regions: [], since: null, why: '' });
    expect(standing([{ region: 'knee' }, { day: day('2026-08-05') }]).since).toBe(day('2026-08-05'));
  });

  test('a row without a side lifts what was said of one side of its region, and not the other way round', () => {
    const left: Partial<ClearanceRow> = { status: 'limited', region: 'knee', side: 'left', day: day('2026-08-10') };
    const knee: Partial<ClearanceRow> = { region: 'Knee', day: day('2026-08-12') };
    expect(standing([left, knee]).availability).toBe('full');
    expect(standing([{ ...left, day: day('2026-08-13') }, knee]).availability).toBe('limited');
    expect(standing([left, { ...knee, side: 'right' }]).availability).toBe('limited');
    expect(standing([left, { ...knee, side: 'both' }]).availability).toBe('full');
    expect(standing([{ ...left, status: 'not_cleared' }, knee]).availability).toBe('full');
  });

  test('limited: the regions, or the whole athlete', () => {
    expect(standing([{ status: 'limited', region: 'shoulder', side: 'right', until: day('2026-10-15') }])).toEqual({
      availability: 'limited',
      regions: ['shoulder'],
      since: day('2026-08-10'),
      why: 'limited (right shoulder) since 2026-08-10, until 2026-10-15',
    });
    expect(standing([{ status: 'limited' }]).regions).toEqual(['']);
  });

  test('a decision of a later day is not known yet', () => {
    expect(standing([{ day: day('2026-08-21'), status: 'not_cleared' }]).availability).toBe('full');
    expect(standing([{ status: 'not_cleared' }, { day: day('2026-08-19') }]).availability).toBe('full');
  });

  const anyRow = fc.record({
    status: fc.constantFrom(...CLEARANCE_STATUSES, null),
    region: fc.constantFrom('', 'knee', 'head', 'shoulder'),
    day: fc.constantFrom(day('2026-08-01'), day('2026-08-05'), day('2026-08-09')),
  });

  test('the clearance of a knee never lifts what was said of the head', () => {
    fc.assert(
      fc.property(fc.array(anyRow, { maxLength: 5 }), (rows) => {
        const head: Partial<ClearanceRow> = { status: 'not_cleared', region: 'head', day: day('2026-08-10') };
        const knee: Partial<ClearanceRow> = { region: 'knee', day: day('2026-08-12') };
        expect(standing([...rows, head, knee]).availability).toBe('held');
      }),
      SEEDED,
    );
  });
});

describe('what became of a referral', () => {
  const found = '2026-08-17';
  const of = (rows: readonly Partial<ReferralRow>[], on = '2026-08-30', rule = 'systolic_high') =>
    desk({ clearance: [], referrals: rows.map(refer), work: [] }, day(on)).referral('K001', rule, day(found));

  test('open, seen, closed, each from its day on', () => {
    const row = { seenOn: day('2026-08-19'), closedOn: day('2026-08-26'), outcome: 'home readings' };
    const since = day(found);
    expect(of([row], '2026-08-18')).toEqual({
      ...{ state: 'open', since, seenOn: null, closedOn: null },
      ...{ outcome: '', closings: 0, closedBefore: null },
    });
    expect(of([row], '2026-08-25')).toEqual({
      ...{ state: 'open', since, seenOn: row.seenOn, closedOn: null },
      ...{ outcome: row.outcome, closings: 0, closedBefore: null },
    });
    expect(of([row], '2026-08-26')).toEqual({ state: 'closed', since, ...row, closings: 1, closedBefore: null });
  });

  test('one that was closed before the last reading of the occasion closes nothing', () => {
    const { referral } = desk(
      { clearance: [], referrals: [refer({ closedOn: day('2026-08-19') })], work: [] },
      day('2026-08-30'),
    );
    expect(referral('K001', 'systolic_high', day(found), day('2026-08-19'))?.state).toBe('closed');
    expect(referral('K001', 'systolic_high', day(found), day('2026-08-20'))).toMatchObject({
      state: 'open',
      closedOn: null,
      closedBefore: day('2026-08-19'),
    });
  });

  test('one of another rule, another athlete or before the finding answers nothing', () => {
    expect(of([{}], undefined, 'diastolic_high')).toBeUndefined();
    expect(of([{ athleteId: 'K002' }])).toBeUndefined();
    expect(of([{ day: day('2026-08-16'), closedOn: day('2026-08-20') }])).toBeUndefined();
  });

  test('the newest holds; of one day the open one; one without a day closes nothing', () => {
    const closed = { closedOn: day('2026-08-20') };
    expect(of([closed, { day: day('2026-08-22') }])?.state).toBe('open');
    expect(of([{}, closed])?.state).toBe('open');
    expect(of([{ day: null, ...closed }])).toMatchObject({ state: 'open', since: null });
    expect(of([{ day: null }, closed])?.state).toBe('closed');
  });
});

test('work that was started since the finding, the newest first, stopped or not', () => {
  const { work } = desk(
    {
      clearance: [],
      referrals: [],
      work: [
        worked({ started: day('2025-08-20'), done: 20 }),
        worked({ started: day('2026-08-20') }),
        worked({ started: day('2026-08-22'), stopped: day('2026-08-24') }),
        worked({ started: day('2026-09-22') }),
        worked({ started: null }),
      ],
    },
    day('2026-08-30'),
  );
  expect(work('K001', 'adductor_strength', day('2026-08-17'))?.started).toBe(day('2026-08-22'));
  expect(work('K001', 'balance', day('2026-08-17'))).toBeUndefined();
  expect(work('K001', 'adductor_strength', day('2026-08-23'))).toBeUndefined();
});

test('the newest day of the desk; a day to come, as until, is none', () => {
  const rows = {
    clearance: [clear({ until: day('2027-06-30') })],
    referrals: [refer({ closedOn: day('2026-08-26') })],
    work: [worked({ stopped: day('2026-08-24') })],
  };
  expect(lookedAt(day('2026-08-20'), rows)).toEqual({ day: day('2026-08-26'), tooFar: null });
  expect(lookedAt(day('2026-08-28'), rows).day).toBe(day('2026-08-28'));
  expect(lookedAt(null, rows).day).toBe(day('2026-08-26'));
  expect(lookedAt(null, { clearance: [], referrals: [], work: [] })).toEqual({ day: null, tooFar: null });
});

test('a day of the desk more than 180 days after the last reading is not gone by, and is named', () => {
  const rows = (closedOn: string) => ({ clearance: [], referrals: [refer({ closedOn: day(closedOn) })], work: [] });
  const last = day('2026-08-20');
  expect(lookedAt(last, rows('2062-08-15'))).toEqual({ day: last, tooFar: day('2062-08-15') });
  expect(lookedAt(last, rows('2027-02-16'))).toEqual({ day: day('2027-02-16'), tooFar: null });
  expect(lookedAt(last, rows('2027-02-17')).tooFar).toBe(day('2027-02-17'));
});
