import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ClearanceRow } from '../../src/athletes/clearance.ts';
import { forAudience } from '../../src/cli/audience/view.ts';
import { MARK, PLAN_SCOPES, type Plan } from '../../src/tables/schemas.ts';
import { type ResultGiven, sides } from '../findings/build.ts';
import { SEEDED } from '../seeded.ts';
import type { People } from './build.ts';
import { dayOf, type Given, type Made, PROTOCOL, planOf, rowsOf } from './plan_build.ts';

const IDS = Array.from({ length: 12 }, (_, at) => `A${at}`);
const DAYS = ['2025-08-12', '2026-08-12', '2026-08-16'];
const sometimes = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
const force = fc.integer({ min: 40, max: 180 });
const id = fc.constantFrom(...IDS);

const row: fc.Arbitrary<ResultGiven> = fc
  .record({
    athlete_id: id,
    date: fc.constantFrom(...DAYS),
    measure: fc.constantFrom('hip', 'hip', 'knee', 'squat', 'systolic'),
    left: sometimes(force),
    right: sometimes(force),
    value: fc.integer({ min: 0, max: 170 }),
    sem: sometimes(fc.integer({ min: 1, max: 20 })),
    marks: fc.constantFrom(0, 0, 0, 0, MARK.painLeft, MARK.painRight, MARK.unableLeft),
  })
  .map(({ left, right, value, measure, date, sem, marks, athlete_id }) => {
    const base = { athlete_id, date, measure, season: Number(date.slice(0, 4)) };
    if (measure === 'squat' || measure === 'systolic')
      return { ...base, value: measure === 'squat' ? value % 6 : value };
    const both = left !== undefined && right !== undefined ? sides(left, right) : { left, right };
    return { ...base, ...both, marks, sem_left: sem, sem_right: sem };
  });
const rows = fc.uniqueArray(row, {
  minLength: 1,
  maxLength: 70,
  selector: ({ athlete_id, date, measure }) => `${athlete_id} ${date} ${measure}`,
});
const people: fc.Arbitrary<People> = fc
  .array(fc.subarray(['Rowing', 'Judo'], { minLength: 1 }), { minLength: IDS.length, maxLength: IDS.length })
  .map((teams) => Object.fromEntries(teams.map((own, at) => [IDS[at], { team: own.join(';') }])));
const day = fc.constantFrom('2026-08-11', '2026-08-13', '2026-08-18').map(dayOf);
const given: fc.Arbitrary<Given> = fc.record({
  clearance: fc.array(
    fc.record({
      athleteId: id,
      day,
      status: fc.constantFrom<ClearanceRow['status']>('not_cleared', 'pending', 'limited', 'cleared', null),
      region: fc.constantFrom('', 'knee', 'groin', 'wrist'),
    }),
    { maxLength: 6 },
  ),
  referrals: fc.array(
    fc.record({ athleteId: id, rule: fc.constantFrom('high', 'very_high', 'pain'), day, closedOn: fc.option(day) }),
    { maxLength: 6 },
  ),
  work: fc.array(fc.record({ athleteId: id, started: day }), { maxLength: 3 }),
  left: fc.dictionary(id, fc.constantFrom('2026-08-15', '2026-12-01'), { maxKeys: 3 }),
});

const over = (check: (made: Made, facts: Given, who: People) => void): void =>
  fc.assert(
    fc.property(rows, people, given, (results, who, facts) => check(planOf(results, who, facts), facts, who)),
    { ...SEEDED, numRuns: 300 },
  );
const cells = (table: Plan): string[] => rowsOf(table).flatMap((line) => Object.values(line).map(String));

describe('over generated results and side files', () => {
  test('each finding stands behind one line, or is unplanned with a reason', () => {
    over(({ findings, plan, unplanned, lineOf }, _, who) => {
      const without = new Set(unplanned.map(({ finding }) => finding.row));
      expect(without.size).toBe(unplanned.length);
      expect(unplanned.every(({ reason }) => reason !== '')).toBe(true);
      for (let at = 0; at < findings.length; at++) {
        expect(lineOf[at] === -1).toBe(without.has(at));
        if (lineOf[at] === -1) continue;
        const line = plan.row(lineOf[at]);
        const finding = findings.row(at);
        expect((line.rules ?? '').split(';')).toContain(finding.rule);
        if (line.athlete_id === null) expect((who[finding.athlete_id!].team ?? '').split(';')).toContain(line.group);
        else expect(line.athlete_id).toBe(finding.athlete_id);
      }
    });
  });

  test('a referral that nobody closed always has a line of medical staff', () => {
    over(({ findings, plan, unplanned, lineOf }) => {
      for (const { finding, kind } of unplanned) {
        if (finding.grade === 'refer') expect(['earlier_season', 'left_team', 'closed']).toContain(kind);
      }
      for (let at = 0; at < findings.length; at++) {
        if (findings.columns.grade.get(at) !== 'refer' || lineOf[at] === -1) continue;
        expect(['refer', 'hold']).toContain(plan.columns.scope.get(lineOf[at]));
        expect(plan.columns.instruction.get(lineOf[at])).toContain('Medical staff see the athlete');
      }
    });
  });

  test('whoever is held has one hold and no work; whoever is limited or hurt does not join the team', () => {
    over(({ plan }, { clearance = [] }) => {
      const lines = rowsOf(plan);
      for (const { scope, athlete_id, programme } of lines) {
        if (scope !== 'hold') continue;
        const own = lines.filter((line) => line.athlete_id === athlete_id);
        expect(own.filter((line) => line.scope === 'hold')).toHaveLength(1);
        expect(programme).toBe(null);
      }
      // A line of clearance that is the only one of an athlete needs no weighing up; no rule is about the wrist.
      for (const { athleteId, status, region } of clearance) {
        const isWhole = region === '' || region === 'wrist';
        if (!isWhole || clearance.filter((other) => other.athleteId === athleteId).length > 1) continue;
        const scopes = lines.filter((line) => line.athlete_id === athleteId).map(({ scope }) => scope);
        if (status === 'limited') expect(scopes).not.toContain('individual');
        if (status !== 'limited' && status !== 'cleared' && region === '')
          expect(scopes.filter((scope) => scope !== 'left_out' && scope !== 'hold')).toEqual([]);
      }
      for (const [at, line] of lines.entries()) {
        if (line.scope !== 'left_out') continue;
        const before = lines.slice(0, at).findLast(({ scope }) => scope !== 'left_out');
        expect([before?.scope, before?.group, before?.programme]).toEqual(['shared', line.group, line.programme]);
      }
    });
  });

  test('priorities run from 1 in the order of the rows; scopes are known; no line lacks its owner, reason or what to do', () => {
    over(({ plan }) => {
      for (const [at, line] of rowsOf(plan).entries()) {
        expect(line.priority).toBe(at + 1);
        expect(PLAN_SCOPES).toContain(line.scope);
        expect([line.owner, line.reason, line.instruction, line.start]).not.toContain(null);
      }
    });
  });

  test('no more programmes than the protocol allows, for teams and for athletes', () => {
    over(({ plan }) => {
      const counts = new Map<string, number>();
      for (const { scope, group, athlete_id, programme } of plan.rows()) {
        if (programme === null || (scope !== 'shared' && scope !== 'individual')) continue;
        const key = `${scope} ${group ?? athlete_id}`;
        counts.set(key, (counts.get(key) ?? 0) + 1);
      }
      expect(Math.max(0, ...counts.values())).toBeLessThanOrEqual(PROTOCOL.sharing.atMostProgrammes);
    });
  });

  test('a coach reads nothing of pain, pressure, mass or injuries, and no number', () => {
    over(({ plan }) => {
      const shown = cells(forAudience(plan, 'coach', PROTOCOL)).join('\n');
      expect(shown).not.toMatch(/pain|pressure|mass|injur|systolic|\d N\b|%/i);
    });
  });
});
