/** A positive rational number, in lowest terms: numerator / denominator. */
export interface Exact {
  readonly numerator: bigint;
  readonly denominator: bigint;
}

export const ONE: Exact = { numerator: 1n, denominator: 1n };

/** Bits of quotient worked out before rounding: more than a double's 53, so that one rounding decides. */
const QUOTIENT_BITS = 64;

/** The exact value of a positive decimal text such as "4.4482216152605". */
export function exactDecimal(text: string): Exact {
  const [whole = '', fraction = ''] = text.split('.');
  return reduced(BigInt(whole + fraction), 10n ** BigInt(fraction.length));
}

export function times(a: Exact, b: Exact): Exact {
  return reduced(a.numerator * b.numerator, a.denominator * b.denominator);
}

export function over(a: Exact, b: Exact): Exact {
  return reduced(a.numerator * b.denominator, a.denominator * b.numerator);
}

/** a to a whole power, negative ones included. */
export function power(a: Exact, exponent: number): Exact {
  const size = BigInt(Math.abs(exponent));
  const raised = { numerator: a.numerator ** size, denominator: a.denominator ** size };
  return exponent < 0 ? { numerator: raised.denominator, denominator: raised.numerator } : raised;
}

/** The double nearest to the quotient (ties to even). */
export function toDouble({ numerator, denominator }: Exact): number {
  const shift = QUOTIENT_BITS - (bitLength(numerator) - bitLength(denominator));
  const [top, bottom] =
    shift >= 0 ? [numerator << BigInt(shift), denominator] : [numerator, denominator << BigInt(-shift)];
  // A remainder is kept as a last bit: it breaks what would look like a tie.
  const quotient = ((top / bottom) << 1n) | (top % bottom === 0n ? 0n : 1n);
  return Number(quotient) * 2 ** -(shift + 1);
}

function reduced(numerator: bigint, denominator: bigint): Exact {
  let [a, b] = [numerator, denominator];
  while (b !== 0n) [a, b] = [b, a % b];
  return { numerator: numerator / a, denominator: denominator / a };
}

function bitLength(value: bigint): number {
  return value.toString(2).length;
}
