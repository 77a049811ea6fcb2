const CLOCK = /^(?:(\d{1,2}):)?(\d{1,2}):([0-5]\d)(?:[.,](\d{1,3}))?$/;

/** Seconds of a time taken as `0:01.92`, `1:23,4` or `1:02:03` (hours first), or undefined if it is no such notation. */
export function readClock(text: string): number | undefined {
  const match = CLOCK.exec(text.trim());
  if (match === null) return undefined;
  const [, hours, minutes, seconds, fraction = '0'] = match;
  if (hours !== undefined && Number(minutes) > 59) return undefined;
  return Number(hours ?? 0) * 3600 + Number(minutes) * 60 + Number(`${seconds}.${fraction}`);
}
