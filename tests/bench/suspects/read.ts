import { type AthleteGatherer, athleteBook } from '../../../src/athletes/book.ts';
import { readRoster } from '../../../src/athletes/roster.ts';
import { entrySuspects } from '../../../src/findings/suspects/entry_suspects.ts';
import { Readings } from '../../../src/findings/suspects/readings.ts';
import type { Suspect } from '../../../src/findings/suspects/types.ts';
import { loadProtocol } from '../../../src/protocol/load.ts';
import { ingest } from '../../../src/sheets/ingest.ts';
import { ingestWorld } from '../../../src/sheets/world.ts';
import { REJECTS, type Rejects } from '../../../src/tables/schemas.ts';
import { Table } from '../../../src/tables/table.ts';
import { type College, PROTOCOL, sheetText } from './college.ts';

export interface Checked {
  readonly readings: Readings;
  readonly rejects: Rejects;
  readonly suspects: readonly Suspect[];
}

/** Where a cell stands, as an editor counts. */
export const cellKey = (file: string, line: number, column: number): string => `${file}:${line}:${column}`;

const entryOf = () => ({ files: [], purpose: 'test' as const, units: new Map(), columns: new Map() });

/** Reads the sheets as `bilat` does, and looks for entry errors in them. */
export async function check(college: College, confirmed: ReadonlySet<string> = new Set()): Promise<Checked> {
  const protocol = loadProtocol(PROTOCOL, 'protocol.yaml');
  const roster = readRoster(college.roster, { file: 'roster.csv', columns: new Map() }, [], new Map());
  const world = ingestWorld(protocol, { roster });
  const encoder = new TextEncoder();
  const sheets = college.sheets.map((sheet) => ({
    file: sheet.file,
    entry: entryOf(),
    open: () => [encoder.encode(sheetText(sheet))],
  }));
  const readings = new Readings(protocol);
  const rejects: Rejects = new Table(REJECTS);
  for await (const batch of ingest(sheets, protocol, world, new Map())) {
    readings.add(batch.observations);
    rejects.append(batch.rejects);
  }
  const gatherer: AthleteGatherer = world.gatherer;
  const book = athleteBook(gatherer.table(protocol), protocol);
  const suspects = entrySuspects(readings, rejects, { book, confirmed });
  return { readings, rejects, suspects };
}

/** The cells that a suspect speaks of. */
export function cellsOf({ readings, rejects }: Checked, { covers, reject, extent }: Suspect): string[] {
  const ofReading = (at: number): string =>
    cellKey(readings.files.get(readings.file[at]) ?? '', readings.line[at], readings.column[at]);
  if (reject >= 0) {
    const { file, line, column } = rejects.columns;
    const keyOf = (row: number): string => cellKey(file.get(row) ?? '', line.values[row], column.values[row]);
    if (extent === 'reading') return [keyOf(reject), ...covers.map(ofReading)];
    const isOfColumn = (row: number): boolean =>
      file.get(row) === file.get(reject) && column.values[row] === column.values[reject];
    return Array.from({ length: rejects.length }, (_, row) => row)
      .filter(isOfColumn)
      .map(keyOf);
  }
  return covers.map(ofReading);
}
