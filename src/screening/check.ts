import { existsSync } from 'node:fs';
import path from 'node:path';
import { AthleteDirectory, rosterNames } from '../athletes/directory.ts';
import { emptyRoster, type Roster, readRoster } from '../athletes/roster.ts';
import { NameWords } from '../athletes/shown_cells.ts';
import { Failure, type Trouble } from '../problems/failure.ts';
import { type Problem, problemOf, problemsOf, sortedProblems } from '../problems/problem.ts';
import { loadProtocol } from '../protocol/load.ts';
import type { Protocol } from '../protocol/types.ts';
import type { CheckPlace } from './check_place.ts';
import { checkSideFiles } from './check_side_files.ts';
import { checkEntries } from './checks/entries.ts';
import { checkNamesInSettings } from './checks/names_in_settings.ts';
import { checkProtocol } from './checks/protocol.ts';
import { checkRoster } from './checks/roster.ts';
import { nameableTeams, teamsOf } from './checks/roster_teams.ts';
import { checkRuleTeams, checkTeams } from './checks/teams.ts';
import { type YamlPlaces, yamlPlaces } from './checks/yaml_places.ts';
import { defaultScreening, loadScreening, resolveScreening } from './config.ts';
import { holdsFile, SETTINGS_FILE, usualSideFiles } from './folder_place.ts';
import { foundFiles } from './found_files.ts';
import { shownPath } from './sources.ts';
import { readTextFile } from './text_file.ts';
import type { Screening } from './types.ts';
import { listsAsWorkbooks } from './workbooks.ts';

/** Everything that was found, and what was read for it. */
export interface CheckReport {
  /** worst first, then by file, line and column */
  readonly problems: readonly Problem[];
  /** files read, relative to the base of the place */
  readonly inputs: readonly string[];
  /** whether the folder was looked at, not a protocol alone */
  readonly hasFolder: boolean;
  /** whether a file that is there could not be read at all */
  readonly couldNotRun: boolean;
}

/** Notes of a side file as a whole. */
const FILE_NOTES: readonly (readonly [RegExp, string])[] = [
  [/^columns? "/, 'column_not_used'],
  [/^lines? \d.* above the headings/, 'lines_left_aside'],
];

/** Reads one file after the other; what is wrong with one does not keep the others from being read. */
export class Reader {
  readonly problems: Problem[] = [];
  readonly inputs: string[] = [];
  couldNotRun = false;
  readonly #base: string;

  constructor(base: string) {
    this.#base = base;
  }

  shown(file: string): string {
    return shownPath(this.#base, path.resolve(this.#base, file));
  }

  /** The text of a file; undefined, and an error, if it cannot be read. */
  async text(file: string, what: string): Promise<string | undefined> {
    try {
      const text = await readTextFile(this.#base, file, what);
      this.inputs.push(this.shown(file));
      return text;
    } catch (error) {
      return this.#failed(error, 'file_unreadable', file);
    }
  }

  /** What an action makes; undefined, and every trouble as an error, if it fails. */
  attempt<T>(code: string, file: string, action: () => T): T | undefined {
    try {
      return action();
    } catch (error) {
      return this.#failed(error, code, file);
    }
  }

  /** What a reader of a side file has to say: of a cell a warning, of the whole file a note. */
  told(code: string, warnings: readonly Trouble[], file: string): void {
    for (const trouble of warnings) {
      const isCell = trouble.line !== undefined;
      const ofFile = FILE_NOTES.find(([pattern]) => pattern.test(trouble.message))?.[1] ?? 'file_incomplete';
      this.problems.push(problemOf(isCell ? 'warning' : 'note', isCell ? code : ofFile, trouble, file));
    }
  }

  #failed(error: unknown, code: string, file: string): undefined {
    if (!(error instanceof Failure)) throw error;
    if (error.exitCode === 3) this.couldNotRun = true;
    this.problems.push(...problemsOf(code, error, this.shown(file)));
    return undefined;
  }
}

/** Reads over a protocol alone, or a whole screening folder: every problem of every file, sheets aside. */
export async function checkAll(place: CheckPlace): Promise<CheckReport> {
  const reader = new Reader(place.base);
  if (place.hasFolder) await checkFolder(place, reader);
  else await checkAlone(place, reader);
  return {
    problems: sortedProblems(reader.problems),
    inputs: reader.inputs,
    hasFolder: place.hasFolder,
    couldNotRun: reader.couldNotRun,
  };
}

interface ReadProtocol {
  readonly protocol: Protocol;
  readonly places: YamlPlaces;
}

async function readProtocol(file: string, reader: Reader): Promise<ReadProtocol | undefined> {
  const text = await reader.text(file, 'protocol');
  if (text === undefined) return undefined;
  const shown = reader.shown(file);
  const read = reader.attempt('protocol_refused', file, () => ({
    protocol: loadProtocol(text, shown),
    places: yamlPlaces(text, shown),
  }));
  if (read) reader.problems.push(...checkProtocol(read.protocol, read.places));
  return read;
}

async function checkAlone({ protocol, roster }: CheckPlace, reader: Reader): Promise<void> {
  const read = await readProtocol(protocol!, reader);
  if (roster === undefined) return;
  const settings = { teamAliases: new Map<string, string>() };
  await checkRosterFile({ key: 'roster', file: roster, columns: new Map() }, settings, read, reader);
}

async function checkFolder(place: CheckPlace, reader: Reader): Promise<void> {
  const { base } = place;
  const present = usualSideFiles(base);
  const hasSettings = holdsFile(base, SETTINGS_FILE);
  const text = hasSettings ? await reader.text(SETTINGS_FILE, 'settings of the folder') : undefined;
  const said =
    text === undefined
      ? undefined
      : reader.attempt('settings_refused', SETTINGS_FILE, () => ({
          screening: loadScreening(text, SETTINGS_FILE, base, present),
          places: yamlPlaces(text, SETTINGS_FILE),
        }));
  // Where the settings cannot be read, the protocol of the usual name is looked at all the same.
  const written = said?.screening ?? defaultScreening(base, present);
  const isGuess = hasSettings && said === undefined;
  const protocolFile = place.protocol ?? written.protocolFile;
  const read =
    isGuess && place.protocol === undefined && !existsSync(path.resolve(base, protocolFile))
      ? undefined
      : await readProtocol(protocolFile, reader);
  if (isGuess) {
    // What the headings of lists mean, and where the sheets are, only the settings say.
    const message = 'roster and other lists are read over once screening.yaml can be read';
    reader.problems.push(problemOf('note', 'lists_not_read', { message }, SETTINGS_FILE));
    return;
  }
  const settled =
    said && read && text !== undefined
      ? reader.attempt('settings_refused', SETTINGS_FILE, () =>
          resolveScreening(written, read.protocol, text, SETTINGS_FILE),
        )
      : undefined;
  const screening: Screening = settled ?? written;
  reader.problems.push(...listsAsWorkbooks(base, screening));
  const rosterFile =
    place.roster === undefined ? screening.roster : { key: 'roster', file: place.roster, columns: new Map() };
  const checked = rosterFile && (await checkRosterFile(rosterFile, screening, read, reader));
  const roster = checked && checked.rows.length > 0 ? checked : undefined;
  // Where the roster is broken, nobody can say that an athlete is not on it.
  const isBroken = rosterFile !== undefined && checked === undefined;
  const directory = new AthleteDirectory(roster, screening.people, screening.unlisted, isBroken);
  const teams = nameableTeams(teamsOf(roster), directory.names);
  if (said && roster) {
    const ids = new Set(roster.rows.map((row) => row.athleteId));
    reader.problems.push(...checkNamesInSettings(screening, teams, ids, said.places, read?.protocol));
  }
  const found = await foundFiles(screening);
  const sheets = new Set(found.entries.flatMap(({ patterns }) => patterns.flatMap(({ files }) => files)));
  await checkSideFiles(
    {
      screening: { ...screening, rosterTeams: [...teams.keys()] },
      protocol: read?.protocol,
      places: read?.places,
      directory,
      sheets,
    },
    reader,
  );
  reader.problems.push(...checkEntries(found, said?.places));
}

/** Reads the roster over. */
async function checkRosterFile(
  said: NonNullable<Screening['roster']>,
  screening: Pick<Screening, 'teamAliases'>,
  read: ReadProtocol | undefined,
  reader: Reader,
): Promise<Roster | undefined> {
  const { file } = said;
  const text = await reader.text(file, 'roster');
  if (text === undefined) return undefined;
  const spec = { ...said, file: reader.shown(file) };
  const dominance = read?.protocol.dominanceColumns ?? [];
  const roster = reader.attempt('roster_refused', file, () => readRoster(text, spec, dominance, screening.teamAliases));
  if (roster === undefined) return undefined;
  // Without its protocol nobody knows which columns are needed.
  reader.told(
    'roster_cell',
    read ? roster.warnings : roster.warnings.filter(({ line }) => line !== undefined),
    spec.file,
  );
  if (roster.rows.length === 0) {
    reader.problems.push(problemOf('note', 'roster_empty', emptyRoster(spec.file), spec.file));
    return roster;
  }
  const needsTeams = (read?.protocol.sportGroups.length ?? 0) > 0;
  reader.problems.push(...checkRoster(text, spec, roster, dominance, needsTeams));
  if (read) {
    const teams = nameableTeams(teamsOf(roster), new NameWords(rosterNames(roster)));
    reader.problems.push(
      ...checkTeams(read.protocol, teams, screening, spec.file, read.places),
      ...checkRuleTeams(read.protocol, teams, read.places),
    );
  }
  return roster;
}
