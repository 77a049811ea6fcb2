const MS_A_DAY = 86_400_000;
const cache = new Map<number, string>();

/** Days since 1970-01-01 of a calendar date, or undefined if there is no such date (checked by round trip). */
export function dayOf(year: number, month: number, day: number): number | undefined {
  const date = new Date(0);
  date.setUTCFullYear(year, month - 1, day);
  if (date.getUTCFullYear() !== year || date.getUTCMonth() !== month - 1 || date.getUTCDate() !== day) return undefined;
  return Math.round(date.getTime() / MS_A_DAY);
}

/** ISO 8601 text of a day counted from 1970-01-01. */
export function isoDay(day: number): string {
  let text = cache.get(day);
  if (text === undefined) {
    text = new Date(day * MS_A_DAY).toISOString().slice(0, 10);
    cache.set(day, text);
  }
  return text;
}

/** Day of an ISO 8601 date (YYYY-MM-DD), or undefined. */
export function parseIsoDay(text: string): number | undefined {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  return match ? dayOf(Number(match[1]), Number(match[2]), Number(match[3])) : undefined;
}

/**
 * The season of a day: the year in which the season starts.
 * @param seasonStarts month and day as "MM-DD"
 */
export function seasonOf(day: number, seasonStarts: string): number {
  const iso = isoDay(day);
  const year = Number(iso.slice(0, 4));
  return iso.slice(5) >= seasonStarts ? year : year - 1;
}
