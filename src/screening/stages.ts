import { type AthleteBook, type Athletes, athleteBook } from '../athletes/book.ts';
import { troubleText } from '../problems/failure.ts';
import { derive } from '../results/derive.ts';
import { unusedCorrections } from '../sheets/corrections.ts';
import { type IngestEvent, ingest, type SheetSource } from '../sheets/ingest.ts';
import type { IngestBatch } from '../sheets/sheet_tables.ts';
import { ingestWorld } from '../sheets/world.ts';
import type { Observations, Rejects, Results } from '../tables/schemas.ts';
import { Notes } from './notes.ts';
import { SeasonsOfSheets } from './seasons_of_sheets.ts';
import type { Setup } from './setup.ts';

/** An ingest under way: its batches can be taken once; athletes are known when the last one is taken. */
export interface Ingestion {
  readonly batches: AsyncIterable<IngestBatch>;
  readonly notes: Notes;
  athletes(): Athletes;
}

/**
 * Reads sheets with all that the folder knows.
 * @param watch told how each sheet is read
 */
export function startIngest(
  setup: Setup,
  sheets: readonly SheetSource[],
  watch?: (event: IngestEvent) => void,
): Ingestion {
  const { protocol, screening, roster } = setup;
  const notes = new Notes();
  const world = ingestWorld(protocol, {
    roster,
    people: screening.people,
    unlisted: screening.unlisted,
    seasonStarts: screening.seasonStarts,
    teamAliases: screening.teamAliases,
    showNames: setup.showNames,
    history: setup.history,
    note: (text, kind) => notes.add(text, kind),
  });
  for (const { file, entry } of sheets) {
    if (entry.nameProblem !== undefined) notes.add(`${file}: ${entry.nameProblem}`);
  }
  const seasons = new SeasonsOfSheets();
  async function* batches(): AsyncGenerator<IngestBatch> {
    for await (const batch of ingest(sheets, protocol, world, setup.corrections, watch)) {
      for (const { file, cells, measured, not_measured, rejected } of batch.ledger.rows()) {
        if (cells! > 0 && measured! + not_measured! + rejected! === 0) notes.add(`${file}: holds no reading`);
      }
      seasons.add(batch.observations);
      yield batch;
    }
    for (const note of seasons.notes()) notes.add(note);
    const files = new Set(sheets.map((sheet) => sheet.file));
    for (const trouble of unusedCorrections(setup.corrections, files, setup.directory.names))
      notes.add(troubleText(trouble));
  }
  return { batches: batches(), notes, athletes: () => world.gatherer.table(protocol) };
}

/** Sentences on the sheets of which nothing could be read. */
export function* unreadSheets(rejects: Rejects): Generator<string> {
  for (const { file, line, message, suggestion } of rejects.rows()) {
    if (line === null) yield `${file}: ${message} ${suggestion}`;
  }
}

/** A book that is written while observations still arrive, and is read only after the last. */
function lateBook(setup: Setup, athletes: () => Athletes): AthleteBook {
  let book: AthleteBook | undefined;
  return {
    find(athleteId, season) {
      book ??= athleteBook(athletes(), setup.protocol);
      return book.find(athleteId, season);
    },
  };
}

/** Works out results from observations as they arrive. */
export async function deriveFrom(
  setup: Setup,
  observations: AsyncIterable<Observations>,
  athletes: () => Athletes,
): Promise<{ results: Results; book: AthleteBook }> {
  const book = lateBook(setup, athletes);
  const results = await derive(observations, book, setup.protocol, {
    occasionDays: setup.screening.occasionDays,
    injuryDays: setup.injuryDays,
  });
  return { results, book };
}
