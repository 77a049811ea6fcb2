import { readSide } from '../units/sides.ts';

const SIDE_WORD = /(?<!\p{L})\(?(?:left|right|lft|rgt|lt|rt|l|r)\)?(?!\p{L})/giu;
const BEFORE_READING = /^(?:\.(?=\s))?[\s:=]*/;
const AFTER_READING = /(?:[\s,;/|&]|(?<=\s)and)+$/i;
const BETWEEN_READINGS = /^(?:\.(?=\s))?(?:[\s,;/|&]|and(?=\s))*/i;
/** In L-35 nobody can tell a dash from a minus. */
const JOINED_BY_DASH = /^[-‐–−]\s*[.,]?\d/;

/**
 * What a cell says of each side by name, left first, whatever comes first in the cell: `L35 R40`, `R 40, L 35`,
 * `35 L / 40 R`. undefined if it does not name left and right once each, all words in front of the readings or all
 * behind.
 * @param text not long
 */
export function namedSides(text: string): readonly [left: string, right: string] | undefined {
  const cell = text.trim();
  const words = [...cell.matchAll(SIDE_WORD)];
  if (words.length !== 2) return undefined;
  const [first, second] = words as [RegExpExecArray, RegExpExecArray];
  const isLeftFirst = readSide(first[0]) === 'left';
  if (isLeftFirst === (readSide(second[0]) === 'left')) return undefined;
  const between = cell.slice(first.index + first[0].length, second.index);
  const behind = cell.slice(second.index + second[0].length);
  const texts = first.index === 0 ? inFront(between, behind) : wordsBehind(cell.slice(0, first.index), between, behind);
  if (texts === undefined || texts.includes('')) return undefined;
  return isLeftFirst ? texts : [texts[1], texts[0]];
}

function inFront(first: string, second: string): [string, string] | undefined {
  if (JOINED_BY_DASH.test(first) || JOINED_BY_DASH.test(second)) return undefined;
  return [first.replace(BEFORE_READING, '').replace(AFTER_READING, ''), second.replace(BEFORE_READING, '').trim()];
}

function wordsBehind(first: string, second: string, rest: string): [string, string] | undefined {
  if (rest.replace('.', '').trim() !== '' || JOINED_BY_DASH.test(second.trimStart())) return undefined;
  return [first.trim(), second.replace(BETWEEN_READINGS, '').trim()];
}
