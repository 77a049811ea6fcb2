import type { Desk } from '../athletes/desk.ts';
import { hasLeft, type Member } from '../athletes/members.ts';
import { batteryFinder } from '../findings/batteries.ts';
import type { Measure, Protocol } from '../protocol/types.ts';
import { COVERAGE, type Coverage, type CoverageState, type Results } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import type { Attendance, AttendanceBook } from './attendance.ts';
import { heldTestReader } from './limits.ts';
import { painOverReader } from './read_again.ts';
import type { RetestReader } from './retests.ts';
import { measuredFor } from './rule_needs.ts';

export interface CoverageOptions {
  /** who belongs to the season */
  readonly members: readonly Member[];
  readonly desk: Desk;
  readonly retestBy: RetestReader;
  /** tell whose pain is over */
  readonly results: Results;
}

/**
 * Who has done what of their battery: one row an athlete of the season and measure that is taken, derived measures
 * standing for their parts, by athlete_id and protocol order. Who has left before the day of the desk is not asked for,
 * nor is what was marked as not applicable. Who is limited is held at the tests of that part of the body.
 * @param attendance of the season that is being screened
 */
export function coverage(
  attendance: AttendanceBook,
  protocol: Protocol,
  { members, desk, retestBy, results }: CoverageOptions,
): Coverage {
  const table: Coverage = new Table(COVERAGE);
  const measuresOf = expectedMeasures(protocol);
  const isPainOver = painOverReader(results, attendance.season);
  const isHeldAt = heldTestReader(protocol, desk);
  for (const { athleteId, team, sex, leftDay } of members) {
    if (hasLeft(leftDay, desk.on)) continue;
    for (const measure of measuresOf(team, sex)) {
      const isHeld = isHeldAt(athleteId, measure);
      const again: CoverageState = isHeld ? 'held' : 'retest_due';
      const seen = attendance.find(athleteId, measure.index);
      const inPain = (seen?.statuses.has('pain') ?? false) && !isPainOver(athleteId, measure.name);
      const state = stateOf(measure, seen, { isHeld, inPain });
      if (state === undefined) continue;
      const due = retestBy(athleteId, measure.index);
      const { columns } = table;
      columns.athlete_id.push(athleteId);
      columns.team.push(team);
      columns.season.push(attendance.season);
      columns.measure.push(measure.name);
      const isDue = due !== undefined && due.day <= desk.on;
      // Who was in pain at a test is not called back to it: medical staff decide.
      columns.state.push(isDue && (state === 'done' || state === 'partial') ? again : state);
      columns.station.push(seen?.station ?? attendance.stations.of(measure.index));
      if (due === undefined) columns.retest_by.push(null);
      else columns.retest_by.pushDay(due.day);
      columns.retest_for.push(due?.rule ?? null);
    }
  }
  return table;
}

/** Measures that an athlete is given, as far as they are taken and not worked out, in protocol order. */
export function expectedMeasures(protocol: Protocol): (team: string | null, sex: string | null) => readonly Measure[] {
  const batteryOf = batteryFinder(protocol);
  const known = new Map<readonly boolean[], readonly Measure[]>();
  return (team, sex) => {
    const { gives } = batteryOf(team, sex);
    let measures = known.get(gives);
    if (measures === undefined) {
      const wanted = new Set(protocol.measures.filter(({ index }) => gives[index]).flatMap(measuredFor));
      measures = protocol.measures.filter(({ index }) => wanted.has(index));
      known.set(gives, measures);
    }
    return measures;
  };
}

/** States of those who are to be called to a test. Whoever is held, in pain, unable or unwilling is not. */
export const STATES_TO_CALL: ReadonlySet<string> = new Set<CoverageState>(['missing', 'not_tested', 'partial']);

/**
 * The state of one measure of an athlete. Pain that is not over goes before everything, since somebody has to look at it.
 * Where something
 * is missing, what a person decided goes before the bare gap, be it of one side only: who is held is not called back.
 * @returns undefined if the test does not apply
 */
function stateOf(
  measure: Measure,
  seen: Attendance | undefined,
  { isHeld, inPain }: { readonly isHeld: boolean; readonly inPain: boolean },
): CoverageState | undefined {
  const has = (status: Parameters<NonNullable<Attendance>['statuses']['has']>[0]): boolean =>
    seen?.statuses.has(status) ?? false;
  if (inPain) return 'pain';
  if (has('not_applicable') && seen?.statuses.size === 1) return undefined;
  const isDone = measure.sides === 'none' ? seen?.whole : seen?.left && seen.right;
  if (isDone) return 'done';
  if (isHeld || has('held')) return 'held';
  if (has('unable')) return 'unable';
  if (has('refused')) return 'refused';
  if (seen?.left || seen?.right || seen?.whole) return 'partial';
  return seen === undefined ? 'missing' : 'not_tested';
}
