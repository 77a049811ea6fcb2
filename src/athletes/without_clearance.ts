import type { Desk } from './desk.ts';
import type { Member } from './members.ts';

/** Members who are there on the day of the desk, and of whom an existing clearance file says nothing. */
export function withoutClearance(desk: Desk, members: readonly Member[]): Member[] {
  if (!desk.knowsClearance) return [];
  return members.filter(({ athleteId, leftDay }) => {
    const { availability, since, why } = desk.standing(athleteId);
    return (leftDay === null || leftDay >= desk.on) && availability === 'full' && since === null && why !== '';
  });
}
