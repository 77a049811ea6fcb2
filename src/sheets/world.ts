import { AthleteGatherer } from '../athletes/book.ts';
import { AthleteDirectory } from '../athletes/directory.ts';
import type { Roster } from '../athletes/roster.ts';
import { type InvolvedSides, NO_HISTORY } from '../outcomes/history.ts';
import type { Protocol } from '../protocol/types.ts';
import type { IngestWorld } from './row_context.ts';
import { observationDictionaries } from './sheet_tables.ts';

/** What ingest knows beside sheets and protocol; everything has a default. */
export interface WorldOptions {
  readonly roster?: Roster;
  /** nickname or misspelling → athlete_id */
  readonly people?: ReadonlyMap<string, string>;
  readonly unlisted?: 'reject' | 'keep';
  /** "MM-DD" */
  readonly seasonStarts?: string;
  /** alias, folded → team name */
  readonly teamAliases?: ReadonlyMap<string, string>;
  /** sides that were injured or operated on, for sheets that name sides by that */
  readonly history?: InvolvedSides;
  /** whether names may stand in outputs */
  readonly showNames?: boolean;
  readonly note?: IngestWorld['note'];
}

/** The surroundings of one ingest; its gatherer knows the athletes when the last batch is taken. */
export function ingestWorld(protocol: Protocol, options: WorldOptions = {}): IngestWorld {
  const { roster, people = new Map(), unlisted = 'reject', showNames = false } = options;
  return {
    directory: new AthleteDirectory(roster, people, unlisted, showNames),
    gatherer: new AthleteGatherer(roster),
    dictionaries: observationDictionaries(protocol),
    seasonStarts: options.seasonStarts ?? '07-01',
    teamAliases: options.teamAliases ?? new Map(),
    dominanceColumns: protocol.dominanceColumns,
    showNames,
    history: options.history ?? NO_HISTORY,
    hasRoster: roster !== undefined,
    note: options.note ?? (() => {}),
  };
}
