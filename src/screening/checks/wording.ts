import { shortened } from '../../protocol/quoting.ts';

const MOST_NAMED = 8;

/** A text of the user's in double quotes, its first line, cut off where it is long. */
export function quoted(text: string): string {
  return JSON.stringify(shortened(text));
}

/** "a, b and c"; beyond eight "a, b, … and 4 more". */
export function namedAll(names: readonly string[], most = MOST_NAMED): string {
  if (names.length > most) return `${names.slice(0, most).join(', ')} and ${names.length - most} more`;
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

/** "1 rule", "2 rules". */
export function many(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}

/** At most three digits behind the point: 2.846, 14.969, 10. */
export function plainNumber(value: number): string {
  return String(Math.round(value * 1000) / 1000).replace('-', '−');
}
