const PLAIN = /^[\x20-\x7e]*$/;
const WIDE = /[\uff01-\uff5e]/g;
const WIDE_OFFSET = 0xff01 - 0x21;
const SPACES = /[\t\n\r\f\v\u00a0\u2002-\u200a\u202f\u3000]/g;
const INCH_MARKS = /[“”″‶]|['‘’′´`]{2}/g;
const FOOT_MARKS = /[‘’′´`]/g;
const DASHES = /[\u2010-\u2013\u2212]/g;

/** Fractions of one character, as numerator/denominator. */
const VULGAR_FRACTIONS: ReadonlyMap<string, string> = new Map([
  ['¼', '1/4'],
  ['½', '1/2'],
  ['¾', '3/4'],
  ['⅓', '1/3'],
  ['⅔', '2/3'],
  ['⅛', '1/8'],
  ['⅜', '3/8'],
  ['⅝', '5/8'],
  ['⅞', '7/8'],
]);
const VULGAR = new RegExp(`[${[...VULGAR_FRACTIONS.keys()].join('')}]`, 'g');

/** Printable ASCII only: nothing to fold, as in most cells. */
export function isPlain(text: string): boolean {
  return PLAIN.test(text);
}

/** Full-width characters as their plain ones. Compatibility folding of everything would read 12² as 122. */
export function foldWide(text: string): string {
  return text.replace(WIDE, (character) => String.fromCharCode(character.charCodeAt(0) - WIDE_OFFSET));
}

/** Every kind of white space as a plain space, each for itself. */
export function foldSpaces(text: string): string {
  return text.replace(SPACES, ' ');
}

/** Curly quotes, primes and doubled apostrophes as the straight ' and ". */
export function foldQuotes(text: string): string {
  return text.replace(INCH_MARKS, '"').replace(FOOT_MARKS, "'");
}

/** Hyphens, the en dash and the minus sign as the plain hyphen. */
export function foldDashes(text: string): string {
  return text.replace(DASHES, '-');
}

/** `17½` and `17 1⁄2` as `17 1/2`; `½` alone as `0 1/2`, for a bare `1/2` may be a pair. */
export function foldFractions(text: string): string {
  return text.replace(/\u2044/g, '/').replace(VULGAR, (character, offset: number) => {
    const whole = /\d *$/.test(text.slice(Math.max(0, offset - 3), offset)) ? '' : '0';
    return `${whole} ${VULGAR_FRACTIONS.get(character)}`;
  });
}
