import { formatBeside } from '../../findings/format_beside.ts';
import { round9 } from '../../stats/round9.ts';

/**
 * A share in whole percent, with more digits where whole ones would reach a limit that is not reached, or the other way
 * round, and never 0 or 100 for what is neither.
 * @param share 0 to 1
 * @param limit share from which on something is decided, 0 to 1
 */
export function percentText(share: number, limit: number): string {
  const exact = round9(100 * share);
  const against = round9(100 * limit);
  const whole = Math.round(exact);
  if (whole >= against !== exact >= against) return formatBeside(exact, against);
  if (whole === 0 && exact > 0) return '<1';
  return whole === 100 && exact < 100 ? '>99' : String(whole);
}

/** A ratio with two digits, at most two of them decimals, more where it takes them to stay on its side of 1. */
export function ratioText(ratio: number): string {
  const exact = round9(ratio);
  const short = exact < 1 ? Number(exact.toFixed(2)) : Number(exact.toPrecision(2));
  if (short === 0) return '<0.01';
  return Math.sign(short - 1) === Math.sign(exact - 1) ? String(short) : formatBeside(exact, 1);
}
