import type { ClearanceRow } from '../../src/athletes/clearance.ts';
import { desk } from '../../src/athletes/desk.ts';
import type { ReferralRow } from '../../src/athletes/referrals.ts';
import type { WorkRow } from '../../src/athletes/work.ts';
import { flag } from '../../src/findings/flag.ts';
import { cohort } from '../../src/groups/cohort.ts';
import { type Planned, plan } from '../../src/groups/plan.ts';
import type { PastInjuries } from '../../src/outcomes/past.ts';
import type { Programme, Protocol } from '../../src/protocol/types.ts';
import type { Findings, Plan } from '../../src/tables/schemas.ts';
import { parseIsoDay } from '../../src/units/days.ts';
import { parseUnit } from '../../src/units/unit.ts';
import { bookOf, measureOf, protocolOf, type ResultGiven, resultsOf, sides } from '../findings/build.ts';
import { membersOf, type People } from './build.ts';

export const dayOf = (iso: string): number => parseIsoDay(iso)!;
export const FOUND_ON = '2026-08-12';
export const LOOKED_ON = '2026-08-20';

export function programmeOf(name: string, given: Partial<Programme> = {}): [string, Programme] {
  return [
    name,
    { name, label: name, owner: 'strength', shared: 'all.', individual: 'alone.', retestDays: 42, ...given },
  ];
}

const ERROR = { sem: 2, basis: 'occasions' } as const;

/** Hip strength: weak below 100 N (act, may be shared), uneven above 10 %; squat faults are watched; pressure is referred. */
export const PROTOCOL: Protocol = {
  ...protocolOf({
    measures: [
      measureOf('hip', { label: 'Hip strength', error: ERROR }),
      measureOf('knee', { label: 'Knee strength' }),
      measureOf('squat', {
        label: 'Squat faults',
        sides: 'none',
        better: 'lower',
        unit: parseUnit('1')!,
      }),
      measureOf('systolic', {
        label: 'Systolic pressure',
        sides: 'none',
        unit: parseUnit('mm[Hg]')!,
      }),
    ],
    rules: [
      {
        name: 'weak',
        measure: 'hip',
        comparator: 'below',
        limit: 100,
        share: true,
        programme: 'hips',
        region: 'groin',
      },
      {
        name: 'uneven',
        measure: 'hip',
        field: 'deficit_pct',
        comparator: 'above',
        limit: 10,
        programme: 'one_side',
        region: 'groin',
      },
      {
        name: 'low_watch',
        measure: 'hip',
        comparator: 'below',
        limit: 110,
        grade: 'watch',
        programme: 'one_side',
        region: 'groin',
      },
      { name: 'knee_weak', measure: 'knee', comparator: 'below', limit: 100, programme: 'knees', region: 'knee' },
      { name: 'knee_poor', measure: 'knee', comparator: 'below', limit: 50 },
      { name: 'faults', measure: 'squat', comparator: 'at_least', limit: 2, grade: 'watch', programme: 'control' },
      { name: 'high', measure: 'systolic', comparator: 'at_least', limit: 140, grade: 'refer', programme: 'recheck' },
      { name: 'very_high', measure: 'systolic', comparator: 'at_least', limit: 160, grade: 'refer', urgency: 'now' },
      { name: 'knee_off', measure: 'knee', comparator: 'above', limit: 500, grade: 'refer' },
    ],
    programmes: new Map([
      programmeOf('hips', { label: 'Hip work' }),
      programmeOf('one_side', { label: 'Weaker side', shared: undefined }),
      programmeOf('knees', { label: 'Knee work', shared: undefined, retestDays: undefined }),
      programmeOf('control', { label: 'Control' }),
      programmeOf('recheck', { label: 'Recheck', owner: 'medical', shared: undefined, individual: 'Seated, again.' }),
    ]),
  }),
};

export interface Given {
  readonly clearance?: readonly Partial<ClearanceRow>[];
  readonly referrals?: readonly Partial<ReferralRow>[];
  readonly work?: readonly Partial<WorkRow>[];
  readonly on?: string;
  readonly past?: PastInjuries;
  /** last days on the team, by athlete */
  readonly left?: Readonly<Record<string, string>>;
  readonly protocol?: Protocol;
  readonly season?: number;
}

export interface Made extends Planned {
  readonly findings: Findings;
}

/** The plan for results of people who all belong to the season; side files as far as they are given. */
export function planOf(rows: readonly ResultGiven[], people: People, given: Given = {}): Made {
  const { protocol = PROTOCOL, on = LOOKED_ON, past, left = {}, season = 2026 } = given;
  const results = resultsOf(rows);
  const book = bookOf(people);
  const findings = flag(results, book, protocol, past);
  const everybody = membersOf(people);
  const members = (year: number) =>
    everybody(year).map((one) => ({ ...one, leftDay: left[one.athleteId] ? dayOf(left[one.athleteId]) : null }));
  const base = { line: 2, athleteId: 'A1', day: dayOf(FOUND_ON) };
  const rowsOfDesk = {
    clearance: (given.clearance ?? []).map(
      (row): ClearanceRow => ({ ...base, status: 'cleared', region: '', side: null, until: null, ...row }),
    ),
    referrals: (given.referrals ?? []).map(
      (row): ReferralRow => ({ ...base, rule: 'high', seenOn: null, outcome: '', closedOn: null, ...row }),
    ),
    work: (given.work ?? []).map(
      (row): WorkRow => ({
        ...base,
        programme: 'hips',
        started: null,
        planned: null,
        done: null,
        stopped: null,
        reason: '',
        ...row,
      }),
    ),
  };
  const shares = cohort(results, findings, book, protocol, { members, past, kinds: ['all', 'team'] });
  const made = plan(findings, shares, book, protocol, {
    desk: desk(rowsOfDesk, dayOf(on)),
    members,
    season,
    results,
  });
  return { ...made, findings };
}

/** Hip strength of an athlete, left and right. */
export const hip = (
  athlete_id: string,
  left: number,
  right: number,
  given: Partial<ResultGiven> = {},
): ResultGiven => ({
  athlete_id,
  measure: 'hip',
  sem_left: 2,
  sem_right: 2,
  ...sides(left, right),
  ...given,
});
export const one = (
  athlete_id: string,
  measure: string,
  value: number,
  given: Partial<ResultGiven> = {},
): ResultGiven => ({
  athlete_id,
  measure,
  value,
  ...given,
});

/** Five of a team whose hips are weak: enough to share the work. */
export const WEAK_TEAM = ['A1', 'A2', 'A3', 'A4', 'A5'];
export const ROWING: People = Object.fromEntries(WEAK_TEAM.map((id) => [id, { team: 'Rowing' }]));
export const weakTeam = (): ResultGiven[] => WEAK_TEAM.map((id) => hip(id, 80, 80));

export const rowsOf = (table: Plan) => [...table.rows()];
/** Lines as `scope who: rules`. */
export const briefly = ({ plan: table }: Planned): string[] =>
  rowsOf(table).map(({ scope, athlete_id, group, rules }) => `${scope} ${athlete_id ?? group}: ${rules ?? ''}`.trim());
/** Unplanned findings as `athlete rule: reason`. */
export const unplannedOf = ({ unplanned }: Planned): string[] =>
  unplanned.map(({ finding, reason }) => `${finding.athleteId} ${finding.rule}: ${reason}`);
