import fc from 'fast-check';
import { expect } from 'vitest';
import { AthleteDirectory } from '../../src/athletes/directory.ts';
import { readRoster } from '../../src/athletes/roster.ts';
import type { SideTable } from '../../src/athletes/side_rows.ts';
import { Failure, type Trouble, troubleText } from '../../src/problems/failure.ts';
import { parseIsoDay } from '../../src/units/days.ts';

const ROSTER = readRoster(
  'athlete_id,last_name,first_name,team\nK001,Reed,Bo,Rowing\nK002,Reed,Bo,Rowing\nK103,Ash,Ivy,Water polo\n',
  { file: 'roster.csv', columns: new Map() },
  [],
  new Map(),
);

/** Two athletes of one name, K001 and K002, and Ivy Ash, K103. */
export const DIRECTORY = new AthleteDirectory(ROSTER, new Map(), 'reject', false);

export const day = (iso: string): number => parseIsoDay(iso)!;

export function spec(file: string) {
  return { file, columns: new Map<string, string>() };
}

/** Each warning on one line: place, message and hint. */
export function told(warnings: readonly Trouble[]): string[] {
  return warnings.map((warning) => troubleText(warning).replace('\n ', ''));
}

const CELLS = [
  ...['', ' ', '-', 'n/a', '?', 'K001', 'k 2', 'Ash, Ivy', 'Bo Reed', 'Nobody', '2026', '2026-08-12', '3/4/2026'],
  ...['left', 'both', 'lfet', 'cleared', 'Not cleared', '12', '-3', '0', '1,250', '1.250', 'yes', '"', '\n', ';', 'é'],
];
const cell = fc.oneof(fc.constantFrom(...CELLS), fc.string({ maxLength: 8, unit: 'grapheme' }));
const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;

/**
 * Whatever stands in the cells, every line is a row or is left out with one warning; whatever the text is, nothing is
 * thrown but a Failure.
 */
export function holdsForAnyText(header: string, read: (text: string) => SideTable<unknown>): void {
  const width = header.split(',').length;
  const lines = fc.array(fc.array(cell, { minLength: width, maxLength: width }), { maxLength: 6 });
  fc.assert(
    fc.property(lines, (cells) => {
      const written = cells.filter((line) => line.some((text) => text.trim() !== ''));
      const text = [header, ...cells.map((line) => line.map(quoted).join(','))].join('\n');
      const { rows, warnings } = read(text);
      const leftOut = warnings.filter(({ hint }) => /left out|counts once/.test(hint ?? ''));
      expect(rows.length + leftOut.length).toBe(written.length);
    }),
  );
  fc.assert(
    fc.property(fc.string({ maxLength: 60, unit: 'grapheme' }), fc.boolean(), (text, isHeaded) => {
      try {
        read(isHeaded ? `${header}\n${text}` : text);
      } catch (error) {
        expect(error).toBeInstanceOf(Failure);
      }
    }),
  );
}

/** A cell of megabytes costs no time and is not repeated. */
export function standsLongCells(header: string, read: (text: string) => SideTable<unknown>): void {
  const started = performance.now();
  for (const long of ['x 1'.repeat(1_000_000), '1'.repeat(3_000_000), '- '.repeat(1_500_000)]) {
    const others = header.split(',').map((column) => (column === 'athlete_id' ? 'K001' : long));
    const { warnings } = read(`${header}\n${others.join(',')}\n${others.map(() => long).join(',')}\n`);
    expect(warnings.length).toBeGreaterThan(0);
    for (const { message, hint } of warnings) expect(`${message}${hint}`.length).toBeLessThan(300);
  }
  expect(performance.now() - started).toBeLessThan(6000);
}
