import type { Member } from '../athletes/members.ts';
import type { Measure, Protocol } from '../protocol/types.ts';
import { csvCell } from '../tables/csv_text.ts';
import { expectedMeasures } from './coverage.ts';
import { FORM_ROLES, type FormColumn } from './form_headings.ts';
import type { HeldTestReader } from './limits.ts';
import { byName, teamsOf } from './to_call.ts';

/** What is tested at one place. */
export interface Station {
  /** undefined: no station is named */
  readonly name: string | undefined;
  /** in protocol order */
  readonly measures: readonly Measure[];
}

/** One blank sheet to be made. */
export interface Form {
  readonly station: Station;
  /** null: athletes without a team */
  readonly team: string | null;
  readonly measures: readonly Measure[];
  /** by athlete_id */
  readonly members: readonly Member[];
}

export interface FormsOptions {
  /** default: all */
  readonly team: string | undefined;
  /** whether the measures were named, so that a team gets them whatever it is given */
  readonly isNamed: boolean;
  /** whether an athlete still lacks a measure, where only those who do are wanted */
  readonly lacks: ((athleteId: string, measure: string) => boolean) | undefined;
}

/**
 * Which sheets are to be made: one a station and team, with what anybody of the team is given there. A sheet without
 * measures or athletes is none.
 * @param members who belong to the season and have not left
 */
export function formsFor(
  stations: readonly Station[],
  members: readonly Member[],
  protocol: Protocol,
  { team, isNamed, lacks }: FormsOptions,
): readonly Form[] {
  const given = expectedMeasures(protocol);
  const teams = team === undefined ? [...new Set(members.flatMap(teamsOf))].sort(byName) : [team];
  const people = new Map(teams.map((name) => [name, members.filter((member) => teamsOf(member).includes(name))]));
  return stations.flatMap((station) =>
    teams.flatMap((name): Form[] => {
      const own = people.get(name)!;
      const all = new Set(own.flatMap((member) => given(member.team, member.sex)));
      const measures = isNamed ? station.measures : station.measures.filter((measure) => all.has(measure));
      const rows = lacks ? own.filter(({ athleteId }) => measures.some((one) => lacks(athleteId, one.name))) : own;
      return measures.length === 0 || rows.length === 0 ? [] : [{ station, team: name, measures, members: rows }];
    }),
  );
}

export interface SheetOptions {
  /** whether medical staff keep an athlete from a test */
  readonly isHeld: HeldTestReader;
  /** ISO day of the test; null: to be filled in */
  readonly date: string | null;
  /** last and first name by id, only if names were asked for */
  readonly names: ReadonlyMap<string, readonly [last: string, first: string]> | undefined;
}

/** What a reader of sheets takes for: medical staff do not let the athlete do this. */
const HELD = 'held';
const NAME_ROLES = ['last_name', 'first_name'];

/**
 * A blank sheet as CSV: one row an athlete, ids and team filled in, readings empty. Whom medical staff keep from a test
 * has it written into its cells; nothing else is known of anybody here, last year's readings least of all.
 */
export function blankSheet(
  { team, members }: Pick<Form, 'team' | 'members'>,
  columns: readonly FormColumn[],
  { isHeld, date, names }: SheetOptions,
): string {
  const [id, ...others] = FORM_ROLES;
  const headings = [id, ...(names ? NAME_ROLES : []), ...others, ...columns.map(({ heading }) => heading)];
  const rows = members.map(({ athleteId }) => {
    const own = names === undefined ? [] : (names.get(athleteId) ?? ['', '']);
    const marks = columns.map(({ measure }) => (isHeld(athleteId, measure) ? HELD : ''));
    return [athleteId, ...own, team ?? '', date ?? '', '', '', ...marks];
  });
  return [headings, ...rows].map((row) => `${row.map(csvCell).join(',')}\n`).join('');
}
