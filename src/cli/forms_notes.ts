import type { Desk } from '../athletes/desk.ts';
import type { Member } from '../athletes/members.ts';
import { teamsOf } from '../groups/to_call.ts';
import { isoDay } from '../units/days.ts';
import type { Io } from './io.ts';
import { UsageError } from './options.ts';
import { counted } from './render/counted.ts';

const MOST_NAMED = 12;

/** Says what is left out of the sheets of a coach. */
export function sayHidden(hidden: number, left: number, io: Io): void {
  if (hidden === 0) return;
  if (left === 0) {
    throw new UsageError('none of these measures is for the sheet of a coach; leave out --audience coach');
  }
  io.err(`note: ${hidden} ${hidden === 1 ? 'measure is' : 'measures are'} not on the sheets of a coach\n`);
}

/** Says for which season the sheets are, where the roster is ahead of the readings. */
export function saySeason(season: number, tested: number | null, io: Io): void {
  if (tested === null || season === tested) return;
  io.err(
    `note: these are sheets for season ${season}, which the roster knows and no reading is of yet; --season ${tested} makes those of the last season tested\n`,
  );
}

/** Says how many are held, and what their rows still need. */
export function sayHolds(athleteIds: readonly string[], desk: Desk, hasDate: boolean, io: Io): void {
  const held = athleteIds.filter((id) => desk.standing(id).availability === 'held').length;
  if (held === 0) return;
  const date = hasDate ? '' : '; write the date into their rows too, or make the sheets with --on DATE';
  io.err(
    `note: ${counted(held, 'athlete')} held by medical staff on ${isoDay(desk.on)}: their cells say held${date}\n`,
  );
}

/** Says whom nobody could leave out: without a day nobody knows who has left. */
export function sayNoDay(members: readonly Member[], desk: Desk, io: Io): void {
  const isDayKnown = desk.on > 0;
  if (isDayKnown || members.every(({ leftDay }) => leftDay === null)) return;
  io.err('note: nothing tells a day yet, so whoever has a left_on stands on the sheets too; --on DATE says the day\n');
}

/** Names athletes of several teams, who stand on the sheets of each. */
export function sayTwice(members: readonly Member[], io: Io): void {
  const twice = members.filter((member) => teamsOf(member).length > 1).map(({ athleteId }) => athleteId);
  if (twice.length === 0) return;
  const more = twice.length > MOST_NAMED ? ` and ${twice.length - MOST_NAMED} more` : '';
  const verb = twice.length === 1 ? 'stands' : 'stand';
  io.err(
    `note: ${twice.slice(0, MOST_NAMED).join(', ')}${more} ${verb} on the sheets of more than one team: test them once\n`,
  );
}
