import { round9 } from '../stats/round9.ts';

const MOST_DECIMALS = 9;
/** From here on round9 keeps 15 digits, and all of them are shown. */
const LARGE = 1e6;

/** Decimals that show three digits of a number, none from a hundred on. */
function usualDecimals(value: number): number {
  const size = Math.abs(value);
  if (size === 0 || size >= 100) return 0;
  return Math.min(MOST_DECIMALS, 2 - Math.floor(Math.log10(size)));
}

function withoutTrailingZeros(text: string): string {
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/**
 * A number as text, with three digits, or as many more as it takes to stay on its own side of the limit: 9.996 beside a
 * limit of 10 is not written 10.
 */
export function formatBeside(value: number, limit: number): string {
  const judged = round9(value);
  if (Math.abs(judged) >= LARGE) return String(judged);
  const against = round9(limit);
  const side = Math.sign(judged - against);
  let decimals = usualDecimals(judged);
  while (decimals < MOST_DECIMALS && Math.sign(Number(judged.toFixed(decimals)) - against) !== side) decimals++;
  const text = withoutTrailingZeros(judged.toFixed(decimals));
  return text === '-0' ? '0' : text;
}
