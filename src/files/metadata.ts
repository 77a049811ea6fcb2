import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { guarded } from '../tables/csv_text.ts';
import type { ColumnSpec, Schema } from '../tables/table.ts';
import type { Input } from './hash.ts';

/** How a file came to be. */
export interface Provenance {
  /** version of bilat */
  readonly version: string;
  /** the command, without paths of this machine */
  readonly command: string;
  readonly inputs: readonly Input[];
}

/** What is said about one file. */
export interface Described {
  /** SHA-256 of the file's own bytes, in hexadecimal digits */
  readonly sha256: string;
  /** columns and number of rows, if the file is a table */
  readonly table?: { readonly schema: Schema; readonly rows: number };
}

export interface Metadata extends Provenance {
  /** name of the file that it describes */
  readonly url: string;
  readonly sha256: string;
  readonly rows?: number;
}

/** Where the metadata of a file lie: `results-metadata.json` for results.csv, the full name in it for other formats. */
export function metadataPath(path: string): string {
  return `${path.replace(/\.csv$/i, '')}-metadata.json`;
}

/** Variable names of RFC 6570, which CSVW asks for: letters, digits and `_`, anything else as %XX. */
function columnName(name: string): string {
  return encodeURIComponent(name).replace(
    /[-.!~*'()]|^_/g,
    (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`,
  );
}

const DATATYPES = { text: 'string', string: 'string', number: 'number', date: 'date' } as const;

function columnDescription({ name, kind, title }: ColumnSpec): object {
  return { name: columnName(name), titles: guarded(name), datatype: DATATYPES[kind], 'dc:description': title };
}

/** RFC 4180 as the tables are written: CSVW's own defaults but for the line end. */
const DIALECT = { encoding: 'utf-8', header: true, delimiter: ',', quoteChar: '"', lineTerminators: ['\n'] };

function byPath(a: Input, b: Input): number {
  return a.path < b.path ? -1 : a.path > b.path ? 1 : 0;
}

/**
 * Metadata of a file as JSON text: Metadata Vocabulary for Tabular Data (W3C Recommendation 2015-12-17), with the
 * provenance in `bilat:` properties. No clock and a fixed order of keys: the same file gives the same bytes.
 *
 * @param url name of the file, in the same folder
 */
export function metadataText(url: string, { sha256, table }: Described, provenance: Provenance): string {
  const columns = table?.schema.filter((column) => !column.internal).map(columnDescription);
  const metadata = {
    '@context': 'http://www.w3.org/ns/csvw',
    url,
    ...(columns && { dialect: DIALECT, null: '', tableSchema: { columns } }),
    'bilat:version': provenance.version,
    'bilat:command': provenance.command,
    'bilat:inputs': provenance.inputs.map(({ path, sha256 }) => ({ path, sha256 })).sort(byPath),
    'bilat:sha256': sha256,
    ...(table && { 'bilat:rows': table.rows }),
  };
  return `${JSON.stringify(metadata, null, 2)}\n`;
}

function isInput(value: unknown): value is Input {
  const { path, sha256 } = (value ?? {}) as Partial<Input>;
  return typeof path === 'string' && typeof sha256 === 'string';
}

/** The metadata beside a file, or undefined if there are none that bilat wrote for a file of this name. */
export function readMetadata(path: string): Metadata | undefined {
  let json: unknown;
  try {
    json = JSON.parse(readFileSync(metadataPath(path), 'utf8'));
  } catch {
    return undefined;
  }
  const found = (json ?? {}) as Record<string, unknown>;
  const { url, 'bilat:version': version, 'bilat:command': command, 'bilat:inputs': inputs } = found;
  const { 'bilat:sha256': sha256, 'bilat:rows': rows } = found;
  if (url !== basename(path) || typeof version !== 'string' || typeof command !== 'string') return undefined;
  if (typeof sha256 !== 'string' || !Array.isArray(inputs) || !inputs.every(isInput)) return undefined;
  return { url, version, command, inputs, sha256, rows: typeof rows === 'number' ? rows : undefined };
}
