import path from 'node:path';
import { type Desk, desk } from '../athletes/desk.ts';
import { AthleteDirectory } from '../athletes/directory.ts';
import { emptyRoster, type Roster, readRoster } from '../athletes/roster.ts';
import { type HistoryRow, type InvolvedSides, NO_HISTORY, readHistory } from '../outcomes/history.ts';
import { injuryDays } from '../outcomes/injuries.ts';
import { type InjuryRow, readInjuryLog } from '../outcomes/injury_log.ts';
import { type PastInjuries, pastInjuries } from '../outcomes/past.ts';
import { Failure, type Trouble } from '../problems/failure.ts';
import type { Protocol } from '../protocol/types.ts';
import { type Corrections, readCorrections } from '../sheets/corrections.ts';
import {
  folderUpward,
  holdsFile,
  isScreeningFolder,
  namedFolder,
  SETTINGS_FILE,
  USUAL_PROTOCOL,
  usualSideFiles,
} from './folder_place.ts';
import { readSideTables, type SideTables } from './side_tables.ts';
import { shownPath } from './sources.ts';
import { readTextFile } from './text_file.ts';
import type { Screening, SideFile } from './types.ts';

/** What a command line says about where to work. */
export interface Request {
  readonly cwd: string;
  readonly folder?: string;
  readonly protocol?: string;
  readonly roster?: string;
  readonly names: boolean;
  /** whether inputs are named, so that no folder is needed */
  readonly hasInputs: boolean;
}

/** A screening folder, or a protocol alone, with everything read but the sheets. */
export interface Setup {
  /** absolute; all paths are shown relative to it */
  readonly base: string;
  readonly hasFolder: boolean;
  readonly showNames: boolean;
  readonly screening: Screening;
  readonly protocol: Protocol;
  readonly roster: Roster | undefined;
  readonly directory: AthleteDirectory;
  readonly injuries: readonly InjuryRow[];
  readonly injuryDays: ReadonlyMap<string, readonly number[]>;
  readonly history: InvolvedSides;
  /** earlier injuries, of the log and of the history */
  readonly past: PastInjuries;
  /** what clearance, referrals and work say on a day, in days since 1970-01-01 */
  readonly deskOn: (on: number) => Desk;
  readonly corrections: Corrections;
  readonly sideTables: SideTables;
  /** cells of side files that could not be read */
  readonly warnings: readonly Trouble[];
  /** files read so far, relative to base */
  readonly inputs: readonly string[];
}

/** The screening folder that the user names, or the nearest one upward. */
function findFolder({ cwd, folder, protocol, hasInputs }: Request): string | undefined {
  if (folder !== undefined) {
    const full = namedFolder(cwd, folder);
    if (isScreeningFolder(full)) return full;
    throw new Failure(2, {
      file: folder,
      message: `holds neither ${SETTINGS_FILE} nor ${USUAL_PROTOCOL}`,
      hint: 'A screening folder needs a protocol.yaml and sheets in sheets/: bilat new DIR makes one.',
    });
  }
  const upward = folderUpward(cwd);
  if (upward !== undefined) return upward;
  if (protocol !== undefined && hasInputs) return undefined;
  if (holdsFile(cwd, USUAL_PROTOCOL)) return cwd;
  throw new Failure(2, {
    message: 'There is no screening folder here: neither this folder nor one above it holds a screening.yaml',
    hint: hasInputs
      ? 'Name a folder with --folder DIR, or a protocol with --protocol FILE; bilat new DIR makes a folder.'
      : 'Name it with --folder DIR, or make one with  bilat new DIR',
  });
}

/**
 * Reads everything but the sheets.
 * @throws Failure 2 with all that is wrong in screening.yaml or the protocol
 */
export async function openSetup(request: Request): Promise<Setup> {
  // The YAML loaders bring zod along, and only this stage needs them.
  const [{ defaultScreening, loadScreening, resolveScreening }, { loadProtocol }] = await Promise.all([
    import('./config.ts'),
    import('../protocol/load.ts'),
  ]);
  const folder = findFolder(request);
  const base = folder ?? request.cwd;
  const present = folder === undefined ? new Set<string>() : usualSideFiles(folder);
  const inputs: string[] = [];
  const read = async (file: string, what: string): Promise<string> => {
    const text = await readTextFile(base, file, what);
    inputs.push(shownPath(base, path.resolve(base, file)));
    return text;
  };
  const hasConfig = folder !== undefined && holdsFile(folder, SETTINGS_FILE);
  const text = hasConfig ? await read(SETTINGS_FILE, 'settings of the folder') : undefined;
  const written =
    text === undefined ? defaultScreening(base, present) : loadScreening(text, SETTINGS_FILE, base, present);
  const protocolFile =
    request.protocol === undefined ? written.protocolFile : path.resolve(request.cwd, request.protocol);
  const protocolShown = shownPath(base, path.resolve(base, protocolFile));
  const protocol = loadProtocol(await read(protocolFile, 'protocol'), protocolShown);
  const settled = text === undefined ? written : resolveScreening(written, protocol, text, SETTINGS_FILE);
  const warnings: Trouble[] = [];
  const rosterFile: SideFile | undefined =
    request.roster === undefined
      ? settled.roster
      : { key: 'roster', file: path.resolve(request.cwd, request.roster), columns: new Map() };
  let roster: Roster | undefined;
  if (rosterFile) {
    const shown = { ...rosterFile, file: shownPath(base, path.resolve(base, rosterFile.file)) };
    const found = readRoster(
      await read(rosterFile.file, 'roster'),
      shown,
      protocol.dominanceColumns,
      settled.teamAliases,
    );
    warnings.push(...found.warnings);
    // A roster that is still to be filled in would have everybody on every sheet held back.
    if (found.rows.length > 0) roster = found;
    else warnings.push(emptyRoster(shown.file));
  }
  const screening: Screening = roster
    ? { ...settled, rosterTeams: [...new Set(roster.rows.flatMap((row) => row.teams))] }
    : settled;
  const directory = new AthleteDirectory(roster, screening.people, screening.unlisted, request.names);
  let injuries: Setup['injuries'] = [];
  if (screening.injuries) {
    const { file } = screening.injuries;
    const log = readInjuryLog(await read(file, 'injuries'), screening.injuries, directory, screening.teamAliases);
    injuries = log.rows;
    warnings.push(...log.warnings);
  }
  let involved = NO_HISTORY;
  let earlier: readonly HistoryRow[] = [];
  if (screening.history) {
    const { file } = screening.history;
    const history = readHistory(await read(file, 'history'), screening.history, directory);
    involved = history.involved;
    earlier = history.rows;
    warnings.push(...history.warnings);
  }
  const side = await readSideTables({ directory, protocol, screening }, read, (file, what) =>
    readTextFile(base, file, what),
  );
  warnings.push(...side.warnings);
  let corrections: Corrections = new Map();
  if (screening.corrections) {
    const { file } = screening.corrections;
    const found = readCorrections(await read(file, 'corrections'), screening.corrections, directory.names);
    corrections = found.corrections;
    warnings.push(...found.warnings);
  }
  return {
    base,
    hasFolder: folder !== undefined,
    showNames: request.names,
    screening,
    protocol,
    roster,
    directory,
    injuries,
    injuryDays: injuryDays(injuries),
    history: involved,
    past: pastInjuries(injuries, earlier),
    deskOn: (on) => desk(side.tables, on, screening.clearance !== undefined),
    corrections,
    sideTables: side.tables,
    warnings,
    inputs,
  };
}
