import { NameWords, shownCell } from '../athletes/shown_cells.ts';
import type { Trouble } from '../problems/failure.ts';
import { unguarded } from '../tables/csv_text.ts';
import { ignoredNote, readSideFile, type SideFileSpec } from '../tables/side_file.ts';

export interface Correction {
  readonly line: number;
  /** from 1, or a heading */
  readonly column: number | string;
  readonly raw: string;
  readonly action: 'value' | 'void' | 'confirmed';
  readonly value: string;
  /** where the correction itself stands */
  readonly from: { readonly file: string; readonly line: number };
  applied: boolean;
  /** column of the cell that it met, from 1 */
  appliedAt?: number;
}

/** Corrections by sheet and line. */
export type Corrections = ReadonlyMap<string, ReadonlyMap<number, readonly Correction[]>>;

const ACTIONS = ['value', 'void', 'confirmed'] as const;

/**
 * Reads corrections.csv. A row that cannot be used is left out with a warning.
 * @param known names that no message repeats
 */
export function readCorrections(
  text: string,
  spec: SideFileSpec,
  known: NameWords = new NameWords([]),
): { corrections: Corrections; warnings: readonly Trouble[] } {
  const { file } = spec;
  const sideRows = readSideFile(text, spec, ['file', 'line', 'column', 'raw', 'action'], ['value', 'by', 'date']);
  const { rows } = sideRows;
  const names = new NameWords(sideRows.names, known);
  const corrections = new Map<string, Map<number, Correction[]>>();
  const warnings: Trouble[] = ignoredNote(spec, sideRows);
  for (const row of rows) {
    const warn = (column: string, rule: string): void => {
      warnings.push({
        file,
        line: row.line,
        column: row.place(column),
        message: `${column}${shownCell(row.get(column), column, names)} ${rule}`,
        hint: 'The correction is not applied.',
      });
    };
    const action = ACTIONS.find((known) => known === row.get('action').toLowerCase());
    const line = Number(row.get('line'));
    const column = row.get('column');
    if (action === undefined) warn('action', 'is none of value, void, confirmed');
    else if (!Number.isInteger(line) || line < 1) warn('line', 'is not a line number');
    else if (column === '') warn('column', 'is empty: write the number of the column, from 1, or its heading');
    else if (action === 'value' && row.get('value') === '') warn('value', 'is empty, and the action is value');
    else {
      const sheet = row.get('file');
      const lines = corrections.get(sheet) ?? new Map<number, Correction[]>();
      corrections.set(sheet, lines);
      const entry: Correction = {
        line,
        column: /^\d+$/.test(column) ? Number(column) : column.toLowerCase(),
        // Copied from a table of bilat's, it may carry the mark that keeps spreadsheets from running it.
        raw: unguarded(row.get('raw')),
        action,
        value: row.get('value'),
        from: { file, line: row.line },
        applied: false,
      };
      const others = lines.get(line);
      if (others) others.push(entry);
      else lines.set(line, [entry]);
    }
  }
  return { corrections, warnings };
}

/** Cells that are right however odd they look, as `file\nline\ncolumn`: those that a correction met and confirmed. */
export function confirmedCells(corrections: Corrections): Set<string> {
  const cells = new Set<string>();
  for (const [sheet, lines] of corrections) {
    for (const { action, line, appliedAt } of [...lines.values()].flat()) {
      if (action === 'confirmed' && appliedAt !== undefined) cells.add(`${sheet}\n${line}\n${appliedAt}`);
    }
  }
  return cells;
}

/**
 * Corrections that met no cell, or another text than they expect.
 * @param names that no message repeats
 */
export function unusedCorrections(
  corrections: Corrections,
  sheets: ReadonlySet<string>,
  names: NameWords = new NameWords([]),
): Trouble[] {
  const shown = (word: string, otherwise: string): string => (names.isIn(word) ? otherwise : word);
  const unused: Trouble[] = [];
  for (const [sheet, lines] of corrections) {
    for (const entries of lines.values()) {
      for (const { applied, from, line, column, raw } of entries) {
        if (applied) continue;
        unused.push({
          ...from,
          message: sheets.has(sheet)
            ? `${sheet}:${line}, column ${shown(`${column}`, 'of that heading')} does not read${shownCell(raw, 'raw', names) || ' what the correction expects'}`
            : `${shown(sheet, 'file')} is not one of the sheets`,
          hint: 'The correction is not applied.',
        });
      }
    }
  }
  return unused.sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
}
