import { Failure } from '../problems/failure.ts';
import { shaped } from '../protocol/shape.ts';
import type { Protocol } from '../protocol/types.ts';
import { readYaml, type YamlFile } from '../protocol/yaml.ts';
import { foldKey } from '../units/keys.ts';
import { plainEntry, sheetEntries } from './config_entries.ts';
import { fold } from './config_fold.ts';
import { type ScreeningData, screeningSchema } from './config_schema.ts';
import { checkSideColumns, sideFiles } from './config_side_files.ts';
import type { Screening } from './types.ts';

const SECTIONS: ReadonlySet<string> = new Set(['teams', 'people']);
const NOTHING_SAID = screeningSchema.omit({ sheets: true });

/**
 * Loads screening.yaml with its defaults. Measures and units are kept as written until `resolveScreening`.
 * @param text the YAML text
 * @param file its name, for messages
 * @param folder absolute path of the screening folder
 * @param present names of the usual side files (roster.csv …) that are in the folder
 * @throws Failure 2 with all troubles found, each with line and column
 */
export function loadScreening(text: string, file: string, folder: string, present: ReadonlySet<string>): Screening {
  const { yaml, data } = read(text, file);
  const screening: Screening = {
    ...common(folder, data),
    ...sideFiles(yaml, data, present),
    teamAliases: teamAliases(yaml, data.teams),
    sheets: sheetEntries({ report: yaml.report }, data.sheets),
  };
  checkPeople(yaml, data.people);
  finish(yaml);
  return screening;
}

/** What a folder without screening.yaml means: protocol.yaml, sheets/*.csv and the side files that are there. */
export function defaultScreening(folder: string, present: ReadonlySet<string>): Screening {
  const data = NOTHING_SAID.parse({});
  return {
    ...common(folder, data),
    ...sideFiles(undefined, {}, present),
    teamAliases: new Map(),
    sheets: [plainEntry('sheets/*.csv')],
  };
}

/**
 * Settles what only the protocol can tell: names of measures, the unit that `kg` or `lb` means under a measure, roster
 * columns for dominance.
 * @param text the same YAML text that `screening` was loaded from
 * @throws Failure 2 with all troubles found, each with line and column
 */
export function resolveScreening(screening: Screening, protocol: Protocol, text: string, file: string): Screening {
  const { yaml, data } = read(text, file);
  const sheets = sheetEntries({ report: yaml.report, protocol }, data.sheets);
  checkSideColumns(yaml, data, protocol.dominanceColumns);
  finish(yaml);
  return { ...screening, sheets };
}

function read(text: string, file: string): { yaml: YamlFile; data: ScreeningData } {
  const yaml = readYaml(text, file, (_, key) => key);
  return { yaml, data: shaped(screeningSchema, yaml, SECTIONS).data };
}

function finish({ report }: YamlFile): void {
  if (report.troubles.length > 0) throw new Failure(2, report.troubles);
}

function common(folder: string, data: Omit<ScreeningData, 'sheets'>) {
  return {
    folder,
    protocolFile: data.protocol,
    seasonStarts: data.season_starts,
    occasionDays: data.occasion_days,
    unlisted: data.unlisted,
    people: new Map(Object.entries(data.people)),
    out: data.out,
  };
}

/** Two spellings of one name, folded as sheets are, must not lead to two athletes. The names are not repeated. */
function checkPeople({ report, places }: YamlFile, people: ScreeningData['people']): void {
  const firsts = new Map<string, string>();
  for (const [name, id] of Object.entries(people)) {
    const key = foldKey(name);
    const first = firsts.get(key);
    if (first === undefined) firsts.set(key, name);
    else if (people[first] !== id) {
      const { line } = places.at(['people', first], 'key');
      report.add(
        ['people', name],
        `this name is the one of line ${line}, but for capitals and marks, and leads to another athlete_id`,
        'Take one of them out. Two athletes of one name are told apart by the sheet alone, by their ids.',
        'key',
      );
    }
  }
}

function teamAliases({ report }: YamlFile, teams: ScreeningData['teams']): Map<string, string> {
  const aliases = new Map(Object.keys(teams).map((team) => [fold(team), team]));
  for (const [team, { also }] of Object.entries(teams)) {
    for (const [at, alias] of also.entries()) {
      const other = aliases.get(fold(alias));
      if (other !== undefined && other !== team) {
        report.add(['teams', team, 'also', at], `"${alias}" stands for ${other} already`, 'Take one of them out.');
      }
      aliases.set(fold(alias), team);
    }
  }
  return aliases;
}
