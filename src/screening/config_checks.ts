import { dayOf } from '../units/days.ts';

/** Whether a path or pattern may lead out of the screening folder. */
export function leavesFolder(path: string): boolean {
  if (/^([/\\~]|[A-Za-z]:)/.test(path)) return true;
  return path.split(/[/\\{},()|]/).includes('..');
}

/** Whether a text is a day that every year has, written MM-DD. */
export function isSeasonStart(text: string): boolean {
  const match = /^(\d{2})-(\d{2})$/.exec(text);
  const ANY_COMMON_YEAR = 2001;
  return match !== null && dayOf(ANY_COMMON_YEAR, Number(match[1]), Number(match[2])) !== undefined;
}
