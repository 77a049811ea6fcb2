import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MARK } from '../../src/tables/schemas.ts';
import { measureOf, protocolOf, type ResultGiven, sides } from '../findings/build.ts';
import { SEEDED } from '../seeded.ts';
import { cohortOf, type People } from './build.ts';

const PROTOCOL = protocolOf({
  measures: [measureOf('hip'), measureOf('squat', { sides: 'none' })],
  rules: [
    { name: 'weak', measure: 'hip', comparator: 'below', limit: 6, share: true },
    { name: 'uneven', measure: 'hip', field: 'deficit_pct', comparator: 'above', limit: 20 },
    { name: 'weak_uneven', measure: 'hip', comparator: 'below', limit: 8, also: ['uneven'] },
    { name: 'faults', measure: 'squat', comparator: 'at_least', limit: 6, sex: 'F' },
    { name: 'hip_pain', measure: 'hip', status: 'pain', grade: 'watch' },
  ],
  sportGroups: [
    { name: 'groin', label: 'Groin', teams: ['Rowing', 'Judo'], measures: ['hip', 'squat'] },
    { name: 'back', label: 'Back', teams: ['Fencing'], measures: ['hip'] },
  ],
});

const TEAMS = ['Rowing', 'Judo', 'Fencing', 'Chess'];
const IDS = Array.from({ length: 14 }, (_, at) => `A${at}`);
const sometimes = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });

/** Everybody in one team, or in several. */
const peopleOf = (teams: fc.Arbitrary<string>): fc.Arbitrary<People> =>
  fc
    .array(fc.record({ team: teams, sex: sometimes(fc.constantFrom('F', 'M')) }), {
      minLength: IDS.length,
      maxLength: IDS.length,
    })
    .map((facts) => Object.fromEntries(facts.map((one, at) => [IDS[at], one])));
const oneTeam = peopleOf(fc.constantFrom(...TEAMS));
const someTeams = peopleOf(fc.subarray(TEAMS, { minLength: 1 }).map((teams) => teams.join(';')));

const reading = fc.integer({ min: 1, max: 12 });
const row: fc.Arbitrary<ResultGiven> = fc
  .record({
    athlete_id: fc.constantFrom(...IDS),
    date: fc.constantFrom('2025-08-12', '2026-08-12', '2026-10-01'),
    measure: fc.constantFrom('hip', 'squat'),
    left: sometimes(reading),
    right: sometimes(reading),
    value: sometimes(reading),
    marks: fc.constantFrom(0, 0, 0, MARK.painLeft, MARK.painRight, MARK.unableOther),
    status: fc.constantFrom(null, 'refused'),
  })
  .map(({ left, right, value, measure, date, ...rest }) => ({
    measure,
    date,
    season: Number(date.slice(0, 4)),
    ...rest,
    ...(measure === 'squat'
      ? { value }
      : left !== undefined && right !== undefined
        ? sides(left, right)
        : { left, right }),
  }));
/** At most one row of an athlete, day and measure, as in any table of results. */
const rows = fc.uniqueArray(row, {
  maxLength: 70,
  selector: ({ athlete_id, date, measure }) => `${athlete_id} ${date} ${measure}`,
});
const occasion = fc.constantFrom('first', 'last');
const seasons = fc.constantFrom(undefined, 'pooled' as const);

const ADDED = ['eligible', 'tested', 'flagged', 'flagged_partial', 'pain', 'unable', 'missing'] as const;

describe('over generated results', () => {
  test('where every athlete has one team, the teams add up to all', () => {
    fc.assert(
      fc.property(rows, oneTeam, occasion, seasons, (given, people, which, together) => {
        const table = cohortOf(given, people, PROTOCOL, { occasion: which, seasons: together, kinds: ['all', 'team'] });
        const all = [...table.rows()].filter(({ group_kind }) => group_kind === 'all');
        for (const one of all) {
          const teams = [...table.rows()].filter(
            ({ group_kind, season, rule }) => group_kind === 'team' && season === one.season && rule === one.rule,
          );
          for (const column of ADDED) {
            expect(teams.reduce((sum, team) => sum + team[column]!, 0)).toBe(one[column]);
          }
          for (const team of teams) {
            expect(team.tested! + team.others_tested!).toBe(one.tested);
            expect(team.flagged! + team.others_flagged!).toBe(one.flagged);
          }
        }
      }),
      SEEDED,
    );
  });

  test('numbers of a row agree with each other, and none is not a number', () => {
    fc.assert(
      fc.property(rows, someTeams, occasion, seasons, (given, people, which, together) => {
        const table = cohortOf(given, people, PROTOCOL, { occasion: which, seasons: together });
        for (const one of table.rows()) {
          expect(one.eligible).toBeGreaterThan(0);
          expect(one.tested! + one.missing!).toBe(one.eligible);
          expect(one.flagged).toBeLessThanOrEqual(one.tested!);
          expect(one.worse_left! + one.worse_right!).toBeLessThanOrEqual(one.flagged!);
          expect(one.flagged_partial).toBeLessThanOrEqual(one.missing!);
          expect(one.share === null).toBe(one.tested === 0);
          if (one.share !== null) {
            expect(one.share_low).toBeGreaterThanOrEqual(0);
            expect(one.share_low).toBeLessThanOrEqual(one.share);
            expect(one.share_high).toBeGreaterThanOrEqual(one.share);
            expect(one.share_high).toBeLessThanOrEqual(1);
          }
          if (one.group_kind === 'all') expect(one.ratio).toBeNull();
          for (const value of Object.values(one)) {
            if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
          }
        }
      }),
      SEEDED,
    );
  });

  test('the order of the rows does not matter', () => {
    fc.assert(
      fc.property(rows, someTeams, occasion, fc.func(fc.integer()), (given, people, which, key) => {
        const shuffled = given.map((one, at) => [key(at), one] as const).sort(([a], [b]) => a - b);
        const options = { occasion: which };
        expect([
          ...cohortOf(
            shuffled.map(([, one]) => one),
            people,
            PROTOCOL,
            options,
          ).rows(),
        ]).toEqual([...cohortOf(given, people, PROTOCOL, options).rows()]);
      }),
      SEEDED,
    );
  });

  test('all seasons together count what they count one by one', () => {
    fc.assert(
      fc.property(rows, oneTeam, (given, people) => {
        const apart = [...cohortOf(given, people, PROTOCOL).rows()];
        for (const one of cohortOf(given, people, PROTOCOL, { seasons: 'pooled' }).rows()) {
          const own = apart.filter(
            ({ group_kind, group, rule }) => group_kind === one.group_kind && group === one.group && rule === one.rule,
          );
          for (const column of ADDED) expect(own.reduce((sum, part) => sum + part[column]!, 0)).toBe(one[column]);
        }
      }),
      SEEDED,
    );
  });
});
