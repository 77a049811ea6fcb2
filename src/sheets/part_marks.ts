import { foldSpaces, foldWide, isPlain } from '../units/characters.ts';

/** What parts a list: its mark decides what the list may mean. */
export type PartMark = 'line' | 'semicolon' | 'arrow' | 'comma' | 'slash' | 'space' | 'bare_comma';

export interface ListParts {
  readonly mark: PartMark;
  /** trimmed; an empty one stands between two marks */
  readonly parts: readonly string[];
}

const LINES = /\r\n|\r|\n/;
/** 148 → 132, 148 -> 132, 148 => 132 */
export const ARROW = /[→➔➜⇒⟶]|[-‐–−=]{1,2}>/;
const COMMA_AND_SPACE = /, +/;
const SPACED_SLASH = / +\/ +/;
/** Not the solidus of n/a, N/kg, deg/s, /min or kg/m2. */
export const SLASH = /\/(?!(?<=\bn\/)a\b|(?:kg|s|secs?|min|minute|m2|m²)(?![a-z]))/i;
const BEFORE_NUMBER = / +(?=[-+−]?\.?\d)/;
export const STARTS_WITH_NUMBER = /^[-+−]?[.,]?\d/;
const SIGNED = /^[-+−]/;

/** Full-width characters and every space but a line break as plain ones. */
export function foldCell(text: string): string {
  if (isPlain(text)) return text;
  return text
    .split(/(\r\n|\r|\n)/)
    .map((piece, at) => (at % 2 === 1 ? piece : foldSpaces(foldWide(piece))))
    .join('');
}

/**
 * The parts of a list by the strongest mark in it: line break, semicolon, arrow, comma and space, slash, space, comma;
 * undefined if there is none. A comma without a space is no mark where it is the decimal one. Spaces part numbers only,
 * for words have spaces too (`pain 3`).
 * @param text as foldCell leaves it, and not long
 */
export function listParts(text: string, decimal: '.' | ',' | undefined): ListParts | undefined {
  if (LINES.test(text)) return listOf('line', text.split(LINES));
  if (text.includes(';')) return listOf('semicolon', text.split(';'));
  if (ARROW.test(text)) return listOf('arrow', text.split(ARROW));
  if (COMMA_AND_SPACE.test(text)) return listOf('comma', text.split(COMMA_AND_SPACE));
  if (SPACED_SLASH.test(text)) return listOf('slash', text.split(SPACED_SLASH));
  if (SLASH.test(text)) return listOf('slash', text.split(SLASH));
  const parts = text.split(BEFORE_NUMBER);
  if (parts.length > 1 && areNumbers(parts)) return listOf('space', parts);
  return decimal !== ',' && text.includes(',') ? listOf('bare_comma', text.split(',')) : undefined;
}

/** Whether every part starts with a number, all of them with a sign or none: "32 -34" may be a range. */
function areNumbers(parts: readonly string[]): boolean {
  const signed = parts.filter((part) => SIGNED.test(part)).length;
  return (signed === 0 || signed === parts.length) && parts.every((part) => STARTS_WITH_NUMBER.test(part));
}

function listOf(mark: PartMark, parts: readonly string[]): ListParts {
  return { mark, parts: parts.map((part) => part.trim()) };
}
