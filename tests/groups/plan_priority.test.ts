import { describe, expect, test } from 'vitest';
import type { PastInjuries } from '../../src/outcomes/past.ts';
import { MARK } from '../../src/tables/schemas.ts';
import { briefly, hip, one, planOf, rowsOf } from './plan_build.ts';

/** Everybody in a team of their own: nothing is shared. */
const people = (...ids: string[]) => Object.fromEntries(ids.map((id) => [id, { team: `${id} team` }]));
const knee = (athlete_id: string, left: number, right: number) => ({
  ...hip(athlete_id, left, right),
  sem_left: undefined,
  sem_right: undefined,
  measure: 'knee',
});
const groinOf = (athlete: string, side: 'left' | 'right'): PastInjuries => ({
  of: (athleteId, region) => (athleteId === athlete && region === 'groin' ? [{ region, side, day: null }] : []),
});

// All orders are worked out by hand from the rule that the plan prints.
describe('priority', () => {
  test('referrals by urgency, then by how far beyond the limit', () => {
    const rows = [
      one('A1', 'systolic', 145),
      one('A2', 'systolic', 165),
      knee('A3', 600, 600),
      one('A4', 'systolic', 155),
      hip('A5', 150, 150, { marks: MARK.painLeft, status: 'pain_left' }),
    ];
    expect(briefly(planOf(rows, people('A1', 'A2', 'A3', 'A4', 'A5')))).toEqual([
      'refer A2: high;very_high',
      'refer A4: high',
      'refer A1: high',
      'refer A5: pain',
      'refer A3: knee_off',
    ]);
  });

  test('somebody on hold who is referred keeps the place of the referral', () => {
    const rows = [one('A1', 'systolic', 145), one('A2', 'systolic', 165), hip('A3', 60, 60)];
    const clearance = ['A2', 'A3'].map((athleteId) => ({ athleteId, status: 'not_cleared' as const }));
    expect(briefly(planOf(rows, people('A1', 'A2', 'A3'), { clearance }))).toEqual([
      'hold A2: high;very_high',
      'refer A1: high',
      'hold A3: weak;low_watch',
    ]);
  });

  test('an earlier injury of the same side goes before a clear finding, that before many, that before far beyond', () => {
    const rows = [
      hip('A1', 60, 60), // clear, 4 findings in the region, margin 40 N, error 3.92 N
      hip('A2', 98, 105), // within the error, same side
      hip('A3', 70, 70), // clear, 4 findings, margin 30 N
      hip('A4', 94, 120), // clear, uneven and watched too: 3 findings
      hip('A5', 98, 99), // within the error
    ];
    const made = planOf(rows, people('A1', 'A2', 'A3', 'A4', 'A5'), { past: groinOf('A2', 'left') });
    expect(rowsOf(made.plan).map(({ scope, athlete_id }) => `${scope} ${athlete_id}`)).toEqual([
      'repeat A2',
      'individual A1',
      'individual A3',
      'individual A4',
      'individual A4',
      'repeat A5',
    ]);
    expect(briefly(planOf(rows, people('A1', 'A2'), { past: groinOf('A2', 'right') }))[0]).toBe('individual A1: weak');
  });

  test('athletes alike come by id, and numbers run from 1', () => {
    const rows = ['B2', 'A10', 'A2'].map((id) => hip(id, 60, 60));
    const { plan } = planOf(rows, people('A10', 'A2', 'B2'));
    expect(rowsOf(plan).map(({ priority, athlete_id }) => [priority, athlete_id])).toEqual([
      [1, 'A10'],
      [2, 'A2'],
      [3, 'B2'],
    ]);
  });
});
