import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const SRC = fileURLToPath(new URL('../src', import.meta.url));

/** From the ground up. Rooms of one floor may import each other, but never round in a circle; on the ground they do not. */
const FLOORS = [
  ['units', 'stats', 'problems'],
  ['tables'],
  ['protocol'],
  ['athletes', 'sheets', 'results', 'findings', 'files', 'outcomes'],
  ['groups'],
  ['screening', 'explain'],
  ['cli'],
] as const;

/** Packages that only some files may import; all others are free. */
const KEPT: Readonly<Record<string, RegExp>> = {
  papaparse: /^tables\/csv_rows\.ts$/,
  'simple-statistics': /^stats\/simple\.ts$/,
  yaml: /^protocol\//,
  zod: /^(protocol\/|screening\/config)/,
  chalk: /^cli\/render\//,
  'cli-table3': /^cli\/render\//,
  'wrap-ansi': /^cli\/render\//,
  'string-width': /^cli\/render\//,
  commander: /^cli\//,
};

/** Floors whose stages are pure: neither file system nor stream, process or console. */
const PURE = [
  'units',
  'stats',
  'problems',
  'tables',
  'protocol',
  'athletes',
  'sheets',
  'results',
  'findings',
  'outcomes',
  'groups',
  'explain',
];

const FILES = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .map((file) => file.replaceAll(path.sep, '/'))
  .filter((file) => file.endsWith('.ts'))
  .sort();
const TEXTS = new Map(FILES.map((file) => [file, readFileSync(path.join(SRC, file), 'utf8')]));

interface Import {
  readonly from: string;
  /** a file of ours by its path in src, or a package */
  readonly to: string;
  readonly ours: boolean;
}

/** Imports and re-exports of a file, those at run time and those of types alone. */
function importsOf(from: string): Import[] {
  const specifiers = TEXTS.get(from)!.matchAll(/\b(?:from|import)\s*\(?\s*'([^']+)'/g);
  return [...specifiers].map(([, specifier]) => {
    const ours = specifier.startsWith('.');
    return { from, to: ours ? path.posix.join(path.posix.dirname(from), specifier) : specifier, ours };
  });
}

const IMPORTS = FILES.flatMap(importsOf);
const roomOf = (file: string): string => file.split('/')[0];
const floorOf = (room: string): number => FLOORS.findIndex((rooms) => (rooms as readonly string[]).includes(room));
const BETWEEN_ROOMS = IMPORTS.filter(({ from, to, ours }) => ours && from.includes('/') && roomOf(from) !== roomOf(to));
const shown = ({ from, to }: Import): string => `${from} imports ${to}`;

test('every folder of src has its floor', () => {
  const rooms = new Set(FILES.filter((file) => file.includes('/')).map(roomOf));
  expect([...rooms].sort()).toEqual(FLOORS.flat().sort());
  expect(FILES.filter((file) => !file.includes('/'))).toEqual(['index.ts', 'text_files.d.ts', 'version.d.ts']);
});

test('imports of ours are there, end in .ts and are found by the guard', () => {
  const ours = IMPORTS.filter((one) => one.ours);
  expect(ours.length).toBeGreaterThan(FILES.length);
  const isText = (to: string): boolean => /\.(yaml|csv|md)$/.test(to) && existsSync(path.join(SRC, to));
  expect(ours.filter(({ to }) => !TEXTS.has(to) && !isText(to)).map(shown)).toEqual([]);
});

test('the ground floor imports nothing of ours, all others nothing from above', () => {
  const wrong = BETWEEN_ROOMS.filter(({ from, to }) => {
    const [floor, other] = [floorOf(roomOf(from)), floorOf(roomOf(to))];
    return other > floor || floor === 0;
  });
  expect(wrong.map(shown)).toEqual([]);
});

test('the library exports stages, and nothing of the folder or the command line', () => {
  const rooms = new Set(importsOf('index.ts').map(({ to }) => roomOf(to)));
  for (const room of ['cli', 'screening', 'files']) expect(rooms).not.toContain(room);
});

/** Ways that lead from a name back to it. */
function circles(ways: readonly (readonly [string, string])[]): string[] {
  const done = new Set<string>();
  const found: string[] = [];
  const visit = (name: string, trail: readonly string[]): void => {
    if (trail.includes(name)) found.push([...trail.slice(trail.indexOf(name)), name].join(' > '));
    else if (!done.has(name)) for (const [from, to] of ways) if (from === name) visit(to, [...trail, name]);
    done.add(name);
  };
  for (const [from] of ways) visit(from, []);
  return found;
}

test('no imports go round in a circle, neither of files nor of folders', () => {
  expect(circles(IMPORTS.filter(({ ours }) => ours).map(({ from, to }) => [from, to]))).toEqual([]);
  expect(circles(BETWEEN_ROOMS.map(({ from, to }) => [roomOf(from), roomOf(to)]))).toEqual([]);
  expect(
    circles([
      ['a', 'b'],
      ['b', 'c'],
      ['c', 'b'],
    ]),
  ).toEqual(['b > c > b']);
});

test.each(Object.entries(KEPT))('%s is imported only where it belongs', (name, where) => {
  const importers = new Set(IMPORTS.filter(({ to }) => to === name).map(({ from }) => from));
  expect(importers.size).toBeGreaterThan(0);
  expect([...importers].filter((file) => !where.test(file))).toEqual([]);
});

describe('pure stages', () => {
  const files = FILES.filter((file) => PURE.includes(roomOf(file)));

  test('import nothing of the system', () => {
    const wrong = IMPORTS.filter(({ from, to }) => files.includes(from) && /^node:(?!buffer$)/.test(to));
    expect(wrong.map(shown)).toEqual([]);
  });

  test('touch neither console nor process, and ask no clock', () => {
    const wrong = files.filter((file) =>
      /\bconsole\.|\bprocess\.|\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b/.test(TEXTS.get(file)!),
    );
    expect(wrong).toEqual([]);
  });
});

test('nothing depends on the locale of the machine', () => {
  const wrong = FILES.filter((file) => /toLocale|localeCompare|\bIntl\./.test(TEXTS.get(file)!));
  expect(wrong).toEqual([]);
});
