import anyAscii from 'any-ascii';
import { isPlain } from './characters.ts';

const NOT_ALPHANUMERIC = /[^a-z0-9]+/g;

/**
 * What two spellings of a heading, name or team share: accents and case folded, other scripts spelled in Latin letters,
 * everything but letters and digits a single space.
 */
export function foldKey(text: string): string {
  const latin = isPlain(text) ? text : anyAscii(text.normalize('NFKD'));
  return latin.toLowerCase().replace(NOT_ALPHANUMERIC, ' ').trim();
}
