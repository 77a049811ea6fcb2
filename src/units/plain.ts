const ZERO = 48;
const POINT = 46;
const MINUS = 45;
/** Whole numbers of so many digits are exact in a double, and so is the power of ten they are divided by. */
const EXACT_DIGITS = 15;
const POWERS_OF_TEN = Array.from({ length: EXACT_DIGITS + 1 }, (_, exponent) => 10 ** exponent);

/**
 * The number in text from start to end, NaN unless that is exactly `[-]digits[.digits]`. It allocates nothing:
 * this is how the many well-written cells of a sheet are read. −0 is 0.
 */
export function plainNumber(text: string, start = 0, end = text.length): number {
  const first = text.charCodeAt(start) === MINUS ? start + 1 : start;
  let whole = 0;
  let point = -1;
  for (let index = first; index < end; index++) {
    const code = text.charCodeAt(index);
    if (code === POINT && point < 0 && index > first) {
      point = index;
      continue;
    }
    const digit = code - ZERO;
    if (!(digit >= 0 && digit <= 9)) return Number.NaN;
    whole = whole * 10 + digit;
  }
  const decimals = point < 0 ? 0 : end - point - 1;
  const digits = end - first - (point < 0 ? 0 : 1);
  if (digits < 1 || (point >= 0 && decimals === 0)) return Number.NaN;
  if (digits > EXACT_DIGITS) return longNumber(text.slice(start, end));
  const value = whole / POWERS_OF_TEN[decimals]!;
  return first > start && value !== 0 ? -value : value;
}

function longNumber(text: string): number {
  const value = Number(text);
  return Number.isFinite(value) ? value + 0 : Number.NaN;
}
