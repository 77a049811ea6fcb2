// Text and bytes of what is written, and where a cell of a sheet ends up.
import { mkdirSync, writeFileSync } from 'node:fs';

const COLLEGE = new URL('../college/', import.meta.url);

/** Of the characters here that are no ASCII, Windows-1252 has the codes of Unicode. */
const ENCODERS = {
  'utf-8': (text) => Buffer.from(text, 'utf8'),
  'windows-1252': (text) => Buffer.from(text, 'latin1'),
  'utf-16le': (text) => Buffer.from(text, 'utf16le'),
};

function cellText(text, delimiter) {
  return text.includes(delimiter) || text.includes('"') || text.includes('\n')
    ? `"${text.replaceAll('"', '""')}"`
    : text;
}

/** @param lineEnd the end of a line by its number, from 1 */
export function sheetBytes({ lines, delimiter = ',', lineEnd = () => '\n', encoding = 'utf-8', hasMark = false }) {
  const text = lines.map(
    ({ cells }, at) => cells.map((cell) => cellText(cell, delimiter)).join(delimiter) + lineEnd(at + 1),
  );
  return ENCODERS[encoding]((hasMark ? '\uFEFF' : '') + text.join(''));
}

/** Physical line and column of a cell, from 1. */
export function placeOf(sheet, row, heading) {
  const lines = sheet.layout(sheet.rows);
  for (const [index, line] of lines.entries()) {
    for (const place of line.places ?? [line]) {
      if (place.row === row) return { line: String(index + 1), column: String(place.at[heading] + 1) };
    }
  }
  throw new Error(`${sheet.file} has no place for ${heading} of ${row.who}.`);
}

export function write(file, content) {
  const path = new URL(file, COLLEGE);
  mkdirSync(new URL('.', path), { recursive: true });
  writeFileSync(path, content);
}

export function writeSheet(sheet) {
  write(sheet.file, sheetBytes({ ...sheet, lines: sheet.layout(sheet.rows) }));
}

/** A side file: a plain table. */
export function writeTable(file, rows) {
  const headings = Object.keys(rows[0]);
  const lines = [headings, ...rows.map((row) => headings.map((heading) => row[heading]))];
  write(file, sheetBytes({ lines: lines.map((cells) => ({ cells })) }));
}
