import type { Desk } from '../athletes/desk.ts';
import type { Member } from '../athletes/members.ts';
import type { Form } from '../groups/forms.ts';
import type { HeldTestReader } from '../groups/limits.ts';
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

/** Says how many are held at tests of the sheets, and what their rows still need. */
export function sayHolds(
  forms: readonly Form[],
  isHeld: HeldTestReader,
  { on, hasDate }: { readonly on: number; readonly hasDate: boolean },
  io: Io,
): void {
  const held = new Set<string>();
  const free = new Set<string>();
  for (const { members, measures } of forms) {
    for (const { athleteId } of members) {
      for (const measure of measures) (isHeld(athleteId, measure) ? held : free).add(athleteId);
    }
  }
  const date = hasDate ? '' : '; write the date into their rows too, or make the sheets with --on DATE';
  const say = (some: readonly string[], how: string): void => {
    if (some.length > 0) io.err(`note: ${counted(some.length, 'athlete')} ${how}${date}\n`);
  };
  const wholly = [...held].filter((id) => !free.has(id));
  const partly = [...held].filter((id) => free.has(id));
  say(wholly, `held by medical staff on ${isoDay(on)}: their cells say held`);
  say(partly, `limited by medical staff on ${isoDay(on)}: the cells of those tests say held`);
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
