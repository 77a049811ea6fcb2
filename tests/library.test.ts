import path from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  athleteBook,
  csvText,
  derive,
  Failure,
  type Findings,
  flag,
  ingest,
  ingestWorld,
  loadProtocol,
  OBSERVATIONS,
  type Observations,
  readTable,
  type SheetEntry,
} from '../src/index.ts';
import { bash, ROOT, tempFolder } from './cases/bilat.ts';
import { PROTOCOL, SHEET } from './cases/small.ts';

const ENTRY: SheetEntry = { files: [], purpose: 'test', units: new Map(), columns: new Map() };
const protocol = loadProtocol(PROTOCOL, 'protocol.yaml');

/** The stages one after the other, as the page of the library shows them. */
async function judged(text: string, seen: Observations[] = []): Promise<Findings> {
  const world = ingestWorld(protocol, { unlisted: 'keep' });
  const sheet = { file: 'a.csv', entry: ENTRY, open: () => [Buffer.from(text)] };
  for await (const { observations } of ingest([sheet], protocol, world, new Map())) seen.push(observations);
  const athletes = athleteBook(world.gatherer.table(protocol), protocol);
  return flag(await derive(seen, athletes, protocol, { occasionDays: 14 }), athletes, protocol);
}

describe('the stages as a library', () => {
  test('from the text of a sheet to its findings', async () => {
    const rows = [...(await judged(SHEET)).rows()];
    // 40 and 50: 100 (50 - 40) / 50 = 20 %, worked out by hand; A3 is in pain, and unable on the other side.
    expect(rows.map(({ athlete_id, rule, value, grade }) => [athlete_id, rule, value, grade])).toEqual([
      ['A1', 'grip_deficit', 20, 'watch'],
      ['A3', 'pain', null, 'refer'],
      ['A3', 'unable', null, 'act'],
      ['A3', 'one_side', null, 'watch'],
    ]);
  });

  test('a table comes back from its CSV as it was', async () => {
    const seen: Observations[] = [];
    await judged(SHEET, seen);
    const text = seen
      .filter(({ length }) => length > 0)
      .flatMap((part) => [...csvText(part)])
      .join('');
    const back = [];
    for await (const part of readTable(OBSERVATIONS, 'o.csv', [Buffer.from(text)])) back.push(...part.rows());
    expect(back).toEqual(seen.flatMap((part) => [...part.rows()]));
  });

  test('no athlete and no reading is no failure', async () => {
    for (const text of ['', 'ID,Date,Grip L (kg),Grip R (kg)\n', 'nothing like a sheet\n']) {
      expect((await judged(text)).length).toBe(0);
    }
  });

  test('what is wrong with a protocol is thrown, every slip with its place', () => {
    const slips = PROTOCOL.replace('unit: kgf', 'unit: kfg').replace('measure: grip,', 'measure: grap,');
    try {
      loadProtocol(slips, 'p.yaml');
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(Failure);
      const { exitCode, troubles } = error as Failure;
      expect(exitCode).toBe(2);
      expect(troubles.map(({ file, line }) => [file, line])).toEqual([
        ['p.yaml', 4],
        ['p.yaml', 7],
      ]);
    }
  });
});

test('its types compile where it is used, strictly', () => {
  const user = `import { derive, flag, ingest, ingestWorld, loadProtocol, athleteBook, type Findings } from 'bilat';
const protocol = loadProtocol('bilat: 1', 'protocol.yaml');
const world = ingestWorld(protocol);
const sheet = { file: 'a.csv', entry: { files: [], purpose: 'test', units: new Map(), columns: new Map() }, open: () => [new Uint8Array()] } as const;
const parts = [];
for await (const { observations } of ingest([sheet], protocol, world, new Map())) parts.push(observations);
const athletes = athleteBook(world.gatherer.table(protocol), protocol);
const findings: Findings = flag(await derive(parts, athletes, protocol, { occasionDays: 14 }), athletes, protocol);
for (const row of findings.rows()) {
  const value: number | null = row.value;
  const id: string | null = row.athlete_id;
  // @ts-expect-error: no such column
  console.log(value, id, row.nothing);
}
`;
  const folder = tempFolder({
    'user.ts': user,
    'package.json': '{"type": "module"}',
    'tsconfig.json': JSON.stringify({
      compilerOptions: {
        strict: true,
        module: 'NodeNext',
        target: 'ES2023',
        lib: ['ES2023', 'DOM'],
        types: [],
        noEmit: true,
      },
    }),
    'node_modules/bilat/package.json': JSON.stringify({
      type: 'module',
      exports: { '.': { types: './types/index.d.ts' } },
    }),
  });
  const tsc = path.join(ROOT, 'node_modules/.bin/tsc');
  const emit = `"${tsc}" -p "${ROOT}/tsconfig.json" --noEmit false --emitDeclarationOnly --declaration --outDir node_modules/bilat/types`;
  expect(bash(emit, { cwd: folder })).toEqual({ code: 0, stdout: '', stderr: '' });
  expect(bash(`"${tsc}" -p .`, { cwd: folder })).toEqual({ code: 0, stdout: '', stderr: '' });
});
