import { describe, expect, it } from 'vitest';
import { type EntryGiven, type IngestGiven, ingestText } from './ingest_text.ts';
import { pairwise } from './pairwise.ts';
import { athletesOf, canWrite, WRITTEN_LAYOUTS } from './written_layouts.ts';
import {
  type Dialect,
  ENCODINGS,
  expectedFacts,
  factsOf,
  filledCells,
  PLAIN,
  rowAt,
  type Style,
  textOf,
  WRITTEN_ROSTER,
  writtenHistory,
} from './written_sheets.ts';

const FACTORS = {
  layout: Object.keys(WRITTEN_LAYOUTS),
  delimiter: [',', ';', '\t'],
  lineEnd: ['LF', 'CRLF', 'mixed'],
  encoding: Object.keys(ENCODINGS),
  quotes: ['needed', 'all'],
  decimal: ['.', ','],
  unit: ['heading', 'cell', 'line', 'column', 'entry'],
  who: ['id', 'last_first', 'first_last', 'two_columns', 'id_and_name'],
  date: ['iso', 'dmy', 'words'],
  pressure: ['pair', 'parts'],
} as const;

type Combination = { readonly [factor in keyof typeof FACTORS]: string };

const styleOf = (combination: Combination): Style =>
  ({ ...combination, arrow: combination.encoding === 'Windows-1252' ? '->' : '→' }) as unknown as Style;
const dialectOf = (combination: Combination): Dialect => combination as unknown as Dialect;

const COMBINATIONS = pairwise(FACTORS, (combination) =>
  canWrite(WRITTEN_LAYOUTS[combination.layout], styleOf(combination)),
);

const history = writtenHistory();

function entryOf({ layout, delimiter, decimal, unit }: Combination): EntryGiven {
  return {
    ...WRITTEN_LAYOUTS[layout].entry,
    ...(unit === 'entry' ? { units: { hip_add: 'kgf' } } : {}),
    // A quoted decimal comma between commas may as well part two trials, and a list shows nothing of it.
    ...(decimal === ',' && (delimiter === ',' || / in one cell/.test(layout)) ? { decimal: ',' as const } : {}),
  };
}

function givenOf(combination: Combination): IngestGiven {
  const { usesHistory } = WRITTEN_LAYOUTS[combination.layout];
  return {
    roster: WRITTEN_ROSTER,
    entry: entryOf(combination),
    history: usesHistory ? history : undefined,
    piece: 997,
  };
}

const nameOf = ({ layout, ...others }: Combination): string =>
  `${layout}: ${Object.values(others)
    .map((value) => JSON.stringify(value))
    .join(' ')}`;

/** A combination that differs from a plain file in what is given. */
function combination(layout: string, given: Partial<Combination> = {}): Combination {
  const plain = { delimiter: ';', lineEnd: 'LF', encoding: 'UTF-8', quotes: 'needed' };
  const { arrow: _, ...style } = PLAIN;
  const made = { ...plain, ...style, layout, ...given };
  const unit = FACTORS.unit.find((one) => canWrite(WRITTEN_LAYOUTS[layout], styleOf({ ...made, unit: one })));
  return canWrite(WRITTEN_LAYOUTS[layout], styleOf(made)) ? made : { ...made, unit: unit! };
}

function write(one: Combination): { rows: readonly (readonly string[])[]; text: string; bytes: Uint8Array } {
  const layout = WRITTEN_LAYOUTS[one.layout];
  const rows = layout.rows(athletesOf(layout), styleOf(one));
  const text = textOf(rows, dialectOf(one));
  return { rows, text, bytes: ENCODINGS[dialectOf(one).encoding](text) };
}

/** Said of a file in Windows-1252, and of a date above the headings. */
const EXPECTED_NOTE = /is not UTF-8 and is read as Windows-1252|rows without a date are taken to be of/;

async function check(one: Combination): Promise<void> {
  const layout = WRITTEN_LAYOUTS[one.layout];
  const { rows, text, bytes } = write(one);
  const ingested = await ingestText(bytes, givenOf(one));
  const { observations, rejects, ignored, ledger, notes } = ingested;
  expect(rejects.map(({ code, line, column, message }) => `${code} @${line}:${column} ${message}`)).toEqual([]);
  expect(factsOf(ingested)).toEqual(expectedFacts(athletesOf(layout), layout.measures));
  expect([...new Set(ignored.map(({ reason }) => reason))].sort()).toEqual([...(layout.ignored ?? [])].sort());
  expect(notes.filter((note) => !EXPECTED_NOTE.test(note))).toEqual([]);
  const { cells, measured, not_measured, context, ignored: aside, rejected } = ledger[0];
  expect([cells, measured + not_measured + context + aside + rejected]).toEqual([filledCells(rows), filledCells(rows)]);
  for (const { line, column, raw } of observations) {
    const cell = rowAt(text, line!, one.delimiter)[column! - 1];
    if (cell?.trim() !== raw) expect([line, column, cell?.trim()]).toEqual([line, column, raw]);
  }
}

describe('one data set in every layout', () => {
  it.each(Object.keys(WRITTEN_LAYOUTS))('%s', async (layout) => {
    await check(combination(layout));
  });
});

describe('one data set, every two of layout, file and writing together', () => {
  it('in so many combinations', () => {
    expect(COMBINATIONS.length).toBeGreaterThan(200);
    expect(new Set(COMBINATIONS.map(({ layout }) => layout)).size).toBe(Object.keys(WRITTEN_LAYOUTS).length);
  });

  it.each(COMBINATIONS.map((one) => [nameOf(one), one] as const))('%s', async (_, one) => {
    await check(one);
  });
});
