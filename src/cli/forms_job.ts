import path from 'node:path';
import { hasLeft, type Member, membersReader } from '../athletes/members.ts';
import type { Roster } from '../athletes/roster.ts';
import type { Provenance } from '../files/metadata.ts';
import { AttendanceBook } from '../groups/attendance.ts';
import { coverage, STATES_TO_CALL } from '../groups/coverage.ts';
import { formHeadings } from '../groups/form_headings.ts';
import { blankSheet, type FormsOptions, formsFor, type Station } from '../groups/forms.ts';
import { heldTestReader } from '../groups/limits.ts';
import { retestReader } from '../groups/retests.ts';
import { Failure } from '../problems/failure.ts';
import type { Protocol } from '../protocol/types.ts';
import type { Setup } from '../screening/setup.ts';
import { isoDay, seasonOf } from '../units/days.ts';
import { ioFor, provenanceFor } from './audience/coach_ends.ts';
import { formMeasureTest } from './audience/form_measures.ts';
import type { AudienceOptions } from './audience.ts';
import { nameWanted, teamsAmong } from './coverage_job.ts';
import { type BlankForm, distinctNames, fileNameOf } from './forms_names.ts';
import { sayHidden, sayHolds, sayNoDay, saySeason, sayTwice } from './forms_notes.ts';
import { stationsWanted } from './forms_wanted.ts';
import type { Io } from './io.ts';
import { type Judged, judgeJob } from './judged.ts';
import type { OnOptions } from './on_day.ts';
import { type FolderOptions, UsageError } from './options.ts';

export interface FormsWanted extends FolderOptions, OnOptions, AudienceOptions {
  readonly station?: string;
  readonly team?: string;
  readonly measure?: readonly string[];
  readonly season?: number;
  /** only who still lacks one of the tests, or is due again */
  readonly missing?: boolean;
}

export interface FormsJob {
  /** none: nobody lacks anything */
  readonly forms: readonly BlankForm[];
  /** absolute paths of what was read */
  readonly inputs: readonly string[];
  /** @param replaced absolute paths that are no inputs any more once they are replaced */
  provenance(replaced: ReadonlySet<string>): Promise<Provenance>;
}

/** Makes the blank sheets that a command line asks for: one a station and team. */
export async function formsJob(io: Io, wanted: FormsWanted): Promise<FormsJob> {
  let attendance: AttendanceBook | undefined;
  const ends = ioFor(io, wanted.audience);
  const judged = await judgeJob(ends, [], wanted, 'bilat forms', {
    // Sheets are made before there are any.
    mayBeEmpty: true,
    observations(batch, setup) {
      attendance ??= new AttendanceBook(setup.protocol, seasonAsked(wanted, setup));
      attendance.add(batch);
    },
  });
  const { setup, desk } = judged;
  const { protocol } = setup;
  const asked = seasonAsked(wanted, setup);
  const season = asked ?? comingSeason(judged.season, setup.roster);
  const book = attendance ?? new AttendanceBook(protocol, season);
  if (asked === undefined) saySeason(season, judged.season, ends);
  const people = peopleOf(season, judged);
  const team = nameWanted('team', wanted.team, teamsAmong(people), setup.screening.teamAliases);
  const stations = stationsWanted(wanted.station, wanted.measure, book, protocol, setup.screening);
  const visible = visibleStations(stations, wanted, protocol, io);
  const options: FormsOptions = { team, isNamed: wanted.measure !== undefined, lacks: undefined };
  const whole = formsFor(visible, people, protocol, options);
  if (whole.length === 0) throw nothingToTest(people, team, wanted.station);
  const chosen = wanted.missing
    ? formsFor(visible, people, protocol, { ...options, lacks: lackReader(season, book, people, judged) })
    : whole;
  const columnsFor = formHeadings(protocol, ({ index }) => book.units.of(index));
  const date = wanted.on === undefined ? null : isoDay(wanted.on);
  const names = wanted.names ? writtenNames(setup.roster) : undefined;
  const isHeld = heldTestReader(protocol, desk);
  const forms = chosen.map((form) => ({
    fileName: fileNameOf(form.station.name, form.team, wanted.audience),
    station: form.station.name,
    team: form.team,
    text: blankSheet(form, columnsFor(form.measures), { isHeld, date, names }),
  }));
  const listed = new Map(chosen.flatMap(({ members }) => members.map((one) => [one.athleteId, one] as const)));
  sayHolds(chosen, isHeld, { on: desk.on, hasDate: date !== null }, ends);
  sayNoDay([...listed.values()], desk, ends);
  if (team === undefined) sayTwice([...listed.values()], ends);
  return {
    forms: distinctNames(forms),
    inputs: judged.inputs,
    async provenance(replaced) {
      const made = provenanceFor(await judged.provenance(), wanted.audience);
      return { ...made, inputs: made.inputs.filter((input) => !replaced.has(path.resolve(setup.base, input.path))) };
    },
  };
}

/** The season that a command line names, else that of the day it names. */
function seasonAsked({ season, on }: FormsWanted, { screening }: Setup): number | undefined {
  const ofDay = on === undefined ? undefined : seasonOf(on, screening.seasonStarts);
  if (season !== undefined && ofDay !== undefined && season !== ofDay) {
    throw new UsageError(`--season: ${isoDay(on!)} lies in season ${ofDay}, not in ${season}; leave one of them out`);
  }
  return season ?? ofDay;
}

/** The newest season that readings or roster know: new athletes may stand there already. */
function comingSeason(tested: number | null, roster: Roster | undefined): number {
  const years = (roster?.rows ?? []).flatMap(({ season, entryYear }) => [season ?? 0, entryYear ?? 0]);
  return years.reduce((newest, year) => Math.max(newest, year), tested ?? 0);
}

/** Who belongs to a season and has not left before the day of the desk. */
function peopleOf(season: number, { setup, athletes, season: tested, desk }: Judged): readonly Member[] {
  const { roster, screening } = setup;
  const newest = Math.max(season, tested ?? 0);
  const members = membersReader(athletes, roster, newest, (day) => seasonOf(day, screening.seasonStarts));
  return members(season).filter(({ leftDay }) => !hasLeft(leftDay, desk.on));
}

/** Stations with what an audience may read of them. */
function visibleStations(
  stations: readonly Station[],
  { audience }: FormsWanted,
  protocol: Protocol,
  io: Io,
): readonly Station[] {
  const isShown = formMeasureTest(audience, protocol);
  const visible = stations.map(({ name, measures }) => ({ name, measures: measures.filter(isShown) }));
  const count = (some: readonly Station[]): number => new Set(some.flatMap(({ measures }) => measures)).size;
  sayHidden(count(stations) - count(visible), count(visible), io);
  return visible;
}

/** Whether an athlete is to be called to a measure, or is due at it again. */
function lackReader(
  season: number,
  book: AttendanceBook,
  members: readonly Member[],
  { setup, desk, findings, results }: Judged,
): (athleteId: string, measure: string) => boolean {
  const { protocol } = setup;
  const seen = book.season === season ? book : new AttendanceBook(protocol, season);
  const retestBy = retestReader(findings, results, protocol, desk, season);
  const { columns, length } = coverage(seen, protocol, { members, desk, retestBy, results });
  const lacking = new Set<string>();
  for (let row = 0; row < length; row++) {
    const state = columns.state.get(row) ?? '';
    if (!STATES_TO_CALL.has(state) && state !== 'retest_due') continue;
    lacking.add(`${columns.athlete_id.get(row)}\n${columns.measure.get(row)}`);
  }
  return (athleteId, measure) => lacking.has(`${athleteId}\n${measure}`);
}

function writtenNames(roster: Roster | undefined): ReadonlyMap<string, readonly [string, string]> {
  const rows = roster?.rows ?? [];
  return new Map(rows.map(({ athleteId, lastName, firstName }) => [athleteId, [lastName, firstName] as const]));
}

function nothingToTest(people: readonly Member[], team: string | undefined, station: string | undefined): Failure {
  if (people.length === 0) {
    return new Failure(2, {
      message: 'nobody is known who could stand on a sheet',
      hint: 'Fill in roster.csv: an athlete_id and a team for each athlete; --season names another season.',
    });
  }
  const where = station === undefined ? '' : ` at ${station}`;
  return new Failure(2, {
    message: `${team === undefined ? 'no team of this season is given any measure' : `team ${team} is given no measure`}${where}`,
    hint: 'Name the measures with --measure a,b, or put the team into a sport group of the protocol.',
  });
}
