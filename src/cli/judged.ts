import type { Desk } from '../athletes/desk.ts';
import { lookedAt } from '../athletes/desk_days.ts';
import { type Members, membersReader } from '../athletes/members.ts';
import { flag } from '../findings/flag.ts';
import type { Findings } from '../tables/schemas.ts';
import { seasonOf } from '../units/days.ts';
import type { AudienceOptions } from './audience.ts';
import { type Derived, deriveJob, type Tap } from './derived.ts';
import type { Io } from './io.ts';
import { dayInUse, type OnOptions } from './on_day.ts';
import type { FolderOptions } from './options.ts';

/** Findings as a command line asks for them, and everything that work is planned from. */
export interface Judged extends Derived {
  readonly findings: Findings;
  readonly members: Members;
  /** the season that is being screened: the newest one with readings; null: there are none */
  readonly season: number | null;
  readonly desk: Desk;
}

/** Works out results and findings from the tables named, else from the folder. */
export async function judgeJob(
  io: Io,
  names: readonly string[],
  flags: FolderOptions & OnOptions & Partial<AudienceOptions>,
  command: string,
  tap: Tap = {},
): Promise<Judged> {
  const derived = await deriveJob(io, names, flags, command, tap);
  const { setup, results, book, athletes, lastDay } = derived;
  const { seasonStarts } = setup.screening;
  const newest = results.columns.season.values.subarray(0, results.length).reduce((a, b) => Math.max(a, b), 0);
  return {
    ...derived,
    findings: flag(results, book, setup.protocol, setup.past),
    members: membersReader(athletes, setup.roster, newest, (day) => seasonOf(day, seasonStarts)),
    season: newest > 0 ? newest : null,
    desk: setup.deskOn(dayInUse(flags.on, lookedAt(lastDay, setup.sideTables), io)),
  };
}
