import type { Delimiter } from '../tables/csv_rows.ts';
import { DELIMITER_WORDS } from './glued_rows.ts';

/** Neighbouring lines that are parted by one mark; lines from 1. */
interface Stretch {
  readonly mark: Delimiter;
  readonly first: number;
  last: number;
  lines: number;
}

const FEWEST_LINES = 2;
const MOST_STRETCHES = 4;

/**
 * Which lines of a text are parted by which of some marks, in words, where each part has a heading line and a row at least:
 * a second laptop's sheet was pasted below the first. Undefined: the lines do not fall into such parts.
 * @param isWhole whether the text is the whole sheet, so that its last line is the sheet's
 */
export function partsInWords(text: string, marks: readonly Delimiter[], isWhole: boolean): string | undefined {
  const stretches = stretchesOf(text, marks);
  const isFit = stretches.length > 1 && stretches.length <= MOST_STRETCHES;
  if (!isFit || stretches.some(({ lines }) => lines < FEWEST_LINES)) return undefined;
  const words = stretches.map(({ mark, first, last }, at) => {
    const isOpen = at === stretches.length - 1 && !isWhole;
    const place = isOpen ? `the lines from ${first} on` : `lines ${first} to ${last}`;
    return `${place} ${at === 0 ? 'are parted ' : ''}by ${DELIMITER_WORDS[mark]}`;
  });
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

function stretchesOf(text: string, marks: readonly Delimiter[]): Stretch[] {
  const stretches: Stretch[] = [];
  for (const [at, line] of text.split(/\r\n|\r|\n/).entries()) {
    const mark = markOf(line, marks);
    const before = stretches.at(-1);
    if (mark === undefined) continue;
    if (before?.mark === mark) {
      before.last = at + 1;
      before.lines++;
    } else stretches.push({ mark, first: at + 1, last: at + 1, lines: 1 });
  }
  return stretches;
}

/** The mark that stands most often in a line, quoted cells aside; undefined: none, or two as often. */
function markOf(line: string, marks: readonly Delimiter[]): Delimiter | undefined {
  const bare = line.includes('"') ? line.replace(/"[^"]*"/g, '') : line;
  const counts = marks.map((mark) => ({ mark, count: bare.split(mark).length - 1 })).sort((a, b) => b.count - a.count);
  return counts[0].count > 0 && counts[0].count !== counts[1]?.count ? counts[0].mark : undefined;
}
