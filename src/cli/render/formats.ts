import { csvHeader, csvLines } from '../../tables/csv_write.ts';
import type { Schema, Table } from '../../tables/table.ts';
import type { Format } from '../options.ts';
import { printable } from './printable.ts';
import { MOST_ROWS, terminalTable } from './table.ts';

/** Renders a table that arrives in parts. */
export interface Renderer {
  begin(schema: Schema): string;
  rows(table: Table): Iterable<string>;
  end(): string;
}

const csv = (): Renderer => ({ begin: csvHeader, rows: csvLines, end: () => '' });

/** One array, one row object a line; unknown is null. */
function json(): Renderer {
  let first = true;
  return {
    begin: () => '[',
    *rows(table) {
      for (const row of table.rows()) {
        yield `${first ? '\n' : ',\n'}${JSON.stringify(row)}`;
        first = false;
      }
    },
    end: () => (first ? ']\n' : '\n]\n'),
  };
}

const markdownCell = (value: unknown): string =>
  value === null
    ? ''
    : printable(String(value).replace(/[\r\n]+/g, ' '))
        .replaceAll('\\', '\\\\')
        .replaceAll('|', '\\|')
        .replaceAll('<', '&lt;');

function markdown(): Renderer {
  return {
    begin(schema) {
      const shown = schema.filter((spec) => !spec.internal);
      const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |\n`;
      return (
        line(shown.map((spec) => spec.name)) + line(shown.map((spec) => (spec.kind === 'number' ? '---:' : '---')))
      );
    },
    *rows(table) {
      for (const row of table.rows()) yield `| ${Object.values(row).map(markdownCell).join(' | ')} |\n`;
    },
    end: () => '',
  };
}

/** Keeps what will be shown, and counts the rest: the width of a column is known only at the end. */
function terminal(width: number): Renderer {
  const kept: Table[] = [];
  let total = 0;
  return {
    begin: () => '',
    rows(table) {
      if (total < MOST_ROWS && table.length > 0) kept.push(table);
      total += table.length;
      return [];
    },
    end: () => terminalTable(kept, total, width),
  };
}

export function renderer(format: Format, width: number): Renderer {
  if (format === 'csv') return csv();
  if (format === 'json') return json();
  if (format === 'markdown') return markdown();
  return terminal(width);
}

/** Format by flag, else by the ending of the output file, else by where standard output goes. */
export function chosenFormat(format: Format | undefined, output: string | undefined, isTerminal: boolean): Format {
  if (format) return format;
  const ending = output === undefined ? '' : (/\.[a-z0-9]+$/i.exec(output)?.[0].toLowerCase() ?? '');
  if (ending === '.json') return 'json';
  if (ending === '.md' || ending === '.markdown') return 'markdown';
  if (output !== undefined) return 'csv';
  return isTerminal ? 'table' : 'csv';
}
