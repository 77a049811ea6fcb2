import { type Desk, type DeskRows, desk } from '../../src/athletes/desk.ts';
import type { Member } from '../../src/athletes/members.ts';
import { flag } from '../../src/findings/flag.ts';
import { AttendanceBook } from '../../src/groups/attendance.ts';
import { coverage } from '../../src/groups/coverage.ts';
import { retestReader } from '../../src/groups/retests.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import type { COVERAGE, Coverage } from '../../src/tables/schemas.ts';
import type { RowOf } from '../../src/tables/table.ts';
import { parseIsoDay } from '../../src/units/days.ts';
import { bookOf, measureOf, protocolOf, type ResultGiven, resultsOf } from '../findings/build.ts';
import { type ObservationGiven, observationsOf } from '../findings/readings_of.ts';

export const dayOf = (iso: string): number => parseIsoDay(iso)!;

/** Hip strength and height for everyone, grip for rowers, and the ratio of hip to height that fencers are given. */
export const PROTOCOL: Protocol = withRatio(
  protocolOf({
    measures: [
      measureOf('hip', { label: 'Hip strength' }),
      measureOf('height', { label: 'Height', sides: 'none', unit: { code: 'cm', factor: 0.01, dimension: 'length' } }),
      measureOf('grip', { label: 'Grip' }),
      measureOf('knee', { label: 'Knee strength' }),
      measureOf('ratio', { label: 'Ratio' }),
    ],
    everyone: ['height', 'hip'],
    sportGroups: [
      { name: 'rowers', label: 'Rowers', teams: ['Rowing'], measures: ['grip'] },
      { name: 'fencers', label: 'Fencers', teams: ['Fencing', 'Rowing'], measures: ['ratio'] },
    ],
    rules: [
      { name: 'weak', measure: 'hip', comparator: 'below', limit: 100, grade: 'act', programme: 'hips' },
      { name: 'low_ratio', measure: 'ratio', comparator: 'below', limit: 1, grade: 'act', programme: 'hips' },
      { name: 'low', measure: 'hip', comparator: 'below', limit: 120, grade: 'watch', programme: 'hips' },
      { name: 'very_weak', measure: 'hip', comparator: 'below', limit: 50, grade: 'refer', programme: 'clinic' },
      { name: 'short', measure: 'height', comparator: 'below', limit: 100, grade: 'act', programme: 'none' },
    ],
    programmes: new Map(
      [
        { name: 'hips', label: 'Hips', owner: 'strength' as const, retestDays: 42 },
        { name: 'clinic', label: 'Clinic', owner: 'medical' as const, retestDays: 10 },
        { name: 'none', label: 'No retest', owner: 'strength' as const },
      ].map((one) => [one.name, one]),
    ),
  }),
);

/** The ratio of knee and hip: derived measures stand for their parts. */
function withRatio(protocol: Protocol): Protocol {
  const [hip, height, grip, knee, ratio] = protocol.measures;
  const derived = { ...ratio, derivation: { operator: 'ratio', parts: [knee, hip] } } as const;
  const measures = [hip, height, grip, knee, derived];
  return {
    ...protocol,
    measures,
    byName: new Map(measures.map((measure) => [measure.name, measure])),
    rules: protocol.rules.map((rule) => (rule.measure === ratio ? { ...rule, measure: derived } : rule)),
  };
}

export interface CoverageGiven {
  readonly observations?: readonly ObservationGiven[];
  readonly results?: readonly ResultGiven[];
  /** team by athlete */
  readonly people?: Readonly<Record<string, string | null>>;
  /** last days on the team, by athlete */
  readonly left?: Readonly<Record<string, string>>;
  readonly desk?: Partial<DeskRows>;
  readonly on?: string;
  readonly protocol?: Protocol;
}

export function deskOf(rows: Partial<DeskRows> = {}, on = '2026-08-20'): Desk {
  return desk({ clearance: [], referrals: [], work: [], ...rows }, dayOf(on));
}

/** A hold of an athlete from a day on. */
export const hold = (athleteId: string, from = '2026-08-10'): DeskRows['clearance'][number] => ({
  line: 2,
  athleteId,
  day: dayOf(from),
  status: 'not_cleared',
  region: '',
  side: null,
  until: null,
});

export function coverageOf(given: CoverageGiven): Coverage {
  const { people = { A1: 'Swimming' }, left = {}, protocol = PROTOCOL } = given;
  const attendance = new AttendanceBook(protocol, 2026);
  attendance.add(observationsOf(given.observations ?? []));
  const onDesk = deskOf(given.desk, given.on);
  const results = resultsOf(given.results ?? []);
  const teams = Object.fromEntries(Object.entries(people).map(([id, team]) => [id, { team: team ?? undefined }]));
  const members = Object.entries(people).map(
    ([athleteId, team]): Member => ({
      athleteId,
      team,
      sex: null,
      leftDay: left[athleteId] === undefined ? null : dayOf(left[athleteId]),
    }),
  );
  const findings = flag(results, bookOf(teams), protocol);
  return coverage(attendance, protocol, {
    members,
    desk: onDesk,
    retestBy: retestReader(findings, results, protocol, onDesk, 2026),
    results,
  });
}

export type CoverageRow = RowOf<typeof COVERAGE>;
/** Rows as `A1 hip done`. */
export const briefly = (table: Coverage): string[] =>
  [...table.rows()].map(({ athlete_id, measure, state }) => `${athlete_id} ${measure} ${state}`);
/** The row of an athlete and measure; undefined: there is none. */
export const rowOf = (table: Coverage, athlete: string, measure: string): CoverageRow | undefined =>
  [...table.rows()].find((row) => row.athlete_id === athlete && row.measure === measure);
