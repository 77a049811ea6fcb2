import fc from 'fast-check';
import { anyDelimiter, anyLineEnds, jumbledSheet, type Sheet, writtenSheet } from './any_sheet.ts';

/** A cell of a sheet that was made for a test. */
export interface MadeCell {
  readonly text: string;
  /** id of the athlete whose reading may be taken from here; undefined: nobody's */
  readonly owner?: string;
}

/** A sheet as a screening station might have made it, of which every cell is known. */
export interface MadeSheet extends Sheet {
  readonly rows: readonly (readonly MadeCell[])[];
  /** rows of the first block above which another row may be put: an athlete begins there */
  readonly seams: readonly number[];
  /** a row as a spreadsheet would work it out for the first block, and for the last one */
  readonly average: readonly MadeCell[];
  readonly last: readonly MadeCell[];
  /** how rows become a text */
  readonly written: (rows: readonly (readonly MadeCell[])[]) => Sheet;
}

/** Invented people of the roster of the tests, and one whom it does not list. Two are called Kim Moss. */
const PEOPLE = [
  { id: 'K001', first: 'Bo', last: 'Reed' },
  { id: 'K002', first: 'Zoë', last: 'Ødegård' },
  { id: 'K003', first: 'Kim', last: 'Moss' },
  { id: 'K005', first: 'Lee', last: "O'Hara" },
  { id: 'K014', first: 'Ada', last: 'Quill' },
  { id: 'K14', first: 'Ines', last: 'Dunmore' },
  { id: 'K999', first: 'Zed', last: 'Zeal' },
] as const;
type Person = (typeof PEOPLE)[number];

/** How a table says who: headings, and the cells of one person below them. */
const WAYS_TO_NAME: readonly { readonly headings: readonly string[]; cells(person: Person): readonly string[] }[] = [
  { headings: ['ID'], cells: ({ id }) => [id] },
  { headings: ['Name'], cells: ({ first, last }) => [`${first} ${last}`] },
  { headings: ['Athlete'], cells: ({ first, last }) => [`${last}, ${first}`] },
  { headings: ['First', 'Last'], cells: ({ first, last }) => [first, last] },
  { headings: ['ID', 'Name'], cells: ({ id, first, last }) => [id, `${first} ${last}`] },
  // Nothing in the top left corner: that the column holds ids is all that tells.
  { headings: [''], cells: ({ id }) => [id] },
];

/** One test as a station writes it: its columns below a common heading, and what stands in them. */
interface Group {
  readonly top: string;
  readonly subs: readonly string[];
  readonly cells: readonly string[];
  /** no reading is ever taken from here */
  readonly isNoReading?: true;
}

const WORDS = ['', 'NT', 'DNT', 'N/A', '-', 'pain', 'unable', 'inj', 'WNL', '#DIV/0!', '>30', '1O', 'ok'];
const FORCES = ['20', '21.5', '22', '45 lbs', '210 N', '32 P', '3', ...WORDS];
const DISTANCES = ['150', '152', '149.5', '1.5 m', '60 in', '150 P', '15', ...WORDS];
const LISTS = [
  '150; 152; 149',
  '150, 152, 149',
  '150 / 152 / 149',
  '150 pain; 152',
  'NT; 150',
  '150 → 160',
  '150 152 149',
];
const PAIRS = ['150/160', '150 / 160', 'L 150 R 160', '150/NT', '150 P/160', 'L150, R160', '150/'];

/** Tests whose columns name their sides, or that have none. */
const SIDED_GROUPS: readonly Group[] = [
  { top: 'Hip Add (kg)', subs: ['L', 'R'], cells: FORCES },
  { top: 'Hip Abd', subs: ['L 1 (lb)', 'R 1 (lb)', 'L 2 (lb)', 'R 2 (lb)'], cells: FORCES },
  { top: 'Hip Add', subs: ['L', 'R'], cells: FORCES },
  { top: 'Hop', subs: ['L', 'R'], cells: [...DISTANCES, ...LISTS] },
  { top: 'Hop', subs: ['L 1', 'L 2', 'L best', 'R mean'], cells: DISTANCES },
  { top: 'Hip IR', subs: ['L', 'R'], cells: ['35', '0-35', '45°', '0-0-35', '30 28', '-5', ...WORDS] },
  { top: 'Grip', subs: ['D', 'ND'], cells: ['45', '45 kg', '100 lb', ...WORDS] },
  {
    top: 'BP',
    subs: [''],
    cells: ['118/72', '148/92 → 132/84', '118-72', '118', '118/72 P', '118/72; 120/70', ...WORDS],
  },
  { top: 'Pulse', subs: [''], cells: ['60', '62 bpm', '600', ...WORDS] },
  {
    top: 'Ht',
    subs: [''],
    cells: ['180', '5\'11"', '5-11', '5.11', '11-May', '511', '71 in', '1m80', '17 ½', ...WORDS],
  },
  { top: 'Wt', subs: ['(lb)'], cells: ['180', '180#', '81.6 kg', '1,200', ...WORDS] },
  { top: 'Sprint', subs: ['1', '2', 'best'], cells: ['3.05', '0:03.05', '3,05', '3.1; 3.2', ...WORDS] },
  { top: 'Squat', subs: [''], cells: ['1', '0', '2', '7', ...WORDS] },
  { top: 'Reach', subs: ['L', 'R'], cells: DISTANCES },
  { top: 'Remarks', subs: [''], cells: ['', 'sore', '12 stitches'], isNoReading: true },
  { top: 'Thing', subs: ['', 'L'], cells: ['', '12', 'x'], isNoReading: true },
  { top: '__proto__', subs: [''], cells: ['', '12'], isNoReading: true },
];
const PAIRED_GROUPS: readonly Group[] = [
  { top: 'Hop', subs: [''], cells: [...PAIRS, ...DISTANCES] },
  { top: 'Bend', subs: ['L/R'], cells: ['20/22', '20 / 22', '20', ...WORDS] },
  { top: 'Lunge', subs: ['R/L'], cells: ['9/10', 'L 9 R 10', '9', ...WORDS] },
];

/** Columns that tell the rows of one athlete apart, with their cells row by row. */
interface RowKeys {
  readonly groups: readonly Group[];
  /** the columns that a row fills with these, in turn */
  readonly keys: readonly (readonly string[])[];
  readonly rows: number;
}

const KEY = (top: string): Group => ({ top, subs: [''], cells: [''], isNoReading: true });
const TESTS = ['Hop L', 'Hop R', 'BP', 'Ht', 'Hip Add L'];
const WAYS_TO_TELL_ROWS: readonly RowKeys[] = [
  { groups: [], keys: [], rows: 1 },
  { groups: [], keys: [], rows: 2 },
  { groups: [KEY('Side')], keys: [['L', 'R', 'both']], rows: 2 },
  { groups: [KEY('Trial')], keys: [['1', '2', '3', 'best']], rows: 3 },
  {
    groups: [KEY('Side'), KEY('Trial')],
    keys: [
      ['L', 'L', 'R', 'R'],
      ['1', '2', '1', '2'],
    ],
    rows: 4,
  },
  { groups: [KEY('Test')], keys: [TESTS], rows: 3 },
];

const EXCHANGED: Readonly<Record<string, string>> = { L: 'R', R: 'L', D: 'ND', ND: 'D', left: 'right', right: 'left' };

/** A text with left and right exchanged. */
const mirrored = (text: string): string => text.replace(/\b(?:L|R|D|ND|left|right)\b/g, (side) => EXCHANGED[side]);

const DAYS = ['2026-08-17', '17/08/2026', '18/08/2026', '17 Aug 2026', '2026-08-18', '', 'yesterday'];

interface PersonPart {
  readonly person: Person;
  readonly rows: number;
  /** what stands in the place of the name on the rows below the first */
  readonly further: string | undefined;
  readonly picks: readonly number[];
}

interface TablePart {
  readonly way: (typeof WAYS_TO_NAME)[number];
  readonly tell: RowKeys;
  readonly groups: readonly Group[];
  readonly hasDates: boolean;
  readonly hasTeams: boolean;
  readonly twoLines: boolean;
  readonly people: readonly PersonPart[];
}

interface Lines {
  readonly headings: readonly (readonly MadeCell[])[];
  /** rows of each person */
  readonly people: readonly (readonly (readonly MadeCell[])[])[];
  readonly average: readonly MadeCell[];
}

const plain = (text: string): MadeCell => ({ text });

function linesOf({ way, tell, groups, hasDates, hasTeams, twoLines, people }: TablePart): Lines {
  const day: Group = { top: 'Date', subs: [''], cells: DAYS, isNoReading: true };
  const team: Group = { top: 'Team', subs: [''], cells: ['Rowing', 'Fencing', ''], isNoReading: true };
  const who = way.headings.map((top): Group => ({ top, subs: [''], cells: [''], isNoReading: true }));
  const value: Group = { top: 'Value', subs: [''], cells: ['150', '118/72', '180', 'NT', '20 kg', '150; 152', ''] };
  const isByTest = tell.groups.some(({ top }) => top === 'Test');
  const own = isByTest ? [value, ...groups.filter(({ isNoReading }) => isNoReading)] : groups;
  const fixed = [...who, ...(hasDates ? [day] : []), ...(hasTeams ? [team] : []), ...tell.groups];
  const all = [...fixed, ...own];
  const tops = all.flatMap(({ top, subs }) => subs.map((_, at) => (at === 0 ? top : '')));
  const subs = all.flatMap((group) => group.subs);
  const joined = all.flatMap(({ top, subs: each }) => each.map((sub) => `${top} ${sub}`.trim()));
  const headings = (twoLines ? [tops, subs] : [joined]).map((row) => row.map(plain));
  const rowsOf = ({ person, rows, further, picks }: PersonPart): MadeCell[][] =>
    Array.from({ length: Math.max(rows, tell.rows) }, (_, row) => {
      const name = way.cells(person).map((cell) => (row === 0 || further === undefined ? cell : further));
      const from = row * all.length;
      const pick = (cells: readonly string[], at: number): string =>
        cells[picks[(from + at) % picks.length] % cells.length];
      const days = hasDates ? [row > 0 && further !== undefined ? further : pick(DAYS, 0)] : [];
      const teams = hasTeams ? [row > 0 && further !== undefined ? further : pick(team.cells, 1)] : [];
      const keys = tell.keys.map((cells) => cells[row % cells.length]);
      const readings = own.flatMap((group, at) =>
        group.subs.map((_, sub): MadeCell => {
          const text = pick(group.cells, 2 + 3 * at + sub);
          return group.isNoReading ? { text } : { text, owner: person.id };
        }),
      );
      return [...[...name, ...days, ...teams, ...keys].map(plain), ...readings];
    });
  const before = fixed.slice(1).map(() => plain(''));
  const numbers = own.flatMap(({ subs: each, isNoReading }) => each.map(() => plain(isNoReading ? '' : '21')));
  return { headings, people: people.map(rowsOf), average: [plain('Average'), ...before, ...numbers] };
}

const turnedRows = (rows: readonly (readonly MadeCell[])[]): MadeCell[][] => {
  const width = Math.max(0, ...rows.map((row) => row.length));
  return Array.from({ length: width }, (_, at) => rows.map((row) => row[at] ?? plain('')));
};

/** Two tables, row beside row; the left one is filled up to its width. */
function beside(left: Lines, right: Lines, hasSpacer: boolean): Lines {
  const width = Math.max(...left.headings.map((row) => row.length)) + (hasSpacer ? 1 : 0);
  const joined = (a: readonly MadeCell[] = [], b: readonly MadeCell[] = []): MadeCell[] => [
    ...a,
    ...Array.from({ length: width - a.length }, () => plain('')),
    ...b,
  ];
  const zipped = (a: readonly (readonly MadeCell[])[], b: readonly (readonly MadeCell[])[]): MadeCell[][] =>
    Array.from({ length: Math.max(a.length, b.length) }, (_, at) => joined(a[at], b[at]));
  const people = [zipped(left.people.flat(), right.people.flat())];
  return { headings: zipped(left.headings, right.headings), people, average: joined(left.average, right.average) };
}

/** Lines between the athletes of a table, none of which holds a reading. */
const BETWEEN: readonly (readonly string[])[] = [
  [''],
  ['Page 2 of 3'],
  ['', 'Page 2'],
  ['Fencing'],
  ['Rowing'],
  ['* sore on the day'],
  ['Key: NT = not tested'],
  ['Date: 18/08/2026'],
  ['cal', '', '20'],
  ['Preseason screening, hip station'],
];
const BELOW: readonly (readonly string[])[] = [
  ['SD', '', '1.5', '2'],
  ['Max', '', '40', '41'],
  ['Team mean', '20', '21', '22'],
  ['n = 12'],
  ['* measured twice'],
  ['Note: R. was sore'],
];
const TITLES: readonly (readonly string[])[] = [
  ['Preseason screening'],
  [''],
  ['Date: 17 August 2026'],
  ['Team: Rowing', '', 'Tester: J. Mill'],
  ['Tester', 'J. Mill'],
  ['Team', 'Fencing'],
  ['17/08/2026'],
  ['Hip station'],
];

const anyPerson: fc.Arbitrary<PersonPart> = fc.record({
  person: fc.constantFrom(...PEOPLE),
  rows: fc.constantFrom(1, 1, 2),
  further: fc.constantFrom(undefined, '', '-"-', 'do.', '"'),
  picks: fc.array(fc.nat(999), { minLength: 12, maxLength: 12 }),
});

const anyTable = (groups: readonly Group[]): fc.Arbitrary<TablePart> =>
  fc.record({
    way: fc.constantFrom(...WAYS_TO_NAME),
    tell: fc.constantFrom(...WAYS_TO_TELL_ROWS),
    groups: fc.uniqueArray(fc.constantFrom(...groups), { minLength: 1, maxLength: 4 }),
    hasDates: fc.boolean(),
    hasTeams: fc.boolean(),
    twoLines: fc.boolean(),
    people: fc.array(anyPerson, { minLength: 1, maxLength: 5 }),
  });

export interface MadeOptions {
  /** both sides in one cell too; default true */
  readonly pairs?: boolean;
  /** lines between and below the athletes, and headings again; default true */
  readonly between?: boolean;
  /** default: both */
  readonly direction?: 'down' | 'across';
  /** tables side by side; default true */
  readonly beside?: boolean;
}

/** Sheets as people make them; the second one of a pair is the first with left and right exchanged. */
export function madeSheetPair(options: MadeOptions = {}): fc.Arbitrary<readonly [MadeSheet, MadeSheet]> {
  const { pairs = true, between = true, direction, beside: hasBeside = true } = options;
  const table = anyTable(pairs ? [...SIDED_GROUPS, ...PAIRED_GROUPS] : SIDED_GROUPS);
  const gaps = between ? fc.array(fc.tuple(fc.nat(9), fc.constantFrom(...BETWEEN)), { maxLength: 3 }) : fc.constant([]);
  return fc
    .record({
      tables: fc.array(table, { minLength: 1, maxLength: between ? 2 : 1 }),
      second: hasBeside ? fc.option(table, { freq: 4 }) : fc.constant(null),
      hasSpacer: fc.boolean(),
      titles: fc.array(fc.constantFrom(...TITLES), { maxLength: 3 }),
      gaps,
      headingsAgain: between ? fc.option(fc.nat(9)) : fc.constant(null),
      below: between ? fc.array(fc.constantFrom(...BELOW), { maxLength: 3 }) : fc.constant([]),
      hasAverage: between ? fc.boolean() : fc.constant(false),
      isAcross: direction ? fc.constant(direction === 'across') : fc.nat(3).map((at) => at === 0),
      delimiter: anyDelimiter,
      lineEnds: anyLineEnds,
      lastLineEnd: fc.boolean(),
    })
    .map((parts) => [madeOf(parts, (text) => text), madeOf(parts, mirrored)] as const);
}

interface SheetParts {
  readonly tables: readonly TablePart[];
  readonly second: TablePart | null;
  readonly hasSpacer: boolean;
  readonly titles: readonly (readonly string[])[];
  readonly gaps: readonly (readonly [number, readonly string[]])[];
  readonly headingsAgain: number | null;
  readonly below: readonly (readonly string[])[];
  readonly hasAverage: boolean;
  readonly isAcross: boolean;
  readonly delimiter: string;
  readonly lineEnds: readonly string[];
  readonly lastLineEnd: boolean;
}

function madeOf(parts: SheetParts, change: (text: string) => string): MadeSheet {
  const { tables, second, hasSpacer, titles, gaps, headingsAgain, below, hasAverage, isAcross } = parts;
  const mirror = (row: readonly MadeCell[]): MadeCell[] => row.map((cell) => ({ ...cell, text: change(cell.text) }));
  const blocks = (isAcross ? tables.slice(0, 1) : tables).map(linesOf);
  if (second && !isAcross) {
    // Without a gap a name behind an id may as well tell more of the same row.
    const right = hasSpacer ? second : { ...second, way: tables[0].way };
    blocks[0] = beside(blocks[0], linesOf(right), hasSpacer);
  }
  const rows: (readonly MadeCell[])[] = isAcross ? [] : titles.map((title) => title.map(plain));
  const seams: number[] = [];
  for (const [index, { headings, people, average }] of blocks.entries()) {
    rows.push(...headings.map(mirror));
    for (const [at, person] of people.entries()) {
      for (const [place, line] of index === 0 ? gaps : []) if (place === at && !isAcross) rows.push(line.map(plain));
      if (headingsAgain === at && at > 0 && index === 0 && !isAcross) rows.push(...headings.map(mirror));
      if (index === 0) seams.push(rows.length);
      rows.push(...person.map(mirror));
    }
    if (hasAverage && !isAcross) rows.push(average);
  }
  // Nothing stands in the blank column between two tables.
  const lines = second ? below.filter((line) => line.length === 1) : below;
  if (!isAcross) rows.push(...lines.map((line) => line.map(plain)));
  const all = isAcross ? [...titles.map((title) => title.map(plain)), ...turnedRows(rows)] : rows;
  const { delimiter, lineEnds, lastLineEnd } = parts;
  const written = (of: readonly (readonly MadeCell[])[]): Sheet =>
    writtenSheet(
      of.map((row) => row.map(({ text }) => text)),
      delimiter,
      lineEnds,
      lastLineEnd,
    );
  const sheet = {
    ...written(all),
    rows: all,
    seams,
    average: blocks[0].average,
    last: blocks.at(-1)!.average,
    written,
  };
  // A counterexample shows the text alone.
  return Object.assign(sheet, { [fc.toStringMethod]: () => JSON.stringify([sheet.text, delimiter]) });
}

/** Sheets as people make them. */
export function madeSheet(options: MadeOptions = {}): fc.Arbitrary<MadeSheet> {
  return madeSheetPair(options).map(([sheet]) => sheet);
}

/** Sheets of every sort, with sense and without. */
export const anySheet: fc.Arbitrary<Sheet> = fc.oneof(
  { arbitrary: jumbledSheet, weight: 1 },
  { arbitrary: madeSheet(), weight: 2 },
);
