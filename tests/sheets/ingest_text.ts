import { readRoster } from '../../src/athletes/roster.ts';
import { troubleText } from '../../src/problems/failure.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { type Corrections, confirmedCells, readCorrections, unusedCorrections } from '../../src/sheets/corrections.ts';
import type { ColumnEntry, SheetEntry } from '../../src/sheets/entry.ts';
import { ingest, type SheetSource } from '../../src/sheets/ingest.ts';
import { ingestWorld, type WorldOptions } from '../../src/sheets/world.ts';
import type { ATHLETES, IGNORED, LEDGER, OBSERVATIONS, REJECTS } from '../../src/tables/schemas.ts';
import type { RowOf } from '../../src/tables/table.ts';
import { BATTERY } from './battery.ts';

export type Observation = RowOf<typeof OBSERVATIONS>;
export type Reject = RowOf<typeof REJECTS>;

export interface Ingested {
  readonly observations: readonly Observation[];
  readonly rejects: readonly Reject[];
  readonly ignored: readonly RowOf<typeof IGNORED>[];
  readonly ledger: readonly RowOf<typeof LEDGER>[];
  readonly athletes: readonly RowOf<typeof ATHLETES>[];
  readonly notes: readonly string[];
  /** cells that corrections confirmed, as file, line and column on a line each */
  readonly confirmed: readonly string[];
}

/** An entry of `sheets:` with plain objects for its maps. */
export type EntryGiven = Partial<Omit<SheetEntry, 'units' | 'columns'>> & {
  readonly units?: Readonly<Record<string, string>>;
  readonly columns?: Readonly<Record<string, ColumnEntry | 'ignore'>>;
};

export interface SheetGiven {
  readonly file: string;
  readonly content: string | Uint8Array;
  readonly entry?: EntryGiven;
}

export interface IngestGiven extends Omit<WorldOptions, 'roster' | 'note'> {
  /** YAML; default the battery of the tests */
  readonly protocol?: string;
  readonly entry?: EntryGiven;
  /** CSV; default: no roster */
  readonly roster?: string;
  /** CSV */
  readonly corrections?: string;
  /** bytes that arrive at once */
  readonly piece?: number;
}

const protocols = new Map<string, Protocol>();

export function protocolOf(text: string = BATTERY): Protocol {
  let protocol = protocols.get(text);
  if (protocol === undefined) {
    protocol = loadProtocol(text, 'protocol.yaml');
    protocols.set(text, protocol);
  }
  return protocol;
}

export function entryOf(given: EntryGiven = {}): SheetEntry {
  const columns = Object.entries(given.columns ?? {}).map(
    ([heading, said]) => [heading.trim().toLowerCase(), said === 'ignore' ? { role: said } : said] as const,
  );
  return {
    files: [],
    purpose: 'test',
    ...given,
    units: new Map(Object.entries(given.units ?? {})),
    columns: new Map(columns),
  };
}

function* inPieces(bytes: Uint8Array, size: number): Generator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

/** Reads sheets given as text or bytes, as `bilat ingest` would read the files. */
export async function ingestSheets(sheets: readonly SheetGiven[], given: IngestGiven = {}): Promise<Ingested> {
  const { protocol: text, entry, roster: rosterText, corrections: correctionsText, piece = 65_536, ...options } = given;
  const protocol = protocolOf(text);
  const notes: string[] = [];
  const roster =
    rosterText === undefined
      ? undefined
      : readRoster(rosterText, { file: 'roster.csv', columns: new Map() }, protocol.dominanceColumns, new Map());
  let corrections: Corrections = new Map();
  if (correctionsText !== undefined) {
    const read = readCorrections(correctionsText, { file: 'corrections.csv', columns: new Map() });
    corrections = read.corrections;
    notes.push(...read.warnings.map(troubleText));
  }
  const world = ingestWorld(protocol, { ...options, roster, note: (note) => notes.push(note) });
  const sources = sheets.map(({ file, content, entry: own }): SheetSource => {
    const bytes = typeof content === 'string' ? Buffer.from(content) : content;
    return { file, entry: entryOf({ ...entry, ...own }), open: () => inPieces(bytes, piece) };
  });
  const found = { observations: [], rejects: [], ignored: [], ledger: [] } as {
    observations: Observation[];
    rejects: Reject[];
    ignored: RowOf<typeof IGNORED>[];
    ledger: RowOf<typeof LEDGER>[];
  };
  for await (const batch of ingest(sources, protocol, world, corrections)) {
    found.observations.push(...batch.observations.rows());
    found.rejects.push(...batch.rejects.rows());
    found.ignored.push(...batch.ignored.rows());
    found.ledger.push(...batch.ledger.rows());
  }
  const files = new Set(sheets.map(({ file }) => file));
  notes.push(...unusedCorrections(corrections, files).map(troubleText));
  const confirmed = [...confirmedCells(corrections)];
  return { ...found, athletes: [...world.gatherer.table(protocol).rows()], notes, confirmed };
}

/** Reads one sheet. */
export function ingestText(content: string | Uint8Array, given: IngestGiven = {}): Promise<Ingested> {
  return ingestSheets([{ file: 'sheet.csv', content }], given);
}

/** Reading in few words: `hip_add left 1 = 24 pain`. */
export function shortOf({ measure, side, trial, value, status }: Observation): string {
  const where = [measure, side === 'none' ? undefined : side, trial].filter((part) => part !== undefined).join(' ');
  const said = status === 'measured' ? '' : ` ${status}`;
  return value === null ? `${where}${said}` : `${where} = ${Number(value.toPrecision(9))}${said}`;
}

export const shorts = (ingested: Ingested): string[] => ingested.observations.map(shortOf);

/** `code @line:column`, in the order of the table. */
export const codes = (ingested: Ingested): string[] =>
  ingested.rejects.map(({ code, line, column }) => `${code} @${line ?? '-'}:${column ?? '-'}`);
