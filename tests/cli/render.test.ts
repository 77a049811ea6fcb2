import { describe, expect, test } from 'vitest';
import { chosenFormat, renderer } from '../../src/cli/render/formats.ts';
import { printable, printableLines } from '../../src/cli/render/printable.ts';
import { MOST_ROWS, plainTable, terminalTable } from '../../src/cli/render/table.ts';
import { heading, wrapped } from '../../src/cli/render/text.ts';
import { FINDINGS } from '../../src/tables/schemas.ts';
import { type Schema, Table } from '../../src/tables/table.ts';

const READINGS = [
  { name: 'athlete_id', kind: 'text', title: 'athlete' },
  { name: 'note', kind: 'string', title: 'what was said' },
  { name: 'value', kind: 'number', title: 'reading' },
  { name: 'date', kind: 'date', title: 'day' },
  { name: 'sem', kind: 'number', title: 'stays in memory', internal: true },
] as const satisfies Schema;

function readings(...rows: [string | null, string | null, number | null, string | null][]): Table<typeof READINGS> {
  const table = new Table(READINGS);
  for (const [athlete, note, value, date] of rows) {
    table.columns.athlete_id.push(athlete);
    table.columns.note.push(note);
    table.columns.value.push(value);
    table.columns.date.push(date);
    table.columns.sem.push(1);
  }
  return table;
}

const rendered = (format: Parameters<typeof renderer>[0], ...parts: Table<typeof READINGS>[]): string => {
  const { begin, rows, end } = renderer(format, 80);
  return begin(READINGS) + parts.flatMap((part) => [...rows(part as unknown as Table)]).join('') + end();
};

describe('chosenFormat', () => {
  test.each([
    [undefined, undefined, true, 'table'],
    [undefined, undefined, false, 'csv'],
    ['markdown', undefined, false, 'markdown'],
    ['csv', 'x.json', true, 'csv'],
    [undefined, 'x.JSON', true, 'json'],
    [undefined, 'x.md', true, 'markdown'],
    [undefined, 'a.json/x', true, 'csv'],
    [undefined, 'x.csv', true, 'csv'],
  ] as const)('--format %s -o %s, on a terminal %s: %s', (format, output, isTerminal, expected) => {
    expect(chosenFormat(format, output, isTerminal)).toBe(expected);
  });
});

describe('json', () => {
  test('is one array, one row a line, across parts; unknown is null', () => {
    const text = rendered(
      'json',
      readings(['A1', 'a "b"', 1.5, '2026-08-17']),
      readings(),
      readings([null, null, null, null]),
    );
    expect(text).toBe(`[
{"athlete_id":"A1","note":"a \\"b\\"","value":1.5,"date":"2026-08-17"},
{"athlete_id":null,"note":null,"value":null,"date":null}
]
`);
  });

  test('of no row is an empty array', () => expect(rendered('json', readings())).toBe('[]\n'));
});

test('markdown cannot be broken by a cell', () => {
  expect(
    rendered('markdown', readings(['a|b', 'x\r\ny <b> \\| \u001b[1m', 0, null])),
  ).toBe(`| athlete_id | note | value | date |
| --- | --- | ---: | --- |
| a\\|b | x y &lt;b> \\\\\\| \ufffd[1m | 0 |  |
`);
});

describe('tables for the eye', () => {
  test('numbers to the right, six digits of them, empty columns left out', () => {
    const table = readings(
      ['A1', null, 1.23456789, '2026-08-17'],
      ['A22', null, -1000, '2026-08-18'],
      [null, null, null, null],
    );
    expect(rendered('table', table)).toBe(`athlete_id    value  date
A1          1.23457  2026-08-17
A22           -1000  2026-08-18

`);
  });

  test('wide characters take two columns, combined ones none', () => {
    const table = readings(['田中', null, 1, null], ['e\u0301', null, 2, null]);
    expect(rendered('table', table)).toBe('athlete_id  value\n田中            1\ne\u0301               2\n');
  });

  test('long cells are cut, control characters made harmless', () => {
    const table = readings(['A1', `\u001b[31m${'x'.repeat(60)}\n`, null, null]);
    expect(rendered('table', table)).toBe(`athlete_id  note\nA1          \ufffd[31m${'x'.repeat(34)}…\n`);
  });

  test('of no row', () => expect(rendered('table', readings())).toBe('No rows.\n'));

  test('the first rows only, across parts, and how many more there are', () => {
    const part = readings(
      ...Array.from({ length: 40 }, (_, at) => [`A${at}`, null, at, null] as [string, null, number, null]),
    );
    const lines = rendered('table', part, part, part).split('\n');
    expect(lines.slice(1 + MOST_ROWS)).toEqual(['', '70 more rows; write all with -o FILE or --format csv.', '']);
    expect(lines[MOST_ROWS]).toBe('A9              9');
  });

  test('what does not fit is named, and one column is always there', () => {
    const table = readings(['A1', 'said', 1, '2026-08-17']);
    expect(terminalTable([table as unknown as Table], 1, 20)).toBe(
      'athlete_id  note\nA1          said\n\nNot shown for lack of width: value, date.\n',
    );
    expect(terminalTable([table as unknown as Table], 1, 3)).toContain('athlete_id\nA1\n');
  });

  test('of a known table the most telling columns come first', () => {
    const table = new Table(FINDINGS);
    for (const { name, kind } of FINDINGS) table.columns[name].push((kind === 'number' ? 123 : 'word') as never);
    const [head] = terminalTable([table as unknown as Table], 1, 50).split('\n');
    expect(head).toBe('athlete_id  measure  side  value  limit  grade');
  });
});

test('plainTable has no borders and no colour', () => {
  expect(
    plainTable(
      ['a', 'b'],
      [
        ['1', 'x'],
        ['22', 'y'],
      ],
      [true, false],
    ),
  ).toBe(' a  b\n 1  x\n22  y\n');
});

describe('wrapped', () => {
  const setting = { width: 40, color: false };

  test('breaks between words, later lines hanging', () => {
    expect(wrapped(`- ${'word '.repeat(12).trim()}`, setting, 0, 2)).toBe(
      '- word word word word word word word\n  word word word word word\n',
    );
  });

  test('breaks a word that is longer than a line', () => {
    expect(wrapped('x'.repeat(50), setting)).toBe(`${'x'.repeat(40)}\n${'x'.repeat(10)}\n`);
  });

  test('is never narrower than 40 nor wider than 110 columns', () => {
    const text = 'x'.repeat(120);
    expect(wrapped(text, { width: 1, color: false }).split('\n')[0]).toHaveLength(40);
    expect(wrapped(text, { width: 500, color: false }).split('\n')[0]).toHaveLength(110);
  });
});

test('headings stand out by weight where colour is wanted', () => {
  expect(heading('Here', { width: 80, color: true })).toBe('\n\u001b[1mHere\u001b[22m\n');
  expect(heading('Here', { width: 80, color: false })).toBe('\nHere\n');
});

test('what is printable', () => {
  const marks = '\u0000\u0007\b\t\r\u001b\u007f\u009b\u200e\u200f\u202a\u202e\u2066\u2069';
  expect(printable(marks)).toBe('\ufffd'.repeat(marks.length));
  expect(printable('a\nb')).toBe('a\ufffdb');
  expect(printableLines('a\nb\r')).toBe('a\nb\ufffd');
  const words = 'Zoë Ñandú 田中 🏃🏽 1 ± 2 °';
  expect(printable(words)).toBe(words);
});
