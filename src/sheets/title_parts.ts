import { isFilled } from './blank.ts';

/** A longer cell is left alone: cut off in the middle, a date could become another one. */
const LONGEST_CELL = 200;
const MOST_PARTS = 20;
const PART_ENDS = /\s*[,;|\t\n\r\u2022\u00b7]\s*|\s+[-\u2010-\u2015\u2212]\s+|\s{2,}/g;

/** A piece of a title line between commas, dashes and wide spaces. */
export interface Part {
  readonly text: string;
  readonly cell: string;
  readonly at: number;
  readonly start: number;
  readonly end: number;
}

/** The pieces of a cell of a title line. */
export function partsOf(cell: string, at: number): Part[] {
  if (cell.length > LONGEST_CELL || !isFilled(cell)) return [];
  const parts: Part[] = [];
  let start = 0;
  const add = (end: number): void => {
    const text = cell.slice(start, end).trim();
    if (text === '' || parts.length === MOST_PARTS) return;
    const from = cell.indexOf(text, start);
    parts.push({ text, cell, at, start: from, end: from + text.length });
  };
  for (const match of cell.matchAll(PART_ENDS)) {
    add(match.index);
    start = match.index + match[0].length;
  }
  add(cell.length);
  return parts;
}
