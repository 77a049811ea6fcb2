import { readClearance } from '../athletes/clearance.ts';
import type { AthleteDirectory } from '../athletes/directory.ts';
import { isNotSaid } from '../athletes/side_cells.ts';
import { readExposures } from '../outcomes/exposures.ts';
import { readHistory } from '../outcomes/history.ts';
import { readInjuryLog } from '../outcomes/injury_log.ts';
import type { Trouble } from '../problems/failure.ts';
import { type Problem, problemOf } from '../problems/problem.ts';
import { nearest } from '../protocol/nearest.ts';
import type { Protocol } from '../protocol/types.ts';
import { type Corrections, readCorrections } from '../sheets/corrections.ts';
import { foldKey } from '../units/keys.ts';
import { checkClearanceRegions, checkHistories, checkRegions, type NamedRegion } from './checks/regions.ts';
import { nearestTeam } from './checks/team_names.ts';
import { quoted } from './checks/wording.ts';
import type { YamlPlaces } from './checks/yaml_places.ts';
import { SIDE_TABLE_READERS } from './side_tables.ts';
import type { Screening, SideFile } from './types.ts';

/** What side files are held against. */
export interface SideWorld {
  readonly screening: Screening;
  /** undefined where it could not be read */
  readonly protocol: Protocol | undefined;
  /** of the protocol */
  readonly places: YamlPlaces | undefined;
  readonly directory: AthleteDirectory;
  /** sheets that entries name, relative to the folder; undefined where nobody knows the entries */
  readonly sheets: ReadonlySet<string> | undefined;
}

/** What reads files and gathers what is wrong with them. */
export interface SideReader {
  readonly problems: Problem[];
  shown(file: string): string;
  text(file: string, what: string): Promise<string | undefined>;
  attempt<T>(code: string, file: string, action: () => T): T | undefined;
  told(code: string, warnings: readonly Trouble[], file: string): void;
}

interface SideRead {
  readonly warnings: readonly Trouble[];
  readonly rows?: readonly { readonly region?: string; readonly line?: number; readonly team?: string }[];
  readonly corrections?: Corrections;
}

type Read = (text: string, spec: SideFile, world: SideWorld) => SideRead | undefined;

/** The side files beside the roster, each with its reader. Without a protocol there is nothing to hold names against. */
const READERS = {
  injuries: (text, spec, { directory, screening }) => readInjuryLog(text, spec, directory, screening.teamAliases),
  exposures: (text, spec, { directory, screening }) => readExposures(text, spec, directory, screening),
  history: (text, spec, { directory }) => readHistory(text, spec, directory),
  clearance: (text, spec, { directory }) => readClearance(text, spec, directory),
  referrals: (text, spec, { directory, protocol, screening }) =>
    protocol && SIDE_TABLE_READERS.referrals(text, spec, { directory, protocol, screening }),
  corrections: (text, spec, { directory }) => readCorrections(text, spec, directory.names),
  work: (text, spec, { directory, protocol, screening }) =>
    protocol && SIDE_TABLE_READERS.work(text, spec, { directory, protocol, screening }),
} satisfies { readonly [name: string]: Read };

/** Reads every side file over that is there or named. */
export async function checkSideFiles(world: SideWorld, reader: SideReader): Promise<void> {
  const regions: NamedRegion[] = [];
  const lists: string[] = [];
  let isUnread = false;
  for (const [name, read] of Object.entries(READERS) as [keyof typeof READERS, Read][]) {
    const said = world.screening[name];
    if (said === undefined) continue;
    const spec = { ...said, file: reader.shown(said.file) };
    const tellsInjuries = name === 'injuries' || name === 'history';
    if (tellsInjuries) lists.push(spec.file);
    const text = await reader.text(said.file, name);
    const found =
      text === undefined ? undefined : reader.attempt(`${name}_refused`, said.file, () => read(text, spec, world));
    if (found === undefined) {
      isUnread ||= tellsInjuries;
      continue;
    }
    reader.told(`${name}_cell`, found.warnings, spec.file);
    if (found.corrections && world.sheets) reader.problems.push(...strayCorrections(found.corrections, world.sheets));
    if (name === 'injuries') reader.problems.push(...strayTeams(found.rows ?? [], spec.file, world));
    if (!tellsInjuries && name !== 'clearance') continue;
    const named = (found.rows ?? []).map(
      ({ region = '', line = null }): NamedRegion => ({
        ...{ region, file: spec.file, line },
        isName: world.directory.names.isIn(region),
      }),
    );
    if (tellsInjuries) regions.push(...named);
    else if (world.protocol) reader.problems.push(...checkClearanceRegions(world.protocol, named));
  }
  const { protocol, places } = world;
  if (protocol) reader.problems.push(...checkRegions(protocol, regions));
  // What a list that cannot be read would name, nobody knows.
  if (protocol && places && !isUnread) reader.problems.push(...checkHistories(protocol, regions, lists, places));
}

/** Teams of injuries that the roster does not have, each once: nobody's exposures are counted with theirs. */
function strayTeams(rows: NonNullable<SideRead['rows']>, file: string, { screening, directory }: SideWorld): Problem[] {
  const { rosterTeams = [], teamAliases } = screening;
  if (rosterTeams.length === 0) return [];
  const known = new Set(rosterTeams.map(foldKey));
  const told = new Set<string>();
  return rows.flatMap(({ team = '', line }): Problem[] => {
    const key = foldKey(teamAliases.get(team.toLowerCase()) ?? team);
    if (isNotSaid(team) || known.has(key) || told.has(key)) return [];
    told.add(key);
    const near = nearestTeam(team.slice(0, 80), rosterTeams);
    const shown = directory.names.mayShow(team, 'team') ? ` ${quoted(team)}` : '';
    const message = `team${shown} is no team of the roster`;
    const hint = near ? `Did you mean ${near}?` : 'Write the team as the roster has it.';
    return [problemOf('warning', 'injury_team_unknown', { file, line, message, hint }, file)];
  });
}

/** Corrections of sheets that are not there. Whether the others still meet their cell, only reading the sheets tells. */
function strayCorrections(corrections: Corrections, sheets: ReadonlySet<string>): Problem[] {
  return [...corrections].flatMap(([sheet, lines]): Problem[] => {
    if (sheets.has(sheet)) return [];
    const [first] = [...lines.values()].flat();
    const near = nearest(sheet, sheets);
    return [
      {
        severity: 'warning',
        code: 'correction_of_no_sheet',
        file: first.from.file,
        line: first.from.line,
        column: null,
        message: `${quoted(sheet)} is not one of the sheets, so that its corrections are not applied`,
        paste: null,
        hint: near ? `Did you mean ${near}?` : 'Write the path of the sheet from the folder on, as in sheets/hip.csv.',
      },
    ];
  });
}
