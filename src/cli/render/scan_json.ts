import type { SheetScan } from '../../sheets/scan.ts';

/** Control characters and marks that turn the direction of writing around. */
const UNPRINTABLE = /[\p{Cc}\p{Bidi_Control}]/gu;

/** A scan as one line of JSON; signs that would steer a terminal are written as escapes. */
export function scanJson(scan: SheetScan): string {
  return JSON.stringify(scan).replace(UNPRINTABLE, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
}
