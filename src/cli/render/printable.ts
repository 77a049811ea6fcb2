/** Control characters and marks that turn the direction of writing around. */
const UNPRINTABLE = /[\p{Cc}\p{Bidi_Control}]/gu;

/** Text of a sheet on one line: its control characters must not steer the terminal. */
export function printable(text: string): string {
  return text.replace(UNPRINTABLE, '\ufffd');
}

/** As `printable`, with its line ends kept. */
export function printableLines(text: string): string {
  return text.replace(UNPRINTABLE, (sign) => (sign === '\n' ? sign : '\ufffd'));
}
