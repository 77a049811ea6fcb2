import { readRoster } from '../../src/athletes/roster.ts';
import { loadScreening, resolveScreening } from '../../src/screening/config.ts';
import { columnsYaml } from '../../src/screening/scan_columns.ts';
import type { SheetEntry } from '../../src/sheets/entry.ts';
import { ingest, type SheetSource } from '../../src/sheets/ingest.ts';
import type { IngestWorld } from '../../src/sheets/row_context.ts';
import { type SheetScan, scan } from '../../src/sheets/scan.ts';
import { ingestWorld } from '../../src/sheets/world.ts';
import { ROSTER } from '../sheets/battery.ts';
import { type EntryGiven, entryOf, type Observation, protocolOf } from '../sheets/ingest_text.ts';

export interface Given {
  readonly file?: string;
  readonly entry?: EntryGiven;
  readonly showNames?: boolean;
  /** bytes that arrive at once */
  readonly piece?: number;
}

function worldOf(showNames: boolean): IngestWorld {
  const spec = { file: 'roster.csv', columns: new Map() };
  const roster = readRoster(ROSTER, spec, protocolOf().dominanceColumns, new Map());
  return ingestWorld(protocolOf(), { roster, unlisted: 'keep', showNames });
}

function source(content: string | Uint8Array, file: string, entry: SheetEntry, piece = 65_536): SheetSource {
  const bytes = typeof content === 'string' ? Buffer.from(content) : content;
  return {
    file,
    entry,
    *open() {
      for (let at = 0; at < bytes.length; at += piece) yield bytes.subarray(at, at + piece);
    },
  };
}

/** Scans one sheet with the battery and the roster of the tests. */
export async function scanned(content: string | Uint8Array, given: Given = {}): Promise<SheetScan> {
  const { file = 'sheets/sheet.csv', entry, showNames = false, piece } = given;
  const sheet = source(content, file, entryOf(entry), piece);
  for await (const found of scan([sheet], protocolOf(), worldOf(showNames), new Map())) return found;
  throw new Error('no scan');
}

async function observationsOf(content: string | Uint8Array, entry: SheetEntry): Promise<Observation[]> {
  const found: Observation[] = [];
  const sheet = source(content, 'sheets/sheet.csv', entry);
  for await (const batch of ingest([sheet], protocolOf(), worldOf(false), new Map())) {
    found.push(...batch.observations.rows());
  }
  return found.map((row) => ({ ...row, unit_from: null }));
}

/** A sheet read by itself, and as `--columns` says it; the YAML has gone through the loader. */
export async function thereAndBack(
  content: string | Uint8Array,
  given: Given = {},
): Promise<{ before: readonly Observation[]; after: readonly Observation[]; yaml: string; entry: SheetEntry }> {
  const before = entryOf(given.entry);
  const yaml = columnsYaml([{ scan: await scanned(content, given), entry: before }]);
  const loaded = loadScreening(yaml, 'screening.yaml', '/folder', new Set());
  const [entry] = resolveScreening(loaded, protocolOf(), yaml, 'screening.yaml').sheets;
  return {
    before: await observationsOf(content, before),
    after: await observationsOf(content, entry),
    yaml,
    entry,
  };
}
