import { round9 } from '../../stats/round9.ts';
import { withUnit } from '../../units/unit_text.ts';

const DIGITS = 4;

/** A number of a measure in four digits, with its unit. */
export function shownValue(value: number, unit: string): string {
  return withUnit(String(Number(round9(value).toPrecision(DIGITS))), unit);
}

/** A small chance as one in so many. */
export function shownChance(chance: number): string {
  const odds = 1 / chance;
  return odds > 1e6 ? 'less than one in a million' : `about one in ${Number(odds.toPrecision(1))}`;
}

/** What a slip of a unit or of the decimal point did: newtons and kilograms are mixed up. */
export function mixedUp(between: string): string {
  return between.includes(' and ') ? `${between} are mixed up` : `${between} has slipped`;
}
