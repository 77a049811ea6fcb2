import { createHash } from 'node:crypto';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { isFresh } from '../../src/files/freshness.ts';
import { hashInputs, sha256File } from '../../src/files/hash.ts';
import { metadataPath, metadataText, readMetadata } from '../../src/files/metadata.ts';
import { isOurs } from '../../src/files/ownership.ts';
import { failureOf, temporaryFolder } from './helpers.ts';
import { PROVENANCE, READINGS } from './tables.ts';

// FIPS 180-4 example: SHA-256 of "abc".
const ABC = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';

test('the metadata of a table', () => {
  const text = metadataText('results.csv', { sha256: ABC, table: { schema: READINGS, rows: 2 } }, PROVENANCE);
  expect(text.endsWith('}\n')).toBe(true);
  expect(JSON.parse(text)).toEqual({
    '@context': 'http://www.w3.org/ns/csvw',
    url: 'results.csv',
    dialect: { encoding: 'utf-8', header: true, delimiter: ',', quoteChar: '"', lineTerminators: ['\n'] },
    null: '',
    tableSchema: {
      columns: [
        { name: 'athlete_id', titles: 'athlete_id', datatype: 'string', 'dc:description': 'athlete' },
        { name: 'date', titles: 'date', datatype: 'date', 'dc:description': 'day of the reading' },
        { name: 'value', titles: 'value', datatype: 'number', 'dc:description': 'reading in unit' },
        { name: 'raw', titles: 'raw', datatype: 'string', 'dc:description': 'the cell as written' },
      ],
    },
    'bilat:version': '0.1.0',
    'bilat:command': 'bilat run',
    'bilat:inputs': PROVENANCE.inputs,
    'bilat:sha256': ABC,
    'bilat:rows': 2,
  });
});

test('the order in which inputs were read does not show', () => {
  const inputs = ['b.csv', 'B.csv', 'a.csv'].map((path) => ({ path, sha256: ABC }));
  const [one, two] = [inputs, [...inputs].reverse()].map((list) =>
    metadataText('results.csv', { sha256: ABC }, { ...PROVENANCE, inputs: list }),
  );
  expect(one).toBe(two);
});

test('column names are what CSVW allows, titles are the cells of the header', () => {
  // RFC 6570, 2.3: varname = ALPHA / DIGIT / "_" / pct-encoded; a CSVW name does not begin with "_".
  const schema = ['kicking foot', '_x', '=sum', 'a.b-c'].map((name) => ({ name, kind: 'text', title: '' }) as const);
  const { columns } = JSON.parse(
    metadataText('x.csv', { sha256: ABC, table: { schema, rows: 0 } }, PROVENANCE),
  ).tableSchema;
  expect(columns.map(({ name }: { name: string }) => name)).toEqual(['kicking%20foot', '%5Fx', '%3Dsum', 'a%2Eb%2Dc']);
  expect(columns.map(({ titles }: { titles: string }) => titles)).toEqual(['kicking foot', '_x', "'=sum", 'a.b-c']);
});

test('metadata lie beside the file: under its bare name for a table, under its full name otherwise', () => {
  expect(metadataPath('out/results.csv')).toBe('out/results-metadata.json');
  expect(metadataPath('out/results.json')).toBe('out/results.json-metadata.json');
});

test.each([
  ['no JSON', 'no JSON'],
  ['no object', 'null'],
  ['of another tool', '{"@context": "http://www.w3.org/ns/csvw", "url": "results.csv"}'],
  ['of another file', metadataText('findings.csv', { sha256: ABC }, PROVENANCE)],
])('metadata that are not ours: %s', (_, text) => {
  const path = join(temporaryFolder(), 'results.csv');
  writeFileSync(metadataPath(path), text);
  expect(isOurs(path)).toBe(false);
});

describe('SHA-256', () => {
  test('of a file', async () => {
    const path = join(temporaryFolder(), 'abc');
    writeFileSync(path, 'abc');
    expect(await sha256File(path)).toBe(ABC);
  });

  test('of a file of many pieces', async () => {
    const path = join(temporaryFolder(), 'long');
    const bytes = Buffer.alloc(3_000_001, 'xyz');
    writeFileSync(path, bytes);
    expect(await sha256File(path)).toBe(createHash('sha256').update(bytes).digest('hex'));
  });

  test('of a file that is missing', async () => {
    const path = join(temporaryFolder(), 'missing.csv');
    const failure = await failureOf(() => sha256File(path));
    expect([failure.exitCode, failure.message]).toEqual([
      3,
      `${path}: Could not be read: there is no such file or folder`,
    ]);
  });
});

describe('a table is fresh', () => {
  async function written() {
    const folder = temporaryFolder();
    const path = join(folder, 'results.csv');
    mkdirSync(join(folder, 'sheets'));
    writeFileSync(join(folder, 'sheets', 'hip.csv'), 'a,b\n');
    writeFileSync(join(folder, 'protocol.yaml'), 'bilat: 1\n');
    const now = async () => ({
      version: '0.1.0',
      command: 'bilat run',
      inputs: await hashInputs(folder, ['sheets/hip.csv', 'protocol.yaml', 'sheets/hip.csv']),
    });
    writeFileSync(path, 'abc');
    writeFileSync(metadataPath(path), metadataText('results.csv', { sha256: ABC }, await now()));
    return { folder, path, now };
  }

  test('while nothing has changed', async () => {
    const { path, now } = await written();
    const { version, inputs } = await now();
    expect(await isFresh(path, await now())).toBe(true);
    expect(await isFresh(path, { version, inputs: [...inputs].reverse() })).toBe(true);
    expect(readMetadata(path)?.inputs.map((input) => input.path)).toEqual(['protocol.yaml', 'sheets/hip.csv']);
  });

  test('not after an input, the inputs, the version, the command or the table itself changed', async () => {
    const { folder, path, now } = await written();
    const same = await now();
    expect(await isFresh(path, { ...same, version: '0.2.0' })).toBe(false);
    expect(await isFresh(path, { ...same, command: 'bilat derive' })).toBe(false);
    expect(await isFresh(path, { ...same, inputs: same.inputs.slice(1) })).toBe(false);
    expect(await isFresh(path, { ...same, inputs: [...same.inputs, { path: 'roster.csv', sha256: ABC }] })).toBe(false);

    writeFileSync(join(folder, 'sheets', 'hip.csv'), 'a,c\n');
    expect(await isFresh(path, await now())).toBe(false);

    writeFileSync(path, 'abd');
    expect(await isFresh(path, same)).toBe(false);
    rmSync(path);
    expect(await isFresh(path, same)).toBe(false);
    writeFileSync(path, 'abc');
    expect(await isFresh(path, same)).toBe(true);
    rmSync(metadataPath(path));
    expect(await isFresh(path, same)).toBe(false);
  });
});
