import { foldKey } from '../units/keys.ts';

const LONGEST_TEAM = 80;

/** Whether a text is one of these teams, however it is written. */
export function teamTest(teams: Iterable<string>): (text: string) => boolean {
  const known = new Set([...teams].map(foldKey));
  known.delete('');
  return (text) => text.length <= LONGEST_TEAM && known.has(foldKey(text));
}
