import type { EntryGiven } from './ingest_text.ts';
import {
  ATHLETES,
  allColumns,
  dayCell,
  headingOf,
  KICKING,
  listColumns,
  MEASURES,
  type Measured,
  type MeasureName,
  OPERATED,
  otherColumns,
  pairColumns,
  type Rows,
  type SideName,
  type Style,
  trialColumns,
  turnedRows,
  type WrittenColumn,
  whoCells,
  whoHeadings,
} from './written_sheets.ts';

/** A way to lay the readings of the athletes out on a sheet. */
export interface WrittenLayout {
  readonly rows: (athletes: readonly Measured[], style: Style) => Rows;
  /** styles that it can be written in; default: all with their unit in the heading, the cell, a line or screening.yaml */
  readonly allows?: (style: Style) => boolean;
  /** the athletes as far as the layout can hold them; default: as they are */
  readonly athletes?: (athletes: readonly Measured[]) => readonly Measured[];
  readonly measures?: readonly MeasureName[];
  /** what screening.yaml has to say of it */
  readonly entry?: EntryGiven;
  readonly usesHistory?: true;
  /** reasons for which cells are left aside; default: none */
  readonly ignored?: readonly string[];
}

type Athletes = readonly Measured[];

const blanks = (count: number): string[] => Array.from({ length: count }, () => '');

const front = (style: Style): string[] => [...whoHeadings(style), 'Date'];
const frontCells = (athlete: Measured, style: Style): string[] => [
  ...whoCells(athlete, style),
  dayCell(athlete.day, style),
];

/** The units below the headings, in a line of their own. */
const unitLine = (columns: readonly WrittenColumn[], style: Style, before: number): Rows =>
  style.unit === 'line' ? [[...blanks(before), ...columns.map(({ unit }) => unit)]] : [];

function headed(columns: readonly WrittenColumn[], style: Style): Rows {
  const headings = columns.map((column) => headingOf(column, style));
  return [[...front(style), ...headings], ...unitLine(columns, style, front(style).length)];
}

const body = (athletes: Athletes, columns: readonly WrittenColumn[], style: Style): Rows =>
  athletes.map((athlete) => [...frontCells(athlete, style), ...columns.map(({ cell }) => cell(athlete))]);

const wideOf = (athletes: Athletes, columns: readonly WrittenColumn[], style: Style): Rows => [
  ...headed(columns, style),
  ...body(athletes, columns, style),
];

const wide = (athletes: Athletes, style: Style): Rows => wideOf(athletes, allColumns(style), style);

/** The test once over its columns. */
function twoLines(athletes: Athletes, style: Style): Rows {
  const columns = allColumns(style);
  const top = columns.map((column, at) => {
    const isFirst = column.test !== columns[at - 1]?.test || column.side === '';
    return isFirst ? headingOf({ ...column, side: '', trial: column.side === '' ? column.trial : '' }, style) : '';
  });
  const bottom = columns.map(({ side, trial }) => (side === '' ? '' : `${side} ${trial}`));
  return [
    [...front(style), ...top],
    [...blanks(front(style).length), ...bottom],
    ...unitLine(columns, style, front(style).length),
    ...body(athletes, columns, style),
  ];
}

/** Test, side and trial each on a line. */
function threeLines(athletes: Athletes, style: Style): Rows {
  const columns = allColumns(style);
  const top = columns.map((column, at) =>
    column.test === columns[at - 1]?.test && column.side !== ''
      ? ''
      : headingOf({ ...column, side: '', trial: column.side === '' ? column.trial : '' }, style),
  );
  const before = blanks(front(style).length);
  return [
    [...front(style), ...top],
    [...before, ...columns.map(({ side }) => side)],
    [...before, ...columns.map(({ side, trial }) => (side === '' ? '' : trial))],
    ...body(athletes, columns, style),
  ];
}

const SIDE_WORDS = { L: ['L', 'Left', 'Lt', '(L)'], R: ['R', 'Right', 'Rt', '(R)'] } as const;

/** @param sideOf what the side column says of a side */
function rowASide(
  athletes: Athletes,
  style: Style,
  sideOf: (side: 'L' | 'R', athlete: Measured, at: number) => string = (side, _, at) => SIDE_WORDS[side][at % 4],
  measures: readonly MeasureName[] = MEASURES,
): Rows {
  const sided = trialColumns(style, measures);
  const left = sided.filter(({ side }) => side === 'L');
  const others = otherColumns(style).filter(({ measure }) => measures.includes(measure));
  const columns = [...left, ...others];
  const headings = columns.map((column) => headingOf({ ...column, side: '' }, style));
  return [
    [...whoHeadings(style), 'Date', 'Side', ...headings],
    ...unitLine(columns, style, front(style).length + 1),
    ...athletes.flatMap((athlete, at) =>
      (['L', 'R'] as const).map((side) => [
        ...frontCells(athlete, style),
        sideOf(side, athlete, at),
        ...sided.filter((column) => column.side === side).map(({ cell }) => cell(athlete)),
        ...others.map(({ cell }) => (side === 'L' ? cell(athlete) : '')),
      ]),
    ),
  ];
}

/** Cells that a test column holds for one thing. */
const TEST_WORDS: { readonly [test: string]: readonly string[] } = {
  'Hip Add': ['Hip Add', 'Hip adduction', 'adductors'],
  Hop: ['Hop', 'Single hop'],
};
const testWord = (test: string, at: number): string => TEST_WORDS[test]?.[at % TEST_WORDS[test].length] ?? test;

interface TestRow {
  readonly athlete: Measured;
  readonly column: WrittenColumn;
  readonly cell: string;
}

const testRows = (athletes: Athletes, columns: readonly WrittenColumn[]): TestRow[] =>
  athletes.flatMap((athlete) =>
    columns.flatMap((column) => {
      const cell = column.cell(athlete);
      return cell === '' ? [] : [{ athlete, column, cell }];
    }),
  );

const unitHeading = (style: Style): string[] => (style.unit === 'column' ? ['Unit'] : []);
const unitCell = ({ unit }: WrittenColumn, style: Style): string[] => (style.unit === 'column' ? [unit] : []);

const rowATest = (athletes: Athletes, style: Style): Rows => [
  [...front(style), 'Test', 'Side', 'Trial', 'Value', ...unitHeading(style)],
  ...testRows(athletes, allColumns(style)).map(({ athlete, column, cell }, at) => [
    ...frontCells(athlete, style),
    headingOf({ ...column, test: testWord(column.test, at), side: '', trial: '' }, style),
    column.side,
    column.trial,
    cell,
    ...unitCell(column, style),
  ]),
];

/** Side and trial stand with the test. */
const rowATestSaidWhole = (athletes: Athletes, style: Style): Rows => [
  [...front(style), 'Measure', 'Result', ...unitHeading(style)],
  ...testRows(athletes, allColumns(style)).map(({ athlete, column, cell }) => [
    ...frontCells(athlete, style),
    headingOf(column, style),
    cell,
    ...unitCell(column, style),
  ]),
];

const rowATestOneUnit = (athletes: Athletes, style: Style): Rows => [
  [...front(style), 'Test', 'Side', 'Trial', 'Value (kg)'],
  ...testRows(athletes, trialColumns(style, ['add'])).map(({ athlete, column, cell }) => [
    ...frontCells(athlete, style),
    ...[column.test, column.side, column.trial, cell],
  ]),
];

/** L and R beside each other where rows are tests. */
function rowATestSidesBeside(athletes: Athletes, style: Style): Rows {
  const columns = trialColumns(style);
  return [
    [...front(style), 'Test', 'Trial', 'L', 'R', ...unitHeading(style)],
    ...athletes.flatMap((athlete) =>
      columns
        .filter(({ side }) => side === 'L')
        .map((left) => {
          const right = columns.find(
            ({ test, side, trial }) => side === 'R' && test === left.test && trial === left.trial,
          )!;
          return [
            ...frontCells(athlete, style),
            headingOf({ ...left, side: '', trial: '' }, style),
            ...[left.trial, left.cell(athlete), right.cell(athlete), ...unitCell(left, style)],
          ];
        }),
    ),
  ];
}

const byTeam = (athletes: Athletes): readonly (readonly [team: string, athletes: Athletes])[] => {
  const teams = [...new Set(athletes.map(({ team }) => team))];
  return teams.map((team) => [team, athletes.filter((athlete) => athlete.team === team)]);
};

const COLLEGE = 'Thrumbleford College';

/** Three trials below each other; every row holds what has that trial. */
function rowsOfTrials(athletes: Athletes, style: Style, hasTrialColumn: boolean): Rows {
  const sided = trialColumns(style);
  const first = sided.filter(({ trial }) => trial === '1');
  const others = otherColumns({ ...style, pressure: 'pair' });
  const columns = [...first, ...others];
  const headings = columns.map((column) => headingOf({ ...column, trial: '' }, style));
  return [
    [...front(style), ...(hasTrialColumn ? ['Trial'] : []), ...headings],
    ...unitLine(columns, style, front(style).length + (hasTrialColumn ? 1 : 0)),
    ...athletes.flatMap((athlete) =>
      ['1', '2', '3'].map((trial) => [
        ...(trial === '1' ? frontCells(athlete, style) : blanks(front(style).length)),
        ...(hasTrialColumn ? [trial] : []),
        ...first.map(
          ({ test, side }) =>
            sided.find((other) => other.test === test && other.side === side && other.trial === trial)?.cell(athlete) ??
            '',
        ),
        ...others.map(({ cell }) => (trial === '1' ? cell(athlete) : '')),
      ]),
    ),
  ];
}

const DITTO_MARKS = ['"', 'ditto', '-"-', 'do.', '"'];

/** Ditto marks for what stands above, in columns that say who, when and what. */
function withDittos(athletes: Athletes, style: Style): Rows {
  const [headings, ...rows] = rowATest(athletes, { ...style, unit: 'column' });
  const plain = rows.map((row) => row.map((cell) => cell));
  const columns = front(style).length + 2;
  // One spelling a test: what does not change is what a mark is written for.
  const test = front(style).length;
  for (const row of plain)
    for (const [word, others] of Object.entries(TEST_WORDS)) if (others.includes(row[test])) row[test] = word;
  return [
    headings,
    ...plain.map((row, at) =>
      row.map((cell, column) => {
        const isSame = at > 0 && column < columns && cell !== '' && plain[at - 1][column] === cell;
        return isSame ? DITTO_MARKS[(at + column) % DITTO_MARKS.length] : cell;
      }),
    ),
  ];
}

const numbersOf = (trials: readonly string[]): number[] =>
  trials.flatMap((trial) => (Number.isNaN(Number.parseFloat(trial)) ? [] : [Number.parseFloat(trial)]));

const worked = (value: number, decimals: number, { decimal }: Style): string =>
  value.toFixed(decimals).replace('.', decimal);

const SUMMARIES: readonly (readonly [label: string, work: (values: readonly number[]) => number])[] = [
  ['Average', (values) => values.reduce((sum, value) => sum + value, 0) / values.length],
  ['SD', (values) => Math.sqrt(values.reduce((sum, value) => sum + (value - 20) ** 2, 0) / values.length)],
  ['Min', (values) => Math.min(...values)],
  ['Max', (values) => Math.max(...values)],
  ['Team total', (values) => values.reduce((sum, value) => sum + value, 0)],
];

function summaries(athletes: Athletes, columns: readonly WrittenColumn[], style: Style): Rows {
  return SUMMARIES.map(([label, work]) => [
    ...[label, ...blanks(front(style).length - 1)],
    ...columns.map(({ measure, cell }) =>
      measure === 'pressure' || measure === 'height'
        ? ''
        : worked(work(numbersOf(athletes.map((athlete) => cell(athlete).replace(',', '.')))), 1, style),
    ),
  ]);
}

/** Best and mean columns beside the trials, as a spreadsheet works them out. */
function besideWorkedOut(athletes: Athletes, style: Style): Rows {
  const columns = allColumns(style);
  const worksOut = (measure: 'add' | 'hop', side: 'L' | 'R', kind: 'best' | 'avg'): WrittenColumn => {
    const own = columns.find((column) => column.measure === measure && column.side === side)!;
    const name: SideName = side === 'L' ? 'left' : 'right';
    const cell = (athlete: Measured): string => {
      const values = numbersOf(athlete[measure][name]);
      if (values.length === 0) return '#DIV/0!';
      const value = kind === 'best' ? Math.max(...values) : values.reduce((sum, one) => sum + one, 0) / values.length;
      return worked(value, kind === 'best' ? 1 : 2, style);
    };
    return { ...own, trial: kind, cell };
  };
  const both = (['L', 'R'] as const).flatMap((side) => [worksOut('add', side, 'best'), worksOut('add', side, 'avg')]);
  const hops = (['L', 'R'] as const).map((side) => worksOut('hop', side, 'best'));
  return wideOf(athletes, [...columns.slice(0, 6), ...both, ...columns.slice(6), ...hops], style);
}

const oneTrial = (athletes: Athletes): Athletes =>
  athletes.map((athlete) => ({
    ...athlete,
    add: { left: athlete.add.left.slice(0, 1), right: athlete.add.right.slice(0, 1) },
    hop: { left: athlete.hop.left.slice(0, 1), right: athlete.hop.right.slice(0, 1) },
  }));

function onlyBest(athletes: Athletes, style: Style, word: string): Rows {
  const columns = allColumns(style)
    .filter(({ side, trial }) => side === '' || trial === '1')
    .map((column) => (column.side === '' ? column : { ...column, trial: word }));
  return wideOf(athletes, columns, style);
}

/** Both sides in one cell need both of them. */
const withoutBlanks = (athletes: Athletes): Athletes => {
  const full = (trials: readonly string[]): readonly string[] => trials.map((trial) => trial || 'NT');
  return athletes.map((athlete) => ({
    ...athlete,
    add: { left: full(athlete.add.left), right: full(athlete.add.right) },
    hop: { left: full(athlete.hop.left), right: full(athlete.hop.right) },
  }));
};

const onOneDay = (athletes: Athletes): Athletes => athletes.map((athlete) => ({ ...athlete, day: '2026-08-17' }));

const withoutDates = (rows: Rows, style: Style): Rows =>
  rows.map((row) => row.filter((_, at) => at !== whoHeadings(style).length));

/** Sides by what they are to the athlete, the one that is named first. */
function byUse(
  athletes: Athletes,
  style: Style,
  sideOf: { readonly [id: string]: SideName },
  words: readonly [named: string, other: string],
  measures: readonly ('add' | 'hop')[],
): Rows {
  const columns = allColumns(style).map((column): WrittenColumn => {
    if (column.side === '' || !measures.some((measure) => measure === column.measure)) return column;
    const isNamed = column.side === 'L';
    const others = trialColumns(style).filter(({ test, trial }) => test === column.test && trial === column.trial);
    const cell = (athlete: Measured): string => {
      const isLeft = (sideOf[athlete.id] === 'left') === isNamed;
      return others.find(({ side }) => side === (isLeft ? 'L' : 'R'))!.cell(athlete);
    };
    return { ...column, test: `${column.test} ${words[isNamed ? 0 : 1]}`, side: '', cell };
  });
  return wideOf(athletes, columns, style);
}

/** Rows with a blank one behind each second, and a blank column behind the third. */
const withGaps = (rows: Rows): Rows =>
  rows.flatMap((row, at) => {
    const spread = [...row.slice(0, 3), '', ...row.slice(3)];
    return at % 2 === 1 ? [spread, blanks(at % 4 === 1 ? 0 : spread.length)] : [spread];
  });

function besideEachOther(athletes: Athletes, style: Style, gap: number, rightWho: Style['who']): Rows {
  const left = wideOf(athletes, trialColumns(style), style);
  const rightStyle = { ...style, who: rightWho };
  const [headings, ...rows] = wideOf([...athletes].reverse(), otherColumns(style), { ...rightStyle, unit: 'heading' });
  const right = style.unit === 'line' ? [headings, blanks(headings.length), ...rows] : [headings, ...rows];
  return left.map((row, at) => [...row, ...blanks(gap), ...right[at]]);
}

const plainUnits = ({ unit }: Style): boolean => unit !== 'column';
const noLine = ({ unit }: Style): boolean => unit !== 'column' && unit !== 'line';
const testUnits = ({ unit }: Style): boolean => unit !== 'line';
/** Several of them in one row would be headings again. */
const oneWho = (style: Style): boolean =>
  plainUnits(style) && style.who !== 'two_columns' && style.who !== 'id_and_name';

const SAID_ABOVE = (style: Style): Rows => [
  ['Preseason screening'],
  [`Date: ${dayCell('2026-08-17', { date: style.date })}`],
  [],
];

export const WRITTEN_LAYOUTS: { readonly [name: string]: WrittenLayout } = {
  wide: { rows: wide },
  'wide, columns the other way round': {
    rows: (athletes, style) => wide(athletes, style).map((row) => [...row].reverse()),
  },
  'two heading lines': { rows: twoLines },
  'three heading lines': { rows: threeLines, allows: noLine },
  'a row a side': { rows: rowASide },
  'a row a test': { rows: rowATest, allows: testUnits },
  'a row a test that says side and trial': { rows: rowATestSaidWhole, allows: testUnits },
  'a row a test, the unit over the values': {
    rows: rowATestOneUnit,
    allows: ({ unit }) => unit === 'heading',
    measures: ['add'],
  },
  'a row a test, sides beside each other': {
    rows: rowATestSidesBeside,
    allows: testUnits,
    measures: ['add', 'hop'],
  },
  'athletes across': { rows: (athletes, style) => turnedRows(wide(athletes, style)) },
  'athletes across, the test once over its sides': { rows: (athletes, style) => turnedRows(twoLines(athletes, style)) },
  'athletes across, three heading columns': {
    rows: (athletes, style) => turnedRows(threeLines(athletes, style)),
    allows: noLine,
  },
  'athletes across, with titles and blank lines': {
    rows: (athletes, style) => {
      const [first, ...rows] = turnedRows(wide(athletes, style));
      return [['Preseason screening'], [], first, [], ...rows, [], ['* NT: not tested']];
    },
    allows: oneWho,
    ignored: ['title_line', 'footnote'],
  },
  'athletes across in two blocks': {
    rows: (athletes, style) => [
      ...turnedRows(wide(athletes.slice(0, 3), style)),
      [],
      ...turnedRows(wide(athletes.slice(3), style)),
    ],
  },
  'athletes across, each over both sides': { rows: (athletes, style) => turnedRows(rowASide(athletes, style)) },
  'team blocks with the headings again': {
    rows: (athletes, style) =>
      byTeam(athletes).flatMap(([team, members]) => [[team], ...wide(members, style), blanks(4)]),
    ignored: ['repeated_header'],
  },
  'team blocks below one heading line': {
    rows: (athletes, style) => [
      ...headed(allColumns(style), style),
      ...byTeam(athletes).flatMap(([team, members]) => [[team], ...body(members, allColumns(style), style)]),
    ],
  },
  'blocks with headings in another order': {
    rows: (athletes, style) =>
      byTeam(athletes).flatMap(([, members], block) => {
        const rows = wide(members, style);
        return block === 0 ? rows : [[], ...rows.map((row) => [...row].reverse())];
      }),
  },
  'blocks of other tests': {
    rows: (athletes, style) => [
      ...wideOf(athletes, trialColumns(style), style),
      [],
      ...wideOf(athletes, otherColumns(style), { ...style, unit: 'heading' }),
    ],
  },
  'page headers and the headings again': {
    rows: (athletes, style) => {
      const [headings, ...rows] = wideOf(athletes, allColumns(style), { ...style, unit: 'heading' });
      return [0, 1, 2].flatMap((page) => [
        [COLLEGE, '', '', `Page ${page + 1} of 3`],
        headings,
        ...rows.slice(page * 2, page * 2 + 2),
      ]);
    },
    allows: ({ unit }) => unit === 'heading',
    ignored: ['page_header', 'repeated_header', 'title_line'],
  },
  'page headers in one cell': {
    rows: (athletes, style) => {
      const [headings, ...rows] = wide(athletes, style);
      const broken = [...rows.slice(0, 3), [`${COLLEGE}  Page 2`], [], headings, ...rows.slice(3)];
      return [headings, ...broken];
    },
    allows: ({ unit }) => unit === 'heading' || unit === 'entry',
    ignored: ['page_header', 'repeated_header'],
  },
  'two tables with a blank column between': {
    rows: (athletes, style) => besideEachOther(athletes, style, 1, style.who),
  },
  'two tables without a blank column': {
    rows: (athletes, style) => besideEachOther(athletes, style, 0, style.who),
  },
  'two tables, ids on the left and names on the right': {
    rows: (athletes, style) => besideEachOther(athletes, { ...style, who: 'id' }, 2, 'last_first'),
    allows: (style) => plainUnits(style) && style.who === 'id',
  },
  'a date above': {
    rows: (athletes, style) => [...SAID_ABOVE(style), ...withoutDates(wide(athletes, style), style)],
    athletes: onOneDay,
    ignored: ['title_line'],
  },
  'a date above, beside its label': {
    rows: (athletes, style) => [
      ['Station: Hip'],
      ['Date', dayCell('2026-08-17', style)],
      ...withoutDates(rowASide(athletes, style), style),
    ],
    athletes: onOneDay,
  },
  'averages and footnotes below': {
    rows: (athletes, style) => {
      const columns = allColumns(style);
      return [
        ...wideOf(athletes, columns, style),
        ...summaries(athletes, columns, style),
        [],
        ['* NT: not tested. P = pain'],
        ['Note: readings of 2026'],
      ];
    },
    ignored: ['summary_row', 'footnote'],
  },
  'averages below each team': {
    rows: (athletes, style) => {
      const columns = allColumns(style);
      return [
        ...headed(columns, style),
        ...byTeam(athletes).flatMap(([team, members]) => [
          [team],
          ...body(members, columns, style),
          ...summaries(members, columns, style).slice(0, 2),
          [],
        ]),
      ];
    },
    ignored: ['summary_row'],
  },
  'trials beside best and mean': { rows: besideWorkedOut, ignored: ['worked_out'] },
  'only the best': { rows: (athletes, style) => onlyBest(athletes, style, 'best'), athletes: oneTrial },
  'only the mean': { rows: (athletes, style) => onlyBest(athletes, style, 'avg'), athletes: oneTrial },
  'the name on the first of three rows': {
    rows: (athletes, style) => rowsOfTrials(athletes, style, true),
    allows: (style) => plainUnits(style) && style.pressure === 'pair',
  },
  'the name on the first of three rows without a trial column': {
    rows: (athletes, style) => rowsOfTrials(athletes, style, false),
    allows: (style) => plainUnits(style) && style.pressure === 'pair',
  },
  'ditto marks': { rows: withDittos, allows: ({ unit }) => unit === 'column' },
  'trials in one cell': {
    rows: (athletes, style) => wideOf(athletes, [...listColumns(style, ', '), ...otherColumns(style)], style),
  },
  'trials in one cell behind semicolons': {
    rows: (athletes, style) => wideOf(athletes, [...listColumns(style, '; '), ...otherColumns(style)], style),
  },
  'trials in one cell, a line each': {
    rows: (athletes, style) => wideOf(athletes, [...listColumns(style, '\n'), ...otherColumns(style)], style),
  },
  'both sides in one cell': {
    rows: (athletes, style) => wideOf(athletes, [...pairColumns(style, 'L/R'), ...otherColumns(style)], style),
    athletes: withoutBlanks,
  },
  'both sides in one cell, right first': {
    rows: (athletes, style) => wideOf(athletes, [...pairColumns(style, 'R/L'), ...otherColumns(style)], style),
    athletes: withoutBlanks,
  },
  'surgical and other side': {
    rows: (athletes, style) => byUse(athletes, style, OPERATED, ['surgical', 'other'], ['add', 'hop']),
    usesHistory: true,
  },
  'a row a side, surgical and other': {
    rows: (athletes, style) =>
      rowASide(athletes, style, (side, { id }) =>
        (OPERATED[id] === 'left') === (side === 'L') ? 'Surgical' : 'Other',
      ),
    usesHistory: true,
  },
  'kicking and plant leg': {
    rows: (athletes, style) => byUse(athletes, style, KICKING, ['D', 'ND'], ['add']),
  },
  'a row a side, dominant and not': {
    rows: (athletes, style) =>
      rowASide(athletes, style, (side, { id }) => ((KICKING[id] === 'left') === (side === 'L') ? 'D' : 'ND'), [
        'add',
        'height',
        'pressure',
      ]),
    measures: ['add', 'height', 'pressure'],
  },
  'blank rows and columns': { rows: (athletes, style) => withGaps(wide(athletes, style)), allows: noLine },
};

export const athletesOf = ({ athletes = (all) => all }: WrittenLayout): readonly Measured[] => athletes(ATHLETES);

/** Whether a layout can be written in a style. */
export const canWrite = ({ allows = plainUnits }: WrittenLayout, style: Style): boolean => allows(style);
