/**
 * Rounds to nine decimals (or 15 digits from a million on), so that equal rational numbers tie: 18 against 16.2 is a
 * deficit of 10, not 10.0000000000000036. For limits, margins, verdicts, shares, ranks and ties; stored values stay full.
 */
export function round9(x: number): number {
  const rounded = Math.abs(x) < 1e6 ? Math.round(x * 1e9) / 1e9 : Number(x.toPrecision(15));
  return rounded === 0 ? 0 : rounded;
}
