import { AthleteDirectory } from '../../src/athletes/directory.ts';
import { readRoster } from '../../src/athletes/roster.ts';
import { type InvolvedSides, readHistory } from '../../src/outcomes/history.ts';
import { type Ingested, type Observation, protocolOf, shortOf } from './ingest_text.ts';

export type Rows = readonly (readonly string[])[];

/** Invented readings of one athlete, as a hand writes them with a point and without units. */
export interface Measured {
  readonly id: string;
  readonly last: string;
  readonly first: string;
  readonly team: string;
  /** "2026-08-17" */
  readonly day: string;
  /** kilograms of force; three trials a side */
  readonly add: Trials;
  /** centimetres; two trials a side */
  readonly hop: Trials;
  /** as written, and in centimetres; null: not applicable */
  readonly height: readonly [written: string, value: number | null];
  /** systolic and diastolic, the second is a recheck; none: not tested */
  readonly pressure: readonly (readonly [number, number])[];
}

interface Trials {
  readonly left: readonly string[];
  readonly right: readonly string[];
}

export type SideName = keyof Trials;
export type MeasureName = 'add' | 'hop' | 'height' | 'pressure';
export const MEASURES: readonly MeasureName[] = ['add', 'hop', 'height', 'pressure'];

/** Nobody has two teams, and every one was operated on one side, so that each layout can be made of them. */
export const ATHLETES: readonly Measured[] = [
  {
    ...{ id: 'K001', last: 'Reed', first: 'Bo', team: 'Rowing', day: '2026-08-17' },
    add: { left: ['20', '21.5', '22'], right: ['20.5', '19', '21'] },
    hop: { left: ['150', '152.5'], right: ['148', '151'] },
    height: ['180.5', 180.5],
    pressure: [[118, 72]],
  },
  {
    ...{ id: 'K002', last: 'Ødegård', first: 'Zoë', team: 'Rowing', day: '2026-08-17' },
    add: { left: ['18', 'NT', '32 P'], right: ['17', '17.5', '16.5'] },
    hop: { left: ['NT', 'unable'], right: ['130.5', '128'] },
    height: ['5’11”', 180.34],
    pressure: [
      [148, 92],
      [132, 84],
    ],
  },
  {
    ...{ id: 'K005', last: 'Quill', first: 'Ada', team: 'Rowing', day: '2026-08-18' },
    add: { left: ['24', '23', '25'], right: ['22', '24.5', '23.5'] },
    hop: { left: ['122', '125'], right: ['119.5', '121'] },
    height: ['N/A', null],
    pressure: [[126, 80]],
  },
  {
    ...{ id: 'K003', last: 'Vale', first: 'Ivo', team: 'Fencing', day: '2026-08-18' },
    add: { left: ['25.5', '25', 'unable'], right: ['26', '24.5', '25'] },
    hop: { left: ['160', '163'], right: ['170', '171.5'] },
    height: ["5'7", 170.18],
    pressure: [[122, 78]],
  },
  {
    ...{ id: 'K004', last: "O'Hara", first: 'Lee', team: 'Fencing', day: '2026-08-18' },
    add: { left: ['30', '31', '29.5'], right: ['28', '30 P', ''] },
    hop: { left: ['140', ''], right: ['141', '142'] },
    height: ['1.80 m', 180],
    pressure: [],
  },
  {
    ...{ id: 'K006', last: 'Dunmore', first: 'Ines', team: 'Fencing', day: '2026-08-17' },
    add: { left: ['27', '26.5', '28'], right: ['27.5', '29', '26'] },
    hop: { left: ['155', '151'], right: ['149', '153.5'] },
    height: ['71 in', 180.34],
    pressure: [
      [152, 94],
      [138, 86],
    ],
  },
];

export const WRITTEN_ROSTER = `athlete_id,last_name,first_name,team,sex,kicking_foot,throwing_hand
K001,Reed,Bo,Rowing,F,R,R
K002,Ødegård,Zoë,Rowing,F,L,R
K003,Vale,Ivo,Fencing,M,R,L
K004,O'Hara,Lee,Fencing,F,L,R
K005,Quill,Ada,Rowing,F,R,R
K006,Dunmore,Ines,Fencing,F,R,R
`;

/** The foot that kicks, by the roster above, and the side that was operated on, by the history below. */
export const KICKING: { readonly [id: string]: SideName } = {
  ...{ K001: 'right', K002: 'left', K003: 'right', K004: 'left', K005: 'right', K006: 'right' },
};
export const OPERATED: { readonly [id: string]: SideName } = {
  ...{ K001: 'left', K002: 'right', K003: 'right', K004: 'left', K005: 'left', K006: 'right' },
};

/** The operations of the athletes above. */
export function writtenHistory(): InvolvedSides {
  const { dominanceColumns } = protocolOf();
  const roster = readRoster(WRITTEN_ROSTER, { file: 'roster.csv', columns: new Map() }, dominanceColumns, new Map());
  const rows = Object.entries(OPERATED).map(([id, side]) => `${id},knee,${side},2024-03-01,yes`);
  const text = `athlete_id,region,side,date,surgery\n${rows.join('\n')}\n`;
  const directory = new AthleteDirectory(roster, new Map(), 'reject', false);
  return readHistory(text, { file: 'history.csv', columns: new Map() }, directory).involved;
}

/** How the same cells can be written. */
export interface Style {
  readonly decimal: '.' | ',';
  /** where the unit of a strength stands; entry: in screening.yaml */
  readonly unit: 'heading' | 'cell' | 'line' | 'column' | 'entry';
  readonly who: 'id' | 'last_first' | 'first_last' | 'two_columns' | 'id_and_name';
  readonly date: 'iso' | 'dmy' | 'words';
  /** pair: 118/72; parts: systolic and diastolic in columns of their own */
  readonly pressure: 'pair' | 'parts';
  readonly arrow: '→' | '->';
}

export const PLAIN: Style = { decimal: '.', unit: 'heading', who: 'id', date: 'iso', pressure: 'pair', arrow: '→' };

const WHO_HEADINGS: { readonly [who in Style['who']]: readonly string[] } = {
  id: ['ID'],
  last_first: ['Name'],
  first_last: ['Athlete'],
  two_columns: ['Last name', 'First name'],
  id_and_name: ['ID', 'Name'],
};

export const whoHeadings = ({ who }: Style): readonly string[] => WHO_HEADINGS[who];

export function whoCells({ id, last, first }: Measured, { who }: Style): readonly string[] {
  if (who === 'id') return [id];
  if (who === 'first_last') return [`${first} ${last}`];
  if (who === 'two_columns') return [last, first];
  return who === 'last_first' ? [`${last}, ${first}`] : [id, `${last}, ${first}`];
}

export function dayCell(day: string, { date }: Pick<Style, 'date'>): string {
  const [year, month, dayOfMonth] = day.split('-');
  if (date === 'iso') return day;
  return date === 'dmy' ? `${dayOfMonth}/${month}/${year}` : `${dayOfMonth} Aug ${year}`;
}

const withMark = (text: string, { decimal }: Style): string => text.replace(/(\d)\.(\d)/g, `$1${decimal}$2`);

const NUMBER_FIRST = /^(\d+(?:\.\d+)?)(.*)$/;

/** A trial as it stands in its cell. */
function trialCell(written: string, unit: string, style: Style): string {
  const withUnit = style.unit === 'cell' ? written.replace(NUMBER_FIRST, `$1 ${unit}$2`) : written;
  return withMark(withUnit, style);
}

/** A column of readings in a sheet with a row an athlete. */
export interface WrittenColumn {
  readonly measure: MeasureName;
  /** what a heading calls it */
  readonly test: string;
  readonly side: '' | 'L' | 'R';
  readonly trial: string;
  /** kg, cm or '': the cells say it or need none */
  readonly unit: string;
  readonly cell: (athlete: Measured) => string;
}

const SIDE_NAMES = [
  ['L', 'left'],
  ['R', 'right'],
] as const;
const TESTS = { add: 'Hip Add', hop: 'Hop' } as const;
const UNITS = { add: 'kg', hop: 'cm' } as const;
const MOST_TRIALS = { add: 3, hop: 2 } as const;

/** Columns of strength and hops, a trial each. */
export function trialColumns(style: Style, measures: readonly MeasureName[] = MEASURES): WrittenColumn[] {
  return (['add', 'hop'] as const)
    .filter((measure) => measures.includes(measure))
    .flatMap((measure) =>
      Array.from({ length: MOST_TRIALS[measure] }, (_, trial) =>
        SIDE_NAMES.map(
          ([side, name]): WrittenColumn => ({
            measure,
            test: TESTS[measure],
            side,
            trial: String(trial + 1),
            unit: UNITS[measure],
            cell: (athlete) => trialCell(athlete[measure][name][trial] ?? '', UNITS[measure], style),
          }),
        ),
      ).flat(),
    );
}

/** Columns of a strength or hop with all trials of a side in one cell. */
export function listColumns(style: Style, mark: string): WrittenColumn[] {
  return (['add', 'hop'] as const).flatMap((measure) =>
    SIDE_NAMES.map(
      ([side, name]): WrittenColumn => ({
        measure,
        test: TESTS[measure],
        side,
        trial: '',
        unit: UNITS[measure],
        cell: (athlete) =>
          athlete[measure][name]
            .filter((trial) => trial !== '')
            .map((trial) => trialCell(trial, UNITS[measure], style))
            .join(mark),
      }),
    ),
  );
}

/** Columns of a strength or hop with both sides of a trial in one cell. */
export function pairColumns(style: Style, order: 'L/R' | 'R/L'): WrittenColumn[] {
  return (['add', 'hop'] as const).flatMap((measure) =>
    Array.from({ length: MOST_TRIALS[measure] }, (_, trial): WrittenColumn => {
      const names = order === 'L/R' ? (['left', 'right'] as const) : (['right', 'left'] as const);
      return {
        measure,
        test: `${TESTS[measure]} ${order}`,
        side: '',
        trial: String(trial + 1),
        unit: UNITS[measure],
        cell: (athlete) =>
          names.map((name) => trialCell(athlete[measure][name][trial], UNITS[measure], style)).join('/'),
      };
    }),
  );
}

/** Columns of height and pressure. */
export function otherColumns(style: Style): WrittenColumn[] {
  const plain = { side: '', unit: '' } as const;
  const height: WrittenColumn = {
    ...plain,
    ...{ measure: 'height', test: 'Ht', trial: '' },
    cell: ({ height: [written] }) => withMark(written, style),
  };
  if (style.pressure === 'pair') {
    const cell = ({ pressure }: Measured): string =>
      pressure.length === 0 ? 'NT' : pressure.map((pair) => pair.join('/')).join(` ${style.arrow} `);
    return [height, { ...plain, measure: 'pressure', test: 'BP', trial: '', cell }];
  }
  const parts = [0, 1].flatMap((reading) =>
    ['SBP', 'DBP'].map((test, part): WrittenColumn => {
      const cell = ({ pressure }: Measured): string =>
        pressure.length === 0 && reading === 0 ? 'NT' : String(pressure[reading]?.[part] ?? '');
      return { ...plain, measure: 'pressure', test, trial: String(reading + 1), cell };
    }),
  );
  return [height, ...parts];
}

export const allColumns = (style: Style): WrittenColumn[] => [...trialColumns(style), ...otherColumns(style)];

/** `Hip Add L 1 (kg)` */
export function headingOf({ test, side, trial, unit }: WrittenColumn, style: Style): string {
  const inHeading = unit !== '' && style.unit === 'heading' ? `(${unit})` : '';
  return [test, side, trial, inHeading].filter((part) => part !== '').join(' ');
}

const COLUMN_MEASURES: { readonly [measure in MeasureName]: readonly string[] } = {
  add: ['hip_add'],
  hop: ['hop'],
  height: ['height'],
  pressure: ['systolic', 'diastolic'],
};
const UNIT_CODES: { readonly [measure: string]: string } = {
  ...{ hip_add: 'N', hop: 'cm', height: 'cm', systolic: 'mm[Hg]', diastolic: 'mm[Hg]' },
};
/** Standard gravity: newtons a kilogram-force (CGPM 1901). */
const STANDARD_GRAVITY = 9.80665;
const STATUS_WORDS: { readonly [word: string]: string } = { NT: 'not_tested', unable: 'unable' };

/** Value and status that a trial says, worked out apart from the code under test. */
function meant(written: string, factor: number): { value: number | null; status: string } {
  const number = NUMBER_FIRST.exec(written);
  if (number === null) return { value: null, status: STATUS_WORDS[written] };
  return { value: Number(number[1]) * factor, status: number[2].trim() === 'P' ? 'pain' : 'measured' };
}

/** What the athletes' readings are, a line each, in one order. */
export function expectedFacts(athletes: readonly Measured[], measures: readonly MeasureName[] = MEASURES): string[] {
  const lines: string[] = [];
  for (const { id, team, day, add, hop, height, pressure } of athletes) {
    const say = (measure: string, side: string, trial: number, value: number | null, status: string): void => {
      const reading = { measure, side, trial, value, status } as Observation;
      lines.push(`${id} ${team} ${day} 2026 test: ${shortOf(reading)} ${UNIT_CODES[measure]}`);
    };
    for (const [name, factor, trials] of [
      ['add', STANDARD_GRAVITY, add],
      ['hop', 1, hop],
    ] as const) {
      if (!measures.includes(name)) continue;
      for (const side of ['left', 'right'] as const) {
        for (const [at, written] of trials[side].entries()) {
          if (written === '') continue;
          const { value, status } = meant(written, factor);
          say(COLUMN_MEASURES[name][0], side, at + 1, value, status);
        }
      }
    }
    if (measures.includes('height'))
      say('height', 'none', 1, height[1], height[1] === null ? 'not_applicable' : 'measured');
    if (!measures.includes('pressure')) continue;
    for (const [part, measure] of COLUMN_MEASURES.pressure.entries()) {
      if (pressure.length === 0) say(measure, 'none', 1, null, 'not_tested');
      for (const [at, pair] of pressure.entries()) say(measure, 'none', at + 1, pair[part], 'measured');
    }
  }
  return lines.sort();
}

/** What was read, without what tells where it stood: file, line, column, raw, written_in, unit_from and station. */
export function factsOf({ observations }: Ingested): string[] {
  return observations
    .map((observation) => {
      const { athlete_id, team, date, season, purpose, unit, tester, device } = observation;
      const others = [tester, device].filter((text) => text !== null).map((text) => ` by ${text}`);
      return `${athlete_id} ${team} ${date} ${season} ${purpose}: ${shortOf(observation)} ${unit}${others.join('')}`;
    })
    .sort();
}

/** How the rows of a sheet become a file. */
export interface Dialect {
  readonly delimiter: ',' | ';' | '\t';
  readonly lineEnd: keyof typeof LINE_ENDS;
  readonly encoding: keyof typeof ENCODINGS;
  readonly quotes: 'needed' | 'all';
}

export const LINE_ENDS = {
  LF: () => '\n',
  CRLF: () => '\r\n',
  mixed: (at: number) => ['\n', '\r\n', '\r\n', '\n', '\r'][at % 5],
} as const;

/** Windows code page 1252 where it differs from Latin 1, as far as this data needs it (WHATWG Encoding Standard). */
const CODE_PAGE_1252: { readonly [character: string]: number } = { '’': 0x92, '”': 0x94 };

export const ENCODINGS = {
  'UTF-8': (text: string): Uint8Array => Buffer.from(text),
  'UTF-8 with a mark': (text: string): Uint8Array => Buffer.from(`\ufeff${text}`),
  'UTF-16LE with a mark': (text: string): Uint8Array => Buffer.from(`\ufeff${text}`, 'utf16le'),
  'UTF-16BE with a mark': (text: string): Uint8Array => Buffer.from(`\ufeff${text}`, 'utf16le').swap16(),
  'Windows-1252': (text: string): Uint8Array =>
    Uint8Array.from(text, (character) => CODE_PAGE_1252[character] ?? character.charCodeAt(0)),
} as const;

/** The text of a file; a cell that holds the delimiter, a quote or a line break is quoted. */
export function textOf(rows: Rows, { delimiter, lineEnd, quotes }: Omit<Dialect, 'encoding'>): string {
  const quoted = (cell: string): string =>
    (quotes === 'all' && cell !== '') || cell.includes(delimiter) || /["\r\n]/.test(cell)
      ? `"${cell.replaceAll('"', '""')}"`
      : cell;
  return rows.map((row, at) => row.map(quoted).join(delimiter) + LINE_ENDS[lineEnd](at)).join('');
}

export const filledCells = (rows: Rows): number => rows.flat().filter((cell) => cell.trim() !== '').length;

export function turnedRows(rows: Rows): string[][] {
  const width = Math.max(...rows.map((row) => row.length));
  return Array.from({ length: width }, (_, at) => rows.map((row) => row[at] ?? ''));
}

/** The row that begins on a line of a text, cut into its cells; a quoted cell may go on over further lines. */
export function rowAt(text: string, line: number, delimiter: string): string[] {
  const ends = [...text.matchAll(/\r\n|\n|\r/g)].map(({ 0: mark, index }) => index + mark.length);
  const cells: string[] = [];
  let at = line === 1 ? 0 : ends[line - 2];
  for (;;) {
    let cell = '';
    if (text[at] === '"') {
      at++;
      while (at < text.length && (text[at] !== '"' || text[at + 1] === '"')) {
        cell += text[at];
        at += text[at] === '"' ? 2 : 1;
      }
      at++;
    }
    while (at < text.length && text[at] !== delimiter && text[at] !== '\n' && text[at] !== '\r') cell += text[at++];
    cells.push(cell);
    if (text[at] !== delimiter) return cells;
    at++;
  }
}
