import { describe, expect, it } from 'vitest';
import { readRoster } from '../../src/athletes/roster.ts';
import { ingest } from '../../src/sheets/ingest.ts';
import { ingestWorld } from '../../src/sheets/world.ts';
import { ROSTER } from './battery.ts';
import { entryOf, protocolOf } from './ingest_text.ts';

const protocol = protocolOf();
const entry = entryOf({ date: '2026-08-17', units: { hip_add: 'kgf' } });
const roster = readRoster(ROSTER, { file: 'roster.csv', columns: new Map() }, protocol.dominanceColumns, new Map());

/** Four times the work may take four times as long, and clean-up of memory falls where it falls; squared it is 16. */
const MOST = 4 * 2.5;
/** Time that a clock can tell; a sheet grows until it takes so long, or is as large as it shall be. */
const NOTICEABLE = 40;
/** A guard against hangs, and no promise. */
const HANGS = 20_000;
const TRIES = 3;

/** Bytes as a file hands them over. */
function* inPieces(bytes: Uint8Array): Generator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += 65_536) yield bytes.subarray(at, at + 65_536);
}

/** Reads a sheet and looks at no row of what comes out; tells the time of the processor, whatever else the machine does. */
async function milliseconds(text: string): Promise<number> {
  const bytes = Buffer.from(text);
  const world = ingestWorld(protocol, { roster });
  const sheet = { file: 'sheet.csv', entry, open: () => inPieces(bytes) };
  const started = process.cpuUsage();
  for await (const { ledger } of ingest([sheet], protocol, world, new Map())) {
    for (const { cells, measured, not_measured, context, ignored, rejected } of ledger.rows()) {
      expect(cells).toBe([measured, not_measured, context, ignored, rejected].reduce((sum, each) => sum! + each!, 0));
    }
  }
  const { user, system } = process.cpuUsage(started);
  return (user + system) / 1000;
}

/** Lets a shape grow until it takes time, and compares the best of three with a quarter of it, turn by turn. */
async function expectLinear(
  shape: (size: number) => string,
  largest: number,
  smallest = Math.ceil(largest / 16),
): Promise<void> {
  let size = smallest;
  let most = await milliseconds(shape(size));
  while (most < NOTICEABLE && size < largest) {
    size *= 4;
    most = await milliseconds(shape(size));
    expect(most).toBeLessThan(HANGS);
  }
  if (most < NOTICEABLE) return;
  const [small, large] = [shape(Math.ceil(size / 4)), shape(size)];
  let least = Number.POSITIVE_INFINITY;
  for (let turn = 0; turn < TRIES; turn++) {
    least = Math.min(least, await milliseconds(small));
    if (most < MOST * least) return;
    most = Math.min(most, await milliseconds(large));
  }
  expect(most / least).toBeLessThan(MOST);
}

const HEAD = 'ID,Hop L,Hop R,BP,Ht,Hip Add L,Hip IR L\n';
const ROW = 'K001,150,152,118/72,180,20,35\n';
const SIZE = 40_000;

/** A text as long as asked for. */
const filled = (piece: string, length: number): string =>
  piece.repeat(Math.ceil(length / piece.length)).slice(0, length);

/** A sheet turned by a quarter. */
const turned = (text: string): string => {
  const rows = text
    .trimEnd()
    .split('\n')
    .map((line) => line.split(','));
  const width = Math.max(0, ...rows.slice(0, 3).map((row) => row.length));
  return Array.from({ length: width }, (_, at) => rows.map((row) => row[at] ?? '').join(',')).join('\n');
};

describe('time is linear in the length of one heading', () => {
  it.each([
    ...[
      '(',
      '[',
      ')',
      '((a)',
      '[]',
      '(L',
      'L ',
      'L/',
      'L/R ',
      '1',
      '1 ',
      '1st ',
      'hip add ',
      'a1',
      'aB',
      'Aa',
      "'",
      '/',
    ],
    ...['in ', 'ft-', 'of 1 ', 'best ', '2ND ', 'N ', 'kg/', 'mm [hg]', '(R)/(L)', '#', '%', '-', '°', ' ', '\u0301'],
    ...['\u200b', '²', '→', 'é', '😀', '. ', '_', ':', ' vs ', 'per ', '*', '""', 'date dd mm ', 'ID ', '__proto__'],
  ])('%j again and again', async (piece) => {
    const heading = (length: number): string =>
      `"${filled(piece, length).replace(/"$/, '')}"`.replace(/^""+|""+$/g, '"');
    await expectLinear((size) => `ID,${heading(size)},Hop L\nK001,1,150\n`, SIZE);
    // Short enough to be looked into, and often.
    const short = filled(piece, 190).replaceAll('"', '');
    await expectLinear((size) => `ID,${`${short},`.repeat(size)}Hop L\nK001,1,150\n`, 100);
  });
});

describe('time is linear in the length of one cell', () => {
  const pieces = [
    ...[
      '7',
      '1, ',
      '1/',
      '1 ',
      '1;',
      '1,',
      '1.',
      "'",
      "9'",
      '9"',
      '0-',
      '0-0-',
      'L',
      'L 1 ',
      'pain ',
      'P ',
      '→',
      '->',
      '-',
    ],
    ...[
      '1 P;',
      '(',
      ')',
      '((',
      '1(',
      ' ',
      '\u00a0',
      '½',
      '°',
      '*',
      '+',
      '?',
      '#',
      'E',
      '1E',
      'unable ',
      'then ',
      ', ',
      '\n',
    ],
    ...[
      'N/',
      'ft ',
      '5 ft ',
      '1m',
      'x',
      'é',
      '\u0301',
      '😀',
      '.',
      '118/72 ',
      're-check ',
      'a.',
      '\u200b',
      'Average ',
      ':',
      '= ',
    ],
  ];
  it.each(pieces)('%j again and again', async (piece) => {
    const cell = (size: number): string => `"${filled(piece, size).replaceAll('"', '""')}"`;
    await expectLinear((size) => `${HEAD}K001${`,${cell(size)}`.repeat(6)}\n${ROW}`, SIZE);
    // In the place of an athlete, a date and a status, and beyond the last heading.
    const rows = (size: number): string => `${cell(size)},2026-08-17,L,1,150,ok\nK001,${cell(size)},L,1,150,ok\n`;
    const more = (size: number): string =>
      `K001,2026-08-17,${cell(size)},1,150,ok\nK001,2026-08-17,L,${cell(size)},150,ok\n`;
    const last = (size: number): string => `K001,2026-08-17,L,1,150,${cell(size)},${cell(size)}\n${cell(size)}\n`;
    await expectLinear((size) => `ID,Date,Side,Trial,Hop,Status\n${rows(size)}${more(size)}${last(size)}`, SIZE);
  });

  it.each(pieces)('%j in many cells as long as readings can be', async (piece) => {
    const cells = [20, 79, 199, 399].map((length) => `"${filled(piece, length).replaceAll('"', '""')}"`);
    await expectLinear(
      (size) =>
        HEAD +
        cells
          .map((cell) => `K001,${cell},${cell},${cell},${cell}\n`)
          .join('')
          .repeat(size),
      15,
    );
  });
});

describe('time is linear in the size of the sheet', () => {
  const SHAPES: readonly (readonly [name: string, shape: (size: number) => string])[] = [
    ['headings', (size) => `ID,${'Thing,'.repeat(size)}Hop L\n${ROW}`],
    [
      'headings, all different',
      (size) => `ID,${Array.from({ length: size }, (_, at) => `Hop L ${at}`).join(',')}\n${ROW}`,
    ],
    ['headings and cells', (size) => `ID,${'Hop L,'.repeat(size)}Ht\nK001,${'150,'.repeat(size)}\n`],
    ['blank headings and cells', (size) => `ID,Hop L,${','.repeat(size)}\nK001,150,${'1,'.repeat(size)}\n`],
    ['columns that name the athlete', (size) => `${'ID,'.repeat(size)}Hop L\n${'K001,'.repeat(size)}150\n`],
    ['columns of dates', (size) => `ID,Hop L,${'Date,'.repeat(size)}ID,Hop L\nK001,150\n`],
    ['tables side by side', (size) => `${'ID,Hop L,'.repeat(size)}\n${'K001,150,'.repeat(size)}\n`],
    ['tables side by side, parted', (size) => `${'ID,Hop L,,'.repeat(size)}\n${'K001,150,,'.repeat(size)}\n`],
    [
      'tables side by side, many rows',
      (size) => `${'ID,Hop L,,'.repeat(size)}\n${`${'K001,150,,'.repeat(size)}\n`.repeat(9)}`,
    ],
    ['title lines', (size) => `${'Preseason screening\n'.repeat(size)}${HEAD}${ROW}`],
    ['title lines that speak', (size) => `${'Date: 17 August 2026, Team: Rowing\n'.repeat(size)}${HEAD}${ROW}`],
    ['a title line of cells', (size) => `${'Date: 17 August 2026,'.repeat(size)}\n${HEAD}${ROW}`],
    ['a title line of labels', (size) => `"${'Team: Rowing, '.repeat(size)}"\n${HEAD}${ROW}`],
    ['rows', (size) => HEAD + ROW.repeat(size)],
    ['rows of nobody', (size) => HEAD + ',150,152\n'.repeat(size)],
    ['the headings again', (size) => HEAD + ROW + HEAD.repeat(size)],
    ['other headings', (size) => HEAD + ROW + 'ID,Hop R,Ht\nID,Ht\n'.repeat(size)],
    ['rows like headings', (size) => HEAD + ROW + 'Name,what,else\n'.repeat(size)],
    ['heading lines over two', (size) => HEAD + ROW + 'ID,Hop,,Hip Add\n,L,R,L\n'.repeat(size)],
    ['blocks', (size) => `${HEAD}${ROW}`.replace('BP', 'Pulse').repeat(size) + `ID,Ht\nK001,180\n${HEAD}`.repeat(size)],
    [
      'blocks of many columns',
      (size) => `ID,${'Thing,'.repeat(size)}Hop L\nK001,1\n`.repeat(2) + 'ID,Ht\nK001,180\n'.repeat(size / 10),
    ],
    ['unknown athletes', (size) => HEAD + Array.from({ length: size }, (_, at) => `Q${at},150\n`).join('')],
    [
      'unknown names',
      (size) =>
        HEAD +
        Array.from({ length: size }, (_, at) => `Zed Zeal${'abcdefghij'[at % 10]}${at.toString(36)},150\n`).join(''),
    ],
    ['averages', (size) => HEAD + ROW + 'Average,21,22\n'.repeat(size)],
    ['rows that may be averages', (size) => HEAD + ROW + 'Max,21,22\n'.repeat(size)],
    ['footnotes', (size) => HEAD + ROW + '* measured twice\n'.repeat(size)],
    ['footnotes before each row', (size) => HEAD + `${'* measured twice\n'.repeat(59)}${ROW}`.repeat(size / 60)],
    ['remarks in place of readings', (size) => HEAD + ROW + ',see over,see below\n'.repeat(size)],
    ['page headers', (size) => HEAD + `Page 2 of 3\n${ROW}`.repeat(size)],
    ['team lines', (size) => HEAD + `Rowing\n${ROW}Fencing\n`.repeat(size)],
    ['blank lines', (size) => HEAD + '\n'.repeat(8 * size) + ROW],
    ['ditto marks', (size) => HEAD + ROW + 'do.,150\n-"-,150\n'.repeat(size)],
    [
      'ditto marks side by side',
      (size) => `${'ID,Date,Hop L,,'.repeat(20)}\n${`${'do.,do.,150,,'.repeat(20)}\n`.repeat(size)}`,
    ],
    ['names left blank', (size) => `ID,Trial,Hop L\n${`K001,1,150\n${',2,151\n'.repeat(3)}`.repeat(size)}`],
    ['one athlete and no further name', (size) => `ID,Side,Trial,Hop\nK001,L,1,150\n${',R,2,151\n'.repeat(size)}`],
    [
      'rows a test',
      (size) => `ID,Test,Value\n${Array.from({ length: size }, (_, at) => `K001,thing ${at},150\n`).join('')}`,
    ],
    ['units', (size) => `ID,Hop L,Unit\n${Array.from({ length: size }, (_, at) => `K001,150,unit ${at}\n`).join('')}`],
    [
      'days',
      (size) =>
        `ID,Date,Hop L\n${Array.from({ length: size }, (_, at) => `K001,${at % 28}/${at % 12}/${at},150\n`).join('')}`,
    ],
    ['teams', (size) => `ID,Team,Hop L\n${Array.from({ length: size }, (_, at) => `K001,T${at},150\n`).join('')}`],
    ['lists of trials', (size) => `ID,Hop L\n${'K001,150; 151; 152; 153; 154; 155\n'.repeat(size)}`],
    ['bests beside their trials', (size) => `ID,Hop L 1,Hop L 2,Hop L best\n${'K001,150,151,160\n'.repeat(size)}`],
    ['one row of cells', (size) => `${HEAD}${ROW.trim()}${',1'.repeat(8 * size)}\n`],
    ['one line of cells and nothing else', (size) => '1,'.repeat(8 * size)],
    ['rows of one cell', (size) => 'K001\n'.repeat(4 * size)],
    ['rows of one cell below headings', (size) => HEAD + 'K001\n'.repeat(4 * size)],
    ['a heading line that is long, and rows', (size) => `ID,${'Thing,'.repeat(size)}Hop L\n${'K001,1\n'.repeat(size)}`],
    ['athletes across', (size) => turned(`ID,Hop L,Hop R\n${'K001,150,151\n'.repeat(size)}`)],
    ['tests across', (size) => `ID,K001,K002\n${'Hop L,150,151\n'.repeat(size)}`],
    [
      'different tests across',
      (size) => `ID,K001,K002\n${Array.from({ length: size }, (_, at) => `Thing ${at},1,2\n`).join('')}`,
    ],
    ['tables across', (size) => 'ID,K001,K002\nHop L,150,151\n\n'.repeat(size)],
    ['athletes and tests across', (size) => `ID${',K001'.repeat(size)}\n${`Hop L${',150'.repeat(size)}\n`.repeat(20)}`],
    [
      'titles above athletes across',
      (size) => `${'A title\n'.repeat(50)}ID${',K001'.repeat(size)}\nHop L${',150'.repeat(size)}\n`,
    ],
    ['quotes', (size) => `${HEAD}K001,${'"'.repeat(4 * size)}\n`],
    ['an odd number of quotes', (size) => `${HEAD}K001,${'"'.repeat(4 * size + 1)}\n${ROW}`],
    ['quotes in a cell that is not quoted', (size) => `${HEAD}K001,a${'"'.repeat(4 * size)}\n${ROW}`],
    ['quoted cells', (size) => HEAD + '"K001","150","152"\n'.repeat(size)],
    ['a quote at the start of each line', (size) => HEAD + '"K001,150\n'.repeat(size)],
    ['a quote at the start of each cell', (size) => HEAD + 'K001,"150,"152\n'.repeat(size)],
    ['a quote behind each cell', (size) => HEAD + 'K001,150",152"\n'.repeat(size)],
    ['a quote and a space', (size) => HEAD + 'K001,"150" ,"152" x\n'.repeat(size)],
    ['an open quote in the headings', (size) => `ID,"Hop L\n${'K001,150\n'.repeat(size)}`],
    ['quoted line breaks', (size) => `${HEAD}${'K001,"1\n5"\n'.repeat(size)}`],
    ['one quoted cell of line breaks', (size) => `${HEAD}K001,"${'\n'.repeat(8 * size)}"\n${ROW}`],
    ['carriage returns', (size) => HEAD + 'K001,150\r'.repeat(size)],
    ['semicolons and tabs', (size) => HEAD + 'K001,150;151\t152;,\n'.repeat(size)],
  ];
  it.each(SHAPES)('%s', async (_, shape) => {
    await expectLinear(shape, SIZE, 100);
  });
});
