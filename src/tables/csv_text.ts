/** A decimal number as ECMAScript prints it, with a sign if need be. */
export const NUMBER = /^[-+]?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?$/;
const RISKY = /^'*[=+\-@\t\r]/;
const SPECIAL = /[",\n\r]/;

/**
 * A text cell that a spreadsheet would run as a formula gets a leading apostrophe, which `unguarded` takes off again.
 * Numbers with a sign are no formulas.
 */
export function guarded(text: string): string {
  return RISKY.test(text) && !NUMBER.test(text) ? `'${text}` : text;
}

/** The text that `guarded` was given. */
export function unguarded(text: string): string {
  return text.startsWith("'") && RISKY.test(text) ? text.slice(1) : text;
}

/** One text cell of a CSV file (RFC 4180), harmless to spreadsheets. */
export function csvCell(text: string): string {
  const safe = guarded(text);
  return SPECIAL.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
